package scene_test

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
	"risewright/view/scene"
)

// stairs are the demo jobs with light bars, solved, and one planned: once, because
// nothing changes them.
func stairs(t testing.TB) (map[string]*solver.Work, model.Tables) {
	t.Helper()
	s, err := loadStairs()
	if err != nil {
		t.Fatal(err)
	}
	return s.works, s.tables
}

type stairSet struct {
	works  map[string]*solver.Work
	tables model.Tables
}

var loadStairs = sync.OnceValues(func() (stairSet, error) {
	tb, err := tables.Published()
	if err != nil {
		return stairSet{}, err
	}
	ds, err := demo.Jobs()
	if err != nil {
		return stairSet{}, err
	}
	out := map[string]*solver.Work{}
	for _, d := range ds {
		j := d.Job
		if !j.Lighting.On() {
			j.Lighting = model.FirstLighting(j, tb.Lights)
		}
		a := solver.Solve(j, tb)
		if d.Name == "well-behaved" {
			out[d.Name] = solver.Plan(a, tb)
		} else { // planning takes longer than all that is tested here
			out[d.Name] = &solver.Work{Answer: a}
		}
	}
	return stairSet{out, tb}, nil
})

// planned returns a work whose order was solved, or nil.
func planned(w *solver.Work) *solver.Work {
	if w.Order.Status == fitting.Solved {
		return w
	}
	return nil
}

func BenchmarkMake(b *testing.B) {
	ws, tb := stairs(b)
	w := ws["tapering"]
	for b.Loop() {
		if _, err := scene.Make(w.Answer, planned(w), tb, scene.Options{Time: scene.Night, Walker: 6}); err != nil {
			b.Fatal(err)
		}
	}
}

// everyOption are pictures that take every branch.
func everyOption() []scene.Options {
	return []scene.Options{{}, {Before: true, Time: scene.Evening}, {Time: scene.Night, Walker: 6.4}, {Time: scene.Evening, Walker: 3.7, Down: true}}
}

// closed lists parts whose surface is a closed solid.
func closed(part string) bool {
	for _, p := range []string{"T", "R", "L", "N", "F", "rail", "newel", "baluster", "bracket", "skirt", "wire cover", "walker", "base ", "sensor"} {
		if strings.HasPrefix(part, p) {
			return true
		}
	}
	return false
}

// TestSurfacesClose: of a solid, every edge belongs to two triangles that run
// along it in opposite ways, and its volume is positive, so it has no hole and
// no face turned inside out.
func TestSurfacesClose(t *testing.T) {
	ws, tb := stairs(t)
	for name, w := range ws {
		for _, o := range everyOption() {
			s, err := scene.Make(w.Answer, planned(w), tb, o)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			type edge [2][3]int64
			key := func(p mgl64.Vec3) (k [3]int64) {
				for i := range k {
					k[i] = int64(math.Round(p[i] * 100))
				}
				return k
			}
			edges := map[string]map[edge]int{}
			volume := map[string]float64{}
			for i := range s.Triangles {
				tr := &s.Triangles[i]
				if !closed(tr.Part) {
					continue
				}
				if edges[tr.Part] == nil {
					edges[tr.Part] = map[edge]int{}
				}
				for c := range 3 {
					a, b := key(tr.P[c]), key(tr.P[(c+1)%3])
					if a != b {
						edges[tr.Part][edge{a, b}]++
						edges[tr.Part][edge{b, a}]--
					}
				}
				volume[tr.Part] += tr.P[0].Dot(tr.P[1].Cross(tr.P[2])) / 6
			}
			if len(edges) < 5 {
				t.Errorf("%s: only %d solids", name, len(edges))
			}
			for part, es := range edges {
				open := 0
				for _, n := range es {
					if n != 0 {
						open++
					}
				}
				if open > 0 {
					t.Errorf("%s %+v: %s has %d open edges", name, o, part, open/2)
				}
				if !(volume[part] > 0) {
					t.Errorf("%s: %s has a volume of %g mm³", name, part, volume[part])
				}
			}
		}
	}
}

// TestTriangles: every triangle has an area, unit normals on its front side, a
// material, and reflectances between 0 and 1.
func TestTriangles(t *testing.T) {
	ws, tb := stairs(t)
	for name, w := range ws {
		for _, o := range everyOption() {
			s, err := scene.Make(w.Answer, planned(w), tb, o)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(s.Triangles); n < 500 || n > 40000 {
				t.Errorf("%s: %d triangles", name, n)
			}
			bad := 0
			for i := range s.Triangles {
				tr := &s.Triangles[i]
				front := tr.P[1].Sub(tr.P[0]).Cross(tr.P[2].Sub(tr.P[0]))
				ok := front.Len() > 0 && tr.Material >= 0 && tr.Material < len(s.Materials) && tr.Lamp >= 0 && tr.Lamp <= len(s.Lamps)
				for c := range 3 {
					ok = ok && math.Abs(tr.N[c].Len()-1) < 1e-6 && tr.N[c].Dot(front) > 0
				}
				if !ok && bad < 3 {
					bad++
					t.Errorf("%s %+v: triangle %d of %s: %+v", name, o, i, tr.Part, tr)
				}
				m := &s.Materials[tr.Material]
				c := m.Diffuse
				if m.Grain != nil {
					c = m.Grain.At(tr.Board[0])
				}
				for _, v := range c {
					if !(v >= 0 && v <= 1) {
						t.Fatalf("%s: reflectance %v of %s", name, c, m.Name)
					}
				}
			}
			for _, l := range s.Lamps {
				if y := l.Tint.Luminance(); math.Abs(y-1) > 1e-9 || math.Abs(l.U.Normalize().Dot(l.V.Normalize())) > 1e-6 {
					t.Errorf("%s: lamp %s has a tint of %g", name, l.Name, y)
				}
			}
		}
	}
}

