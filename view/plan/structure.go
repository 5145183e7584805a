package plan

import (
	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Sizes in stair millimetres of what is only hinted at.
const (
	floorShown  = 260 // how much of each floor is drawn beyond the flight
	wallShown   = 70  // thickness of a wall
	skirtShown  = 16  // and of a skirt
	floorBeyond = 110 // of the top floor behind the landing nosing
)

// Lines of the plan.
var (
	noseLine  = drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium}
	riserFace = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin, Dash: []float64{1.4, 0.9}}
	thinLine  = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin}
	fineLine  = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Fine}
)

// floors draws a strip of the bottom and of the top floor.
func (p *painter) floors() {
	n := len(p.steps) - 1
	ground := drawing.Fill{Ink: drawing.Ground}
	strip := func(a, b, out drawing.Point) {
		p.room = append(p.room[:0], a, b, b.Add(out), a.Add(out))
		p.l.Polygon(p.room, ground, drawing.Stroke{})
		p.l.Line(a.Add(out), b.Add(out), fineLine)
	}
	first, last := &p.steps[0], &p.steps[n]
	strip(p.corner(0, first.FL), p.corner(0, first.FR), p.up(0).Mul(-floorShown))
	strip(p.corner(n, last.BL), p.corner(n, last.BR), p.up(n).Mul(floorBeyond))
}

// sides draws what the steps meet at their left and right, in one band as long
// as the kind of side stays the same.
func (p *painter) sides() {
	for _, e := range [2]model.Edge{model.Left, model.Right} {
		line := p.room[:0]
		for i := range p.steps {
			line = p.sideLine(line, i, e)
			if i+1 < len(p.steps) && p.kindOf(i+1, e) == p.kindOf(i, e) {
				continue
			}
			p.room = p.band(line, e, p.kindOf(i, e))
			line = p.room[:0]
		}
	}
}

// band draws one side along line, which goes up the flight, and returns the
// storage it used.
func (p *painter) band(line []drawing.Point, e model.Edge, kind model.SideKind) []drawing.Point {
	if len(line) < 2 || kind == model.Open {
		return line
	}
	thick := float64(wallShown)
	if kind == model.Skirt {
		thick = skirtShown
	}
	out := 1.0 // to the left of the way up
	if e == model.Right {
		out = -1
	}
	n := len(line)
	for k := n - 1; k >= 0; k-- {
		a, b := line[max(0, k-1)], line[min(n-1, k+1)]
		line = append(line, line[k].Add(leftOf(unit(b.Sub(a))).Mul(out*thick)))
	}
	if kind == model.Skirt {
		p.l.Polygon(line, drawing.Fill{Ink: drawing.Wall}, drawing.Stroke{})
		p.l.Polyline(line[n:], false, thinLine)
		return line
	}
	p.l.Polygon(line, drawing.Fill{Ink: drawing.Wall, Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 1.5}}, drawing.Stroke{})
	return line
}

// sideLine appends the corners along one side of step i going up, without the
// one where the next nose begins.
func (p *painter) sideLine(line []drawing.Point, i int, e model.Edge) []drawing.Point {
	s := &p.steps[i]
	n := len(s.Corners)
	c, end, by := s.FL, s.BL, n-1
	if e == model.Right {
		c, end, by = s.FR, s.BR, 1
	}
	for ; c != end; c = (c + by) % n {
		line = append(line, p.corner(i, c))
	}
	if i == len(p.steps)-1 || p.kindOf(i+1, e) != p.kindOf(i, e) {
		line = append(line, p.corner(i, end))
	}
	return line
}

func (p *painter) kindOf(i int, e model.Edge) model.SideKind {
	side, _ := p.job.Flight.Steps[i].SideOf(e)
	return side.Kind
}

// treads draws the openings from the bottom up, each nose over the tread below.
func (p *painter) treads() {
	for i := range p.steps {
		s := &p.steps[i]
		fill := drawing.Wood
		if i == len(p.steps)-1 {
			fill = drawing.WoodDark
		}
		if p.pieceOf(i, p.o.Piece) && !p.job.Flight.Steps[i].Landing {
			fill = drawing.SelectWash
		}
		if p.round(i, fill) {
			continue
		}
		p.l.Polygon(p.open[i], drawing.Fill{Ink: fill}, drawing.Stroke{})
		p.landingNosing(i)
		for c, e := range p.job.Flight.Steps[i].Edges {
			d := (c + 1) % len(s.Corners)
			switch e {
			case model.Front:
				p.l.Line(p.corner(i, c), p.corner(i, d), noseLine)
			case model.Left, model.Right:
				side, _ := p.job.Flight.Steps[i].SideOf(e)
				stroke := thinLine
				switch side.Kind {
				case model.Wall:
					stroke = noseLine
				case model.Skirt:
					stroke.Ink = drawing.Line
				}
				p.l.Line(p.corner(i, c), p.corner(i, d), stroke)
			case model.Back:
				if i == len(p.steps)-1 {
					p.l.Line(p.corner(i, c), p.corner(i, d), thinLine)
				}
			}
		}
	}
}

// pieceOf says whether id names the tread board of step i.
func (p *painter) pieceOf(i int, id string) bool {
	if id == "" {
		return false
	}
	k := p.a.Piece(id)
	return k >= 0 && p.a.Pieces[k].Step == i+1 && p.a.Pieces[k].Kind != "riser"
}

