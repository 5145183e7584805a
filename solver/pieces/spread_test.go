package pieces_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

const band95 = 1.959963984540054

// values returns the figures and gauges of a piece, and their bands.
func values(p pieces.Piece) (v, band []float64) {
	for _, f := range p.Named() {
		v, band = append(v, f.Value.Value), append(band, f.PlusMinus)
	}
	for _, e := range p.Ends {
		v, band = append(v, e.Gauge.Value), append(band, e.Gauge.PlusMinus)
	}
	return v, band
}

// nudge moves all unknowns of the flight by h times direction.
func (f *flight) nudge(direction [][]float64, h float64) *flight {
	g := f.clone()
	for k, d := range direction {
		s := &g.res.Steps[k]
		n := len(s.Corners)
		for c := range s.Corners {
			s.Corners[c] = s.Corners[c].Add(mgl64.Vec2{d[2*c], d[2*c+1]}.Mul(h))
		}
		topLeft, topRight, fall, left, right, _ := survey.Unknowns(n)
		s.TopLeft += h * d[topLeft]
		s.TopRight += h * d[topRight]
		s.Fall += h * d[fall]
		s.Lean[0] += h * d[left]
		s.Lean[1] += h * d[right]
	}
	return g
}

// The bands come from analytic gradients. If the whole uncertainty is one
// vector v, so that Cov = v vᵀ, a figure's spread is |∂figure/∂v|, which
// central differences give without any formula. Random vectors in all unknowns
// at once, correlated between steps, leave no entry out.
func TestBandsMeetFiniteDifferences(t *testing.T) {
	const seed = 7
	rng := rand.New(rand.NewPCG(seed, 1))
	for _, back := range []model.BackJoint{model.BackUnderRiser, model.BackAgainstRiser} {
		for try := range 20 {
			f := crooked(6)
			f.job.Overlay.Back = back
			f.job.Flight.Steps[1].Left.Kind = model.Open
			if try%2 == 1 { // a template's neighbours, and its own lengths
				s := &f.res.Steps[3]
				c := s.Corners
				s.Corners = []mgl64.Vec2{c[0], c[1], c[1].Add(c[2]).Mul(0.5).Add(mgl64.Vec2{30, 5}), c[2], c[3]}
				s.BR, s.BL = 3, 4
			}
			if try%4 == 2 { // a winder that comes to a point
				s := &f.res.Steps[2]
				s.Corners = s.Corners[:3]
				s.BR, s.BL = 2, 0
			}
			direction := make([][]float64, 6)
			for k := range direction {
				d := make([]float64, countOf(&f.res.Steps[k]))
				_, _, fall, _, _, _ := survey.Unknowns(len(f.res.Steps[k].Corners))
				for i := range d {
					d[i] = rng.NormFloat64()
					if i >= fall {
						d[i] /= 300
					}
				}
				direction[k] = d
				s := &f.res.Steps[k]
				s.Cov = outer(d, d)
				if k > 0 {
					s.Cross = outer(d, direction[k-1])
				}
			}
			const h = 1e-3
			ps, up, down := f.make(), f.nudge(direction, h).make(), f.nudge(direction, -h).make()
			for i := range ps {
				_, band := values(ps[i])
				hi, _ := values(up[i])
				lo, _ := values(down[i])
				if len(ps[i].Face) != 4 { // a template's gauges have no band
					band = band[:6]
				}
				for q := range band {
					slope := math.Abs(hi[q]-lo[q]) / (2 * h)
					// Differences are good to h² times a third derivative, and to
					// rounding of 1e-13 over h.
					if math.Abs(band[q]/band95-slope) > 1e-6*(1+slope) {
						t.Errorf("seed %d try %d %s, %s figure %d: band says %.9g, differences %.9g", seed, try, back, ps[i].ID, q, band[q]/band95, slope)
					}
				}
			}
		}
	}
}

func outer(a, b []float64) []float64 {
	m := make([]float64, 0, len(a)*len(b))
	for _, x := range a {
		for _, y := range b {
			m = append(m, x*y)
		}
	}
	return m
}

