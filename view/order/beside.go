package order

import (
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/view/drawing"
	"risewright/view/section"
)

// newSectionPainter returns what draws a play from the right side, cut where
// the section is. The skirt at the left stands behind the cut, that at the
// right before it.
func newSectionPainter(l *drawing.List, play *Play, o *Options) *painter {
	short := *play
	short.Title, _, _ = strings.Cut(play.Title, ":")
	play = &short
	p := &painter{l: l, play: play, o: o, k: o.PaperScale()}
	stations := section.Stations(play.Answer, *o)
	station := func(step int, v mgl64.Vec3) *section.Station {
		if step >= 1 && step <= len(stations) {
			return &stations[step-1]
		}
		best, near := 0, math.Inf(1)
		for i := range stations {
			if d := v.Vec2().Sub(stations[i].At).Len(); d < near {
				best, near = i, d
			}
		}
		return &stations[best]
	}
	along := func(s *section.Station, v mgl64.Vec3) drawing.Point {
		return drawing.Point{X: s.Nose + v.Vec2().Sub(s.At).Dot(s.Way), Y: v[2]}
	}
	if len(stations) == 0 {
		stations = []section.Station{{Way: mgl64.Vec2{0, 1}}}
	}
	p.place = func(step int, v mgl64.Vec3) drawing.Point { return along(station(step, v), v) }
	p.turn = func(step int, at, d mgl64.Vec3) drawing.Point {
		return drawing.Point{X: d.Vec2().Dot(station(step, at).Way), Y: d[2]}
	}
	p.outlines = func(t *fitting.Task) [][]drawing.Point {
		if b := play.board(t); b != nil {
			out := make([]drawing.Point, len(b.Outline))
			for i, q := range b.Outline {
				out[i] = p.place(0, b.ToStair(q))
			}
			return [][]drawing.Point{out}
		}
		if t.Kind == fitting.Skirt && t.InPlace {
			if band := p.kept(t, stations); band != nil {
				return [][]drawing.Point{band}
			}
		}
		var out [][]drawing.Point
		for i := range t.Shape {
			s := &t.Shape[i]
			var mid mgl64.Vec3
			for _, v := range s.Verts {
				mid = mid.Add(v.Mul(1 / float64(len(s.Verts))))
			}
			at := station(t.Step, mid)
			p.room = p.room[:0]
			if t.Kind != fitting.Skirt {
				p.cut(s, at, along)
			}
			if len(p.room) < 3 { // not cut there: seen from the side
				p.room = p.room[:0]
				for _, v := range s.Verts {
					p.room = append(p.room, along(at, v))
				}
			}
			if pts := p.hull.of(p.room); len(pts) > 1 {
				out = append(out, append([]drawing.Point(nil), pts...))
			}
		}
		return out
	}
	p.edges = func(t *fitting.Task) []drawnEdge { return p.seen(t) }
	p.level = func(t *fitting.Task) float64 {
		if t.Kind == fitting.Skirt {
			return -1
		}
		if len(t.Shape) == 0 {
			return 1
		}
		return 0
	}
	p.open = func(t *fitting.Task) bool { return t.Kind == fitting.Skirt && t.Side == pieces.Right }
	p.extra = p.reveal
	p.stand = func(t *fitting.Task) (a, b drawing.Point) {
		tread := func(i int) drawing.Point {
			x := drawing.Point{X: stations[i].Nose}
			if bu := play.Answer.Buildup.Steps; i < len(bu) {
				x.Y = bu[i].NewTop.Mean()
			}
			return x
		}
		i := t.Step - 1
		if i < 0 || i >= len(stations) {
			return tread(0), tread(len(stations) - 1)
		}
		under := float64(play.Answer.Job.TreadThickness(i))
		at := tread(i)
		if t.Sided { // along one end of the tread
			end := at
			if i+1 < len(stations) {
				end.X = stations[i+1].Nose
			}
			return at, end
		}
		at = at.Add(drawing.Point{X: float64(play.Answer.Job.Overlay.Overhang) / 3, Y: -under})
		return at, at.Add(drawing.Point{X: float64(play.Answer.Job.Overlay.Overhang) / 2})
	}
	lo, hi := l.Bounds()
	p.note = drawing.Point{X: lo.X, Y: hi.Y + p.paper(4)}
	return p
}

// cut collects the points in which the plane of the section meets a solid.
func (p *painter) cut(s *pieces.Solid, at *section.Station, along func(*section.Station, mgl64.Vec3) drawing.Point) {
	across := mgl64.Vec2{at.Way[1], -at.Way[0]}
	side := func(v mgl64.Vec3) float64 { return v.Vec2().Sub(at.At).Dot(across) }
	for i := range s.Faces {
		loop := s.Faces[i].Loop
		for k, n := range loop {
			a, b := s.Verts[n], s.Verts[loop[(k+1)%len(loop)]]
			da, db := side(a), side(b)
			if (da > 0) == (db > 0) {
				continue
			}
			p.room = append(p.room, along(at, a.Add(b.Sub(a).Mul(da/(da-db)))))
		}
	}
}

