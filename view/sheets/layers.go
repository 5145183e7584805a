package sheets

import (
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/words"
)

// layered draws something over a plan or a section so that the lettering of
// both can be read: all lines and fills first, then the lettering. That of the
// ground makes way for that of what lies over it, and for its marks; what has
// no room within reach is left out. scale is paper mm per scene mm.
func layered(on *drawing.List, scale float64, ground, over func(*drawing.List)) {
	var low, high drawing.List
	ground(&low)
	over(&high)
	copyKind(on, &low, false)
	copyKind(on, &high, false)
	text := handle.NewLettering(scale)
	for i := range high.Items() {
		keepOff(text, &high.Items()[i], scale)
	}
	copyKind(on, &high, true)
	for i := range low.Items() {
		if it := &low.Items()[i]; it.Kind == drawing.KindText {
			t := it.Text
			t.String = words.Done(t.String) // as all that a list holds
			for _, step := range moves {
				t.At = it.Text.At.Add(step.Mul(1 / scale))
				if text.Put(t) {
					break
				}
			}
		}
	}
	text.Flush(on)
}

// moves are how far lettering may make way, in paper mm, the nearest first: not
// so far that it would stand at another step, so up and down more than aside.
var moves = func() []drawing.Point {
	out := []drawing.Point{{}}
	for _, y := range []float64{0, 1.5, -1.5, 3, -3, 4.5, -4.5} {
		for _, x := range []float64{0, 1.5, -1.5} {
			out = append(out, drawing.Point{X: x, Y: y})
		}
	}
	return out
}()

// copyKind adds the lettering of a list to another, or all but the lettering.
// Dimensions are lines with their label and stay with the lines.
func copyKind(on, from *drawing.List, lettering bool) {
	var part drawing.List
	for _, it := range from.Items() {
		if (it.Kind == drawing.KindText) == lettering {
			part.Add(it)
		}
	}
	on.Append(&part, drawing.Identity())
}

// keepOff keeps lettering off an item that lies over it: off lettering and
// filled marks. Lines, bars and hatches can be written over, with a halo.
func keepOff(text *handle.Lettering, it *drawing.Item, scale float64) {
	switch {
	case it.Kind == drawing.KindText:
		var one drawing.List
		one.Add(*it)
		lo, hi := one.Extent(drawing.Scale(scale, scale))
		text.Keep(lo.Add(hi).Mul(0.5/scale), (hi.X-lo.X)/2, (hi.Y-lo.Y)/2)
	case it.Fill.Ink == drawing.None:
	case it.Kind == drawing.KindDot || it.Kind == drawing.KindSquare:
		text.Keep(it.Points[0], it.R, it.R)
	}
}
