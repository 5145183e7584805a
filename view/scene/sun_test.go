package scene_test

import (
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// meets returns how far along from a to b a triangle lies, and whether it does
// (Möller and Trumbore 1997).
func meets(t *scene.Triangle, a, b mgl64.Vec3) (float64, bool) {
	d := b.Sub(a)
	e1, e2 := t.P[1].Sub(t.P[0]), t.P[2].Sub(t.P[0])
	p := d.Cross(e2)
	det := e1.Dot(p)
	if math.Abs(det) < 1e-9 {
		return 0, false
	}
	s := a.Sub(t.P[0])
	u := s.Dot(p) / det
	q := s.Cross(e1)
	v := d.Dot(q) / det
	k := e2.Dot(q) / det
	return k, u >= 0 && v >= 0 && u+v <= 1 && k > 1e-9 && k < 1-1e-9
}

// By day the sun comes in through the front door's glass and falls on the lowest
// riser or tread, before as after; otherwise there is none.
func TestSunComesIn(t *testing.T) {
	works, tb := stairs(t)
	for name, w := range works {
		for _, before := range []bool{false, true} {
			for _, when := range scene.Times() {
				s, err := scene.Make(w.Answer, w, tb, scene.Options{Time: when, Before: before})
				if err != nil {
					t.Fatal(err)
				}
				var suns []scene.Lamp
				for _, l := range s.Lamps {
					if l.Name == "sun" {
						suns = append(suns, l)
					}
				}
				if when != scene.Day {
					if len(suns) != 0 {
						t.Errorf("%s: the sun shines at %s", name, when)
					}
					continue
				}
				if len(suns) != 1 {
					t.Fatalf("%s: %d suns by day", name, len(suns))
				}
				sun := suns[0].Corner.Add(suns[0].U.Mul(0.5)).Add(suns[0].V.Mul(0.5))
				// Over the first two treads, and before the riser under them: some
				// of the places see the sun, past the bars of the door.
				seen, panes := 0, 0
				steps := w.Answer.Survey.Steps
				for i := range 2 {
					a, z := steps[i].Corners[steps[i].FL], steps[i].Corners[steps[i].FR]
					for k := range 20 {
						f := (float64(k) + 0.5) / 20
						at := a.Mul(1 - f).Add(z.Mul(f)).Vec3(steps[i].HeightAt(a) + 90)
						at = at.Sub(s.Stand.Way.Mul(60))
						free, glass := true, 0
						for j := range s.Triangles {
							if _, ok := meets(&s.Triangles[j], at, sun); ok {
								if s.Materials[s.Triangles[j].Material].Pane {
									glass++
								} else {
									free = false
								}
							}
						}
						if free {
							seen++
							panes += glass
						}
					}
				}
				if seen < 8 || panes < seen {
					t.Errorf("%s, before %v: the sun is seen from %d of 40 places, through %d panes", name, before, seen, panes)
				}
			}
		}
	}
}

// The things in the hall stand clear of the flight, and are the same before and
// after, but for what a wall moves when its skirt is drawn otherwise.
func TestHallIsFurnished(t *testing.T) {
	works, tb := stairs(t)
	things := func(s *scene.Scene) (out []scene.Triangle) {
		for _, tr := range s.Triangles {
			for _, part := range []string{"table", "vase", "book", "basket", "twigs", "buds", "frame", "print", "mount", "switch"} {
				if strings.HasPrefix(tr.Part, part) {
					out = append(out, tr)
				}
			}
		}
		return out
	}
	for name, w := range works {
		var before []scene.Triangle
		for _, o := range []scene.Options{{}, {Before: true}} {
			s, err := scene.Make(w.Answer, w, tb, o)
			if err != nil {
				t.Fatal(err)
			}
			got := things(s)
			if len(got) == 0 {
				t.Errorf("%s: the hall is bare", name)
			}
			near := math.Inf(1)
			for _, tr := range got {
				for _, p := range tr.P {
					for i := range w.Answer.Survey.Steps {
						st := &w.Answer.Survey.Steps[i]
						for _, c := range st.Corners {
							near = math.Min(near, math.Hypot(p[0]-c[0], p[1]-c[1]))
						}
					}
				}
			}
			if near < 90 {
				t.Errorf("%s: something stands %.0f mm from the flight", name, near)
			}
			if o.Before {
				if len(got) != len(before) {
					t.Errorf("%s: %d pieces before, %d after", name, len(got), len(before))
				}
				for i := range min(len(got), len(before)) {
					if by := got[i].P[0].Sub(before[i].P[0]).Len(); by > 40 {
						t.Errorf("%s: %s stands %.0f mm elsewhere before", name, got[i].Part, by)
						break
					}
				}
			}
			before = got
		}
	}
}
