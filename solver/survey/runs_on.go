package survey

import (
	"math"

	"risewright/model"
)

// Where the sides of a flight are believed to run on straight from one step to
// the next. Common practice, no source.
const (
	// taperFrom is the angle between nose line and riser face from which a step
	// is tapered by design. A sketch drawn 25 mm off at every corner, 800 mm
	// wide, is out by 7 degrees; winders turn by 15 and more.
	taperFrom = 10 * math.Pi / 180
	// bentFrom is the angle between two sketched sides, of which one belongs to
	// a tapered step or a landing, from which there is a corner between them.
	bentFrom = 10 * math.Pi / 180
	// shortSide is the length below which the sketched direction of such a side
	// says nothing: those at the narrow ends of winders and behind landings.
	shortSide = 150.0
	// stepped is how far such a side may be sketched beside the line of the one
	// below: four times what sides wander by. More is a jog in the wall.
	stepped = 4 * sideLinkSpread
)

// sidesRunOn says for the left and the right whether the side of step s runs on
// straight past the riser above, into that of t. Open sides are not built in one
// piece with anything, and where an opening comes to a point there is no side.
// In a straight flight every closed side runs on; beside a turn only where it
// was sketched so.
func sidesRunOn(s, t *model.Step, a, b site) [2]bool {
	out := [2]bool{
		s.Left.Kind != model.Open && t.Left.Kind != model.Open && a.bl != a.fl && b.bl != b.fl,
		s.Right.Kind != model.Open && t.Right.Kind != model.Open && a.br != a.fr && b.br != b.fr,
	}
	if !turns(s, a) && !turns(t, b) {
		return out
	}
	for side := range out {
		out[side] = out[side] && !inner(s, a, side) && !inner(t, b, side)
	}
	// all four directions go up the flight
	inLine := func(from, to, next, end int) bool {
		p, q := s.Corners[from], s.Corners[to]
		u, v := t.Corners[next], t.Corners[end]
		return p.Distance(q) >= shortSide && u.Distance(v) >= shortSide && between(p, q, u, v) < bentFrom &&
			beside(p, q, u) < stepped && beside(p, q, v) < stepped
	}
	out[0] = out[0] && inLine(a.next(a.bl), a.bl, b.fl, b.previous(b.fl))
	out[1] = out[1] && inLine(a.previous(a.br), a.br, b.fr, b.next(b.fr))
	return out
}

// turns says whether a step is tapered by design or a landing that turns.
func turns(s *model.Step, a site) bool {
	return between(s.Corners[a.fl], s.Corners[a.fr], s.Corners[a.bl], s.Corners[a.br]) >= taperFrom
}

// inner says whether a side is the one to which a step turns: the shorter one.
// There a newel or a string bends with the turn.
func inner(s *model.Step, a site, side int) bool {
	left, right := s.Corners[a.fl].Distance(s.Corners[a.bl]), s.Corners[a.fr].Distance(s.Corners[a.br])
	return turns(s, a) && (side == 0) == (left < right)
}

// between returns the angle between the directions a to b and c to d, 0 to pi.
func between(a, b, c, d model.Corner) float64 {
	x, y := float64(b.X-a.X), float64(b.Y-a.Y)
	u, v := float64(d.X-c.X), float64(d.Y-c.Y)
	return math.Abs(math.Atan2(x*v-y*u, x*u+y*v))
}

// beside returns how far p lies beside the line through a and b.
func beside(a, b, p model.Corner) float64 {
	return math.Abs(float64((b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X)) / float64(a.Distance(b)))
}
