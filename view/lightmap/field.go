package lightmap

import (
	"math"

	"risewright/solver/lux"
	"risewright/view/drawing"
)

type point = drawing.Point

// field is the light on one surface in the scene: values at nodes, which are
// the middles of the grid's cells and their feet on the four edges.
type field struct {
	outline    []point
	convex     bool
	wide, high int // nodes along the nose and towards the back
	at         []point
	value      []float64
}

// fieldOf lays the grid of s out in the scene.
func fieldOf(s *lux.Lit, turn func(x, y float64) point) *field {
	g := &s.Grid
	f := &field{wide: g.Across + 2, high: g.Deep + 2}
	for _, p := range s.Outline {
		f.outline = append(f.outline, turn(p[0], p[1]))
	}
	f.convex = isConvex(f.outline)
	values := filled(g)
	f.at, f.value = make([]point, f.wide*f.high), make([]float64, f.wide*f.high)
	for j := range f.high {
		v, rows := nodeAlong(j, g.Deep)
		for i := range f.wide {
			u, columns := nodeAlong(i, g.Across)
			p := g.Corner.Add(g.U.Mul(u)).Add(g.V.Mul(v))
			f.at[j*f.wide+i] = turn(p[0], p[1])
			sum := 0.0
			for _, r := range rows {
				for _, c := range columns {
					sum += r.share * c.share * values[g.Index(c.cell, r.cell)]
				}
			}
			f.value[j*f.wide+i] = math.Max(0, sum)
		}
	}
	return f
}

// part is what a cell gives to a node.
type part struct {
	cell  int
	share float64
}

// nodeAlong returns where node i of n cells lies along an axis, in cells, and
// what it is made of: its own cell, or at an edge the two next to it, run on
// straight.
func nodeAlong(i, n int) (float64, [2]part) {
	switch {
	case i == 0 && n > 1:
		return 0, [2]part{{0, 1.5}, {1, -0.5}}
	case i == n+1 && n > 1:
		return float64(n), [2]part{{n - 1, 1.5}, {n - 2, -0.5}}
	case i == 0:
		return 0, [2]part{{0, 1}, {0, 0}}
	case i == n+1:
		return float64(n), [2]part{{n - 1, 1}, {n - 1, 0}}
	}
	return float64(i) - 0.5, [2]part{{i - 1, 1}, {i - 1, 0}}
}

// whole is the part of a cell that must lie within the outline for its value to
// belong to its middle: the middle of the rest is then within a hundredth of a
// cell of it.
const whole = 0.99

// filled returns the values of a grid at the middles of its cells. Cells that
// the outline cuts or leaves out run on straight from those next to them, layer
// by layer; where there are no two in a line, they have the value of one.
func filled(g *lux.Grid) []float64 {
	out := make([]float64, len(g.Lux))
	full := g.U.Cross(g.V).Len() * whole
	known := 0
	for k := range out {
		out[k] = math.NaN()
		if g.Area[k] >= full {
			out[k], known = g.Lux[k], known+1
		}
	}
	if known == 0 { // a coarse grid on a slender outline: take what there is
		copy(out, g.Lux)
	}
	value := func(i, j int) float64 {
		if i < 0 || j < 0 || i >= g.Across || j >= g.Deep {
			return math.NaN()
		}
		return out[g.Index(i, j)]
	}
	type found struct {
		at    int
		value float64
	}
	for {
		var layer, weak []found
		for j := range g.Deep {
			for i := range g.Across {
				if !math.IsNaN(value(i, j)) {
					continue
				}
				sum, n, near, nears := 0.0, 0.0, 0.0, 0.0
				for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
					a, b := value(i+d[0], j+d[1]), value(i+2*d[0], j+2*d[1])
					if !math.IsNaN(a) {
						near, nears = near+a, nears+1
						if !math.IsNaN(b) {
							sum, n = sum+2*a-b, n+1
						}
					}
				}
				switch {
				case n > 0:
					layer = append(layer, found{g.Index(i, j), sum / n})
				case nears > 0:
					weak = append(weak, found{g.Index(i, j), near / nears})
				}
			}
		}
		if len(layer) == 0 {
			layer = weak
		}
		if len(layer) == 0 {
			break
		}
		for _, f := range layer {
			out[f.at] = f.value
		}
	}
	for k := range out {
		if math.IsNaN(out[k]) {
			out[k] = 0 // nothing known at all
		}
	}
	return out
}

