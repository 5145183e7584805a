package scene_test

import (
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/view/scene"
)

// TestHallSeesAll: from the hall the whole flight is in the picture, from the
// floor at its foot to its head, and all of whoever is half way up or lower; also
// where the flight turns.
func TestHallSeesAll(t *testing.T) {
	ws, tb := stairs(t)
	for name, w := range ws {
		n := float64(len(w.Answer.Job.Flight.Steps))
		for _, o := range []scene.Options{{Time: scene.Night, Walker: 2}, {Time: scene.Night, Walker: n / 2}, {Time: scene.Night, Walker: n - 2, Down: true}, {Before: true}} {
			if name == "winding" && o.Down {
				continue // that part of it comes back over the eye
			}
			s, err := scene.Make(w.Answer, nil, tb, o)
			if err != nil {
				t.Fatal(err)
			}
			c := s.Camera(scene.FromHall, 0)
			view := mgl64.LookAtV(c.Eye, c.At, c.Up)
			cut, seen := map[string]bool{}, map[string]bool{}
			for i := range s.Triangles {
				tr := &s.Triangles[i]
				part := tr.Part
				if !strings.HasPrefix(part, "walker") && !strings.HasPrefix(part, "carpet") && !(part[0] == 'T' && len(part) == 3) && !(part[0] == 'R' && len(part) == 3) {
					continue
				}
				for _, p := range tr.P {
					// As seen: x to the right, y up, and -z ahead.
					q := view.Mul4x1(p.Vec4(1))
					if q[2] > -700 { // it comes back over one's head
						continue
					}
					tan := math.Tan(c.Angle / 2)
					seen[part] = true
					if math.Abs(q[1]/q[2]) > tan || math.Abs(q[0]/q[2]) > 1.6*tan {
						cut[part] = true
					}
				}
			}
			if len(cut) > 0 || len(seen) < 12 {
				t.Errorf("%s %+v: cut are %v of %d parts", name, o, cut, len(seen))
			}
			if c.Angle > 71*math.Pi/180 {
				t.Errorf("%s: an angle of %.0f degrees", name, c.Angle*180/math.Pi)
			}
		}
	}
}

// TestRailIsWhereTheSensorsAre: a wall rail stands on the side where the job's
// sensors hang, over every one of them; without any at the right.
func TestRailIsWhereTheSensorsAre(t *testing.T) {
	ws, tb := stairs(t)
	for _, mount := range []model.Mount{model.RailLeft, model.RailRight, ""} {
		a := *ws["tapering"].Answer
		list := append([]model.Sensor(nil), a.Job.Sensing.Sensors...)
		for i := range list {
			list[i].Mount = mount
		}
		want := "rail left"
		if mount != model.RailLeft {
			want = "rail right"
		}
		if a.Job.Sensing.Sensors = list; mount == "" {
			a.Job.Sensing.Sensors = nil
		}
		s, err := scene.Make(&a, nil, tb, scene.Options{})
		if err != nil {
			t.Fatal(err)
		}
		low, top := map[string]mgl64.Vec3{}, map[string]mgl64.Vec3{}
		var rail []mgl64.Vec3
		for i := range s.Triangles {
			tr := &s.Triangles[i]
			for _, p := range tr.P {
				if strings.HasPrefix(tr.Part, "rail") {
					if tr.Part != want {
						t.Fatalf("%q: there is a %s", mount, tr.Part)
					}
					rail = append(rail, p)
				}
				if strings.HasPrefix(tr.Part, "sensor") {
					l, ok := low[tr.Part]
					h := top[tr.Part]
					if !ok {
						l, h = p, p
					}
					for k := range 3 {
						l[k], h[k] = math.Min(l[k], p[k]), math.Max(h[k], p[k])
					}
					low[tr.Part], top[tr.Part] = l, h
				}
			}
		}
		if len(rail) == 0 || len(low) != len(a.Job.Sensing.Sensors) {
			t.Fatalf("%q: %d corners of a rail, %d sensors of %d", mount, len(rail), len(low), len(a.Job.Sensing.Sensors))
		}
		// The rail is straight and round: its middle is the line that fits all its
		// corners best.
		var mean mgl64.Vec3
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range rail {
			mean = mean.Add(p.Mul(1 / float64(len(rail))))
			lo, hi = math.Min(lo, p[1]), math.Max(hi, p[1])
		}
		var yy, yz, yx float64
		for _, p := range rail {
			d := p.Sub(mean)
			yy, yz, yx = yy+d[1]*d[1], yz+d[1]*d[2], yx+d[1]*d[0]
		}
		for part := range low {
			mid := low[part].Add(top[part]).Mul(0.5)
			if mid[1] < lo || mid[1] > hi {
				t.Errorf("%q: the rail goes from %.0f to %.0f, %s is at %.0f", mount, lo, hi, part, mid[1])
				continue
			}
			k := (mid[1] - mean[1]) / yy
			const half = 22 * 1.25 // of the rail, plumb, at its slope
			// A rail of the picture is straight, the job's heights are not quite.
			if under, beside := mean[2]+yz*k-half-top[part][2], mean[0]+yx*k-mid[0]; under < -12 || under > 40 || math.Abs(beside) > 25 {
				t.Errorf("%q: %s is %.0f under the rail and %.0f beside it", mount, part, under, beside)
			}
		}
	}
}