// TestSame: the same job makes the same scene, and a board's figure is its own.
func TestSame(t *testing.T) {
	ws, tb := stairs(t)
	w := ws["well-behaved"]
	o := scene.Options{Time: scene.Night, Walker: 5}
	a, err := scene.Make(w.Answer, planned(w), tb, o)
	if err != nil {
		t.Fatal(err)
	}
	b, err := scene.Make(w.Answer, planned(w), tb, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Triangles) != len(b.Triangles) || len(a.Lamps) != len(b.Lamps) {
		t.Fatal("two scenes of one job differ in size")
	}
	for i := range a.Triangles {
		if a.Triangles[i] != b.Triangles[i] {
			t.Fatalf("triangle %d differs", i)
		}
	}
	grain := func(s *scene.Scene, board string) (out []scene.Colour) {
		for i := range s.Materials {
			if s.Materials[i].Name == "wood "+board {
				for k := range 50 {
					out = append(out, s.Materials[i].Grain.At(mgl64.Vec3{float64(k) * 13, 40, 0}))
				}
			}
		}
		return out
	}
	if g := grain(a, "T05"); len(g) == 0 || fmt.Sprint(g) != fmt.Sprint(grain(b, "T05")) {
		t.Error("the grain of T05 is not the same in two scenes")
	}
	if fmt.Sprint(grain(a, "T05")) == fmt.Sprint(grain(a, "T06")) {
		t.Error("T05 and T06 are of one board")
	}
}

// TestLampsAreTheBars: every bar is there with the lumens that package lights
// says, lit by day not at all, and at night round the walker by the rule of thumb.
func TestLampsAreTheBars(t *testing.T) {
	ws, tb := stairs(t)
	w := ws["well-behaved"]
	thumb := *w.Answer
	thumb.Job.Sensing.Sensors = nil
	count := func(o scene.Options) (lit []int) {
		s, err := scene.Make(&thumb, planned(w), tb, o)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, l := range s.Lamps {
			if l.Bar > 0 {
				n++
				if !(l.Lumens > 10) {
					t.Errorf("bar %d gives %g lm", l.Bar, l.Lumens)
				}
				if l.Level > 0 {
					lit = append(lit, l.Bar)
				}
			}
		}
		if n != len(w.Answer.Bars.Bars) {
			t.Errorf("%d bars, want %d", n, len(w.Answer.Bars.Bars))
		}
		return lit
	}
	if got := count(scene.Options{Time: scene.Day, Walker: 5}); len(got) != 0 {
		t.Errorf("by day %v are lit", got)
	}
	// Standing on tread 5 going up: treads 3 to 7 are lit, and bar k+1 lights tread k.
	if got := fmt.Sprint(count(scene.Options{Time: scene.Night, Walker: 5})); got != "[4 5 6 7 8]" {
		t.Errorf("round a walker on tread 5 %s are lit", got)
	}
	// Going down: three treads ahead, one behind.
	if got := fmt.Sprint(count(scene.Options{Time: scene.Night, Walker: 5, Down: true})); got != "[3 4 5 6 7]" {
		t.Errorf("round a walker going down on tread 5 %s are lit", got)
	}
	if got := count(scene.Options{Time: scene.Night}); len(got) != len(w.Answer.Bars.Bars) {
		t.Errorf("the night light is on at %v", got)
	}
}

// Colours of white light: electrical.md 6.23, published rows, within a count.
func TestWhites(t *testing.T) {
	for _, r := range []struct {
		kelvin float64
		want   [3]float64
	}{{2000, [3]float64{255, 139, 22}}, {2700, [3]float64{255, 172, 89}}, {3000, [3]float64{255, 184, 109}}, {3200, [3]float64{255, 190, 122}}, {4000, [3]float64{255, 211, 165}}, {4300, [3]float64{255, 219, 178}}} {
		c := scene.White(r.kelvin)
		most := math.Max(c[0], math.Max(c[1], c[2]))
		for i, v := range c {
			v /= most
			// IEC 61966-2-1, electrical.md 6.25
			code := 12.92 * v
			if v > 0.0031308 {
				code = 1.055*math.Pow(v, 1/2.4) - 0.055
			}
			if got := 255 * code; math.Abs(got-r.want[i]) > 1.5 {
				t.Errorf("%g K: channel %d is %.1f, want %g", r.kelvin, i, got, r.want[i])
			}
		}
		if math.Abs(c.Luminance()-1) > 1e-12 {
			t.Errorf("%g K: luminance %g", r.kelvin, c.Luminance())
		}
	}
}
