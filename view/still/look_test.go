package still_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"risewright/view/still"
)

// TestLook leaves pictures of the test stair in the folder RISEWRIGHT_LOOK.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("RISEWRIGHT_LOOK is not set")
	}
	for name, hall := range map[string]float64{"night": 0, "evening": 1} {
		s, cam := stair(hall)
		from := time.Now()
		r, err := still.NewRefiner(s, cam, still.Options{W: 960, H: 600, Samples: 16})
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		p := r.Progress()
		t.Logf("%s: %d rays in %v, %.2f million a second, grain %.3f", name, p.Rays, time.Since(from), float64(p.Rays)/time.Since(from).Seconds()/1e6, p.Grain)
		for _, rough := range []bool{true, false} {
			from = time.Now()
			img := r.Picture(still.Look{Rough: rough})
			t.Logf("picture in %v", time.Since(from))
			end := "-smooth.png"
			if rough {
				end = "-rough.png"
			}
			f, err := os.Create(filepath.Join(dir, "still-"+name+end))
			if err != nil {
				t.Fatal(err)
			}
			if err := still.WritePNG(f, img, []still.Fact{{Key: "Title", Text: name}}); err != nil {
				t.Fatal(err)
			}
			f.Close()
		}
	}
}
