package handle

import "risewright/view/drawing"

// fitMargin is kept free round a fitted drawing, in paper mm.
const fitMargin = 2.5

// Fit returns the viewport in which what draw puts into a list at a scale of
// paper mm per scene mm just fills width by height pixels; paper is pixels per
// paper mm. Lettering does not grow with the scale, so the fit is found by
// trying: what sticks out is measured at the last scale and allowed for at the
// next, which settles in three rounds.
func Fit(draw func(l *drawing.List, scale float64), width, height, paper float64) drawing.Viewport {
	var l drawing.List
	scale := defaultScale
	v := drawing.Viewport{Scale: scale * paper, Paper: paper}
	for range 4 {
		l.Reset()
		draw(&l, scale)
		min, max := l.Extent(drawing.Scale(scale, scale))
		v.Origin = drawing.Point{
			X: (width - (max.X+min.X)*paper) / 2,
			Y: (height + (max.Y+min.Y)*paper) / 2,
		}
		v.Scale = scale * paper
		lo, hi := l.Bounds()
		wide, high := (hi.X-lo.X)*scale, (hi.Y-lo.Y)*scale
		if wide <= 0 && high <= 0 {
			return v
		}
		freeX := width/paper - 2*fitMargin - (max.X - min.X - wide)
		freeY := height/paper - 2*fitMargin - (max.Y - min.Y - high)
		by := 1e9
		if wide > 0 {
			by = freeX / wide
		}
		if high > 0 && freeY/high < by {
			by = freeY / high
		}
		if by < 0.05 { // lettering alone fills the view: show the shape as small as it gets
			by = 0.05
		}
		scale *= by
	}
	return v
}
