package lights_test

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
)

// answers are the demo jobs with light bars, the turning ones too.
func answers(t *testing.T) map[string]*solver.Answer {
	t.Helper()
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	ds, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*solver.Answer{}
	for _, d := range ds {
		j := d.Job
		j.Lighting = model.FirstLighting(j, tb.Lights)
		out[d.Name] = solver.Solve(j, tb)
		if d.Name == "tapering" {
			j.Lighting.Trunk, j.Lighting.Cavity = model.HomeRuns, model.CavityRight
			out["home runs"] = solver.Solve(j, tb)
			j.Lighting = model.Lighting{}
			out["dark"] = solver.Solve(j, tb)
		}
	}
	for name, turn := range map[string]model.Turn{"quarter": model.QuarterTurn, "half": model.HalfTurn} {
		j := turning(t, turn)
		j.Lighting = model.FirstLighting(j, tb.Lights)
		out[name] = solver.Solve(j, tb)
	}
	return out
}

// turning is a job with winders and a landing.
func turning(t *testing.T, turn model.Turn) model.Job {
	t.Helper()
	base, err := tables.NewJob(model.Metric, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
	if err != nil {
		t.Fatal(err)
	}
	j := model.Sketch(model.SketchSpec{Risers: 15, Width: 900, Rise: 185, Going: 260, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("turning ", i)) }})
	for _, e := range []model.Edit{
		model.InsertLanding{At: j.Flight.Steps[5].ID, Turn: turn, Side: model.Left, Gap: 200},
		model.TurnToWinders{From: j.Flight.Steps[9].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Right},
	} {
		if j, err = e.Apply(j); err != nil {
			t.Fatalf("%s: %v", e.Label(), err)
		}
	}
	return j
}

func drawn(a *solver.Answer, place lights.Place, o lights.Options) *drawing.List {
	var l drawing.List
	lights.Draw(&l, a, place, o)
	return &l
}

