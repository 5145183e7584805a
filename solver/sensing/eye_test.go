package sensing_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/sensing"
)

// TestCoverageAtWalkingLine holds the field of a sensor under the rail against
// the worked figures of the trade reference, section 7: aimed across, a bare
// 100° covers 1.07 m, 4.2 goings of 254, at the walking line 0.45 m out, and
// 2.0 m, 8 goings, at the far wall 0.85 m out; a hood of bore 12 and depth 25
// before a lens of 10 covers 1.6 and 3 goings.
func TestCoverageAtWalkingLine(t *testing.T) {
	tb := published(t)
	c, _ := tb.Senses.Class("small-digital")
	for _, row := range []struct {
		hood           model.Hood
		out            float64
		metres, last   float64 // printed, and half of its last figure; 0: not printed
		goings, figure float64
	}{
		{model.Hood{}, 450, 1.07, 0.005, 4.2, 0.05}, {model.Hood{}, 850, 2.0, 0.05, 8, 0.5},
		{model.Hood{Bore: 12, Depth: 25}, 450, 0, 0, 1.6, 0.05}, {model.Hood{Bore: 12, Depth: 25}, 850, 0, 0, 3, 0.5},
	} {
		s := model.Sensor{Class: c.ID, Hood: row.hood}
		e := sensing.EyeOf(&s, &c, vec{0, 0, 900}, mgl64.Vec2{1, 0})
		end := func(way float64) float64 { // along the line that far out
			in, lost := 0.0, 10_000.0
			for range 50 {
				if m := (in + lost) / 2; e.Sees(vec{row.out, way * m, 0}) {
					in = m
				} else {
					lost = m
				}
			}
			return in
		}
		covers := end(1) + end(-1)
		if row.metres > 0 && math.Abs(covers/1000-row.metres) > row.last {
			t.Errorf("hood %v, %g mm out: %.3f m, printed %g", row.hood, row.out, covers/1000, row.metres)
		}
		if got := covers / 254; math.Abs(got-row.goings) > row.figure {
			t.Errorf("hood %v, %g mm out: %.2f goings, printed %g", row.hood, row.out, got, row.goings)
		}
	}
}

// TestFootprint is electrical reference vector T22 and row 5.12: on a floor
// under a sensor that looks straight down.
func TestFootprint(t *testing.T) {
	tb := published(t)
	for _, row := range []struct {
		class      string
		height     float64
		wide, long float64
	}{{"standard-lens", 1500, 3.217, 2.61}, {"wall", 1000, 0.73, 2.61}, {"spot", 1500, 1.03, 0.58}} {
		c, _ := tb.Senses.Class(row.class)
		s := model.Sensor{Tilt: 90 * model.Degree}
		e := sensing.EyeOf(&s, &c, vec{0, 0, row.height}, mgl64.Vec2{0, 1})
		end := func(d vec) float64 {
			in, lost := 0.0, 10_000.0
			for range 50 {
				if m := (in + lost) / 2; e.Sees(d.Mul(m).Add(vec{0, 0, -row.height})) {
					in = m
				} else {
					lost = m
				}
			}
			return in / 1000
		}
		if w := end(vec{1, 0, 0}) + end(vec{-1, 0, 0}); math.Abs(w-row.wide) > 0.0051 {
			t.Errorf("%s: %.3f m wide, printed %.3f", row.class, w, row.wide)
		}
		if w := end(vec{0, 1, 0}) + end(vec{0, -1, 0}); math.Abs(w-row.long) > 0.0051 {
			t.Errorf("%s: %.3f m long, printed %.3f", row.class, w, row.long)
		}
	}
}

// TestFieldSlices holds the field as slices know it against its definition, in
// 40,000 random directions of 400 random sensors.
func TestFieldSlices(t *testing.T) {
	const seed = 9
	tb := published(t)
	rng := rand.New(rand.NewPCG(seed, 2))
	in := 0
	for range 400 {
		c := tb.Senses.Classes[rng.IntN(len(tb.Senses.Classes))]
		s := model.Sensor{Yaw: model.Angle(6*rng.Float64() - 3), Tilt: model.Angle(3.1*rng.Float64() - 1.55)}
		if rng.IntN(2) == 0 {
			s.Hood = model.Hood{Bore: 12, Depth: model.Length(2 + 30*rng.Float64())}
		}
		if rng.IntN(2) == 0 {
			s.Mask = model.Mask{Right: model.Angle(rng.Float64() - 0.5), Up: model.Angle(0.05 + rng.Float64())}
		}
		e := sensing.EyeOf(&s, &c, vec{}, mgl64.Vec2{0, 1})
		for range 100 {
			d := vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			if e.Sees(d) != e.SeesPoint(d) {
				t.Fatalf("seed %d: class %s, %+v: direction %v is seen: %v, by its slice: %v", seed, c.ID, s, d, e.Sees(d), e.SeesPoint(d))
			}
			if e.Sees(d) {
				in++
			}
		}
	}
	if in < 2000 {
		t.Errorf("only %d directions seen", in)
	}
}