func isConvex(v []point) bool {
	left, right := false, false
	for i, b := range v {
		a, c := v[(i+len(v)-1)%len(v)], v[(i+1)%len(v)]
		turn := cross(b.Sub(a), c.Sub(b))
		left, right = left || turn > 0, right || turn < 0
	}
	return !(left && right)
}

func cross(a, b point) float64 { return a.X*b.Y - a.Y*b.X }

// clip returns the part of the polygon v to the left of the line from a to b.
func clip(dst, v []point, a, b point) []point {
	if len(v) == 0 {
		return dst
	}
	d := b.Sub(a)
	p := v[len(v)-1]
	hp := cross(d, p.Sub(a))
	for _, q := range v {
		hq := cross(d, q.Sub(a))
		if (hp < 0) != (hq < 0) {
			dst = append(dst, p.Add(q.Sub(p).Mul(hp/(hp-hq))))
		}
		if hq >= 0 {
			dst = append(dst, q)
		}
		p, hp = q, hq
	}
	return dst
}

// area returns the area of v, positive when it runs anticlockwise.
func area(v []point) float64 {
	sum := 0.0
	for i := 1; i+1 < len(v); i++ {
		sum += cross(v[i].Sub(v[0]), v[i+1].Sub(v[0]))
	}
	return sum / 2
}

// trimmed returns the part of a convex piece within the outline. The piece may
// run either way round.
func (f *field) trimmed(piece []point) []point {
	if area(piece) < 0 {
		for i, k := 0, len(piece)-1; i < k; i, k = i+1, k-1 {
			piece[i], piece[k] = piece[k], piece[i]
		}
	}
	part := f.outline
	if f.convex {
		inside := true
		ccw := area(f.outline) > 0
		for i, a := range f.outline {
			b := f.outline[(i+1)%len(f.outline)]
			for _, p := range piece {
				if (cross(b.Sub(a), p.Sub(a)) >= 0) != ccw {
					inside = false
				}
			}
		}
		if inside {
			return piece
		}
	}
	for i, a := range piece {
		part = clip(nil, part, a, piece[(i+1)%len(piece)])
	}
	return part
}

// above calls do with convex pieces that together are where the light is at
// least level, cut to the outline. Whole runs of quads come as one piece.
func (f *field) above(level float64, do func([]point)) {
	send := func(v []point) {
		if len(v) < 3 {
			return
		}
		if v = f.trimmed(v); len(v) >= 3 {
			do(v)
		}
	}
	for j := 0; j+1 < f.high; j++ {
		run := -1
		flush := func(end int) {
			if run >= 0 {
				send([]point{f.at[j*f.wide+run], f.at[j*f.wide+end], f.at[(j+1)*f.wide+end], f.at[(j+1)*f.wide+run]})
				run = -1
			}
		}
		for i := 0; i+1 < f.wide; i++ {
			n, high := f.quad(i, j), 0
			for _, k := range n {
				if f.value[k] >= level {
					high++
				}
			}
			if high == 4 {
				if run < 0 {
					run = i
				}
				continue
			}
			flush(i)
			if high == 0 {
				continue
			}
			for _, t := range triangles(n) {
				send(f.highPart(t, level))
			}
		}
		flush(f.wide - 1)
	}
}

// quad returns the four nodes round a quad.
func (f *field) quad(i, j int) [4]int {
	k := j*f.wide + i
	return [4]int{k, k + 1, k + f.wide + 1, k + f.wide}
}

// triangles cuts a quad in two.
func triangles(n [4]int) [2][3]int { return [2][3]int{{n[0], n[1], n[2]}, {n[0], n[2], n[3]}} }

// highPart returns the part of a triangle where the light is at least level.
func (f *field) highPart(t [3]int, level float64) []point {
	out := make([]point, 0, 4)
	for e, a := range t {
		b := t[(e+1)%3]
		if f.value[a] >= level {
			out = append(out, f.at[a])
		}
		if (f.value[a] >= level) != (f.value[b] >= level) {
			out = append(out, f.crossing(a, b, level))
		}
	}
	return out
}

// crossing returns where the light passes level between two nodes, the same
// from both sides.
func (f *field) crossing(a, b int, level float64) point {
	if a > b {
		a, b = b, a
	}
	t := (level - f.value[a]) / (f.value[b] - f.value[a])
	return f.at[a].Add(f.at[b].Sub(f.at[a]).Mul(t))
}
