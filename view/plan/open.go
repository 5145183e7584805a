package plan

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/view/drawing"
)

// outline appends the face of a board, in the scene, to dst.
func (p *painter) outline(dst []drawing.Point, b *pieces.Piece) []drawing.Point {
	for _, q := range b.Face {
		dst = append(dst, p.o.Turn(mgl64.TransformCoordinate(q.Vec3(0), b.Frame).Vec2()))
	}
	return dst
}

// hasOpenEnd says whether the tread of step i runs past an open side with a
// return or a round corner.
func (p *painter) hasOpenEnd(i int) bool {
	s := &p.job.Flight.Steps[i]
	return s.Left.MitredReturn() || s.Right.MitredReturn() || s.RoundLeft > 0 || s.RoundRight > 0
}

// trueToShape says whether boards can be drawn where they lie: not where the
// openings are shown more out of square than they are.
func (p *painter) trueToShape() bool { return p.o.Factor() == 1 }

// beyond draws the treads that run past an open side, under their openings.
func (p *painter) beyond() {
	if !p.trueToShape() {
		return
	}
	for n := range p.a.Pieces {
		b := &p.a.Pieces[n]
		i := b.Step - 1
		if b.Kind != pieces.Tread || b.Impossible != "" || i < 0 || i >= len(p.steps) || !p.hasOpenEnd(i) {
			continue
		}
		p.room = p.outline(p.room[:0], b)
		p.l.Polygon(p.room, drawing.Fill{Ink: drawing.Wood}, thinLine)
	}
}

// round draws the tread of a step whose front corners are round, as the board
// it will be, and says whether it has.
func (p *painter) round(i int, fill drawing.Ink) bool {
	s := &p.job.Flight.Steps[i]
	if !p.trueToShape() || s.RoundLeft == 0 && s.RoundRight == 0 || 2*i+1 >= len(p.a.Pieces) {
		return false
	}
	b := &p.a.Pieces[2*i+1]
	if b.Impossible != "" || len(b.Face) == 0 {
		return false
	}
	p.room = p.outline(p.room[:0], b)
	p.l.Polygon(p.room, drawing.Fill{Ink: fill}, drawing.Stroke{})
	p.l.Polyline(p.room, true, thinLine)
	// the nose, from where it leaves one side to where it meets the other
	n := len(p.room)
	line := make([]drawing.Point, 0, n)
	for k := range n {
		if b.Solid.Faces[2+k].Part == pieces.Nose {
			line = append(line, p.room[k])
			if b.Solid.Faces[2+(k+1)%n].Part != pieces.Nose {
				line = append(line, p.room[(k+1)%n])
			}
		}
	}
	p.l.Polyline(line, false, noseLine)
	return true
}

// returns draws the return nosings, whose mitres show.
func (p *painter) returns() {
	if !p.trueToShape() {
		return
	}
	for n := range p.a.Pieces {
		b := &p.a.Pieces[n]
		if b.Kind != pieces.ReturnNosing || b.Impossible != "" {
			continue
		}
		fill := drawing.Fill{Ink: drawing.WoodDark}
		if b.ID == p.o.Piece {
			fill.Ink = drawing.SelectWash
		}
		p.room = p.outline(p.room[:0], b)
		p.l.Polygon(p.room, fill, thinLine)
	}
}

// barShown is the radius a baluster is drawn with, mm: half of a usual bar.
const barShown = 16

// balusters draws the bars of open sides where they stand.
func (p *painter) balusters() {
	if !p.trueToShape() {
		return
	}
	for n := range p.a.Balusters {
		b := &p.a.Balusters[n]
		// it stands on the tread, within its side
		in := 1.0
		if b.Side == model.Right {
			in = -1
		}
		across := p.o.Turn(p.acrossWay(b.Step - 1)).Mul(in * barShown)
		p.l.Circle(p.o.Turn(b.Foot.Vec2()).Add(across), barShown, drawing.Fill{Ink: drawing.Paper}, thinLine)
	}
}

// acrossWay returns the unit direction of the nose line of step i, to the right.
func (p *painter) acrossWay(i int) mgl64.Vec2 {
	s := &p.steps[i]
	return s.Corners[s.FR].Sub(s.Corners[s.FL]).Normalize()
}
