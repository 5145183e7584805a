package zones

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/sensing"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
)

// Place takes a point of the stair that belongs to a step to a scene: that of
// lights.Plan or of lights.Section.
type Place = lights.Place

const (
	discRadius = 2.1 // paper mm
	arrowLong  = 220 // scene mm
	fanEvery   = 0.25

	besideLetters = 4.5 // paper mm
)

// Draw adds the sensors of r to l, over a plan or a section.
func Draw(l *drawing.List, r *sensing.Result, place Place, o Options) {
	if r.Stair == nil || place == nil {
		return
	}
	p := &over{l: l, r: r, place: place, o: &o}
	for i := range r.Zones {
		p.fan(&r.Zones[i])
	}
	p.blind()
	for i := range r.Zones {
		p.lens(&r.Zones[i])
	}
	for _, g := range Grips(r, place, o) {
		drawGrip(l, g, &o)
	}
}

type over struct {
	l     *drawing.List
	r     *sensing.Result
	place Place
	o     *Options
}

// onLine returns where the middle of the walking lines is at a place along the
// flight.
func onLine(r *sensing.Result, place Place, along float64) drawing.Point {
	foot := r.Stair.Middle(along)
	return place(r.Stair.StepAt(along), foot)
}

// lensAt returns where a sensor's lens is in the scene.
func lensAt(r *sensing.Result, place Place, s *model.Sensor) drawing.Point {
	at, _ := r.Stair.Lens(s)
	if s.Mount.Beside() {
		return place(r.Stair.StepAt(s.Along), at)
	}
	return place(r.Stair.NearestStep(at), at)
}

// fan draws what a sensor is sure of on the walking line.
func (p *over) fan(z *sensing.Zone) {
	if !z.Settled() || z.SureAt.Len() <= 0 {
		return
	}
	chosen := z.Sensor == p.o.Chosen
	pts := []drawing.Point{lensAt(p.r, p.place, &z.From)}
	n := max(1, int(math.Ceil(z.SureAt.Len()/fanEvery)))
	for i := range n + 1 {
		pts = append(pts, onLine(p.r, p.place, z.SureAt.From+z.SureAt.Len()*float64(i)/float64(n)))
	}
	ink, width, spacing := drawing.Good, drawing.Thin, 3.2
	if chosen {
		ink, width, spacing = drawing.Select, drawing.Medium, 1.6
	}
	pattern := drawing.Diagonal
	if z.Sensor%2 == 1 { // neighbours can be told apart where they overlap
		pattern = drawing.BackDiagonal
	}
	p.l.Polygon(pts, drawing.Fill{Hatch: drawing.Hatch{Pattern: pattern, Spacing: spacing, Ink: ink}}, drawing.Stroke{Ink: ink, Width: width})
}

// blind writes where nobody is seen: at each such position, or once for
// neighbours whose words would run into each other.
func (p *over) blind() {
	room := drawing.TextWidth("blind ", small, true, false) / p.o.scale()
	for i := 0; i < len(p.r.Blind); {
		first := p.r.Blind[i]
		last := first
		at := onLine(p.r, p.place, sensing.Along(first))
		for i++; i < len(p.r.Blind) && p.r.Blind[i] == last+1; i++ {
			next := onLine(p.r, p.place, sensing.Along(last+1))
			if math.Abs(next.X-onLine(p.r, p.place, sensing.Along(last)).X) > room || p.o.Section {
				break
			}
			last++
		}
		if last > first {
			at = onLine(p.r, p.place, (sensing.Along(first)+sensing.Along(last))/2)
		}
		// Clear of what stands at the treads: in a section, of the rises as well.
		if p.o.Section {
			at.Y += 2.7 * besideLetters / p.o.scale()
		} else {
			at.Y -= besideLetters / p.o.scale()
		}
		p.l.Text(drawing.Text{At: at, String: "blind", Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Size: small, Ink: drawing.Bad, Bold: true, Halo: true})
	}
}

