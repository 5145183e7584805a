package still_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
	"risewright/view/still"
)

// dark reads the straight light of one rectangle of the given lumens a square
// metre.
func dark(corner, u, v mgl64.Vec3, exitance float64, faced bool) *still.Meter {
	var b builder
	b.lamp(corner, u, v, exitance*u.Cross(v).Len()*1e-6, faced)
	return still.NewMeter(&b.Scene, 0)
}

// rectangles are seen from the origin by what looks up: closed forms of
// electrical.md rows 6.02 and 6.03 (Howell's catalogue B-3 and B-4, from memory);
// the numbers are those that the rows give.
var rectangles = []struct {
	name         string
	corner, u, v mgl64.Vec3
	want         float64
}{
	// X = a/c and Y = b/c above the corner; the lamp faces down.
	{"6.02 parallel 1, 1", v3(0, 0, 1000), v3(0, 1000, 0), v3(1000, 0, 0), 0.138532},
	{"6.02 parallel 2, 2", v3(0, 0, 1000), v3(0, 2000, 0), v3(2000, 0, 0), 0.207757},
	{"6.02 parallel 0.5, 0.5", v3(0, 0, 1000), v3(0, 500, 0), v3(500, 0, 0), 0.059864},
	{"6.02 parallel without end", v3(0, 0, 1), v3(0, 1e5, 0), v3(1e5, 0, 0), 0.25},
	// Height a, length b at the distance c; the lamp faces the element.
	{"6.03 square 1, 1, 1", v3(0, 1000, 0), v3(1000, 0, 0), v3(0, 0, 1000), 0.055734},
	{"6.03 square 0.5, 1, 0.5", v3(0, 500, 0), v3(1000, 0, 0), v3(0, 0, 500), 0.068697},
	{"6.03 square 1, 2, 0.5", v3(0, 500, 0), v3(2000, 0, 0), v3(0, 0, 1000), 0.135488},
	{"6.03 square 0.02, 1, 0.1", v3(0, 100, 0), v3(1000, 0, 0), v3(0, 0, 20), 0.004853},
}

// The meter reads what the closed forms of the rectangles give.
func TestElementToRectangle(t *testing.T) {
	up := v3(0, 0, 1)
	for _, c := range rectangles {
		for _, faced := range []bool{true, false} {
			got := dark(c.corner, c.u, c.v, 1000, faced).Read(mgl64.Vec3{}, up, longer(1<<13, 1<<14), 1).Lux / 1000
			// The numbers are rounded to 1e-6; thousands of spread samples give 1e-3.
			if math.Abs(got-c.want) > 1e-3*c.want+1e-6 {
				t.Errorf("%s, face %v: F = %.6f, want %.6f", c.name, faced, got, c.want)
			}
		}
	}
}

// lambert is the factor of a point with the normal n to a polygon that lies whole
// in front of it: electrical.md row 6.14, Lambert 1760, from memory.
func lambert(at, n mgl64.Vec3, corners ...mgl64.Vec3) float64 {
	sum := 0.0
	for i := range corners {
		a, b := corners[i].Sub(at), corners[(i+1)%len(corners)].Sub(at)
		g := a.Cross(b)
		sum += math.Atan2(g.Len(), a.Dot(b)) * n.Dot(g) / g.Len()
	}
	return math.Abs(sum) / (2 * math.Pi)
}

// Lamps askew to what they light, against row 6.14. The formula itself is held
// to the numbers that rows 6.02 and 6.03 give.
func TestPolygonFactor(t *testing.T) {
	up := v3(0, 0, 1)
	for _, c := range rectangles {
		if got := lambert(mgl64.Vec3{}, up, c.corner, c.corner.Add(c.u), c.corner.Add(c.u).Add(c.v), c.corner.Add(c.v)); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%s: the formula gives %.6f, the row %.6f", c.name, got, c.want)
		}
	}
	for _, c := range []struct {
		name                   string
		corner, u, v, at, face mgl64.Vec3
	}{
		{"turned about one axis", v3(-300, 200, 700), v3(0, 500, 200), v3(600, 0, 0), v3(0, 0, 0), v3(0, 0, 1)},
		{"turned about all", v3(100, 300, 600), v3(-100, 500, 150), v3(500, 100, 0), v3(-50, 20, 30), v3(0.2, 0.3, 1)},
		{"a thin bar askew", v3(-400, 60, 170), v3(3, 8, 0), v3(800, -300, 40), v3(0, 0, 0), v3(0.1, 0.1, 1)},
	} {
		n := c.face.Normalize()
		want := lambert(c.at, n, c.corner, c.corner.Add(c.u), c.corner.Add(c.u).Add(c.v), c.corner.Add(c.v))
		got := dark(c.corner, c.u, c.v, 1000, false).Read(c.at, n, longer(1<<13, 1<<14), 1).Lux / 1000
		if !(want > 0.001) || math.Abs(got-want) > 2e-3*want {
			t.Errorf("6.14 %s: F = %.6f, the formula gives %.6f", c.name, got, want)
		}
	}
}

