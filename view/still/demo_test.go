package still_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/scene"
	"risewright/view/still"
)

type job struct {
	work   *solver.Work
	tables model.Tables
}

// demoJob is the demo job with light bars, solved once.
var demoJob = sync.OnceValues(func() (job, error) {
	tb, err := tables.Published()
	if err != nil {
		return job{}, err
	}
	ds, err := demo.Jobs()
	if err != nil {
		return job{}, err
	}
	for _, d := range ds {
		if d.Name == "well-behaved" {
			j := d.Job
			if !j.Lighting.On() {
				j.Lighting = model.FirstLighting(j, tb.Lights)
			}
			return job{solver.Plan(solver.Solve(j, tb), tb), tb}, nil
		}
	}
	return job{}, fmt.Errorf("there is no demo job of that name")
})

// TestLookDemo leaves pictures of the demo job in the folder RISEWRIGHT_LOOK, for
// the times in RISEWRIGHT_LOOK_TIMES, as wide and with as many samples as
// RISEWRIGHT_LOOK_SIZE says, such as 640x8.
func TestLookDemo(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("RISEWRIGHT_LOOK is not set")
	}
	j, err := demoJob()
	if err != nil {
		t.Fatal(err)
	}
	w, n := 640, 8
	fmt.Sscanf(os.Getenv("RISEWRIGHT_LOOK_SIZE"), "%dx%d", &w, &n)
	times := strings.Fields(os.Getenv("RISEWRIGHT_LOOK_TIMES"))
	if len(times) == 0 {
		times = []string{"day", "evening", "night", "before"}
	}
	for _, name := range times {
		o := scene.Options{Time: scene.Time(name), Look: j.work.Answer.Job.Look}
		if name == "before" {
			o.Before, o.Time = true, scene.Day
		}
		if name == "night" {
			o.Walker = 5.4
		}
		s, err := scene.Make(j.work.Answer, j.work, j.tables, o)
		if err != nil {
			t.Fatal(err)
		}
		mid := (s.Low[0] + s.Top[0]) / 2
		t.Log(name, len(s.Triangles), len(s.Lamps), s.Low, s.Top)
		cam := scene.Camera{Eye: v3(mid+350, -2300, 1600), At: v3(mid-50, 900, 1050), Up: v3(0, 0, 1), Angle: 0.95}
		r, err := still.NewRefiner(s, cam, still.Options{W: w, H: w * 10 / 16, Samples: n})
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: grain %.3f, %+v", name, r.Progress().Grain, r.Film(0).Tone())
		f, err := os.Create(filepath.Join(dir, "demo-"+name+".png"))
		if err != nil {
			t.Fatal(err)
		}
		if err := still.WritePNG(f, r.Picture(still.Look{}), nil); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
}