// lens draws a sensor: a disc with its number, and where it looks.
func (p *over) lens(z *sensing.Zone) {
	at := lensAt(p.r, p.place, &z.From)
	ink := drawing.Line
	switch {
	case z.Err != "":
		ink = drawing.Bad
	case z.Removed:
		ink = drawing.Soft
	case z.Sensor == p.o.Chosen:
		ink = drawing.Select
	}
	if z.Settled() {
		lens, _ := p.r.Stair.Lens(&z.From)
		step := p.r.Stair.StepAt(z.From.Along)
		if !z.From.Mount.Beside() {
			step = p.r.Stair.NearestStep(lens)
		}
		if to := p.place(step, lens.Add(z.Eye.Axis.Mul(arrowLong))); to.Sub(at).Len() > arrowLong/4 {
			p.l.Arrow(at, to, drawing.Stroke{Ink: ink, Width: drawing.Medium})
		}
	}
	stroke := drawing.Stroke{Ink: ink, Width: drawing.Medium}
	if z.Removed {
		stroke = drawing.Hidden(ink, drawing.Medium)
	}
	p.l.Dot(at, discRadius, drawing.Fill{Ink: drawing.Paper}, stroke)
	p.l.Text(drawing.Text{At: at, String: fmt.Sprint(z.Sensor + 1), Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Size: small, Ink: ink, Bold: true})
}

// Grips returns the sensors, and the ends of the chosen one's zone on the walking
// line.
func Grips(r *sensing.Result, place Place, o Options) []Grip {
	if !o.Grips || r.Stair == nil || place == nil {
		return nil
	}
	var out []Grip
	for i := range r.Zones {
		z := &r.Zones[i]
		out = append(out, Grip{Kind: SensorGrip, Sensor: i, At: lensAt(r, place, &z.From)})
		if i == o.Chosen && z.SureAt.Len() > 0 {
			out = append(out, Grip{Kind: LowerGrip, Sensor: i, At: onLine(r, place, z.SureAt.From)}, Grip{Kind: UpperGrip, Sensor: i, At: onLine(r, place, z.SureAt.To)})
		}
	}
	return out
}

// AlongOver returns the place along the flight of the walking line nearest to a
// scene point of a plan or section.
func AlongOver(r *sensing.Result, place Place, at drawing.Point) float64 {
	return nearest(r.Stair, at, func(along float64) drawing.Point { return onLine(r, place, along) })
}

// nearest returns the place along the flight whose point lies nearest to at: the
// best of a comb, then between its neighbours.
func nearest(st *sensing.Stair, at drawing.Point, point func(along float64) drawing.Point) float64 {
	const comb = 0.25
	best, along := math.Inf(1), 0.0
	try := func(x float64) {
		if d := point(x).Sub(at).Len(); d < best {
			best, along = d, x
		}
	}
	for x := -3.0; x <= float64(st.Risers)+2; x += comb {
		try(x)
	}
	for step := comb / 2; step > 0.002; step /= 2 {
		x := along
		try(x - step)
		try(x + step)
	}
	return along
}

// Move returns the edit that moves a sensor to a scene point of a plan or
// section. At a rail or on a wall it slides along it, in a section also up and
// down; any other goes where it is dragged, and keeps what the drawing does not
// show.
func Move(r *sensing.Result, place Place, g Grip, h handle.Options, inSection bool, at drawing.Point) model.Edit {
	s := r.Zones[g.Sensor].From
	e := model.MoveOf(s)
	if s.Mount.Beside() {
		e.Along = nearest(r.Stair, at, func(along float64) drawing.Point {
			t := s
			t.Along = along
			p := lensAt(r, place, &t)
			if inSection { // the height is another drag's
				p.Y = at.Y
			}
			return p
		})
		if inSection {
			t := s
			t.Along = e.Along
			rise := model.Length(at.Y - lensAt(r, place, &t).Y)
			if s.Mount.AtRail() {
				rise = -rise
			}
			e.Below = max(0, s.Below+rise)
		}
		return e
	}
	if !inSection {
		c := planned(&h, at)
		e.At.X, e.At.Y = c.X, c.Y
		return e
	}
	was := lensAt(r, place, &s)
	lens := mgl64.Vec3{float64(s.At.X), float64(s.At.Y), float64(s.At.Z)}
	step := r.Stair.NearestStep(lens)
	// a millimetre in plan each way says which way the section runs there
	dx := place(step, lens.Add(mgl64.Vec3{1, 0, 0})).X - was.X
	dy := place(step, lens.Add(mgl64.Vec3{0, 1, 0})).X - was.X
	if n := dx*dx + dy*dy; n > 0 {
		move := (at.X - was.X) / n
		e.At.X += model.Length(move * dx)
		e.At.Y += model.Length(move * dy)
	}
	e.At.Z = model.Length(at.Y)
	return e
}
