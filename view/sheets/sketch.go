package sheets

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/view/drawing"
)

// The room round the outline in a step's sketch, in mm.
const (
	sketchSide = 9.0
	sketchTop  = 7.0
	sketchLow  = 13.0
)

// turnedBeyond is how far a nose line must be turned, rad, for a sketch to be
// turned with it: an out of square nose shows as it is.
const turnedBeyond = 10 * math.Pi / 180

// ahead returns the corners of an opening as seen by one who walks up it: turned
// so that the nose line from corner fl to fr runs from left to right, when it
// does not nearly so already.
func ahead(cs []model.Corner, fl, fr int) []model.Corner {
	dx, dy := float64(cs[fr].X-cs[fl].X), float64(cs[fr].Y-cs[fl].Y)
	turn := math.Atan2(dy, dx)
	if math.Abs(turn) < turnedBeyond {
		return cs
	}
	sin, cos := math.Sincos(-turn)
	out := make([]model.Corner, len(cs))
	for i, c := range cs {
		x, y := float64(c.X), float64(c.Y)
		out[i] = model.Corner{X: model.Length(x*cos - y*sin), Y: model.Length(x*sin + y*cos)}
	}
	return out
}

// sketch draws the opening of step i in plan, walking up the page, with the
// number of each reading where it is taken. Its shape is the step's, stretched
// to fill the room; sizes are not to scale.
func (s *surveyor) sketch(i int, x, y, w, h float64) {
	st := &s.job.Flight.Steps[i]
	area := struct{ x, y, w, h float64 }{x + sketchSide, y + sketchTop, w - 2*sketchSide, h - sketchTop - sketchLow}
	fl, fr, br, bl := st.FrontLeft(), st.FrontRight(), st.BackRight(), st.BackLeft()
	if fl < 0 || br < 0 || len(st.Corners) < model.MinCorners {
		return // the job did not validate; the boxes are still there
	}
	// In a flight that turns the page turns with the step.
	corners := ahead(st.Corners, fl, fr)
	lo, hi := corners[0], corners[0]
	for _, c := range corners {
		lo.X, lo.Y = min(lo.X, c.X), min(lo.Y, c.Y)
		hi.X, hi.Y = max(hi.X, c.X), max(hi.Y, c.Y)
	}
	sx, sy := area.w/math.Max(float64(hi.X-lo.X), 1), area.h/math.Max(float64(hi.Y-lo.Y), 1)
	place := func(c model.Corner) drawing.Point {
		return s.at(area.x+float64(c.X-lo.X)*sx, area.y+area.h-float64(c.Y-lo.Y)*sy)
	}
	pts := make([]drawing.Point, len(corners))
	for n, c := range corners {
		pts[n] = place(c)
	}
	l := s.list()
	thin := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Fine}
	l.Polygon(pts, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium})
	FL, FR, BR, BL := pts[fl], pts[fr], pts[br], pts[bl]
	on := func(u, v float64) drawing.Point { // u from left to right, v from back to front
		back := BL.Add(BR.Sub(BL).Mul(u))
		front := FL.Add(FR.Sub(FL).Mul(u))
		return back.Add(front.Sub(back).Mul(v))
	}
	off := func(p drawing.Point, dx, dy float64) drawing.Point { return p.Add(drawing.Point{X: dx, Y: dy}) }
	l.Line(on(0, 0.5), on(1, 0.5), drawing.Hidden(drawing.Soft, drawing.Fine))
	l.Line(BL, FR, thin)
	l.Line(BR, FL, thin)
	l.Line(FL, FR, drawing.Stroke{Ink: drawing.Line, Width: drawing.Heavy})

	// Rises and goings leave the opening towards the step below.
	low := -6.6
	for _, c := range [2]drawing.Point{FL, FR} {
		dx := -5.2
		if c == FR {
			dx = 5.2
		}
		l.Arrow(off(c, dx, -0.8), off(c, dx, low), thin)
	}
	if i > 0 {
		l.Arrow(on(0.22, 1), off(on(0.22, 1), 0, low), thin)
		l.Arrow(on(0.78, 1), off(on(0.78, 1), 0, low), thin)
	}
	// Leans: a short stroke beside each side, opening outwards going up.
	for _, v := range [2]float64{-1, 1} {
		p := off(on((v+1)/2, 0.66), v*5.2, 0)
		l.Line(off(p, -v*1.2, -3.6), off(p, v*1.2, 3.6), drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin})
	}
	// Tilts: one arrow across, one fore and aft.
	l.Arrow(on(0.26, 0.72), on(0.47, 0.72), thin)
	l.Arrow(on(0.60, 0.86), on(0.60, 0.58), thin)

	where := map[model.Kind]drawing.Point{
		model.BackWidth: on(0.5, 0), model.MiddleWidth: on(0.5, 0.5), model.FrontWidth: on(0.5, 1),
		model.GaugeBackLeft: off(BL, 3.4, -2.8), model.GaugeBackRight: off(BR, -3.4, -2.8),
		model.GaugeFrontLeft: off(FL, 3.4, 3.2), model.GaugeFrontRight: off(FR, -3.4, 3.2),
		model.LeftDepth: on(0, 0.34), model.RightDepth: on(1, 0.34),
		model.DiagonalLeft: on(0.29, 0.29), model.DiagonalRight: on(0.71, 0.29),
		model.LeanLeft: off(on(0, 0.66), -5.2, 0), model.LeanRight: off(on(1, 0.66), 5.2, 0),
		model.RiseLeft: off(FL, -5.2, low/2), model.RiseRight: off(FR, 5.2, low/2),
		model.GoingLeft: off(on(0.22, 1), 0, low/2-0.4), model.GoingRight: off(on(0.78, 1), 0, low/2-0.4),
		model.TiltAcross: on(0.365, 0.72), model.TiltFore: on(0.60, 0.74),
	}
	latestOf := func(k model.Kind) bool {
		r, _ := latest(st.Readings, k)
		if r == nil {
			return false
		}
		_, bad := s.retake[r.ID]
		return bad
	}
	for n, k := range model.StepKinds() {
		if i == 0 && (k == model.GoingLeft || k == model.GoingRight) {
			continue
		}
		p := where[k]
		s.disc(p.X, s.height-p.Y, fmt.Sprint(n+1), latestOf(k))
	}
	mid := x + w/2
	s.text(mid, y+3.6, w-2, "back: riser face", letter{size: 2.8, align: drawing.AlignMiddle})
	s.text(mid, y+h-4.6, w-24, "front: new nose line", letter{size: 2.8, align: drawing.AlignMiddle})
	s.text(mid, y+h-1.4, w-2, "walking up ↑  not to scale", letter{size: 2.6, align: drawing.AlignMiddle, ink: drawing.LetterSoft})
	s.text(x+1, y+3.6, 0, "LEFT", letter{size: 3.2, bold: true})
	s.text(x+w-1, y+3.6, 0, "RIGHT", letter{size: 3.2, bold: true, align: drawing.AlignEnd})
}
