package model

import "math"

// turnFrame is the place from which a turn is set out: its origin is the end of
// a nose line at the inner side of the turn; a runs along the nose line away
// from that side, b up the flight. Turning towards the inner side is
// anticlockwise in (a, b), to whichever hand it goes.
type turnFrame struct {
	origin Corner
	along  Corner // direction of a
	up     Corner // direction of b
	right  bool   // the inner side is the right one
	width  float64
}

// frameOf returns the frame of the nose line of s for a turn to side e.
func frameOf(s *Step, e Edge) turnFrame {
	fl, fr := s.Corners[s.FrontLeft()], s.Corners[s.FrontRight()]
	w := fl.Distance(fr)
	f := turnFrame{origin: fl, along: Corner{(fr.X - fl.X) / w, (fr.Y - fl.Y) / w}, width: float64(w)}
	f.up = Corner{-f.along.Y, f.along.X}
	if e == Right {
		f.origin, f.right = fr, true
		f.along = Corner{-f.along.X, -f.along.Y}
	}
	return f
}

// spot is a place in a turnFrame, mm.
type spot struct{ a, b float64 }

func (p spot) plus(q spot) spot         { return spot{p.a + q.a, p.b + q.b} }
func (p spot) times(k float64) spot     { return spot{k * p.a, k * p.b} }
func (p spot) dot(q spot) float64       { return p.a*q.a + p.b*q.b }
func (p spot) turned(s, c float64) spot { return spot{p.a*c - p.b*s, p.a*s + p.b*c} }

func (f *turnFrame) corner(p spot) Corner {
	a, b := Length(p.a), Length(p.b)
	return Corner{f.origin.X + a*f.along.X + b*f.up.X, f.origin.Y + a*f.along.Y + b*f.up.Y}
}

func (f *turnFrame) spot(c Corner) spot {
	x, y := float64(c.X-f.origin.X), float64(c.Y-f.origin.Y)
	return spot{x*float64(f.along.X) + y*float64(f.along.Y), x*float64(f.up.X) + y*float64(f.up.Y)}
}

// opening returns the corners and edges of an opening given by its inner side
// (front, back) and its outer side going up, whose first and last are the front
// and the back corner.
func (f *turnFrame) opening(innerFront, innerBack spot, outer []spot) ([]Corner, []Edge) {
	var cs []Corner
	var es []Edge
	put := func(p spot, e Edge) { cs, es = append(cs, f.corner(p)), append(es, e) }
	last := len(outer) - 1
	if !f.right {
		put(innerFront, Front)
		for _, p := range outer[:last] {
			put(p, Right)
		}
		put(outer[last], Back)
		put(innerBack, Left)
		return cs, es
	}
	put(outer[0], Front)
	put(innerFront, Right)
	put(innerBack, Back)
	for k := last; k > 0; k-- {
		put(outer[k], Left)
	}
	return cs, es
}

// sincos is math.Sincos, exact at the quarters of a turn.
func sincos(a float64) (s, c float64) {
	quarter := math.Round(a / (math.Pi / 2))
	if math.Abs(a-quarter*math.Pi/2) > 1e-12 { // what a few roundings of pi leave
		return math.Sincos(a)
	}
	switch int(math.Mod(quarter, 4)+4) % 4 {
	case 1:
		return 1, 0
	case 2:
		return 0, -1
	case 3:
		return -1, 0
	}
	return 0, 1
}

// swing moves the sketch of a cloned step: about the spot from, which comes to
// lie at to, turned towards the inner side by the angle whose sine and cosine
// are given.
func (s *Step) swing(f *turnFrame, from, to spot, sin, cos float64) {
	for i, c := range s.Corners {
		s.Corners[i] = f.corner(to.plus(f.spot(c).plus(from.times(-1)).turned(sin, cos)))
	}
}

// forget sets aside the readings of a cloned step that were taken of the shape
// of its opening, or of its going, and says whether it had any in use.
func (s *Step) forget(shape, going bool) bool {
	had := false
	for i := range s.Readings {
		r := &s.Readings[i]
		switch r.Kind {
		case GoingLeft, GoingRight:
			if !going {
				continue
			}
		case FrontWidth, MiddleWidth, BackWidth, LeftDepth, RightDepth, DiagonalLeft, DiagonalRight,
			GaugeFrontLeft, GaugeFrontRight, GaugeBackRight, GaugeBackLeft:
			if !shape {
				continue
			}
		default:
			continue
		}
		if !r.Aside {
			r.Aside, had = true, true
		}
	}
	return had
}

// forgetRun returns the readings of a flight with those set aside that were
// taken along it from end to end, and whether any was in use.
func forgetRun(rs []Reading) ([]Reading, bool) {
	out, had := append([]Reading(nil), rs...), false
	for i := range out {
		switch out[i].Kind {
		case TotalGoing, LongDiagonalLeft, LongDiagonalRight:
			if !out[i].Aside {
				out[i].Aside, had = true, true
			}
		}
	}
	return out, had
}
