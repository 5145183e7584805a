package section

import (
	"cmp"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/pieces"
	"risewright/view/drawing"
)

// knife cuts solids with a plumb plane. It keeps its arrays from cut to cut.
type knife struct {
	verts []mgl64.Vec3
	side  []float64
	meets []mgl64.Vec2 // where one facet's outline meets the plane
	edges [][2]drawing.Point
	loop  []drawing.Point
}

// welded is how near, in mm, the ends of two cut facets must lie to be one
// corner. Boards are metres at most and placed with a few roundings of 1e-12;
// their edges are millimetres long.
const welded = 1e-6

// cut returns the outline in which the plumb plane through at, running along
// way, cuts a board where it lies: how far along way from at, and the height.
// It is nil when the plane misses the board. The points are lent until the next
// cut. A board that is cut into several parts shows the first.
func (k *knife) cut(b *pieces.Piece, at, way mgl64.Vec2) []drawing.Point {
	k.verts, k.side, k.edges = k.verts[:0], k.side[:0], k.edges[:0]
	across := mgl64.Vec2{way[1], -way[0]}
	for _, v := range b.Solid.Verts {
		w := mgl64.TransformCoordinate(v, b.Frame)
		d := w.Vec2().Sub(at)
		k.verts = append(k.verts, mgl64.Vec3{d.Dot(way), w[2], 0})
		k.side = append(k.side, d.Dot(across))
	}
	for f := range b.Solid.Faces {
		k.facet(b.Solid.Faces[f].Loop)
	}
	return tidy(k.chain())
}

// facet adds the lines in which the plane cuts one facet.
func (k *knife) facet(loop []int) {
	k.meets = k.meets[:0]
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		da, db := k.side[a], k.side[b]
		if (da > 0) == (db > 0) {
			continue
		}
		t := da / (da - db)
		k.meets = append(k.meets, k.verts[a].Vec2().Add(k.verts[b].Sub(k.verts[a]).Vec2().Mul(t)))
	}
	slices.SortFunc(k.meets, func(a, b mgl64.Vec2) int {
		if c := cmp.Compare(a[0], b[0]); c != 0 {
			return c
		}
		return cmp.Compare(a[1], b[1])
	})
	for i := 0; i+1 < len(k.meets); i += 2 {
		a, b := k.meets[i], k.meets[i+1]
		if b.Sub(a).Len() > welded {
			k.edges = append(k.edges, [2]drawing.Point{pt(a[0], a[1]), pt(b[0], b[1])})
		}
	}
}

// chain joins the lines end to end into one outline.
func (k *knife) chain() []drawing.Point {
	if len(k.edges) < 3 {
		return nil
	}
	k.loop = append(k.loop[:0], k.edges[0][0], k.edges[0][1])
	k.edges[0] = k.edges[len(k.edges)-1]
	k.edges = k.edges[:len(k.edges)-1]
	for len(k.edges) > 0 {
		end := k.loop[len(k.loop)-1]
		found := false
		for i, e := range k.edges {
			next := e[1]
			if e[0].Sub(end).Len() > welded {
				if e[1].Sub(end).Len() > welded {
					continue
				}
				next = e[0]
			}
			found = true
			k.edges[i] = k.edges[len(k.edges)-1]
			k.edges = k.edges[:len(k.edges)-1]
			if next.Sub(k.loop[0]).Len() <= welded {
				return k.loop
			}
			k.loop = append(k.loop, next)
			break
		}
		if !found {
			return nil
		}
	}
	return k.loop
}

// tidy turns an outline anticlockwise and begins it at its leftmost corner, the
// lower of two, so that the order of a solid's facets does not show.
func tidy(outline []drawing.Point) []drawing.Point {
	area, first := 0.0, 0
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		area += a.X*b.Y - b.X*a.Y
		f := outline[first]
		if a.X < f.X-welded || a.X < f.X+welded && a.Y < f.Y {
			first = i
		}
	}
	if len(outline) == 0 {
		return nil
	}
	if area < 0 {
		slices.Reverse(outline)
		first = len(outline) - 1 - first
	}
	slices.Reverse(outline[:first])
	slices.Reverse(outline[first:])
	slices.Reverse(outline)
	return outline
}
