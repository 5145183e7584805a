package lux_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/lux"
	"risewright/solver/pieces"
)

// Bar k lights tread k-1: bar 1 the floor, the landing nosing's the last tread.
func TestBarLightsTheTreadBelow(t *testing.T) {
	ps := boards(t, 6, 0, nil)
	for k := 1; k <= 6; k++ {
		p := lit(ps, lux.TypicalMount(100), k)
		if len(p.Surfaces) != 7 || len(p.Bars) != 1 || p.Bars[0].Step != k {
			t.Fatalf("%d surfaces, bars %v", len(p.Surfaces), p.Bars)
		}
		r := lux.Solve(p, lux.Settings{Across: 12, Deep: 8})
		for i := range r.Surfaces {
			s := &r.Surfaces[i]
			switch {
			case s.Step == k-1 && s.Mean < 20:
				t.Errorf("bar %d gives %s %.2f lx", k, s.Name(), s.Mean)
			case s.Step != k-1 && s.Step != 0 && s.Max > 0:
				t.Errorf("bar %d gives %s %.2g lx, but is hidden from it", k, s.Name(), s.Max)
			}
		}
		if s := surface(t, &r, 0); k > 1 && s.Max > 0.2*surface(t, &r, k-1).Max {
			t.Errorf("bar %d gives the floor %.2f lx", k, s.Max)
		}
	}
}

// The bar's flux and where it sits, by hand: nose 2 at y = 254, its underside on
// the old tread at z = 370; set back 5, 10 wide, 8 below.
func TestMount(t *testing.T) {
	ps := boards(t, 3, 0, nil)
	b := lux.Under(&ps[3], lux.TypicalMount(120))
	within(t, "lumens", b.Lumens(), 120, 1e-9)
	within(t, "area", b.Area(), 0.884*0.010, 1e-9) // 914 less two ends of 15
	within(t, "exitance", b.Exitance, 120/0.00884, 1e-6)
	if b.Step != 2 || b.Corner.Sub(vec{899, 259, 362}).Len() > 1e-9 || b.Along.Sub(vec{-884, 0, 0}).Len() > 1e-9 || b.Across.Sub(vec{0, 10, 0}).Len() > 1e-9 {
		t.Errorf("bar %+v", b)
	}
	m := lux.TypicalMount(120)
	m.Aim = math.Pi / 6
	b = lux.Under(&ps[3], m)
	if want := (vec{0, 0.5, -math.Sqrt(3) / 2}); b.Normal().Sub(want).Len() > 1e-12 {
		t.Errorf("aimed at the riser it faces %v, want %v", b.Normal(), want)
	}
	// The same bar from the ends of its centre line on the underside.
	if h := lux.Hung(2, vec{15, 264, 370}, vec{899, 264, 370}, vec{0, 0, -1}, m); h.Corner.Sub(b.Corner).Len() > 1e-9 || h.Along.Sub(b.Along).Len() > 1e-9 || h.Across.Sub(b.Across).Len() > 1e-9 || relative(h.Exitance, b.Exitance) > 1e-12 {
		t.Errorf("hung from its ends %+v, under the board %+v", h, b)
	}
	// The lip's edge is the one at the nose.
	if b.Corner[1] > b.Corner.Add(b.Across)[1] {
		t.Error("the lip is at the riser")
	}
	if b := lux.Under(&ps[0], m); b.Lumens() != 0 || b.Area() != 0 {
		t.Errorf("a bar under a riser: %+v", b)
	}
	m.Ends = 500
	if b := lux.Under(&ps[3], m); b.Area() != 0 {
		t.Errorf("a bar with no length: %+v", b)
	}
}

// A tread ends at the riser behind it, though its board runs on.
func TestSurfaceEndsAtTheRiser(t *testing.T) {
	st := lux.FromPieces(boards(t, 3, 0, nil), finish)
	for _, s := range st.Surfaces {
		var y [2]float64
		for i, p := range s.Outline {
			if i == 0 || p[1] < y[0] {
				y[0] = p[1]
			}
			if i == 0 || p[1] > y[1] {
				y[1] = p[1]
			}
		}
		want := [2]float64{254 * float64(s.Step-1), 254*float64(s.Step) + 25}
		switch s.Kind {
		case lux.Floor:
			want = [2]float64{25 - 900, 25}
		case lux.Landing:
			want[1] = 254*2 + 90
		}
		within(t, s.Name()+" front", y[0], want[0], 1e-9)
		within(t, s.Name()+" back", y[1], want[1], 1e-9)
	}
}