// A thin bar facing down, electrical.md row 6.13 (derived): lux of 100 lm over
// 0.8 m at 0.17 m.
func TestBarLights(t *testing.T) {
	m := dark(v3(-400, -4, 170), v3(0, 8, 0), v3(800, 0, 0), 100/(0.8*0.008), true)
	for _, c := range []struct {
		at   mgl64.Vec3
		want float64
	}{
		{v3(0, 0, 0), 357.74}, // the row's own figure for a rectangle 8 mm wide
		{v3(0, 100, 0), 226.22}, {v3(0, 200, 0), 92.11}, {v3(0, 280, 0), 44.98}, {v3(400, 0, 0), 183.11},
	} {
		got := m.Read(c.at, v3(0, 0, 1), longer(1<<12, 1<<14), 3).Lux
		if math.Abs(got-c.want) > 2e-3*c.want {
			t.Errorf("at %v: %.2f lx, want %.2f", c.at, got, c.want)
		}
	}
}

// Mean factors over a receiving rectangle, published values of rows 6.06, 6.07,
// 6.08, 6.09, 6.10, 6.11 and 6.12 with the tolerances of rows T10 to T17,
// widened by what a sum of samples can show.
func TestPublishedFactors(t *testing.T) {
	// What samples, and the midpoints of a grid, may be off.
	slack := 4e-3
	if full() {
		slack = 2e-3
	}
	tilt := 120 * math.Pi / 180
	for _, c := range []struct {
		name         string
		corner, u, v mgl64.Vec3 // the lamp
		p, a, b      mgl64.Vec3 // the receiver, and a × b is its front
		want         float64
	}{
		{"6.06 unit squares at right angles", v3(0, 0, 0), v3(1000, 0, 0), v3(0, 0, 1000), v3(0, 0, 0), v3(0, -1000, 0), v3(1000, 0, 0), 0.20004},
		// A F / b² = 0.23285 for (1, 2); the receiver is 1 wide.
		{"6.06 at right angles 1, 2", v3(0, 0, 0), v3(1000, 0, 0), v3(0, 0, 2000), v3(0, 0, 0), v3(0, -1000, 0), v3(1000, 0, 0), 0.23285},
		{"6.07 unit squares at 120 degrees", v3(0, 0, 0), v3(1000, 0, 0), v3(0, -1000*math.Cos(tilt), 1000*math.Sin(tilt)), v3(0, 0, 0), v3(0, -1000, 0), v3(1000, 0, 0), 0.086615},
		{"6.08 parallel 1 by 1.5 at 0.5", v3(0, 0, 500), v3(0, 1500, 0), v3(1000, 0, 0), v3(0, 0, 0), v3(1000, 0, 0), v3(0, 1500, 0), 0.4756},
		{"6.09 parallel squares", v3(0, 0, 500), v3(0, 1000, 0), v3(1000, 0, 0), v3(0, 0, 0), v3(1000, 0, 0), v3(0, 1000, 0), 0.4153},
		{"6.12 one point in common", v3(0, 0, 0), v3(300, 0, 0), v3(0, 0, 500), v3(-200, 0, 0), v3(0, -100, 0), v3(200, 0, 0), 0.0605},
	} {
		m := dark(c.corner, c.u, c.v, 1000, true)
		n := c.a.Cross(c.b).Normalize()
		sum := 0.0
		side := longer(36, 48)
		for i := range side {
			for j := range side {
				// Closer together near the common edge, where the light changes most.
				x, y := (float64(i)+0.5)/float64(side), (float64(j)+0.5)/float64(side)
				p := c.p.Add(c.a.Mul(x * x)).Add(c.b.Mul(y))
				sum += 2 * x * m.Read(p, n, longer(16, 64), uint64(i*side+j)).Lux
			}
		}
		got := sum / float64(side*side) / 1000
		want := c.want
		if math.Abs(got-c.want) > slack*c.want {
			t.Errorf("%s: F = %.5f, want %.5f", c.name, got, want)
		}
	}
}

