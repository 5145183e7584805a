package papers_test

import (
	"bytes"
	"errors"
	"image/color"
	"os"
	"strings"
	"testing"

	"risewright/app/papers"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/scene"
)

// TestShots: the pictures of the proposal are four, differ from each other, night
// is darker than day, and the same job gives the same bytes. A job without a
// stair says so.
func TestShots(t *testing.T) {
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := papers.Shots(t.Context(), solver.Solve(model.Job{}, tb), nil, nil, tb, nil); !errors.Is(err, scene.ErrNoStair) {
		t.Errorf("no stair: %v", err)
	}
	if os.Getenv("RISEWRIGHT_FULL") == "" {
		t.Skip("drawing takes some seconds: set RISEWRIGHT_FULL=1")
	}
	a, w := tapering(t)
	first, err := papers.Shots(t.Context(), a, w, nil, tb, nil)
	if err != nil || len(first) != 4 {
		t.Fatalf("%d pictures, %v", len(first), err)
	}
	again, err := papers.Shots(t.Context(), a, w, nil, tb, nil)
	if err != nil {
		t.Fatal(err)
	}
	light := make([]float64, len(first))
	for i := range first {
		if !bytes.Equal(first[i].Picture.JPEG, again[i].Picture.JPEG) {
			t.Errorf("%s: other bytes the second time", first[i].Title)
		}
		for k := range i {
			if bytes.Equal(first[i].Picture.JPEG, first[k].Picture.JPEG) {
				t.Errorf("%s and %s are the same picture", first[i].Title, first[k].Title)
			}
		}
		img := first[i].Picture.Image
		for y := 0; y < img.Bounds().Dy(); y += 8 {
			for x := 0; x < img.Bounds().Dx(); x += 8 {
				light[i] += float64(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
			}
		}
	}
	if !(light[1] < light[2]) {
		t.Errorf("the night, %g, is no darker than the day, %g", light[1], light[2])
	}
	if notes := first[1].Note; !strings.Contains(notes, "controller") || first[3].Note != "" {
		t.Errorf("the night is lit by %q, before by %q", notes, first[3].Note)
	}
}
