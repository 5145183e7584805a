package card

import (
	"math"
	"strings"

	"risewright/solver/saw"
	"risewright/view/drawing"
)

// drawnSwing and drawnTilt are the angles, in radians, with which a swung arm
// and a leaning head are drawn, whatever the true ones: a degree cannot be seen.
const (
	drawnSwing = 20 * math.Pi / 180
	drawnTilt  = 22 * math.Pi / 180
)

// saws draws the saw as its user sees it, once for each end, the end at the
// left hand first.
func (d *drawer) saws(b box) {
	var cuts []*saw.Op
	for i := range d.card.Ops {
		if d.card.Ops[i].Verb == saw.Crosscut {
			cuts = append(cuts, &d.card.Ops[i])
		}
	}
	if len(cuts) == 2 && cuts[0].Hand == saw.Right && cuts[1].Hand == saw.Left {
		cuts[0], cuts[1] = cuts[1], cuts[0]
	}
	const caption = 3.6
	w := b.w / 2
	for i, op := range cuts {
		if i > 1 {
			break
		}
		d.saw(box{b.x + float64(i)*w, b.y, w - 1.4*float64(1-i), b.h - caption}, op)
	}
	d.text(b.x+b.w/2, b.y+b.h-0.6, b.w, "seen from where you stand; arm and head drawn larger",
		letter{size: 2.8, align: drawing.AlignMiddle, ink: drawing.LetterSoft})
}

// saw is the saw from above: fence on the far side, the board against it, the
// arm coming towards you, swung the way it goes.
func (d *drawer) saw(b box, op *saw.Op) {
	d.text(b.x+b.w/2, b.y+3, b.w, strings.ToUpper(string(op.End))+" end", letter{size: 3.6, bold: true, align: drawing.AlignMiddle})
	b.y += 4.2
	b.h -= 4.2

	swing, dir := drawnSwing, 0.0
	switch {
	case square(op.Saw):
		swing = 0
	case op.Arm == saw.Left:
		dir = -1
	case op.Arm == saw.Right:
		dir = 1
	}
	// The pivot stands where the arm's line meets the fence.
	fenceY := b.y + 3.6
	px := b.x + b.w/2
	reach := b.h - 3.6 - 2.6
	along := func(r float64) (x, y float64) { // on the arm's line, r from the pivot
		return px + dir*math.Sin(swing)*r, fenceY + math.Cos(swing)*r
	}
	boardDeep := reach * 0.50

	keep := 1.0 // the kept board lies to the right of the cut
	if op.Hand == saw.Right {
		keep = -1
	}
	edge := func(side float64) float64 { // the picture's edge on one side
		if side > 0 {
			return b.x + b.w - 0.8
		}
		return b.x + 0.8
	}
	lowX := px + dir*math.Tan(swing)*boardDeep
	kept := []drawing.Point{d.at(px, fenceY), d.at(edge(keep), fenceY), d.at(edge(keep), fenceY+boardDeep), d.at(lowX, fenceY+boardDeep)}
	off := px - keep*7.5
	waste := []drawing.Point{d.at(px, fenceY), d.at(off, fenceY), d.at(off, fenceY+boardDeep), d.at(lowX, fenceY+boardDeep)}
	d.l.Polygon(waste, drawing.Fill{}, d.dashed(drawing.Soft, 0.2))
	d.l.Polygon(kept, drawing.Fill{Ink: drawing.Wood}, d.stroke(drawing.Line, 0.4))
	d.text((px+lowX+2*edge(keep))/4, fenceY+boardDeep*0.58, 0, "keep", letter{size: 3, align: drawing.AlignMiddle})

	// Fence, in two halves with the gap for the blade.
	for _, side := range [2]float64{-1, 1} {
		x := math.Min(px+side*1.2, edge(side))
		w := math.Abs(edge(side) - (px + side*1.2))
		d.rect(box{x, fenceY - 1.3, w, 1.3}, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
	}
	d.text(edge(-1), fenceY-1.9, b.w*0.46, "fence", letter{size: 2.6})
	if swing != 0 {
		d.line(px, fenceY, px, fenceY+reach, d.dashed(drawing.Soft, 0.2))
	}
	ax, ay := along(reach - 1)
	d.line(px, fenceY, ax, ay, d.stroke(drawing.Line, 1.1))
	hx, hy := along(reach - 0.6)
	d.l.Circle(d.at(hx, hy), 1.5*d.k, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
	if swing != 0 {
		// The arrow from square to the arm, under the board.
		r := reach * 0.78
		x, y := along(r)
		d.l.Arrow(d.at(px, fenceY+r), d.at(x, y), d.stroke(drawing.Line, 0.35))
	}

	// What to set, on the side away from the arm, with the head seen from the
	// front when it leans.
	words := -dir
	if words == 0 {
		words = 1
	}
	under := fenceY + boardDeep
	x, align := b.x+0.6, drawing.AlignStart // on the arm's own side, at the edge
	if dir > 0 {
		x, align = b.x+b.w-0.6, drawing.AlignEnd
	}
	d.text(x, under+3.4, 0, "arm", letter{size: 2.6, align: align})
	d.text(x, under+6.8, 0, armText(op.Saw, op.Arm), letter{size: 3.2, bold: true, align: align})
	if !square(op.Bevel) {
		w := b.w/2 - 5.5
		x := px + 4.5
		if words < 0 {
			x = b.x + 1
		}
		d.front(box{x, under + 1, w, b.y + b.h - under - 1}, op)
	}
}

// front is the saw from the front: the board on the table and the blade,
// leaning the way the head does.
func (d *drawer) front(b box, op *saw.Op) {
	table := b.y + b.h - 4.4
	mid := b.x + b.w/2
	dir := -1.0
	if op.Tilt == saw.Right {
		dir = 1
	}
	keep := 1.0
	if op.Hand == saw.Right {
		keep = -1
	}
	thick := 2.2
	foot := mid
	lean := dir * math.Tan(drawnTilt)
	d.l.Polygon([]drawing.Point{
		d.at(foot, table), d.at(foot+lean*thick, table-thick),
		d.at(mid+keep*b.w/2, table-thick), d.at(mid+keep*b.w/2, table),
	}, drawing.Fill{Ink: drawing.Wood}, d.stroke(drawing.Line, 0.25))
	d.line(b.x, table, b.x+b.w, table, d.stroke(drawing.Line, 0.4))
	high := min(6.0, table-b.y)
	d.line(foot, table, foot+lean*high, table-high, d.stroke(drawing.Line, 0.8))
	d.text(mid, table+3.4, b.w, "head "+strings.ToUpper(string(op.Tilt)), letter{size: 2.8, bold: true, align: drawing.AlignMiddle})
}