// Means over a strip, published values of rows 6.10 and 6.11: an element runs
// along one edge of the rectangle, at 0.5 from its plane or its foot.
func TestPublishedStrips(t *testing.T) {
	for _, c := range []struct {
		name         string
		corner, u, v mgl64.Vec3
		want, slack  float64
	}{
		{"6.10 parallel to 3 by 2", v3(0, 0, 500), v3(0, 2000, 0), v3(3000, 0, 0), 0.3886, 5e-5},
		{"6.11 square to 1 by 2", v3(500, 0, 0), v3(0, 0, 1000), v3(0, 2000, 0), 0.2153, 1e-4},
	} {
		m := dark(c.corner, c.u, c.v, 1000, true)
		sum := 0.0
		const n = 100
		for i := range n {
			sum += m.Read(v3(0, 2000*(float64(i)+0.5)/n, 0), v3(0, 0, 1), longer(1<<10, 1<<12), uint64(i)).Lux
		}
		// What 50 thousand samples may add: 5e-4 of the value.
		if got := sum / n / 1000; math.Abs(got-c.want) > c.slack+5e-4*c.want {
			t.Errorf("%s: %.5f, want %.4f", c.name, got, c.want)
		}
	}
}

// An empty box of one reflectance: all that the lamp gives is taken by the
// walls in the end, so the light that falls on them is Φ / (1 - ρ) on the whole
// (the sum of a geometric series), to within half a percent.
func TestBoxKeepsLight(t *testing.T) {
	all := []float64{0, 0.8}
	if full() {
		all = []float64{0, 0.5, 0.8, 0.95}
	}
	for _, rho := range all {
		var b builder
		size := v3(3000, 4000, 2500)
		b.box(size, b.grey(rho))
		// In the middle, facing down, with a black back that takes its share: so
		// a lamp without a body.
		b.lamp(v3(1200, 1500, 1250), v3(0, 700, 0), v3(500, 0, 0), 1000, false)
		m := still.NewMeter(&b.Scene, -1)
		got := total(m, size, longer(16, 24))
		want := 1000 / (1 - rho)
		if math.Abs(got-want) > 5e-3*want {
			t.Errorf("reflectance %.2f: %.1f lm fall on the walls, want %.1f", rho, got, want)
		}
	}
}

// total returns the lumens that fall on the sides of a box.
func total(m *still.Meter, size mgl64.Vec3, side int) float64 {
	sum := 0.0
	seed := uint64(0)
	for axis := range 3 {
		a, b := (axis+1)%3, (axis+2)%3
		for _, high := range []bool{false, true} {
			var n mgl64.Vec3
			n[axis] = 1
			var p mgl64.Vec3
			if high {
				n[axis], p[axis] = -1, size[axis]
			}
			cell := size[a] * size[b] / float64(side*side) * 1e-6
			for i := range side {
				for j := range side {
					p[a], p[b] = size[a]*(float64(i)+0.5)/float64(side), size[b]*(float64(j)+0.5)/float64(side)
					seed++
					sum += cell * m.Read(p, n, longer(24, 32), seed).Lux
				}
			}
		}
	}
	return sum
}

// A body that gives back all light, under any coat, looks like the sky it stands
// in from every side: the furnace.
func TestFurnace(t *testing.T) {
	for _, c := range []struct{ gloss, rough float64 }{{0, 0}, {1, 0}, {1, 0.2}, {1, 0.5}, {1, 1}, {0.5, 0.3}} {
		var b builder
		b.Sky = scene.Colour{100, 100, 100}
		white := b.material(scene.Material{Diffuse: scene.Colour{1, 1, 1}, Gloss: c.gloss, Rough: c.rough})
		b.ball(v3(0, 0, 0), 500, 24, white)
		for _, flat := range []float64{0, 0.9} {
			// From afar, at a place on the ball seen at this height.
			eye := v3(0, -5000, 500*flat)
			got := still.Seen(&b.Scene, eye, v3(0, 1, 0), longer(1<<11, 1<<13), 5).Luminance()
			if math.Abs(got-100) > 0.5 {
				t.Errorf("gloss %.1f, rough %.1f, height %.1f: luminance %.3f, want 100 within 0.5", c.gloss, c.rough, flat, got)
			}
		}
	}
}
