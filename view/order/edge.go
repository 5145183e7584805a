package order

import (
	"math"
	"strings"

	"risewright/solver/fitting"
	"risewright/solver/pieces"
)

// edge is a scribed facet of a piece.
type edge struct {
	solid *pieces.Solid
	face  *pieces.Facet
	other string // what it is scribed to
}

// How deep, in mm, two boards that meet may seem to overlap, as each goes by
// its own readings, and how far apart they may stand: 3 mm is let overlap at
// fitting, 8 against old work, and no joint is as wide as 4.
const (
	meetsDeep = 8.0
	meetsWide = 4.0
)

// scribed returns the facets of a board that are scribed: its ends to what
// stands at the sides, and others to the boards they lie against.
func scribed(r *fitting.Result, t *fitting.Task) []edge {
	var out []edge
	for _, n := range t.Joints {
		j := &r.Joints[n]
		if j.Scribed != t.ID {
			continue
		}
		id := j.A
		if id == t.ID {
			id = j.B
		}
		board := false
		for i := range r.Order {
			if o := &r.Order[i]; o.ID == id && o.Kind != fitting.Skirt {
				out, board = facing(out, t, o), true
			}
		}
		if !board {
			out = atEnd(out, t, id)
		}
	}
	return out
}

// atEnd appends the facets of t at the side that a name speaks of.
func atEnd(dst []edge, t *fitting.Task, name string) []edge {
	part := pieces.LeftEnd
	switch {
	case strings.HasSuffix(name, pieces.Right.String()):
		part = pieces.RightEnd
	case !strings.HasSuffix(name, pieces.Left.String()):
		return dst
	}
	for i := range t.Shape {
		s := &t.Shape[i]
		for n := range s.Faces {
			if s.Faces[n].Part == part {
				dst = append(dst, edge{solid: s, face: &s.Faces[n], other: name})
			}
		}
	}
	return dst
}

// facing appends the facets of t against which o lies, each once.
func facing(dst []edge, t, o *fitting.Task) []edge {
	for i := range t.Shape {
		s := &t.Shape[i]
		for k := range o.Shape {
			f, gap := parting(s, &o.Shape[k])
			if f == nil || gap < -meetsDeep || gap > meetsWide {
				continue
			}
			known := false
			for _, e := range dst {
				known = known || e.face == f
			}
			if !known && beside(s, f, &o.Shape[k]) {
				dst = append(dst, edge{solid: s, face: f, other: o.ID})
			}
		}
	}
	return dst
}

// parting returns the facet of s beyond which o lies farthest, and how far; a
// negative distance is an overlap. Both are convex.
func parting(s, o *pieces.Solid) (*pieces.Facet, float64) {
	var best *pieces.Facet
	most := math.Inf(-1)
	for i := range s.Faces {
		f := &s.Faces[i]
		least := math.Inf(1)
		for _, v := range o.Verts {
			least = math.Min(least, f.Normal.Dot(v)-f.Offset)
		}
		if least > most {
			best, most = f, least
		}
	}
	return best, most
}

// beside says whether o lies over some of facet f, and not only in its plane:
// their reaches along each edge of the facet overlap.
func beside(s *pieces.Solid, f *pieces.Facet, o *pieces.Solid) bool {
	for i, a := range f.Loop {
		e := s.Verts[f.Loop[(i+1)%len(f.Loop)]].Sub(s.Verts[a])
		if e.Len() == 0 {
			continue
		}
		e = e.Normalize()
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range f.Loop {
			d := e.Dot(s.Verts[v])
			lo, hi = math.Min(lo, d), math.Max(hi, d)
		}
		lo2, hi2 := math.Inf(1), math.Inf(-1)
		for _, v := range o.Verts {
			d := e.Dot(v)
			lo2, hi2 = math.Min(lo2, d), math.Max(hi2, d)
		}
		if hi <= lo2 || hi2 <= lo {
			return false
		}
	}
	return true
}