// reveal draws how much is left to be seen of the piece that is being placed.
func (p *painter) reveal(t *fitting.Task) {
	if t.RevealBy <= 0 || len(t.Shape) == 0 {
		return
	}
	label := drawing.Text{Size: wordSize, String: p.o.Length(t.RevealBy)}
	parts := p.outlines(t)
	if len(parts) == 0 {
		return
	}
	pts := parts[0]
	lo, hi := pts[0], pts[0]
	for _, q := range pts {
		lo = drawing.Point{X: math.Min(lo.X, q.X), Y: math.Min(lo.Y, q.Y)}
		hi = drawing.Point{X: math.Max(hi.X, q.X), Y: math.Max(hi.Y, q.Y)}
	}
	switch t.Kind {
	case fitting.Tread, fitting.Landing: // the nose past the riser's face
		a := drawing.Point{X: lo.X, Y: lo.Y}
		p.text.Dimension(a, a.Add(drawing.Point{X: t.RevealBy}), -5, label, revealLine)
	case fitting.Riser: // its top below the tread's underside
		a := drawing.Point{X: lo.X, Y: hi.Y}
		p.text.Dimension(a, a.Add(drawing.Point{Y: t.RevealBy}), 4, label, revealLine)
	case fitting.Skirt: // its top edge over the nose, square to the pitch
		steps := p.play.Answer.Buildup.Steps
		if i := len(steps) / 2; i > 0 && p.play.Answer.Buildup.Pitch.At > 0 {
			s := section.Stations(p.play.Answer, *p.o)[i]
			nose := drawing.Point{X: s.Nose, Y: steps[i].NewTop.Mean()}
			sin, cos := math.Sincos(p.play.Answer.Buildup.Pitch.At)
			p.text.Dimension(nose, nose.Add(drawing.Point{X: -sin, Y: cos}.Mul(t.RevealBy)), 4, label, revealLine)
		}
	}
}

// seen returns the scribed edges that a section shows: those of a skirt, and of
// boards those that are not turned towards the eye.
func (p *painter) seen(t *fitting.Task) []drawnEdge {
	if b := p.play.board(t); b != nil {
		if len(t.Scribe) == 0 {
			return nil
		}
		var out []drawnEdge
		for i := range b.Cuts {
			c := &b.Cuts[i]
			if c.Hidden || c.Meets == "" {
				continue
			}
			line := make([]drawing.Point, len(c.Line))
			for k, q := range c.Line {
				line[k] = p.place(0, b.ToStair(q))
			}
			out = append(out, drawnEdge{line: line})
		}
		if len(out) > 0 { // one name stands for all
			out[len(out)/2].other = "every step"
		}
		return out
	}
	if t.Kind == fitting.Skirt {
		return nil
	}
	var es []edge
	for _, e := range scribed(p.play.Order, t) {
		if e.face.Part != pieces.LeftEnd && e.face.Part != pieces.RightEnd {
			es = append(es, e)
		}
	}
	return p.facets(es, t.Step)
}

// keptMargin is how far a kept skirt is drawn over the noses, mm, where it was
// not measured: its place is not known, only that it is there.
const keptMargin = 60.0

// kept returns a kept skirt: a straight edge over the noses, and below it what
// the finished steps leave to be seen.
func (p *painter) kept(t *fitting.Task, stations []section.Station) []drawing.Point {
	steps := p.play.Answer.Buildup.Steps
	n := len(stations)
	if len(steps) != n || n < 2 {
		return nil
	}
	w := p.play.Answer.Job.Wishes.Left
	if t.Side == pieces.Right {
		w = p.play.Answer.Job.Wishes.Right
	}
	margin := func(l model.Length) float64 {
		if l > 0 {
			return float64(l)
		}
		return keptMargin
	}
	sin, cos := math.Sincos(p.play.Answer.Buildup.Pitch.At)
	over := func(i int, m float64) drawing.Point {
		return drawing.Point{X: stations[i].Nose - sin*m, Y: steps[i].OldTop.Mean() + cos*m}
	}
	var out []drawing.Point
	out = append(out, over(0, margin(w.MarginFirst)))
	if y := steps[0].OldTop.Mean(); y > 0 { // down to the floor
		out = append(out, drawing.Point{X: out[0].X}, drawing.Point{X: stations[0].Nose})
	}
	for i := range stations {
		out = append(out, drawing.Point{X: stations[i].Nose, Y: steps[i].OldTop.Mean()})
		if i+1 < n {
			out = append(out, drawing.Point{X: stations[i+1].Nose, Y: steps[i].OldTop.Mean()})
		}
	}
	return append(out, over(n-1, margin(w.MarginLast)))
}
