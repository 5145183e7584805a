package handle

import (
	"risewright/model"
	"risewright/view/drawing"
)

// Sizes of handles in paper mm.
const (
	gripHalf  = 1.15 // half a corner's square
	lineRound = 1.05 // radius of the others
	hoverMore = 0.45 // larger under the pointer
)

// DrawHandles draws hs at scale paper mm per scene mm. A free corner is a
// square, any other free handle a disc; a held one wears a lock.
func DrawHandles(l *drawing.List, hs []Handle, o *Options) {
	for i := range hs {
		h := &hs[i]
		hot := h.ID == o.Hover || h.ID == o.Held
		ink, fill, width, more := drawing.Select, drawing.Paper, drawing.Medium, 0.0
		if len(h.Held) > 0 {
			ink = drawing.Hold
		}
		if hot {
			width, more = drawing.Thick, hoverMore
			fill = drawing.SelectWash
			if len(h.Held) > 0 {
				fill = drawing.HoldWash
			}
		}
		stroke := drawing.Stroke{Ink: ink, Width: width}
		switch {
		case len(h.Held) > 0:
			lock(l, h.At, o.PaperScale(), 1+more/2, drawing.Fill{Ink: fill}, stroke)
		case h.ID.Kind == Corner:
			l.Square(h.At, gripHalf+more, drawing.Fill{Ink: fill}, stroke)
		default:
			l.Dot(h.At, lineRound+more, drawing.Fill{Ink: fill}, stroke)
		}
	}
}

// lock draws a padlock: a ring, and a filled body over its lower half.
func lock(l *drawing.List, at drawing.Point, scale, size float64, f drawing.Fill, s drawing.Stroke) {
	l.Dot(at.Add(drawing.Point{Y: 0.75 * size / scale}), 0.8*size, f, s)
	l.Square(at.Add(drawing.Point{Y: -0.35 * size / scale}), 0.95*size, drawing.Fill{Ink: s.Ink}, drawing.Stroke{})
}

// WorstAt returns the worst finding of a that belongs to step (from 1) and
// that want accepts.
func WorstAt(fs []model.Finding, step int, want func(*model.Finding) bool) (worst model.Severity, any bool) {
	for i := range fs {
		f := &fs[i]
		if f.Where.Step != step || want != nil && !want(f) {
			continue
		}
		if !any || f.Severity > worst {
			worst, any = f.Severity, true
		}
	}
	return worst, any
}

// SeverityInk returns the ink of a severity's mark.
func SeverityInk(s model.Severity) drawing.Ink {
	if s >= model.Outside {
		return drawing.Bad
	}
	return drawing.Caution
}