// TestBarsLieUnderTheirNoses: in the plan a bar is as long as it is in the
// stair; in the section it stands at its own height.
func TestBarsLieUnderTheirNoses(t *testing.T) {
	for name, a := range answers(t) {
		plan, section := lights.Plan(handle.Options{}), lights.Section(a, handle.Options{})
		for i := range a.Bars.Bars {
			b := &a.Bars.Bars[i]
			flat := b.Right.Sub(b.Left)
			flat[2] = 0
			if got := plan(b.Step, b.Right).Sub(plan(b.Step, b.Left)).Len(); math.Abs(got-flat.Len()) > 1e-6 {
				t.Errorf("%s %s: %g long in the plan, want %g", name, b.Name(), got, flat.Len())
			}
			if got := section(b.Step, b.Centre()).Y; math.Abs(got-b.Centre()[2]) > 1e-9 {
				t.Errorf("%s %s: at %g in the section", name, b.Name(), got)
			}
		}
		for _, in := range []bool{false, true} {
			place := plan
			if in {
				place = section
			}
			l := drawn(a, place, lights.Options{Section: in, Lit: func(int) bool { return true }, Chosen: 3, Grips: true})
			if err := l.Check(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if dark := name == "dark"; dark != (l.Len() == 0) {
				t.Errorf("%s: %d items", name, l.Len())
			}
			if l := drawn(a, place, lights.Options{Section: in, Exaggerate: 5}); l.Len() != 0 {
				t.Errorf("%s: true bars over a drawing that exaggerates", name)
			}
		}
	}
}

// TestBoxGoesWhereItIsDragged: put down where it is taken up it stays; moved in
// the plan it keeps its height, and in the section what lies across.
func TestBoxGoesWhereItIsDragged(t *testing.T) {
	a := answers(t)["tapering"]
	was := a.Job.Lighting.Box
	near := func(a, b model.Point) bool {
		return mgl64.Vec3{float64(a.X - b.X), float64(a.Y - b.Y), float64(a.Z - b.Z)}.Len() < 1e-6
	}
	for _, upright := range []bool{false, true} {
		for _, in := range []bool{false, true} {
			o := handle.Options{Upright: upright}
			place := lights.Plan(o)
			if in {
				place = lights.Section(a, o)
			}
			at := place(0, lights.BoxOf(a))
			if got := lights.BoxAt(a, o, in, at); !near(got, was) {
				t.Errorf("upright %v section %v: %v became %v", upright, in, was, got)
			}
			moved := *a
			moved.Job.Lighting.Box = lights.BoxAt(a, o, in, at.Add(drawing.Point{X: 120, Y: -70}))
			if got := place(0, lights.BoxOf(&moved)).Sub(at); math.Abs(got.X-120) > 1e-6 || math.Abs(got.Y+70) > 1e-6 {
				t.Errorf("upright %v section %v: it went %v", upright, in, got)
			}
			if !in && moved.Job.Lighting.Box.Z != was.Z {
				t.Error("the plan changed the box's height")
			}
		}
	}
}

// TestGripsAndPicks finds every bar at its own place, and the tap nearest to it.
func TestGripsAndPicks(t *testing.T) {
	for name, a := range answers(t) {
		place := lights.Section(a, handle.Options{})
		o := lights.Options{Section: true, Grips: true}
		gs := lights.Grips(a, place, o)
		if name == "dark" {
			if len(gs) != 0 || lights.BarAt(a, place, o, drawing.Point{}, 1e9) != 0 {
				t.Error("a job without lighting can be taken hold of")
			}
			continue
		}
		if a.Power == nil {
			continue
		}
		if len(gs) == 0 || gs[len(gs)-1].Kind != lights.BoxGrip {
			t.Errorf("%s: no box among %v", name, gs)
		}
		for i := range a.Bars.Bars {
			b := &a.Bars.Bars[i]
			if b.Pixels == 0 {
				continue
			}
			if got := lights.BarAt(a, place, o, place(b.Step, b.Left), 5); got != b.Step {
				t.Errorf("%s: at %s bar %d is found", name, b.Name(), got)
			}
			end := b.Left
			if a.Job.Lighting.Cavity == model.CavityRight {
				end = b.Right
			}
			if got := lights.TapAt(a, place, place(b.Step, end)); got != b.Step {
				t.Errorf("%s: at the end of %s the tap of %d is nearest", name, b.Name(), got)
			}
		}
	}
}

// TestBarLightsTheTreadBelow lights one bar alone: the tread it is said to
// light gets the most light of all, and in the right order of size: no more
// than all its lumens over that tread.
func TestBarLightsTheTreadBelow(t *testing.T) {
	a := answers(t)["tapering"]
	for _, one := range []int{1, 7, len(a.Bars.Bars)} {
		share := 0.3
		r := lux.Solve(lights.Problem(a, func(step int) float64 {
			if step != one {
				return 0
			}
			return lights.LumensOf(a, step, share)
		}), lux.Settings{Across: 20, Deep: 10})
		best := 0
		for i := range r.Surfaces {
			if r.Surfaces[i].Lumens() > r.Surfaces[best].Lumens() {
				best = i
			}
		}
		s := &r.Surfaces[best]
		if s.Step != one-1 {
			t.Errorf("bar %d lights step %d most", one, s.Step)
		}
		all := lights.LumensPerMetre(a).Value * a.Bars.Bars[one-1].Strip / 1000 * share
		if got := s.Lumens(); !(got > 0.3*all && got <= all) {
			t.Errorf("bar %d: %g of its %g lm arrive at the tread below", one, got, all)
		}
	}
}

// TestScenesDim: the cap holds, and one channel of four gives a quarter.
func TestScenesDim(t *testing.T) {
	a := answers(t)["tapering"]
	if got := lights.InScene(a, model.Scene{Level: 0.8, Channels: 1}, 1); math.Abs(got-0.2) > 1e-12 {
		t.Errorf("one channel of %d at 0.8 gives %g", a.Bars.Strip.Channels, got)
	}
	capped := *a
	capped.Job.Lighting.Cap = 0.5
	if got := lights.InScene(&capped, model.Scene{Level: 0.8}, 1); got != 0.5 {
		t.Errorf("over the cap: %g", got)
	}
	capped.Job.Lighting.Own.Practice = []model.PracticeValue{{ID: lights.LumensID, Value: model.Rated{Value: 1000, Standing: model.Yours}}}
	if got := lights.LumensPerMetre(&capped); got.Value != 1000 || got.Standing != model.Yours {
		t.Errorf("own lumens are not taken: %+v", got)
	}
}

// TestColoursOfScenes: bars take the colours in turn, each gives its share of
// the light, and a screen shows what the strip can show.
func TestColoursOfScenes(t *testing.T) {
	a := *answers(t)["tapering"]
	a.Bars.Strip.Channels = 3
	s := model.Scene{Level: 0.5, Colours: []model.Colour{{Red: 255}, {Green: 255}, {Blue: 255}}}
	sum := 0.0
	for step := 1; step <= 3; step++ {
		sum += lights.InScene(&a, s, step)
	}
	if math.Abs(sum-0.5) > 1e-12 {
		t.Errorf("red, green and blue at half give %g of full", sum)
	}
	if red, next := lights.InScene(&a, s, 1), lights.InScene(&a, s, 4); red != next || red == lights.InScene(&a, s, 2) {
		t.Error("the fourth bar has another colour than the first, or the second the same")
	}
	want := []color.NRGBA{{R: 255, A: 255}, {G: 255, A: 255}, {B: 255, A: 255}}
	if got := lights.Previews(&a, s); !slices.Equal(got, want) {
		t.Errorf("shown as %v", got)
	}
	s.Kind = model.SceneOff
	if lights.InScene(&a, s, 1) != 0 || lights.Previews(&a, s)[0] != (color.NRGBA{A: 255}) {
		t.Error("off gives light")
	}
	// Cooler white has more blue; the strip's own follows its kelvin.
	blue := func(name string) uint8 {
		for _, c := range lights.Colours(&a) {
			if c.Name == name {
				return lights.Preview(&a, c.Colour).B
			}
		}
		t.Fatalf("no %s", name)
		return 0
	}
	if !(blue("warm white, 2700 K") < blue("neutral white, 4000 K") && blue("neutral white, 4000 K") < blue("cool white, 6500 K")) {
		t.Error("cool white is no bluer than warm")
	}
	a.Bars.Strip.Channels = 4
	white := func(kelvin float64) color.NRGBA {
		a.Job.Lighting.White = kelvin
		return lights.Preview(&a, model.Colour{White: 255})
	}
	if white(0) != white(model.UsualWhite) || !(white(2700).B < white(5000).B) {
		t.Errorf("the strip's white: %v usual, %v at 2700, %v at 5000 K", white(0), white(2700), white(5000))
	}
	for _, c := range lights.Colours(&a) {
		if lights.Preview(&a, c.Colour) == (color.NRGBA{A: 255}) {
			t.Errorf("%s gives no light", c.Name)
		}
	}
}

// TestLampsAreDrawn: a bar is drawn in the ink of its light, a dark one is not.
func TestLampsAreDrawn(t *testing.T) {
	a := answers(t)["tapering"]
	inks := func(section bool) map[drawing.Ink]int {
		place := lights.Plan(handle.Options{})
		if section {
			place = lights.Section(a, handle.Options{})
		}
		out := map[drawing.Ink]int{}
		for _, it := range drawn(a, place, lights.Options{Section: section, Colour: func(step int) drawing.Ink {
			if step == 2 {
				return drawing.None
			}
			return drawing.Lamp + drawing.Ink(step%2)
		}}).Items() {
			out[it.Stroke.Ink]++
			out[it.Fill.Ink]++
		}
		return out
	}
	n := len(a.Bars.Bars)
	for _, section := range []bool{false, true} {
		got := inks(section)
		if even, odd := got[drawing.Lamp], got[drawing.Lamp+1]; even != n/2-1 || odd != (n+1)/2 {
			t.Errorf("section %v: %d even and %d odd of %d bars, one of them dark", section, even, odd, n)
		}
	}
}

// TestCavityGoesToTheNearestThird of the bar it is dragged to, and is taken hold
// of in the plan alone.
func TestCavityGoesToTheNearestThird(t *testing.T) {
	for name, a := range answers(t) {
		if name == "dark" {
			continue
		}
		for _, o := range []handle.Options{{}, {Upright: true}} {
			place := lights.Plan(o)
			for i := range a.Bars.Bars {
				b := &a.Bars.Bars[i]
				for share, want := range map[float64]model.Cavity{-0.05: model.CavityLeft, 0.2: model.CavityLeft, 0.5: model.CavityUnder, 0.8: model.CavityRight, 1.05: model.CavityRight} {
					at := place(b.Step, b.Left.Add(b.Right.Sub(b.Left).Mul(share)))
					// In winders the inner ends crowd, so only straight flights are asked everywhere.
					if got := lights.CavityAt(a, place, at); got != want && (name == "tapering" || share == 0.5) {
						t.Errorf("%s, %s at %g: %s", name, b.Name(), share, got)
					}
				}
			}
		}
		count := func(place lights.Place, section bool) (n int) {
			for _, g := range lights.Grips(a, place, lights.Options{Grips: true, Section: section}) {
				if g.Kind == lights.CavityGrip {
					n++
				}
			}
			return n
		}
		if p, s := count(lights.Plan(handle.Options{}), false), count(lights.Section(a, handle.Options{}), true); p != 1 || s != 0 {
			t.Errorf("%s: %d grips of the cavity in the plan, %d in the section", name, p, s)
		}
	}
}

// TestEverySurfaceIsLitOnce: the floor, each tread and each landing is a surface
// of its own; returns at an open side are none.
func TestEverySurfaceIsLitOnce(t *testing.T) {
	for name, a := range answers(t) {
		if name == "dark" {
			continue
		}
		landings := 0
		for i := range a.Job.Flight.Steps {
			if a.Job.Flight.Steps[i].Landing {
				landings++
			}
		}
		p := lights.Problem(a, func(int) float64 { return 1 })
		kinds, names := map[lux.Kind]int{}, map[string]bool{}
		for _, s := range p.Stair.Surfaces {
			kinds[s.Kind]++
			if s.Kind != lux.Landing && names[s.Name()] {
				t.Errorf("%s: %s is there twice", name, s.Name())
			}
			names[s.Name()] = true
		}
		n := len(a.Job.Flight.Steps)
		if kinds[lux.Floor] != 1 || kinds[lux.Tread] != n-1-landings || kinds[lux.LandingFloor] != landings || kinds[lux.Landing] != 1+landings {
			t.Errorf("%s: %d steps, %d landings between flights: %v", name, n, landings, kinds)
		}
		if len(p.Bars) != n {
			t.Errorf("%s: %d bars on %d steps", name, len(p.Bars), n)
		}
	}
}
