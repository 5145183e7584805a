package lux

import (
	"math"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"
)

// Grid is a regular grid of cells over a surface. Cell (i, j), counted from the
// left end of the nose, is the parallelogram at Corner + i·U + j·V; only its
// part within the outline counts. Values belong to the middle of that part.
type Grid struct {
	Corner       mgl64.Vec3
	U, V         mgl64.Vec3 // along the nose, and square to it towards the back; mm
	Across, Deep int
	Lux          []float64    // row by row from the nose; NaN outside the outline
	At           []mgl64.Vec3 // where each value was computed
	Area         []float64    // of each cell within the outline, mm²
}

// Index returns the place of cell (i, j) in Lux, At and Area.
func (g *Grid) Index(i, j int) int { return j*g.Across + i }

// frame lays the grid over an outline: its first edge gives the direction
// across.
func (g *Grid) frame(outline []mgl64.Vec3, normal mgl64.Vec3, across, deep int) {
	x := outline[1].Sub(outline[0]).Normalize()
	y := normal.Cross(x)
	lo, hi := mgl64.Vec2{math.Inf(1), math.Inf(1)}, mgl64.Vec2{math.Inf(-1), math.Inf(-1)}
	for _, p := range outline {
		d := p.Sub(outline[0])
		q := mgl64.Vec2{d.Dot(x), d.Dot(y)}
		for k := range 2 {
			lo[k], hi[k] = math.Min(lo[k], q[k]), math.Max(hi[k], q[k])
		}
	}
	g.Corner = outline[0].Add(x.Mul(lo[0])).Add(y.Mul(lo[1]))
	g.U, g.V = x.Mul((hi[0]-lo[0])/float64(across)), y.Mul((hi[1]-lo[1])/float64(deep))
	g.Across, g.Deep = across, deep
}

// cells places the values.
func (g *Grid) cells(outline []mgl64.Vec3, w *workspace) {
	n := g.Across * g.Deep
	g.Lux, g.Area, g.At = make([]float64, n), make([]float64, n), make([]mgl64.Vec3, n)
	whole := g.U.Cross(g.V).Len()
	normal := g.U.Cross(g.V).Normalize()
	// The insides of the edges, for cells that need no cutting.
	type edge struct {
		n mgl64.Vec3
		d float64 // of the edge, and what a cell's middle needs to clear it
	}
	edges := make([]edge, len(outline))
	for i, a := range outline {
		in := normal.Cross(outline[(i+1)%len(outline)].Sub(a))
		edges[i] = edge{in, in.Dot(a) + (math.Abs(in.Dot(g.U))+math.Abs(in.Dot(g.V)))/2}
	}
	for j := range g.Deep {
		for i := range g.Across {
			k := g.Index(i, j)
			at := g.Corner.Add(g.U.Mul(float64(i))).Add(g.V.Mul(float64(j)))
			middle := at.Add(g.U.Mul(0.5)).Add(g.V.Mul(0.5))
			inside := true
			for _, e := range edges {
				if e.n.Dot(middle) < e.d {
					inside = false
					break
				}
			}
			// With a corner that points inwards a cell inside all edges is
			// still inside the outline; others are cut.
			if inside {
				g.At[k], g.Area[k] = middle, whole
				continue
			}
			w.reset()
			part := g.cell(w, outline, i, j)
			g.At[k], g.Area[k] = centroid(part, normal)
			if !(g.Area[k] > sliver*whole) {
				g.At[k], g.Area[k], g.Lux[k] = middle, 0, math.NaN()
			}
		}
	}
}

// row returns row j as a parallelogram across the whole grid.
func (g *Grid) row(j int) []mgl64.Vec3 {
	a := g.Corner.Add(g.V.Mul(float64(j)))
	u := g.U.Mul(float64(g.Across))
	return []mgl64.Vec3{a, a.Add(u), a.Add(u).Add(g.V), a.Add(g.V)}
}

// cell returns the part of cell (i, j) that lies within the outline.
func (g *Grid) cell(w *workspace, outline []mgl64.Vec3, i, j int) []mgl64.Vec3 {
	at := g.Corner.Add(g.U.Mul(float64(i))).Add(g.V.Mul(float64(j)))
	far := at.Add(g.U).Add(g.V)
	u, v := g.U.Normalize(), g.V.Normalize()
	part := outline
	for _, cut := range [4]struct {
		n mgl64.Vec3
		d float64
	}{{u, u.Dot(at)}, {u.Mul(-1), -u.Dot(far)}, {v, v.Dot(at)}, {v.Mul(-1), -v.Dot(far)}} {
		part = clip(w.take(len(part)+1), part, cut.n, cut.d)
	}
	return part
}

// sliver is the part of a cell below which it does not count: its share of a
// mean is then below 1e-6 of a cell's.
const sliver = 1e-6

// centroid returns the middle and the area of a flat polygon.
func centroid(v []mgl64.Vec3, normal mgl64.Vec3) (mgl64.Vec3, float64) {
	var sum mgl64.Vec3
	area := 0.0
	for i := 1; i+1 < len(v); i++ {
		a, b := v[i].Sub(v[0]), v[i+1].Sub(v[0])
		t := a.Cross(b).Dot(normal) / 2
		sum, area = sum.Add(a.Add(b).Mul(t/3)), area+t
	}
	if !(area > 0) {
		return mgl64.Vec3{}, 0
	}
	return v[0].Add(sum.Mul(1 / area)), area
}

func number(k int) string { return strconv.Itoa(k) }
