package lightmap_test

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
	"risewright/solver/pieces"
	"risewright/view/drawing"
	"risewright/view/lightmap"
)

// demo returns the light on a job in testdata/jobs with five bars, as long as
// it has as many steps.
func demo(tb testing.TB, name string) (lux.Problem, *lux.Result) {
	tb.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", name+".risewright.json"))
	if err != nil {
		tb.Fatal(err)
	}
	job, err := model.Decode(text)
	if err != nil {
		tb.Fatal(err)
	}
	t, err := tables.Published()
	if err != nil {
		tb.Fatal(err)
	}
	a := solver.Solve(job, t)
	p := lux.Problem{Stair: lux.FromPieces(a.Pieces, lux.Finish{Tread: 0.3, Riser: 0.8, Floor: 0.2})}
	for i := range a.Pieces {
		if b := &a.Pieces[i]; b.Kind != pieces.Riser && b.Step%3 == 1 {
			p.Bars = append(p.Bars, lux.Under(b, lux.TypicalMount(120)))
		}
	}
	r := lux.Solve(p, lux.Settings{})
	return p, &r
}

// Every demo job is lit without a complaint, each bar on its own tread.
func TestDemoJobs(t *testing.T) {
	for _, name := range []string{"well-behaved", "tapering", "unfinished"} {
		p, r := demo(t, name)
		if len(r.Findings) != 0 || r.LitBars != len(p.Bars) || r.LitBars < 4 {
			t.Errorf("%s: %d of %d bars lit, %v", name, r.LitBars, len(p.Bars), r.Findings)
		}
		for _, b := range p.Bars {
			s := &r.Surfaces[b.Step-1]
			if s.Step != b.Step-1 || s.Mean < 20 {
				t.Errorf("%s: bar %d gives %s %.1f lx", name, b.Step, s.Name(), s.Mean)
			}
		}
		l := drawn(r, lightmap.Options{Bars: p.Bars, Scale: 0.06})
		if err := l.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		dir := os.Getenv("RISEWRIGHT_LOOK")
		if dir == "" {
			continue
		}
		o := lightmap.Options{Bars: p.Bars}
		v := lightmap.Fit(r, o, 1200, 480, drawing.PaperScale(1))
		o.Scale = v.Scale / v.Paper
		f, err := os.Create(filepath.Join(dir, "lightmap-"+name+".png"))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, picture(drawn(r, o), 1200, 480, v, lightmap.Palette(drawing.Light()))); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
}