// The figures of a lit tread hang together, and the mean follows the flux.
func TestFigures(t *testing.T) {
	p := lit(boards(t, 4, 6, rand.New(rand.NewPCG(7, 7))), lux.TypicalMount(100), 3)
	r := lux.Solve(p, lux.Settings{})
	s := surface(t, &r, 2)
	if !(0 < s.Min && s.Min < s.Mean && s.Mean < s.Max && s.Min < s.Centre && s.Centre < s.Max) {
		t.Errorf("min %.3g mean %.3g max %.3g centre %.3g", s.Min, s.Mean, s.Max, s.Centre)
	}
	if len(s.Middle) != 20 || len(s.Grid.Lux) != 800 {
		t.Errorf("%d rows, %d cells", len(s.Middle), len(s.Grid.Lux))
	}
	area, flux := 0.0, 0.0
	for k, a := range s.Grid.Area {
		if a > 0 {
			area, flux = area+a, flux+a*s.Grid.Lux[k]/1e6
		}
	}
	within(t, "area of the cells", area, s.Outline[1].Sub(s.Outline[0]).Cross(s.Outline[2].Sub(s.Outline[0])).Len()/2+
		s.Outline[2].Sub(s.Outline[0]).Cross(s.Outline[3].Sub(s.Outline[0])).Len()/2, 1e-6*area)
	within(t, "mean times area", s.Mean*area/1e6, flux, 1e-9)
	within(t, "lumens", s.Lumens(), flux, 1e-12)
	if flux > 100 {
		t.Errorf("%.1f lm arrive of 100", flux)
	}
	// Half the grid, nearly the same mean: the midpoint rule has settled.
	coarse := lux.Solve(p, lux.Settings{Across: 20, Deep: 10})
	if c := surface(t, &coarse, 2); relative(c.Mean, s.Mean) > 0.01 {
		t.Errorf("mean %.4g on 20 by 10 cells, %.4g on 40 by 20", c.Mean, s.Mean)
	}
}

// Law: the same problem gives the same bits.
func TestSame(t *testing.T) {
	p := lit(boards(t, 5, 8, rand.New(rand.NewPCG(3, 1))), lux.TypicalMount(80), 1, 2, 3, 4, 5)
	a, b := lux.Solve(p, lux.Settings{Reflect: true, Across: 10, Deep: 6}), lux.Solve(p, lux.Settings{Reflect: true, Across: 10, Deep: 6})
	for i := range a.Surfaces {
		for k, e := range a.Surfaces[i].Grid.Lux {
			if math.Float64bits(e) != math.Float64bits(b.Surfaces[i].Grid.Lux[k]) {
				t.Fatalf("surface %d cell %d: %v and %v", i, k, e, b.Surfaces[i].Grid.Lux[k])
			}
		}
	}
}

// mapped returns the problem with every place taken elsewhere; mirror keeps
// outlines facing the way they did.
func mapped(p lux.Problem, m mgl64.Mat4, mirror bool) lux.Problem {
	point := func(v vec) vec { return mgl64.TransformCoordinate(v, m) }
	outline := func(v []vec) []vec {
		out := make([]vec, len(v))
		for i, q := range v {
			k := i
			if mirror { // keep the nose first: 1, 0, n-1, n-2 …
				k = (1 - i + len(v)) % len(v)
			}
			out[k] = point(q)
		}
		return out
	}
	surfaces := func(in []lux.Surface) (out []lux.Surface) {
		for _, s := range in {
			s.Outline = outline(s.Outline)
			out = append(out, s)
		}
		return out
	}
	q := lux.Problem{Stair: lux.Stair{Surfaces: surfaces(p.Surfaces), Risers: surfaces(p.Risers)}}
	for _, s := range p.Screens {
		q.Screens = append(q.Screens, lux.Screen{Outline: outline(s.Outline), BothSides: s.BothSides})
	}
	for _, b := range p.Bars {
		c := point(b.Corner)
		along, across := point(b.Corner.Add(b.Along)).Sub(c), point(b.Corner.Add(b.Across)).Sub(c)
		if mirror {
			c, along = c.Add(along), along.Mul(-1)
		}
		b.Corner, b.Along, b.Across = c, along, across
		q.Bars = append(q.Bars, b)
	}
	return q
}

