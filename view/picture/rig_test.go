package picture_test

import (
	"context"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/picture"
	"risewright/view/scene"
)

type stairSet struct {
	answers map[string]*solver.Answer
	tables  model.Tables
}

// loadStairs solves the demo jobs with light bars, once.
var loadStairs = sync.OnceValues(func() (stairSet, error) {
	tb, err := tables.Published()
	if err != nil {
		return stairSet{}, err
	}
	ds, err := demo.Jobs()
	if err != nil {
		return stairSet{}, err
	}
	out := map[string]*solver.Answer{}
	for _, d := range ds {
		j := d.Job
		if !j.Lighting.On() {
			j.Lighting = model.FirstLighting(j, tb.Lights)
		}
		out[d.Name] = solver.Solve(j, tb)
	}
	return stairSet{out, tb}, nil
})

func sceneOf(t testing.TB, job string, o scene.Options) *scene.Scene {
	t.Helper()
	s, err := loadStairs()
	if err != nil {
		t.Fatal(err)
	}
	sc, err := scene.Make(s.answers[job], nil, s.tables, o)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

// TestLook leaves pictures in a folder, for eyes.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to look at pictures")
	}
	only := os.Getenv("RISEWRIGHT_LOOK_ONLY")
	for _, job := range []string{"tapering", "well-behaved", "winding"} {
		for _, m := range []struct {
			name string
			o    scene.Options
			v    scene.View
			at   float64
		}{
			{"day-hall", scene.Options{}, scene.FromHall, 0},
			{"day-landing", scene.Options{}, scene.FromLanding, 0},
			{"day-close", scene.Options{}, scene.CloseUp, 0},
			{"day-up", scene.Options{}, scene.WalkingUp, 2},
			{"before-hall", scene.Options{Before: true}, scene.FromHall, 0},
			{"evening-hall", scene.Options{Time: scene.Evening}, scene.FromHall, 0},
			{"night-hall", scene.Options{Time: scene.Night, Walker: 6.3}, scene.FromHall, 0},
			{"night-close", scene.Options{Time: scene.Night, Walker: 5}, scene.CloseUp, 3},
			{"night-landing", scene.Options{Time: scene.Night, Walker: 8.3}, scene.FromLanding, 0},
			{"whole", scene.Options{}, scene.Whole, 0},
		} {
			name := job + "-" + m.name
			if only != "" && !strings.Contains(name, only) {
				continue
			}
			s := sceneOf(t, job, m.o)
			from := time.Now()
			q := picture.Fine
			if os.Getenv("RISEWRIGHT_LOOK_DRAFT") != "" {
				q = picture.Draft
			}
			w, err := picture.Prepare(context.Background(), s, q, nil)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: %d triangles, prepared in %v: %s", name, len(s.Triangles), time.Since(from), w)
			img := image.NewRGBA(image.Rect(0, 0, 1200, 800))
			var p picture.Painter
			from = time.Now()
			if err := p.Still(w, picture.Shot{Camera: s.Camera(m.v, m.at), Time: m.o.Time}, img, 9); err != nil {
				t.Fatal(err)
			}
			t.Logf("drawn in %v", time.Since(from))
			f, err := os.Create(filepath.Join(dir, name+".png"))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, img); err != nil {
				t.Fatal(err)
			}
			f.Close()
		}
	}
}
