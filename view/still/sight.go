package still

import (
	"math"
	"sync/atomic"

	"risewright/view/scene"
)

// sights says how much of each lamp can be seen from where: a grid of cells, each
// tried once, when light is first asked for there. It only chooses which lamp is
// asked, so a wrong guess costs noise and no truth. What a cell finds depends on
// the cell alone, so it does not matter who tries it.
type sights struct {
	low        vec
	across     [3]int
	inverse    float64 // cells a millimetre
	cells      []atomic.Pointer[[]float32]
	everywhere []float32 // outside the grid
}

const (
	// cellSide is the usual side of a cell, mm: about half a going, so that the
	// space under a nose is apart from that before it.
	cellSide = 120
	// mostCells bounds the grid; a larger scene has larger cells.
	mostCells = 1 << 18
	tries     = 12
)

func newSights(s *scene.Scene) *sights {
	lo, hi := nowhere()
	for i := range s.Triangles {
		for _, p := range s.Triangles[i].P {
			lo, hi = least(lo, vecOf(p)), most(hi, vecOf(p))
		}
	}
	g := &sights{everywhere: make([]float32, len(s.Lamps))}
	for i := range g.everywhere {
		g.everywhere[i] = 1
	}
	if !(hi.x >= lo.x) || math.IsInf(hi.sub(lo).len2(), 1) {
		return g
	}
	for side := float64(cellSide); ; side *= 1.25 {
		n := 1.0
		for k := range 3 {
			c := math.Floor((hi.axis(k)-lo.axis(k))/side) + 1
			n *= c
			g.across[k] = int(min(c, mostCells))
		}
		if n <= mostCells {
			g.low, g.inverse = lo, 1/side
			g.cells = make([]atomic.Pointer[[]float32], int(n))
			return g
		}
	}
}

// from returns for each lamp how much of it can be seen about p, never 0.
func (w *world) sightsFrom(p vec) []float32 {
	g := w.sights
	at, cell := 0, [3]float64{}
	for k := 2; k >= 0; k-- {
		c := math.Floor((p.axis(k) - g.low.axis(k)) * g.inverse)
		if !(c >= 0 && c < float64(g.across[k])) {
			return g.everywhere
		}
		cell[k] = c
		at = at*g.across[k] + int(c)
	}
	if found := g.cells[at].Load(); found != nil {
		return *found
	}
	out := make([]float32, len(w.lamps))
	corner := vec{cell[0], cell[1], cell[2]}.mul(1 / g.inverse).add(g.low)
	for i := range out {
		l := &w.lamps[i]
		seen, asked := 0.0, 0.0
		if l.lumens > 0 {
			for k := range tries {
				p := pointsOf(uint64(i), at, k)
				a, b := p.next()
				c, d := p.next()
				e, _ := p.next()
				from := corner.add(vec{a, b, c}.mul(1 / g.inverse))
				to := l.corner.along(l.u, d).along(l.v, e)
				if !l.front(from) {
					continue
				}
				way := to.sub(from)
				far := way.len()
				asked++
				seen += w.tree.lets(&ray{from, way.mul(1 / far)}, far-2*leastHit)
			}
		}
		if asked == 0 {
			out[i] = 1 // the lamp's own plane may cut the cell
			continue
		}
		out[i] = float32(max(seen/asked, unseen))
	}
	g.cells[at].Store(&out)
	return out
}
