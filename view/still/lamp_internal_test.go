package still

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

func lampAt(corner, u, v mgl64.Vec3) lamp {
	return newLamp(scene.Lamp{Corner: corner, U: u, V: v, Lumens: 100, Level: 1, Tint: scene.Colour{1, 1, 1}})
}

// The solid angle of a rectangle above its corner is asin of ab / √((a²+h²)(b²+h²))
// (a closed form of geometry), and what a lamp sends into the whole half-space
// before it, luminance × π × area, is its lumens.
func TestSolidAngle(t *testing.T) {
	for _, c := range [][3]float64{{1000, 1000, 1000}, {10, 800, 150}, {500, 20, 3}, {900, 10, 2500}} {
		a, b, h := c[0], c[1], c[2]
		l := lampAt(mgl64.Vec3{0, 0, h}, mgl64.Vec3{0, b, 0}, mgl64.Vec3{a, 0, 0})
		q := l.from(vec{})
		want := math.Asin(a * b / math.Sqrt((a*a+h*h)*(b*b+h*h)))
		if math.Abs(q.s-want) > 1e-7 {
			t.Errorf("%v: solid angle %.9f, want %.9f", c, q.s, want)
		}
		if lm := l.radiance.luminance() * math.Pi * a * b * 1e-6; math.Abs(lm-100) > 1e-9 {
			t.Errorf("%v: %g lm leave the lamp, want 100", c, lm)
		}
	}
}

// Places on a lamp lie on it, and are spread as their density says: the mean of
// cosine / (density × distance²) is the area.
func TestLampPlaces(t *testing.T) {
	for _, from := range []vec{{0, 0, -1000}, {400, 300, -5}, {-2000, 100, -30}, {5000, 9000, -4000}, {450, 5, -150}} {
		l := lampAt(mgl64.Vec3{0, 0, 0}, mgl64.Vec3{0, 10, 0}, mgl64.Vec3{900, 0, 0})
		q := l.from(from)
		sum := 0.0
		const n = 1 << 14
		for i := range n {
			p := pointsOf(1, 1, i)
			at, density := q.point(p.next())
			if at.x < -1e-6 || at.x > 900+1e-6 || at.y < -1e-6 || at.y > 10+1e-6 || math.Abs(at.z) > 1e-6 {
				t.Fatalf("from %v: %v is not on the lamp", from, at)
			}
			d := at.sub(from)
			sum += 1 / (density * math.Abs(d.dot(l.z)) / (d.len2() * d.len()))
		}
		if got := sum / n; math.Abs(got-9000) > 0.02*9000 {
			t.Errorf("from %v: the places stand for %.0f mm², want 9000", from, got)
		}
	}
}

// A lamp that lights a place has some hope there; one that cannot has none.
func TestHopeIsSomeWhereThereIsLight(t *testing.T) {
	l := lampAt(mgl64.Vec3{0, 0, 0}, mgl64.Vec3{0, 10, 0}, mgl64.Vec3{900, 0, 0}) // faces down
	for i := range 3000 {
		q := pointsOf(2, i, 0)
		a, b := q.next()
		c, d := q.next()
		e, f := q.next()
		p := vec{a*4000 - 1500, b*4000 - 2000, c*4000 - 2000}
		n := cosine(d, e)
		if f < 0.5 {
			n = n.mul(-1)
		}
		may := l.front(p)
		above := false
		for _, k := range [][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
			above = above || l.corner.along(l.u, k[0]).along(l.v, k[1]).sub(p).dot(n) > 0
		}
		if got := l.hope(p, n) > 0; got != (may && above) {
			t.Fatalf("at %v facing %v: hope is %v, light may come: %v", p, n, got, may && above)
		}
	}
}
