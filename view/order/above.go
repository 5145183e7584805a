package order

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// newPlanPainter returns what draws a play from above.
func newPlanPainter(l *drawing.List, play *Play, o *Options) *painter {
	p := &painter{l: l, play: play, o: o, k: o.PaperScale()}
	p.place = func(_ int, v mgl64.Vec3) drawing.Point { return o.Turn(v.Vec2()) }
	p.turn = func(_ int, _, d mgl64.Vec3) drawing.Point { return o.Turn(d.Vec2()) }
	p.outlines = func(t *fitting.Task) [][]drawing.Point {
		if t.InPlace { // the plan of what was there shows it
			return nil
		}
		var out [][]drawing.Point
		add := func() {
			if pts := p.hull.of(p.room); len(pts) > 1 {
				out = append(out, append([]drawing.Point(nil), pts...))
			}
		}
		if b := play.board(t); b != nil {
			p.room = p.room[:0]
			for _, q := range b.Outline {
				for _, deep := range [2]float64{0, -b.Thickness} {
					v := mgl64.TransformCoordinate(q.Vec3(deep), b.Frame)
					p.room = append(p.room, o.Turn(v.Vec2()))
				}
			}
			add()
			return out
		}
		for i := range t.Shape {
			p.room = p.room[:0]
			for _, v := range t.Shape[i].Verts {
				p.room = append(p.room, o.Turn(v.Vec2()))
			}
			add()
		}
		return out
	}
	p.edges = func(t *fitting.Task) []drawnEdge {
		if t.Kind == fitting.Skirt { // its lines are seen from the side
			return nil
		}
		return p.facets(scribed(play.Order, t), t.Step)
	}
	p.level = topOf
	p.open = func(*fitting.Task) bool { return false }
	steps := handle.Steps(play.Answer)
	p.stand = func(t *fitting.Task) (a, b drawing.Point) {
		if len(steps) == 0 {
			return
		}
		side := func(i int, f float64) drawing.Point {
			s := &steps[i]
			return o.Turn(s.Corners[s.FL].Add(s.Corners[s.FR].Sub(s.Corners[s.FL]).Mul(f)))
		}
		at, off := 0.5, 0.03
		if t.Sided {
			at = off
			if t.Side == pieces.Right {
				at = 1 - off
			}
		}
		i := t.Step - 1
		switch {
		case i < 0 || i >= len(steps): // along the flight
			return side(0, at), side(len(steps)-1, at)
		case t.Sided: // at one end of a step
			s := &steps[i]
			back := s.Corners[s.BL]
			if t.Side == pieces.Right {
				back = s.Corners[s.BR]
			}
			return side(i, at), o.Turn(back).Add(side(i, 0.5).Sub(side(i, at)).Mul(2 * off))
		}
		return side(i, off), side(i, 1-off)
	}
	if len(steps) > 0 {
		s := &steps[0]
		lo, _ := l.Bounds()
		p.note = drawing.Point{X: lo.X, Y: o.Turn(s.Corners[s.FL]).Y + p.paper(6)}
	}
	return p
}

// topOf returns the height of a piece's top.
func topOf(t *fitting.Task) float64 {
	top := math.Inf(-1)
	for i := range t.Shape {
		for _, v := range t.Shape[i].Verts {
			top = math.Max(top, v[2])
		}
	}
	if len(t.Shape) == 0 {
		return math.Inf(1)
	}
	return top
}

// board returns the drawn board of a skirt that is fitted, or nil.
func (p *Play) board(t *fitting.Task) *skirt.Board {
	if t.Kind != fitting.Skirt || t.InPlace || t.Side < 0 || int(t.Side) >= len(p.Boards) {
		return nil
	}
	return p.Boards[t.Side]
}