// Laws: moving, turning, mirroring and scaling change no illuminance.
func TestMappings(t *testing.T) {
	ps := boards(t, 5, 8, rand.New(rand.NewPCG(11, 5)))
	m := lux.TypicalMount(100)
	m.Aim = 0.3
	p := lit(ps, m, 1, 2, 3, 4, 5)
	set := lux.Settings{Across: 7, Deep: 5, Reflect: true}
	base := lux.Solve(p, set)
	turn := mgl64.HomogRotate3DZ(1.1).Mul4(mgl64.HomogRotate3DX(0.2))
	for name, c := range map[string]struct {
		m      mgl64.Mat4
		mirror bool
		scale  float64
	}{
		"moved":    {mgl64.Translate3D(-5000, 777, 1234), false, 1},
		"turned":   {turn, false, 1},
		"mirrored": {mgl64.Scale3D(-1, 1, 1), true, 1},
		"inches":   {mgl64.Scale3D(1/25.4, 1/25.4, 1/25.4), false, 1 / 25.4},
		"far":      {mgl64.Translate3D(90000, -90000, 3000).Mul4(turn), false, 1},
	} {
		q := mapped(p, c.m, c.mirror)
		for i := range q.Bars {
			q.Bars[i].Lip *= c.scale
		}
		r := lux.Solve(q, set)
		if len(r.Surfaces) != len(base.Surfaces) || len(r.Findings) != 0 {
			t.Fatalf("%s: %d surfaces, %v", name, len(r.Surfaces), r.Findings)
		}
		for i := range r.Surfaces {
			a, b := &base.Surfaces[i], &r.Surfaces[i]
			for _, f := range [][2]float64{{a.Min, b.Min}, {a.Mean, b.Mean}, {a.Max, b.Max}, {a.Centre, b.Centre}} {
				// The touching distance does not scale; it stands for 3e-6 of
				// the width of a bar in inches.
				if relative(f[0], f[1]) > 1e-5 && math.Abs(f[0]-f[1]) > 1e-5 {
					t.Errorf("%s: %s gets %.9g, was %.9g", name, a.Name(), f[1], f[0])
				}
			}
		}
		// The exitance is kept, so lumens go with the area.
		within(t, name, q.Bars[0].Lumens(), p.Bars[0].Lumens()*c.scale*c.scale, 1e-9)
	}
}

// Laws: lights add, twice the lumens give twice the light, a screen adds none.
func TestLightsAdd(t *testing.T) {
	ps := boards(t, 4, 5, rand.New(rand.NewPCG(2, 9)))
	set := lux.Settings{Across: 9, Deep: 7}
	m := lux.TypicalMount(100)
	all := lux.Solve(lit(ps, m, 1, 2, 3), set)
	var parts [3]lux.Result
	for k := range 3 {
		p := lit(ps, m, 1, 2, 3)
		for i := range p.Bars {
			if i != k {
				p.Bars[i].Exitance = 0 // dark, but its lip stays
			}
		}
		parts[k] = lux.Solve(p, set)
	}
	double := lit(ps, m, 1, 2, 3)
	for i := range double.Bars {
		double.Bars[i] = double.Bars[i].WithLumens(200)
	}
	twice := lux.Solve(double, set)
	screened := lit(ps, m, 1, 2, 3)
	screened.Screens = append(screened.Screens, lux.Screen{BothSides: true, Outline: rect(vec{200, -100, 60}, vec{300, 0, 10}, vec{0, 150, 20})})
	shaded := lux.Solve(screened, set)
	darker := false
	for i := range all.Surfaces {
		for c, e := range all.Surfaces[i].Grid.Lux {
			sum := 0.0
			for k := range parts {
				sum += parts[k].Surfaces[i].Grid.Lux[c]
			}
			if math.Abs(sum-e) > 1e-9*(1+e) {
				t.Fatalf("surface %d cell %d: %g lx, bars alone %g", i, c, e, sum)
			}
			if d := twice.Surfaces[i].Grid.Lux[c]; math.Abs(d-2*e) > 1e-9*(1+e) {
				t.Fatalf("surface %d cell %d: %g lx, with twice the lumens %g", i, c, e, d)
			}
			s := shaded.Surfaces[i].Grid.Lux[c]
			if s > e*(1+1e-9)+1e-12 {
				t.Fatalf("surface %d cell %d: a screen raises %g lx to %g", i, c, e, s)
			}
			darker = darker || s < e*0.9
		}
	}
	if !darker {
		t.Error("the screen shades nothing, so nothing was tested")
	}
}