func TestRelease(t *testing.T) {
	rows := []struct {
		name   string
		change func(f *flight)
		held   string // ids not released
		why    string
	}{
		{"all ready", func(f *flight) {}, "", ""},
		{"one step to buy only", func(f *flight) {
			f.res.Steps[2].Readiness, f.res.Steps[2].Why = survey.ReadyBuy, "the front width has not been read on bare wood"
		}, "R03 T03 R04", "step 3 is not ready for the saw: the front width has not been read on bare wood"},
		{"the first step", func(f *flight) { f.res.Steps[0].Readiness = survey.ReadySketch }, "R01 T01 R02", "step 1 is not ready for the saw"},
		{"no solution", func(f *flight) { f.res.Status = survey.Stalled }, "R01 T01 R02 T02 R03 T03 R04 T04 R05 L05", "did not settle"},
		{"ready but unsure", func(f *flight) {
			f.res.Steps[1].Cov[0] = 0.5 * 0.5 // x of the front left corner
		}, "T02", "its front width is known to"},
		{"lean unsure: a painted riser may", func(f *flight) {
			n := countOf(&f.res.Steps[1])
			f.res.Steps[1].Cov[n*n-1] = math.Pow(0.3*degree, 2) // lean of the right side
		}, "", ""},
		{"lean very unsure", func(f *flight) {
			n := countOf(&f.res.Steps[1])
			f.res.Steps[1].Cov[n*n-1] = math.Pow(0.5*degree, 2)
		}, "R03", "its top width is known to"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			f := straight(5)
			r.change(f)
			var held []string
			for _, p := range f.make() {
				if p.Released != (p.Why == "") {
					t.Errorf("%s: released %v, why %q", p.ID, p.Released, p.Why)
				}
				if !p.Released {
					held = append(held, p.ID)
					if !strings.Contains(p.Why, r.why) {
						t.Errorf("%s: why %q, want %q in it", p.ID, p.Why, r.why)
					}
				}
			}
			if got := strings.Join(held, " "); got != r.held {
				t.Errorf("held back %q, want %q", got, r.held)
			}
		})
	}
}

// same says where two pieces differ beyond rounding, or "".
func same(a, b pieces.Piece) string {
	va, ba := values(a)
	vb, bb := values(b)
	for i := range va {
		if math.Abs(va[i]-vb[i]) > 1e-8 || math.Abs(ba[i]-bb[i]) > 1e-8 {
			return fmt.Sprintf("figure %d: %.10g ± %.10g and %.10g ± %.10g", i, va[i], ba[i], vb[i], bb[i])
		}
	}
	for i := range a.Solid.Verts {
		if d := a.Solid.Verts[i].Sub(b.Solid.Verts[i]).Len(); d > 1e-8 {
			return fmt.Sprintf("corner %d is off by %g", i, d)
		}
	}
	if a.Released != b.Released || a.Why != b.Why || a.Template != b.Template {
		return "release"
	}
	return ""
}

// Guarantees 3 and 4.
func TestLaws(t *testing.T) {
	f := crooked(14)
	ps := f.make()
	shift := mgl64.Vec2{3000, -1500}
	g := f.moved(0.7, shift)
	g.known(0.1)
	for i, p := range g.make() {
		if why := same(ps[i], p); why != "" {
			t.Errorf("%s moved and turned: %s", p.ID, why)
		}
		// The board itself went along.
		want := mgl64.Translate3D(shift[0], shift[1], 0).Mul4(mgl64.HomogRotate3DZ(0.7)).Mul4(ps[i].Frame)
		// Shares of a direction may be nil but for rounding, so what is left is
		// compared as it stands: mm, and parts of 1.
		if off := want.Sub(p.Frame); slices.Max(off[:]) > 1e-8 || slices.Min(off[:]) < -1e-8 {
			t.Errorf("%s: its frame did not go along: off by %v", p.ID, off)
		}
	}
	g = f.clone()
	g.job.Units, g.job.Fraction = model.Imperial, 32
	for i, p := range g.make() {
		if why := same(ps[i], p); why != "" {
			t.Errorf("%s in inches: %s", p.ID, why)
		}
	}
	for i, p := range f.mirrored().make() {
		q := ps[i]
		fig := q.Figures
		for _, d := range []struct {
			name string
			a, b pieces.Value
		}{
			{"back", p.Figures.Back, fig.Back}, {"front", p.Figures.Front, fig.Front},
			{"left", p.Figures.LeftDepth, fig.RightDepth}, {"right", p.Figures.RightDepth, fig.LeftDepth},
			{"diagonal left", p.Figures.DiagonalLeft, fig.DiagonalRight},
			{"diagonal right", p.Figures.DiagonalRight, fig.DiagonalLeft},
			{"gauge left", p.Ends[0].Gauge, q.Ends[1].Gauge}, {"gauge right", p.Ends[1].Gauge, q.Ends[0].Gauge},
		} {
			near(t, p.ID+" mirrored, "+d.name, d.a.Value, d.b.Value, 1e-8)
			near(t, p.ID+" mirrored, band of "+d.name, d.a.PlusMinus, d.b.PlusMinus, 1e-8)
		}
		near(t, p.ID+" mirrored, bevel", p.Ends[0].Bevel, q.Ends[1].Bevel, 1e-9)
		near(t, p.ID+" mirrored, volume", volume(p.Solid), volume(q.Solid), 1e-3)
	}
}

func BenchmarkMake14(b *testing.B) {
	f := crooked(14)
	b.ReportAllocs()
	for b.Loop() {
		f.make()
	}
}
