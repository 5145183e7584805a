package bars

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// climb fills in where the wires bend on their way up the cavity from one bar to
// the next: at every corner of the side between the two, as at the wall behind a
// winder or round a landing. Under the stair they may go straight.
func (m *maker) climb(bs []Bar, ps []pieces.Piece) {
	if m.l.Cavity == model.CavityUnder {
		return
	}
	floors := map[int]*pieces.Piece{}
	for i := range ps {
		if ps[i].Kind == pieces.LandingFloor {
			floors[ps[i].Step] = &ps[i]
		}
	}
	last := -1
	var bends []mgl64.Vec3
	for i := range bs {
		if bs[i].Way.Piece != "" {
			if last >= 0 {
				bs[last].Climb = risen(bs[last].Way.At, bends, bs[i].Way.At)
			}
			last, bends = i, nil
		}
		bends = append(bends, sideCorners(&ps[2*i+1], m.side())...)
		if f := floors[bs[i].Step]; f != nil {
			bends = append(bends, sideCorners(f, m.side())...)
		}
	}
}

// side is the side of the stair that the cavity lies at.
func (m *maker) side() pieces.Side {
	if m.l.Cavity == model.CavityRight {
		return pieces.Right
	}
	return pieces.Left
}

// sideCorners returns the corners of a board's side between its front and its
// back, from the front.
func sideCorners(p *pieces.Piece, side pieces.Side) []mgl64.Vec3 {
	n := len(p.Face)
	from, to, way := p.FrontLeft, p.BackLeft, 1
	if side == pieces.Right {
		from, to, way = p.FrontRight, p.BackRight, n-1
	}
	if p.Impossible != "" || n == 0 || from == to { // a side that is a point
		return nil
	}
	var out []mgl64.Vec3
	for k := (from + way) % n; k != to; k = (k + way) % n {
		out = append(out, corner(p, k))
	}
	return out
}

// risen returns the bends at heights that climb evenly from one point to
// another by way of them.
func risen(from mgl64.Vec3, bends []mgl64.Vec3, to mgl64.Vec3) []mgl64.Vec3 {
	plan := func(a, b mgl64.Vec3) float64 { return b.Vec2().Sub(a.Vec2()).Len() }
	all, at := 0.0, from
	for _, b := range bends {
		all += plan(at, b)
		at = b
	}
	all += plan(at, to)
	gone := 0.0
	at = from
	for i, b := range bends {
		gone += plan(at, b)
		at = b
		bends[i][2] = from[2]
		if all > 0 {
			bends[i][2] += (to[2] - from[2]) * gone / all
		}
	}
	return bends
}