// Without a lip the upper bars shine over the noses onto the hall floor well in
// front of the stair; a lip cuts that off and leaves most of the tread's light.
func TestLip(t *testing.T) {
	ps := boards(t, 14, 0, nil)
	solve := func(lip float64) lux.Result {
		m := lux.TypicalMount(100)
		m.Lip = lip
		p := lit(ps, m, 12)
		p.Stair = lux.FromPieces(ps, lux.Finish{FloorDepth: 2000})
		return lux.Solve(p, lux.Settings{Across: 8, Deep: 16})
	}
	bare, lipped := solve(0), solve(8)
	if f, g := surface(t, &bare, 0), surface(t, &lipped, 0); !(f.Max > 0.1) || g.Max > 1e-6 {
		t.Errorf("the floor gets %.3g lx past the lip, %.3g without it", g.Max, f.Max)
	}
	f, g := surface(t, &bare, 11), surface(t, &lipped, 11)
	if g.Mean > 0.95*f.Mean || g.Mean < 0.5*f.Mean {
		t.Errorf("tread 11 gets %.3g lx with the lip, %.3g without", g.Mean, f.Mean)
	}
}

func TestReflect(t *testing.T) {
	ps := boards(t, 4, 0, nil)
	p := lit(ps, lux.TypicalMount(100), 1, 2, 3, 4)
	direct, reflected := lux.Solve(p, lux.Settings{Across: 10, Deep: 6}), lux.Solve(p, lux.Settings{Across: 10, Deep: 6, Reflect: true})
	for i := range direct.Surfaces {
		a, b := &direct.Surfaces[i], &reflected.Surfaces[i]
		if b.Mean < a.Mean {
			t.Errorf("%s: %.3g lx with reflection, %.3g without", a.Name(), b.Mean, a.Mean)
		}
		if a.Kind == lux.Tread && !(b.Mean > 1.02*a.Mean && b.Mean < 1.6*a.Mean) {
			t.Errorf("%s: %.4g lx with reflection, %.4g without: white risers should add some, not that", a.Name(), b.Mean, a.Mean)
		}
	}
	// Black boards reflect nothing.
	black := p
	black.Stair = lux.FromPieces(ps, lux.Finish{})
	dark := lux.Solve(black, lux.Settings{Across: 10, Deep: 6, Reflect: true})
	for i := range direct.Surfaces {
		if direct.Surfaces[i].Mean != dark.Surfaces[i].Mean {
			t.Errorf("%s: black boards change %g to %g", dark.Surfaces[i].Name(), direct.Surfaces[i].Mean, dark.Surfaces[i].Mean)
		}
	}
}

// The usual patches are fine enough: twice as many each way change the mean of
// a tread by under 1 %.
func TestPatches(t *testing.T) {
	p := lit(boards(t, 4, 0, nil), lux.TypicalMount(100), 1, 2, 3, 4)
	set := lux.Settings{Across: 10, Deep: 6, Reflect: true}
	usual, fine := lux.Solve(p, set), lux.SolvePatches(p, set, 24, 8)
	for i := range usual.Surfaces {
		a, b := usual.Surfaces[i].Mean, fine.Surfaces[i].Mean
		if relative(a, b) > 0.01 {
			t.Errorf("%s: %.4g lx, with finer patches %.4g", usual.Surfaces[i].Name(), a, b)
		}
		if a == b && a > 0 {
			t.Errorf("%s: the patches do not count", usual.Surfaces[i].Name())
		}
	}
}