// risers draws the faces of the existing risers, which the treads above hide.
func (p *painter) risers() {
	for i := range p.steps[:len(p.steps)-1] {
		s := &p.steps[i]
		p.l.Line(p.corner(i, s.BL), p.corner(i, s.BR), riserFace)
	}
	if p.o.Piece == "" {
		return
	}
	// A chosen riser board shows as a bar under the nose.
	k := p.a.Piece(p.o.Piece)
	if k < 0 || p.a.Pieces[k].Kind != "riser" || p.a.Pieces[k].Step > len(p.steps) {
		return
	}
	i := p.a.Pieces[k].Step - 1
	back := p.up(i).Mul(float64(p.job.Overlay.Overhang + p.job.Overlay.Riser/2))
	s := &p.steps[i]
	p.l.Line(p.corner(i, s.FL).Add(back), p.corner(i, s.FR).Add(back), drawing.Stroke{Ink: drawing.Select, Width: drawing.Heavy})
}

// chosen outlines the chosen step and points at it from outside the flight.
func (p *painter) chosen() {
	i := p.chosenStep()
	if i < 0 {
		return
	}
	p.l.Polygon(p.open[i], drawing.Fill{}, drawing.Stroke{Ink: drawing.Select, Width: drawing.Heavy})
	// On the left, where the figure of a depth stands beyond its line.
	at := p.middle(i, 0)
	out := unit(at.Sub(p.middle(i, 1)))
	if p.job.Flight.Steps[i].Landing || len(p.open[i]) > 4 {
		at, out = p.beside(i)
	}
	tip := at.Add(out.Mul(p.thickness(i, model.Left) + p.paper(0.7)))
	base := tip.Add(out.Mul(p.paper(2.6)))
	w := leftOf(out).Mul(p.paper(1.6))
	p.room = append(p.room[:0], tip, base.Add(w), base.Sub(w))
	p.l.Polygon(p.room, drawing.Fill{Ink: drawing.Select}, drawing.Stroke{})
}

// thickness returns how thick a side of step i is drawn.
func (p *painter) thickness(i int, e model.Edge) float64 {
	switch p.kindOf(i, e) {
	case model.Wall:
		return wallShown
	case model.Skirt:
		return skirtShown
	}
	return 0
}

// walkingAt is where the direction arrow runs, as a part of the way from left
// to right.
const walkingAt = 0.8

// walkingLine draws the arrow that points up the flight.
func (p *painter) walkingLine() {
	n := len(p.steps) - 1
	line := p.room[:0]
	line = append(line, p.across(0, walkingAt).Sub(p.up(0).Mul(floorShown*0.45)))
	for i := 0; i <= n; i++ {
		if i > 0 && p.job.Flight.Steps[i-1].Landing {
			line = p.overLanding(line, i-1)
		}
		line = append(line, p.across(i, walkingAt))
	}
	p.room = line
	s := drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin}
	p.l.Polyline(line[:len(line)-1], false, s)
	p.l.Arrow(line[len(line)-2], line[len(line)-1], s)
	p.l.Dot(line[0], 0.8, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
}

// handles draws the handles of the chosen step and the one under the pointer.
func (p *painter) handles() {
	if !p.o.Handles {
		return
	}
	var hs []handle.Handle
	chosen := p.chosenStep()
	if chosen >= 0 {
		hs = p.stepHandles(hs, chosen)
	}
	for _, id := range [2]handle.ID{p.o.Hover, p.o.Held} {
		if i := id.Step - 1; i >= 0 && i < len(p.steps) && i != chosen {
			for _, h := range p.stepHandles(nil, i) {
				if h.ID == id {
					hs = append(hs, h)
				}
			}
		}
	}
	handle.DrawHandles(p.l, hs, p.o)
}

// stepHandles appends the handles of step i: sides and nosing line first, so
// that a corner wins where they lie close.
func (p *painter) stepHandles(dst []handle.Handle, i int) []handle.Handle {
	s := &p.steps[i]
	add := func(id handle.ID, at drawing.Point) {
		dst = append(dst, p.make.Make(id, at))
	}
	chord := func(a, b int, f float64) drawing.Point { return lerp(p.corner(i, a), p.corner(i, b), f) }
	if s.FL != s.BL {
		add(handle.ID{Kind: handle.SideLine, Step: i + 1, Side: model.Left}, p.onSide(i, s.BL, s.FL))
	}
	if s.FR != s.BR {
		add(handle.ID{Kind: handle.SideLine, Step: i + 1, Side: model.Right}, p.onSide(i, s.FR, s.BR))
	}
	if s.FL != s.FR {
		add(handle.ID{Kind: handle.NosingLine, Step: i + 1}, chord(s.FL, s.FR, 0.5))
	}
	if i == len(p.steps)-1 {
		add(handle.ID{Kind: handle.LandingDepth, Step: i + 1}, chord(s.BL, s.BR, 0.5))
	}
	for c := range s.Corners {
		add(handle.ID{Kind: handle.Corner, Step: i + 1, Corner: c}, p.corner(i, c))
	}
	return dst
}

// onSide returns the middle of the longest edge from one corner of step i round
// to another.
func (p *painter) onSide(i, from, to int) drawing.Point {
	n := len(p.open[i])
	var at drawing.Point
	longest := -1.0
	for c := from; c != to; c = (c + 1) % n {
		a, b := p.corner(i, c), p.corner(i, (c+1)%n)
		if d := b.Sub(a).Len(); d > longest+1e-6 { // the first of equals
			longest, at = d, lerp(a, b, 0.5)
		}
	}
	return at
}