// TestPinhole compares seen shares with a pinhole camera: each part of a body is
// the convex outline of its rims projected on a plate, and every dot of the
// plate counts by the solid angle it stands for, cos³ of its angle off the axis.
func TestPinhole(t *testing.T) {
	const seed, dots = 31, 160
	tb := published(t)
	st := stairOf(t, straight(t, 14), tb)
	rng := rand.New(rand.NewPCG(seed, 3))
	partly := 0
	for trial := range 12 {
		c := tb.Senses.Classes[rng.IntN(len(tb.Senses.Classes))]
		c.RangeM.Value = 100
		b := &tb.Senses.Bodies[rng.IntN(len(tb.Senses.Bodies))]
		// in the open, far out on the floor, where nothing hides
		foot := vec{400, -9000, 0}
		turn := 6.28 * rng.Float64()
		face := mgl64.Vec2{math.Cos(turn), math.Sin(turn)}
		lens := foot.Add(vec{1200 * (rng.Float64() - 0.5), -900 - 1500*rng.Float64(), 300 + 1800*rng.Float64()})
		s := model.Sensor{Yaw: model.Angle(2*rng.Float64() - 1), Tilt: model.Angle(rng.NormFloat64() * 0.5)}
		e := sensing.EyeOf(&s, &c, lens, mgl64.Vec2{0, 1})
		solid := sensing.Standing(b, foot, face)
		got := st.Seen(&e, &solid)

		// the plate faces the body's middle
		w := foot.Add(vec{0, 0, 800}).Sub(lens).Normalize()
		u := w.Cross(vec{0, 0, 1}).Normalize()
		v := u.Cross(w)
		var outlines [][]mgl64.Vec2
		half := 0.0
		for _, q := range columns(b, foot, face) {
			var pts []mgl64.Vec2
			for i := range 96 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 96)
				rim := vec{q.face[0]*q.a*cos - q.face[1]*q.b*sin, q.face[1]*q.a*cos + q.face[0]*q.b*sin, 0}
				for _, z := range []float64{0, q.height} {
					d := q.at.Add(rim).Add(vec{0, 0, z}).Sub(lens)
					p := mgl64.Vec2{d.Dot(u) / d.Dot(w), d.Dot(v) / d.Dot(w)}
					pts = append(pts, p)
					half = max(half, math.Abs(p[0]), math.Abs(p[1]))
				}
			}
			outlines = append(outlines, hull(pts))
		}
		// the sensor's own axes, by rotation matrices
		axes := mgl64.Rotate3DZ(float64(s.Yaw)).Mul3(mgl64.Rotate3DX(-float64(s.Tilt))).Transpose()
		h, up := c.H.Value/2*math.Pi/180, c.V.Value/2*math.Pi/180
		seen, whole := 0.0, 0.0
		for i := range dots {
			for k := range dots {
				x, y := half*(2*(float64(i)+0.5)/dots-1), half*(2*(float64(k)+0.5)/dots-1)
				body := false
				for _, o := range outlines {
					body = body || holds(o, mgl64.Vec2{x, y})
				}
				if !body {
					continue
				}
				angle := math.Pow(1+x*x+y*y, -1.5)
				whole += angle
				d := axes.Mul3x1(w.Add(u.Mul(x)).Add(v.Mul(y))) // x right, y ahead, z up
				ok := d[1] > 0
				if up > 0 {
					ok = ok && math.Abs(d[0]) <= math.Tan(h)*d[1] && math.Abs(d[2]) <= math.Tan(up)*d[1]
				} else {
					ok = ok && math.Hypot(d[0], d[2]) <= math.Tan(h)*d[1]
				}
				if ok {
					seen += angle
				}
			}
		}
		if want := seen / whole; math.Abs(got-want) > 0.01 {
			t.Errorf("trial %d (seed %d): seen %.4f, on the plate %.4f: class %s, %s, lens %.0f, yaw %.2f, tilt %.2f", trial, seed, got, want, c.ID, b.ID, lens, s.Yaw, s.Tilt)
		} else if want > 0.02 && want < 0.98 {
			partly++
		}
	}
	if partly < 3 {
		t.Errorf("only %d partly seen", partly)
	}
}

// hull returns the convex hull, anticlockwise (Andrew's monotone chain).
func hull(p []mgl64.Vec2) []mgl64.Vec2 {
	for i := range p {
		for k := i; k > 0 && (p[k][0] < p[k-1][0] || p[k][0] == p[k-1][0] && p[k][1] < p[k-1][1]); k-- {
			p[k], p[k-1] = p[k-1], p[k]
		}
	}
	var out []mgl64.Vec2
	add := func(q mgl64.Vec2, least int) {
		for n := len(out); n >= least; n = len(out) {
			a, b := out[n-2], out[n-1]
			if (b[0]-a[0])*(q[1]-a[1])-(b[1]-a[1])*(q[0]-a[0]) > 0 {
				break
			}
			out = out[:n-1]
		}
		out = append(out, q)
	}
	for _, q := range p {
		add(q, 2)
	}
	least := len(out) + 1
	for i := len(p) - 2; i >= 0; i-- {
		add(p[i], least)
	}
	return out[:len(out)-1]
}

func holds(o []mgl64.Vec2, q mgl64.Vec2) bool {
	for i := range o {
		a, b := o[i], o[(i+1)%len(o)]
		if (b[0]-a[0])*(q[1]-a[1])-(b[1]-a[1])*(q[0]-a[0]) < 0 {
			return false
		}
	}
	return true
}
