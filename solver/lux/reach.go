package lux

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// screen is a Screen made ready.
type screen struct {
	corners []mgl64.Vec3
	normal  mgl64.Vec3 // unit, to the front
	offset  float64
	both    bool
	box     box
}

// readyScreens drops screens without area.
func readyScreens(in []Screen) []screen {
	out := make([]screen, 0, len(in))
	for _, s := range in {
		if len(s.Outline) < 3 {
			continue
		}
		n := newell(s.Outline)
		if !(n.Len() > leastEdge*leastEdge) {
			continue
		}
		n = n.Normalize()
		out = append(out, screen{corners: s.Outline, normal: n, offset: n.Dot(s.Outline[0]), both: s.BothSides, box: boxOf(s.Outline)})
	}
	return out
}

// source is a bright polygon made ready: a bar, or a patch that reflects.
type source struct {
	corners  []mgl64.Vec3
	normal   mgl64.Vec3
	offset   float64
	exitance float64
	box      box
}

func readySource(c []mgl64.Vec3, exitance float64) source {
	n := newell(c).Normalize()
	return source{corners: c, normal: n, offset: n.Dot(c[0]), exitance: exitance, box: boxOf(c)}
}

// box is the smallest upright box round some points.
type box struct{ lo, hi mgl64.Vec3 }

func boxOf(v []mgl64.Vec3) box {
	b := box{v[0], v[0]}
	for _, p := range v[1:] {
		b = b.with(box{p, p})
	}
	return b
}

func (b box) with(o box) box {
	for k := range 3 {
		b.lo[k], b.hi[k] = math.Min(b.lo[k], o.lo[k]), math.Max(b.hi[k], o.hi[k])
	}
	return b
}

// apart says whether nothing of one box lies deeper than touching in the other.
func (b box) apart(o box) bool {
	for k := range 3 {
		if b.hi[k] <= o.lo[k]+touching || o.hi[k] <= b.lo[k]+touching {
			return true
		}
	}
	return false
}

// sides returns how far the points reach in front of and behind a plane.
func sides(v []mgl64.Vec3, n mgl64.Vec3, offset float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range v {
		h := n.Dot(v[i]) - offset
		if h < lo {
			lo = h
		}
		if h > hi {
			hi = h
		}
	}
	return lo, hi
}

// between appends to dst the screens that may stand between the surface and
// the source, and says whether any light can pass at all. It leaves out only
// what cannot matter:
//
//   - a source wholly below the surface's plane, or a surface behind the source;
//   - a screen that its box, its plane, the planes of surface and source or a
//     plane along an edge of the one and a corner of the other part from all
//     straight lines between the two;
//   - and no light passes when one screen, from either side, stops the lines
//     between all pairs of corners: from one point the source is seen in the
//     screen's plane as the hull of its corners' pictures, each of which moves
//     within the hull of the pictures from the surface's corners; so a convex
//     screen that holds all these holds every line.
//
// The screen in *last, where not nil, is asked first whether it stops all: bars
// far away along the flight are mostly stopped by the same tread or riser. One
// that does is left there.
func between(dst []*screen, outline []mgl64.Vec3, normal mgl64.Vec3, offset float64, src *source, screens []*screen, last **screen) ([]*screen, bool) {
	if _, hi := sides(src.corners, normal, offset); hi <= 0 {
		return dst, false
	}
	if _, hi := sides(outline, src.normal, src.offset); hi <= 0 {
		return dst, false
	}
	if *last != nil && (*last).stopsAll(outline, src) {
		return dst, false
	}
	both := boxOf(outline).with(src.box)
	first := len(dst)
	var walls []plane
	for _, s := range screens {
		if both.apart(s.box) {
			continue
		}
		if walls == nil {
			var room [mostWalls]plane
			walls = hullWalls(hullWalls(room[:0], outline, src.corners), src.corners, outline)
		}
		if parted(walls, s.corners) {
			continue
		}
		if _, hi := sides(s.corners, normal, offset); hi <= touching {
			continue
		}
		if _, hi := sides(s.corners, src.normal, src.offset); hi <= touching {
			continue
		}
		if s.stopsAll(outline, src) {
			*last = s
			return dst[:first], false
		}
		lo, hi := sides(outline, s.normal, s.offset)
		slo, shi := sides(src.corners, s.normal, s.offset)
		// Cutting needs the faces turned to the surface only: what passes a
		// solid passes these.
		ahead := hi > touching && slo < -touching
		behind := s.both && lo < -touching && shi > touching
		if !ahead && !behind {
			continue
		}
		dst = append(dst, s)
	}
	return dst, true
}

// stopsAll says whether the screen, from either side, stops all straight lines
// between the surface and the source.
func (s *screen) stopsAll(outline []mgl64.Vec3, src *source) bool {
	lo, hi := sides(outline, s.normal, s.offset)
	slo, shi := sides(src.corners, s.normal, s.offset)
	return lo > touching && shi < -touching && s.stops(outline, src, 1) ||
		hi < -touching && slo > touching && s.stops(outline, src, -1)
}

// plane is the points x with n·x = d; n is not of unit length.
type plane struct {
	n mgl64.Vec3
	d float64
}

// mostWalls is the room for walls: four edges with four corners, both ways.
const mostWalls = 32

// hullWalls appends planes through an edge of a and a corner of b that have
// both a and b behind them: walls of the room in which all lines between the
// two run.
func hullWalls(dst []plane, a, b []mgl64.Vec3) []plane {
	for i, p := range a {
		edge := a[(i+1)%len(a)].Sub(p)
		for _, q := range b {
			n := edge.Cross(q.Sub(p))
			lo, hi := sides(a, n, n.Dot(p))
			blo, bhi := sides(b, n, n.Dot(p))
			lo, hi = math.Min(lo, blo), math.Max(hi, bhi)
			slack := touching * n.Len()
			switch {
			case slack == 0 || len(dst) == mostWalls:
			case hi <= slack:
				dst = append(dst, plane{n, n.Dot(p)})
			case lo >= -slack:
				dst = append(dst, plane{n.Mul(-1), -n.Dot(p)})
			}
		}
	}
	return dst
}

// parted says whether one of the walls has all the points before it.
func parted(walls []plane, v []mgl64.Vec3) bool {
	for i := range walls {
		w := &walls[i]
		before := true
		for _, p := range v {
			if w.n.Dot(p) < w.d {
				before = false
				break
			}
		}
		if before {
			return true
		}
	}
	return false
}

// stops says whether the screen stops the lines between all corners of the
// outline and of the source, which lie on different sides of its plane: the
// outline in front when sign is 1, behind when it is -1.
func (s *screen) stops(outline []mgl64.Vec3, src *source, sign float64) bool {
	for _, p := range outline {
		for i := range s.corners {
			a, b := s.corners[i].Sub(p), s.corners[(i+1)%len(s.corners)].Sub(p)
			n := b.Cross(a).Mul(sign)
			for _, q := range src.corners {
				if !(n.Dot(q.Sub(p)) > 0) {
					return false
				}
			}
		}
	}
	return true
}
