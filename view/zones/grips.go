package zones

import (
	"math"

	"risewright/model"
	"risewright/solver/sensing"
	"risewright/view/drawing"
)

// GripKind says what a grip moves. The zero value is none.
type GripKind uint8

// The kinds of grip.
const (
	NoGrip     GripKind = iota
	SensorGrip          // the sensor itself
	LowerGrip           // the lower end of its zone
	UpperGrip           // the upper end
	ThingGrip           // something that moves or warms near the stair
)

// Grip is something that can be dragged.
type Grip struct {
	Kind   GripKind
	Sensor int // place in the job; -1 for a thing
	At     drawing.Point
	// Thing and Point say what of what is near the stair a ThingGrip moves; see
	// ThingGrips.
	Thing, Point int
}

// Is says whether two grips move the same.
func (g Grip) Is(other Grip) bool {
	return g.Kind == other.Kind && g.Sensor == other.Sensor && g.Thing == other.Thing && g.Point == other.Point
}

// Words returns what the grip does, for those who point at it.
func (g Grip) Words() string {
	switch g.Kind {
	case SensorGrip:
		return "drag to move the sensor"
	case LowerGrip:
		return "drag to set where its zone begins"
	case UpperGrip:
		return "drag to set where its zone ends"
	case ThingGrip:
		if g.Point == WholeThing {
			return "drag to move it"
		}
		return "drag to move this end of it"
	}
	return ""
}

// What returns what the grip moves, in words that follow a name.
func (g Grip) What() string {
	switch g.Kind {
	case SensorGrip:
		return "its place"
	case LowerGrip:
		return "where its zone begins"
	case UpperGrip:
		return "where its zone ends"
	case ThingGrip:
		if g.Point == WholeThing {
			return "the whole of it"
		}
		return "this end of it"
	}
	return ""
}

// BandGrips returns the ends of the zones in the band.
func BandGrips(r *sensing.Result, o Options) []Grip {
	if !o.Grips || r.Stair == nil {
		return nil
	}
	var out []Grip
	rs := rows(r)
	for k, i := range rs {
		z := &r.Zones[i]
		if z.SureAt.Len() <= 0 {
			continue
		}
		y := -Row * (float64(len(rs)-1-k) + 0.5)
		from, to := X(-1), X(float64(r.Stair.Risers))
		out = append(out,
			Grip{Kind: LowerGrip, Sensor: i, At: drawing.Point{X: max(from, X(z.SureAt.From)), Y: y}},
			Grip{Kind: UpperGrip, Sensor: i, At: drawing.Point{X: min(to, X(z.SureAt.To)), Y: y}})
	}
	return out
}

// Find returns the grip within reach of a scene point, the nearest and of
// several the last, which lies on top.
func Find(grips []Grip, at drawing.Point, reach float64) (Grip, bool) {
	best, found := reach, Grip{}
	for _, g := range grips {
		if d := g.At.Sub(at).Len(); d <= best {
			best, found = d, g
		}
	}
	return found, found.Kind != NoGrip
}

// SensorAt returns the place in the job of the sensor whose row of the band is at
// a scene point, or -1.
func SensorAt(r *sensing.Result, at drawing.Point) int {
	if r.Stair == nil {
		return -1
	}
	rs := rows(r)
	row := int(math.Floor(-at.Y / Row))
	if row < 0 || row >= len(rs) {
		return -1
	}
	return rs[len(rs)-1-row]
}

// End returns the edit that brings an end of a zone to a place along the flight,
// and the zone then; or it says why that cannot be.
func End(r *sensing.Result, g Grip, along float64) (model.Edit, sensing.Zone, error) {
	end := sensing.Lower
	if g.Kind == UpperGrip {
		end = sensing.Upper
	}
	z, err := r.Stair.DragEnd(r.Zones[g.Sensor], end, along)
	if err != nil {
		return nil, z, err
	}
	return model.AimOf(z.From), z, nil
}

// drawGrip draws a grip: a square for an end, larger when pointed at and filled
// when held; a ring round a sensor pointed at or held.
func drawGrip(l *drawing.List, g Grip, o *Options) {
	half := gripHalf
	fill := drawing.Fill{Ink: drawing.Paper}
	if g.Is(o.Hover) {
		half *= 1.35
	}
	if g.Is(o.Held) {
		fill.Ink = drawing.Select
	}
	s := drawing.Stroke{Ink: drawing.Select, Width: drawing.Medium}
	if g.Kind == SensorGrip {
		if !g.Is(o.Hover) && !g.Is(o.Held) {
			return // its disc is there to be taken hold of
		}
		l.Dot(g.At, 2*half, drawing.Fill{}, s)
		return
	}
	if g.Kind == ThingGrip && g.Point == WholeThing {
		l.Dot(g.At, thingRadius*half/gripHalf, fill, s)
		return
	}
	l.Square(g.At, half, fill, s)
}