// Bad input is found and left out; the rest is computed.
func TestBadInput(t *testing.T) {
	ps := boards(t, 3, 0, nil)
	good := lit(ps, lux.TypicalMount(100), 2)
	bad := good.Bars[0]
	for name, b := range map[string]lux.Bar{
		"zero":         {},
		"not a number": {Step: 2, Corner: vec{math.NaN()}, Along: vec{1}, Across: vec{0, 1}, Exitance: 1},
		"no width":     {Step: 2, Along: vec{100}, Exitance: 1},
		"no rectangle": {Step: 2, Along: vec{100}, Across: vec{50, 50}, Exitance: 1},
		"negative":     {Step: 2, Along: bad.Along, Across: bad.Across, Exitance: -1},
		"far too much": {Step: 2, Along: bad.Along, Across: bad.Across, Exitance: math.Inf(1)},
		"lip":          {Step: 2, Along: bad.Along, Across: bad.Across, Exitance: 1, Lip: -3},
	} {
		p := good
		p.Bars = []lux.Bar{b, good.Bars[0]}
		r := lux.Solve(p, lux.Settings{Across: 3, Deep: 3})
		if len(r.Findings) != 1 || r.Findings[0].Rule != "lux.bar" || r.Findings[0].Severity >= model.Block || r.LitBars != 1 {
			t.Errorf("%s: %v, %d lit", name, r.Findings, r.LitBars)
		}
		if s := surface(t, &r, 1); !(s.Mean > 10) {
			t.Errorf("%s: the good bar gives %.2g lx", name, s.Mean)
		}
	}
	for name, outline := range map[string][]vec{
		"none": nil, "two": {{0, 0, 0}, {1, 0, 0}}, "in line": {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}},
		"not a number": {{0, 0, 0}, {1, 0, 0}, {math.Inf(1), 1, 0}}, "bent": {{0, 0, 0}, {9, 0, 0}, {9, 9, 3}, {0, 9, 0}},
	} {
		p := good
		p.Surfaces = append([]lux.Surface{{Step: 9, Kind: lux.Tread, Outline: outline}}, good.Surfaces...)
		r := lux.Solve(p, lux.Settings{Across: 3, Deep: 3})
		if len(r.Findings) != 1 || r.Findings[0].Where.Step != 9 || len(r.Surfaces) != len(good.Surfaces) {
			t.Errorf("%s: %v", name, r.Findings)
		}
	}
	if r := lux.Solve(lux.Problem{}, lux.Settings{}); len(r.Surfaces) != 0 || r.Compare(lux.Published()) != nil {
		t.Errorf("of nothing: %+v", r)
	}
	if st := lux.FromPieces([]pieces.Piece{{Kind: pieces.Tread, Impossible: "no board"}, {Kind: pieces.Riser, Step: 1, Impossible: "no riser"}}, finish); len(st.Surfaces) != 0 {
		t.Errorf("impossible boards are lit: %v", st)
	}
}

func BenchmarkSolve(b *testing.B) {
	ps := boards(b, 14, 4, rand.New(rand.NewPCG(1, 1)))
	m := lux.TypicalMount(100)
	for name, set := range map[string]lux.Settings{"direct": {Across: 40, Deep: 20}, "reflect": {Across: 40, Deep: 20, Reflect: true}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r := lux.Solve(lit(ps, m, 4, 5, 6, 7, 8), set)
				if len(r.Surfaces) != 15 {
					b.Fatal(len(r.Surfaces))
				}
			}
		})
	}
}

// patience is a context that ends once it has been asked so often.
type patience struct {
	context.Context
	left int
}

func (p *patience) Err() error {
	if p.left--; p.left < 0 {
		return context.Canceled
	}
	return nil
}

// Solving gives up when it is told to on its way, within a surface: what comes
// after that is never begun.
func TestSolveGivesUp(t *testing.T) {
	p := lit(boards(t, 6, 0, nil), lux.TypicalMount(100), 1, 2, 3, 4, 5, 6)
	for _, reflect := range []bool{false, true} {
		set := lux.Settings{Reflect: reflect}
		whole, err := lux.SolveUntil(context.Background(), p, set)
		if err != nil || len(whole.Surfaces) != 7 || len(whole.Surfaces[6].Grid.Lux) == 0 {
			t.Fatalf("%d surfaces, %v", len(whole.Surfaces), err)
		}
		for stop := range 7 {
			r, err := lux.SolveUntil(&patience{context.Background(), stop}, p, set)
			if !errors.Is(err, context.Canceled) {
				t.Fatalf("stopped after %d surfaces: %v", stop, err)
			}
			for i := stop; i < len(r.Surfaces); i++ {
				if len(r.Surfaces[i].Grid.Lux) != 0 {
					t.Errorf("stopped after %d, surface %d was still worked out", stop, i)
				}
			}
		}
	}
}
