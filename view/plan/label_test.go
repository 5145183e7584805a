package plan_test

import (
	"math"
	"testing"

	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/plan"
)

// texts is a sink that keeps lettering.
type texts []drawing.Text

func (*texts) Path([]drawing.Point, bool, drawing.Ink, drawing.Stroke) {}
func (*texts) Arc(drawing.Point, float64, float64, float64, drawing.Ink, drawing.Stroke) {
}
func (s *texts) Text(t drawing.Text) { *s = append(*s, t) }

// corners returns the corners of a label's box: its width by its capitals.
func corners(t drawing.Text) [4]point {
	w, h := drawing.TextWidth(t.String, t.Size, t.Bold, t.Mono), drawing.CapHeight(t.Size)
	sin, cos := math.Sincos(t.Angle)
	var out [4]point
	for i, p := range [4]point{{}, {X: w}, {X: w, Y: h}, {Y: h}} {
		out[i] = point{X: t.At.X + p.X*cos - p.Y*sin, Y: t.At.Y + p.X*sin + p.Y*cos}
	}
	return out
}

// overlap is the slow plain test: one box has a point of a fine grid within
// the other.
func overlap(a, b [4]point) bool {
	within := func(p point, q [4]point) bool {
		for i := range q {
			e, d := q[(i+1)%4].Sub(q[i]), p.Sub(q[i])
			if e.X*d.Y-e.Y*d.X < 0 {
				return false
			}
		}
		return true
	}
	for u := 0.0; u <= 1; u += 1.0 / 64 {
		for v := 0.0; v <= 1; v += 1.0 / 8 {
			p := a[0].Add(a[1].Sub(a[0]).Mul(u)).Add(a[3].Sub(a[0]).Mul(v))
			if within(p, b) {
				return true
			}
		}
	}
	return false
}

func noOverlap(t *testing.T, name string, l *drawing.List, v drawing.Viewport) int {
	t.Helper()
	var s texts
	var w drawing.Lowering
	w.Run(l, v.Transform(), &s)
	for i := range s {
		for k := range i {
			if s[i].At.Sub(s[k].At).Len() < 60 && overlap(corners(s[i]), corners(s[k])) {
				t.Errorf("%s: %q lies over %q", name, s[i].String, s[k].String)
			}
		}
	}
	return len(s)
}

func TestLabelsNeverOverlap(t *testing.T) {
	jobs := map[string]*solver.Answer{"winders": answer(t, winders(t)), "forty": answer(t, flight(t, 40, "imperial"))}
	for _, name := range demoJobs {
		jobs[name] = demo(t, name)
	}
	for name, a := range jobs {
		for sel := range len(a.Job.Flight.Steps) + 1 {
			for _, o := range []plan.Options{
				{Dimensions: true, Findings: true},
				{Dimensions: true, Findings: true, Ghost: true, Uncertainty: true, Exaggerate: 5, Handles: true},
				{Findings: true, Upright: true, Dimensions: true},
			} {
				o.Selected, o.Format = sel, a.Job.Format()
				v := plan.Fit(a, o, 1200, 400, drawing.PaperScale(1))
				o.Scale = v.Scale / v.Paper
				if n := noOverlap(t, name, drawn(a, o), v); n < 4 {
					t.Errorf("%s: only %d labels left", name, n)
				}
			}
			if sel >= 7 && name == "forty" {
				break
			}
		}
	}
}
