package picture

import (
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// chart is a flat, or nearly flat, patch of surface with a grid of points on
// which its light is known. Between them it is interpolated.
type chart struct {
	first      int32 // of its points
	nx, ny     int32
	part       string
	material   int
	origin     vec     // of the grid, in the stair
	ex, ey     vec     // its axes, unit
	wide, high float32 // of the grid, mm
	dx, dy     float32 // from point to point, mm
	normal     vec
	tris       []int32
	round      bool  // it is a small flat of something round
	probe      int32 // of what a clear coat mirrors; -1: none
	sheet      int32 // its grain; -1: none
	bx, by, b0 vec   // the board's axes: a board place is b0 + bx·u + by·v, of u and v in mm on the grid
}

// point is a place on a surface whose light is known.
type point struct {
	at, normal vec
	albedo     vec
	chart      int32
	used       bool
}

// nearlyFlat is the cosine of how far the triangles of a chart may lean from
// each other: 5 degrees; and how far they may lie off its plane, mm.
const (
	nearlyFlat = 0.9962
	offPlane   = 40.0
)

// charts puts the triangles of a scene into charts: neighbours of one part that
// are nearly flat together.
func (w *World) charts() {
	type group struct {
		chart  int
		corner map[[3]int32]bool
	}
	byPart := map[string][]group{}
	round := func(p mgl64.Vec3) (k [3]int32) {
		for i := range k {
			k[i] = int32(math.Round(p[i] * 20))
		}
		return k
	}
	s := w.scene
	w.chartOf = make([]int32, len(s.Triangles))
	for i := range s.Triangles {
		t := &s.Triangles[i]
		n := unitOf(vecOf(t.P[1].Sub(t.P[0]).Cross(t.P[2].Sub(t.P[0])).Normalize()))
		at := -1
		groups := byPart[t.Part]
		for g := len(groups) - 1; g >= 0 && at < 0; g-- {
			c := &w.chart[groups[g].chart]
			if c.material != t.Material || dot(c.normal, n) < nearlyFlat {
				continue
			}
			touches, flat := false, true
			for k := range 3 {
				touches = touches || groups[g].corner[round(t.P[k])]
				d := dot(sub(vecOf(t.P[k]), c.origin), c.normal)
				flat = flat && d < offPlane && d > -offPlane
			}
			if touches && flat {
				at = g
			}
		}
		if at < 0 {
			w.chart = append(w.chart, chart{part: t.Part, material: t.Material, normal: n, origin: vecOf(t.P[0]), probe: -1, sheet: -1})
			groups = append(groups, group{len(w.chart) - 1, map[[3]int32]bool{}})
			at = len(groups) - 1
		}
		g := &groups[at]
		for k := range 3 {
			g.corner[round(t.P[k])] = true
		}
		c := &w.chart[g.chart]
		c.tris = append(c.tris, int32(i))
		w.chartOf[i] = int32(g.chart)
		byPart[t.Part] = groups
	}
	for i := range w.chart {
		w.grid(&w.chart[i])
	}
}

// spacing returns how far apart the points of a chart lie, mm: closest on the
// steps, where the bars shine, and wide on what is far away.
func spacing(part string, wide, high, coarse float64) float64 {
	area := math.Sqrt(wide * high)
	s := math.Max(15, math.Min(38, 0.033*area))
	for _, far := range []string{"hall", "landing", "upper", "base", "front door", "room", "ceiling"} {
		if strings.HasPrefix(part, far) {
			s = math.Max(22, math.Min(85, 0.04*area))
		}
	}
	return s * coarse
}

// grid lays the grid of a chart and makes its points.
func (w *World) grid(c *chart) {
	s := w.scene
	if c.normal[2] < 0.9 && c.normal[2] > -0.9 {
		c.ex = unitOf(cross(vec{0, 0, 1}, c.normal))
	} else {
		best := float32(0)
		for _, i := range c.tris {
			t := &s.Triangles[i]
			for k := range 3 {
				e := sub(vecOf(t.P[(k+1)%3]), vecOf(t.P[k]))
				if l := dot(e, e); l > best {
					best = l
					c.ex = e
				}
			}
		}
		c.ex = unitOf(sub(c.ex, mul(c.normal, dot(c.ex, c.normal))))
	}
	c.ey = cross(c.normal, c.ex)
	lo, hi := [2]float32{math.MaxFloat32, math.MaxFloat32}, [2]float32{-math.MaxFloat32, -math.MaxFloat32}
	base := c.origin
	for _, i := range c.tris {
		for k := range 3 {
			d := sub(vecOf(s.Triangles[i].P[k]), base)
			for a, v := range [2]float32{dot(d, c.ex), dot(d, c.ey)} {
				lo[a], hi[a] = min(lo[a], v), max(hi[a], v)
			}
		}
	}
	c.origin = add(base, add(mul(c.ex, lo[0]), mul(c.ey, lo[1])))
	wide, high := float64(hi[0]-lo[0]), float64(hi[1]-lo[1])
	c.wide, c.high = float32(wide), float32(high)
	step := spacing(c.part, wide, high, w.coarse)
	count := func(size float64) int32 {
		at := step
		if size < 3*step { // a strip: its two edges
			return 2
		}
		return int32(math.Ceil(size/at)) + 1
	}
	// Along a strip the light changes slowly.
	if math.Min(wide, high) < 2.5*step {
		step = math.Max(step, 40*w.coarse)
	}
	c.nx, c.ny = count(wide), count(high)
	c.dx, c.dy = float32(wide)/float32(c.nx-1), float32(high)/float32(c.ny-1)
	c.first = int32(len(w.point))
	m := &s.Materials[c.material]
	albedo := vec{float32(m.Diffuse[0]), float32(m.Diffuse[1]), float32(m.Diffuse[2])}
	id := w.chartOf[c.tris[0]]
	w.boardAxes(c)
	for _, i := range c.tris {
		for k := range 3 {
			c.round = c.round || dot(vecOf(s.Triangles[i].N[k]), c.normal) < 0.9995 && c.nx*c.ny <= 16
		}
	}
	boxes := w.boxesOf(c)
	for j := range c.ny {
		for i := range c.nx {
			x, y := float32(i)*c.dx, float32(j)*c.dy
			at, n, used := w.onChart(c, boxes, x, y, step)
			w.point = append(w.point, point{at: at, normal: n, albedo: albedo, chart: id, used: used})
		}
	}
}

// flatBox is the box round a triangle on the grid of its chart, mm: a chart along
// a flight has as many triangles as steps, and most are far from a point.
type flatBox struct{ x0, y0, x1, y1 float32 }

func (w *World) boxesOf(c *chart) []flatBox {
	out := make([]flatBox, len(c.tris))
	for i, id := range c.tris {
		b := flatBox{math.MaxFloat32, math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
		for _, p := range w.scene.Triangles[id].P {
			d := sub(vecOf(p), c.origin)
			x, y := dot(d, c.ex), dot(d, c.ey)
			b = flatBox{min(b.x0, x), min(b.y0, y), max(b.x1, x), max(b.y1, y)}
		}
		out[i] = b
	}
	return out
}

// beyond says that nothing in the box is as near to a point as far2, a square.
func (b *flatBox) beyond(x, y, far2 float32) bool {
	const rounding = 0.1 // mm, of float32 at 100 m and more
	dx := max(0, b.x0-x, x-b.x1) - rounding
	dy := max(0, b.y0-y, y-b.y1) - rounding
	d2 := float32(0)
	if dx > 0 {
		d2 += dx * dx
	}
	if dy > 0 {
		d2 += dy * dy
	}
	return d2 > far2
}

// onChart returns the place on the surface nearest to a place of a chart's
// grid, its normal, and whether there is surface within a step of it.
func (w *World) onChart(c *chart, boxes []flatBox, x, y float32, step float64) (at, n vec, used bool) {
	best := float32(math.MaxFloat32)
	q := add(c.origin, add(mul(c.ex, x), mul(c.ey, y)))
	for i, id := range c.tris {
		if boxes[i].beyond(x, y, best) {
			continue
		}
		t := &w.scene.Triangles[id]
		var p [3][2]float32
		for k := range 3 {
			d := sub(vecOf(t.P[k]), q)
			p[k] = [2]float32{dot(d, c.ex), dot(d, c.ey)}
		}
		b, d := nearest(p)
		if d < best {
			best = d
			// A little in from its edges, so that a corner does not see into the
			// next wall.
			const in = 1.2 // mm
			var q [3]vec
			for k := range q {
				q[k] = vecOf(t.P[k])
			}
			area := length(cross(sub(q[1], q[0]), sub(q[2], q[0])))
			sum := float32(0)
			for k := range b {
				high := area / max(length(sub(q[(k+1)%3], q[(k+2)%3])), 1e-6)
				b[k] = max(b[k], min(0.2, in/max(high, 1e-6)))
				sum += b[k]
			}
			for k := range b {
				b[k] /= sum
			}
			at, n = vec{}, vec{}
			for k := range 3 {
				at = add(at, mul(vecOf(t.P[k]), b[k]))
				n = add(n, mul(vecOf(t.N[k]), b[k]))
			}
			if d == 0 {
				break
			}
		}
	}
	return at, unitOf(n), float64(best) < 1.5*1.5*step*step
}

// nearest returns the shares of the corners of a flat triangle at its place
// nearest to the origin, and the square of how far that is.
func nearest(p [3][2]float32) (b [3]float32, d2 float32) {
	cr := func(a, b [2]float32) float32 { return a[0]*b[1] - a[1]*b[0] }
	diff := func(a, b [2]float32) [2]float32 { return [2]float32{a[0] - b[0], a[1] - b[1]} }
	area := cr(diff(p[1], p[0]), diff(p[2], p[0]))
	b0, b1, b2 := cr(p[1], p[2]), cr(p[2], p[0]), cr(p[0], p[1])
	if area != 0 {
		b0, b1, b2 = b0/area, b1/area, b2/area
		if b0 >= 0 && b1 >= 0 && b2 >= 0 {
			return [3]float32{b0, b1, b2}, 0
		}
	}
	d2 = math.MaxFloat32
	for k := range 3 {
		a, e := p[k], diff(p[(k+1)%3], p[k])
		l := e[0]*e[0] + e[1]*e[1]
		t := float32(0)
		if l > 0 {
			t = max(0, min(1, -(a[0]*e[0]+a[1]*e[1])/l))
		}
		x, y := a[0]+t*e[0], a[1]+t*e[1]
		if d := x*x + y*y; d < d2 {
			d2 = d
			b = [3]float32{}
			b[k], b[(k+1)%3] = 1-t, t
		}
	}
	return b, d2
}

// boardAxes finds how the board's own axes lie on a chart, from its largest
// triangle.
func (w *World) boardAxes(c *chart) {
	best, at := float64(0), -1
	for _, id := range c.tris {
		t := &w.scene.Triangles[id]
		if a := t.P[1].Sub(t.P[0]).Cross(t.P[2].Sub(t.P[0])).Len(); a > best {
			best, at = a, int(id)
		}
	}
	if at < 0 {
		return
	}
	t := &w.scene.Triangles[at]
	p0 := vecOf(t.P[0])
	e1, e2 := sub(vecOf(t.P[1]), p0), sub(vecOf(t.P[2]), p0)
	f1, f2 := sub(vecOf(t.Board[1]), vecOf(t.Board[0])), sub(vecOf(t.Board[2]), vecOf(t.Board[0]))
	a, b, d, e := dot(e1, c.ex), dot(e1, c.ey), dot(e2, c.ex), dot(e2, c.ey)
	det := a*e - b*d
	if det == 0 {
		return
	}
	// f1 = a·bx + b·by and f2 = d·bx + e·by.
	c.bx = mul(sub(mul(f1, e), mul(f2, b)), 1/det)
	c.by = mul(sub(mul(f2, a), mul(f1, d)), 1/det)
	o := sub(c.origin, p0)
	c.b0 = add(vecOf(t.Board[0]), add(mul(c.bx, dot(o, c.ex)), mul(c.by, dot(o, c.ey))))
}
