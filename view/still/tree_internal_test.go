package still

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// soup returns triangles of all sizes in a heap, some of which let light through.
func soup(n int) *scene.Scene {
	r := rand.New(rand.NewPCG(1, 2))
	s := &scene.Scene{Materials: []scene.Material{{}, {Lets: 0.5}}}
	for i := range n {
		at := mgl64.Vec3{r.Float64(), r.Float64(), r.Float64()}.Mul(5000)
		size := math.Pow(10, 1+2*r.Float64())
		var t scene.Triangle
		for k := range t.P {
			t.P[k] = at.Add(mgl64.Vec3{r.Float64() - 0.5, r.Float64() - 0.5, r.Float64() - 0.5}.Mul(size))
		}
		if i%7 == 0 {
			t.P[2] = t.P[0] // no area
		}
		t.Material = i % 2
		s.Triangles = append(s.Triangles, t)
	}
	return s
}

// The tree finds what trying every triangle finds.
func TestTreeAgainstAll(t *testing.T) {
	for _, n := range []int{0, 1, 2, 3, 400, 3000} {
		s := soup(n)
		tr := newTree(s)
		r := rand.New(rand.NewPCG(3, 4))
		met, dimmed := 0, 0
		for range 2000 {
			o := vec{r.Float64(), r.Float64(), r.Float64()}.mul(5000)
			d := vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.unit()
			if r.IntN(4) == 0 {
				d = [3]vec{{1, 0, 0}, {0, -1, 0}, {0, 0, 1}}[r.IntN(3)] // along an axis
			}
			q := ray{o, d}
			want, lets := hit{id: -1, t: 1e9}, 1.0
			const far = 1500
			for i := range tr.triangles {
				if at, u, v, ok := tr.triangles[i].meets(&q, want.t); ok {
					want = hit{tr.triangles[i].id, at, u, v}
				}
				if _, _, _, ok := tr.triangles[i].meets(&q, far); ok {
					lets *= float64(tr.triangles[i].lets)
				}
			}
			got, ok := tr.nearest(&q, 1e9)
			if ok != (want.id >= 0) || ok && got != want {
				t.Fatalf("%d triangles: met %v %v, want %v", n, ok, got, want)
			}
			if l := tr.lets(&q, far); l != lets {
				t.Fatalf("%d triangles: %g passes, want %g", n, l, lets)
			}
			if ok {
				met++
			}
			if lets > 0 && lets < 1 {
				dimmed++
			}
		}
		if n >= 400 && (met < 20 || dimmed < 5) {
			t.Errorf("%d triangles: only %d rays met one and %d were dimmed, so little was tried", n, met, dimmed)
		}
	}
}
