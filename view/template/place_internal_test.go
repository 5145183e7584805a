package template

import (
	"math"
	"math/rand/v2"
	"testing"

	"risewright/view/drawing"
)

// TestQuadsOverlap compares the test for overlapping lettering with a plain
// one: does any of many points of one lie in the other?
func TestQuadsOverlap(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	random := func() quad {
		sin, cos := math.Sincos(rng.Float64() * 7)
		return quad{middle: drawing.Point{X: rng.Float64() * 40, Y: rng.Float64() * 40}, hx: 1 + rng.Float64()*15, hy: 1 + rng.Float64()*4, u: drawing.Point{X: cos, Y: sin}}
	}
	holds := func(q quad, p drawing.Point, by float64) bool {
		l := q.local(p)
		return math.Abs(l.X) <= q.hx+by && math.Abs(l.Y) <= q.hy+by
	}
	counts := map[bool]int{}
	for range 400 {
		a, b := random(), random()
		const n = 24
		inside, nearly := false, false
		for i := range n + 1 {
			for j := range n + 1 {
				x, y := (2*float64(i)/n-1)*a.hx, (2*float64(j)/n-1)*a.hy
				p := a.middle.Add(a.u.Mul(x)).Add(drawing.Point{X: -a.u.Y, Y: a.u.X}.Mul(y))
				inside = inside || holds(b, p, 0)
				nearly = nearly || holds(b, p, 2) // more than the spacing of the points
			}
		}
		got := a.overlaps(b)
		if got != b.overlaps(a) {
			t.Fatalf("%+v and %+v: the order matters", a, b)
		}
		if inside && !got || got && !nearly {
			t.Fatalf("%+v and %+v: overlap %v, by points %v", a, b, got, inside)
		}
		counts[got]++
	}
	if counts[true] < 50 || counts[false] < 50 {
		t.Errorf("the cases prove little: %v", counts)
	}
}

// TestClip compares clipped lines with points along the whole one.
func TestClip(t *testing.T) {
	const seed = 12
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	window := rect{drawing.Point{X: 10, Y: 10}, drawing.Point{X: 50, Y: 40}}
	for range 200 {
		l := Line{Closed: rng.IntN(2) == 0}
		for range 3 + rng.IntN(5) {
			// Whole numbers, so that corners fall on the window's sides too.
			l.Points = append(l.Points, drawing.Point{X: float64(rng.IntN(13)) * 5, Y: float64(rng.IntN(11)) * 5})
		}
		runs, closed := l.clipped(drawing.Point{}, window)
		var kept [][2]drawing.Point
		for _, run := range runs {
			for i := range run {
				if !window.grow(1e-9).has(run[i]) {
					t.Fatalf("%v: %v lies outside", l.Points, run[i])
				}
				if i > 0 {
					kept = append(kept, [2]drawing.Point{run[i-1], run[i]})
				} else if closed {
					kept = append(kept, [2]drawing.Point{run[len(run)-1], run[0]})
				}
			}
		}
		near := func(p drawing.Point) bool {
			for _, s := range kept {
				q := quad{middle: p, hx: 1e-6, hy: 1e-6, u: drawing.Point{X: 1}}
				if q.meets(s[0], s[1]) {
					return true
				}
			}
			return false
		}
		l.segments(func(_ int, a, b drawing.Point) {
			for k := range 50 {
				p := between(a, b, (float64(k)+0.5)/50)
				if strictly := window.grow(-1e-6).has(p); strictly && !near(p) {
					t.Fatalf("%v closed %v: %v is lost", l.Points, l.Closed, p)
				}
			}
		})
	}
}
