package card

import (
	"fmt"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/view/drawing"
)

// pictures draws the board as it lies on the saw and, below it, the saw at each
// end.
func (d *drawer) pictures(b box) {
	if d.state != Released { // nothing to set a saw to
		d.sketch(b)
		return
	}
	half := math.Max(sketchLeast, math.Min(b.h*0.42, 25))
	d.sketch(box{b.x, b.y, b.w, half})
	d.saws(box{b.x, b.y + half + 1, b.w, b.h - half - 1})
}

// lying says how a card's board lies: which of its edges is at the fence, and
// whether its left end is at the left hand.
type lying struct {
	fence    saw.Edge
	leftLeft bool
}

// lyingOf takes it from the first crosscut, or from the first op when there is
// none.
func lyingOf(p *pieces.Piece, ops []saw.Op) lying {
	y := lying{fence: saw.Back, leftLeft: p.Kind != pieces.Riser}
	for i := range ops {
		if ops[i].Verb == saw.Crosscut {
			return lying{fence: ops[i].Fence, leftLeft: ops[i].End == ops[i].Hand}
		}
	}
	if len(ops) > 0 {
		y.fence = ops[0].Fence
	}
	return y
}

// exaggerations are the factors a taper may be drawn with, and mostTaper the
// part of the length it may then reach.
var exaggerations = [...]float64{20, 10, 5, 2, 1}

const (
	mostTaper = 0.1
	// depthWeight keeps the taper of the depth below an eighth of it, so that
	// lettering still finds room inside.
	depthWeight = 0.8
)

// Exaggeration returns how many times too large the sketch draws what is out
// of square, so that it can be seen and the board still looks like one.
func Exaggeration(p *pieces.Piece) float64 {
	if len(p.Face) != 4 {
		return 1
	}
	length, depth := bulk(p)
	most := 0.0
	for _, v := range deviations(p) {
		most = math.Max(most, math.Max(math.Abs(v[0])/length, math.Abs(v[1])/depth*depthWeight))
	}
	for _, k := range exaggerations {
		if most*k <= mostTaper {
			return k
		}
	}
	return 1
}

// bulk returns the board's mean length and depth.
func bulk(p *pieces.Piece) (length, depth float64) {
	bl, br, fr, fl := corners(p)
	length = (br[0] - bl[0] + fr[0] - fl[0]) / 2
	depth = (fl[1] - bl[1] + fr[1] - br[1]) / 2
	return math.Max(length, 1), math.Max(depth, 1)
}

func corners(p *pieces.Piece) (bl, br, fr, fl mgl64.Vec2) {
	return p.Face[p.BackLeft], p.Face[p.BackRight], p.Face[p.FrontRight], p.Face[p.FrontLeft]
}

// deviations returns how far the corners of a four-cornered face lie from those
// of the rectangle of its back edge and mean depth, in the order of Face.
func deviations(p *pieces.Piece) [4]mgl64.Vec2 {
	bl, br, fr, fl := corners(p)
	_, depth := bulk(p)
	return [4]mgl64.Vec2{{0, 0}, {0, br[1] - bl[1]}, {fr[0] - br[0], fr[1] - bl[1] - depth}, {fl[0] - bl[0], fl[1] - bl[1] - depth}}
}

// exaggerated returns the outline with what is out of square drawn k times.
func exaggerated(p *pieces.Piece, k float64) []mgl64.Vec2 {
	if len(p.Face) != 4 {
		return p.Face
	}
	bl, br, _, _ := corners(p)
	_, depth := bulk(p)
	base := [4]mgl64.Vec2{bl, {br[0], bl[1]}, {br[0], bl[1] + depth}, {bl[0], bl[1] + depth}}
	out := make([]mgl64.Vec2, 4)
	for i, v := range deviations(p) {
		out[i] = base[i].Add(v.Mul(k))
	}
	return out
}

// leastDeep is how deep the outline is drawn at least, so that two rows of
// lettering and the band find room in it.
const leastDeep = 9.6

// sketchTop and sketchLow are kept for lettering over and under the outline,
// and sketchLeast is what all of it takes.
const (
	sketchTop   = 4.6
	sketchLow   = 8.0
	sketchLeast = sketchTop + leastDeep + sketchLow
)

// sketch is the face as it lies, fence side up, with its figures.
func (d *drawer) sketch(b box) {
	p := d.piece
	lie := lyingOf(p, d.card.Ops)
	k := Exaggeration(p)
	face := exaggerated(p, k)

	// Rows and columns kept for lettering round the outline.
	const top, bottom, side = sketchTop, sketchLow, 13.5
	area := box{b.x + side, b.y + top, b.w - 2*side, b.h - top - bottom}
	lo, hi := bounds(face)
	size := hi.Sub(lo)
	sx := area.w / size[0]
	sy := math.Min(area.h/size[1], math.Max(sx*1.3, leastDeep/size[1])) // a narrow board is drawn deeper
	sx = math.Min(sx, sy*4)
	cx, cy := area.x+area.w/2, area.y+area.h/2
	place := func(v mgl64.Vec2) (x, y float64) {
		dx, dy := (v[0]-(lo[0]+hi[0])/2)*sx, (v[1]-(lo[1]+hi[1])/2)*sy
		if !lie.leftLeft {
			dx = -dx
		}
		if lie.fence == saw.Nose {
			dy = -dy
		}
		return cx + dx, cy + dy
	}
	pts := make([]drawing.Point, len(face))
	for i, v := range face {
		x, y := place(v)
		pts[i] = d.at(x, y)
	}
	d.l.Polygon(pts, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
	d.noseBand(face, place)
	d.l.Polygon(pts, drawing.Fill{}, d.stroke(drawing.Line, 0.5))

	f := p.Figures
	near, far := f.Front, f.Back
	nearName, farName := EdgeName(p, saw.Nose), EdgeName(p, saw.Back)
	if lie.fence == saw.Nose {
		near, far, nearName, farName = far, near, farName, nearName
	}
	label := func(name string, v pieces.Value) string {
		return strings.ToUpper(name) + " " + Number(d.f, v.Value)
	}
	d.text(cx, area.y+area.h/2-sy*size[1]/2-1.4, b.w*0.96, label(farName, far)+"  (fence side)", letter{size: 3.9, bold: true, align: drawing.AlignMiddle})
	d.text(cx, area.y+area.h/2+sy*size[1]/2+4.2, b.w*0.96, label(nearName, near)+"  (to you)", letter{size: 3.9, bold: true, align: drawing.AlignMiddle})
	caption := "not to scale; the board measures square"
	if k > 1 {
		caption = fmt.Sprintf("not to scale; taper drawn ×%.0f", k)
	} else if notSquare(p) {
		caption = "not to scale; taper as it is"
	}
	d.text(cx, area.y+area.h/2+sy*size[1]/2+7.8, b.w, caption, letter{size: 3, align: drawing.AlignMiddle, ink: drawing.LetterSoft})

	hands := [2]pieces.Side{pieces.Left, pieces.Right}
	if !lie.leftLeft {
		hands = [2]pieces.Side{pieces.Right, pieces.Left}
	}
	for i, s := range hands {
		x := b.x + side/2 - 0.6
		if i == 1 {
			x = b.x + b.w - side/2 + 0.6
		}
		depth := f.LeftDepth
		if s == pieces.Right {
			depth = f.RightDepth
		}
		d.text(x, cy-0.6, side-1.5, strings.ToUpper(s.String()), letter{size: 4, bold: true, align: drawing.AlignMiddle})
		d.text(x, cy+4, side-1.5, Number(d.f, depth.Value), letter{size: 3.7, align: drawing.AlignMiddle})
	}
	d.cornerWords(face, place, lie)
	if d.roomy(face, place) {
		d.grain(cx, d.lowRow(face, place))
	}
}

// noseBand hatches the edge that is rounded or, on a riser, goes up.
func (d *drawer) noseBand(face []mgl64.Vec2, place func(mgl64.Vec2) (float64, float64)) {
	p := d.piece
	fl, fr := face[p.FrontLeft], face[p.FrontRight]
	lx, ly := place(fl)
	rx, ry := place(fr)
	_, by := place(face[p.BackLeft])
	const deep = bandDeep
	in := -deep
	if by > ly {
		in = deep
	}
	band := []drawing.Point{d.at(lx, ly), d.at(rx, ry), d.at(rx, ry+in), d.at(lx, ly+in)}
	d.l.Polygon(band, drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.BackDiagonal, Spacing: 0.9 * d.k, Ink: drawing.Line, Width: 0.18 * d.k}}, d.stroke(drawing.Line, 0.18))
}

// cornerWords writes the gauge angle at the back corners and which point of
// each end is long.
func (d *drawer) cornerWords(face []mgl64.Vec2, place func(mgl64.Vec2) (float64, float64), lie lying) {
	p := d.piece
	bl, br, fr, fl := corners(p)
	type word struct {
		at    mgl64.Vec2
		text  string
		inner float64 // +1: lettering runs to the right from the corner
		fence bool
		bold  bool
	}
	side := func(left bool) float64 {
		if left == lie.leftLeft {
			return 1
		}
		return -1
	}
	words := []word{
		{face[p.BackLeft], degrees(p.Ends[pieces.Left].Gauge.Value), side(true), lie.fence == saw.Back, true},
		{face[p.BackRight], degrees(p.Ends[pieces.Right].Gauge.Value), side(false), lie.fence == saw.Back, true},
	}
	point := func(longer float64) (atBack, atFront string) {
		switch {
		case longer > pointSeen:
			return "short", "long"
		case longer < -pointSeen:
			return "long", "short"
		}
		return "", ""
	}
	lBack, lFront := point(bl[0] - fl[0])
	rBack, rFront := point(fr[0] - br[0])
	if lBack != "" {
		words[0].text += " " + lBack
		words = append(words, word{face[p.FrontLeft], lFront, side(true), lie.fence == saw.Nose, false})
	}
	if rBack != "" {
		words[1].text = rBack + " " + words[1].text
		words = append(words, word{face[p.FrontRight], rFront, side(false), lie.fence == saw.Nose, false})
	}
	for _, w := range words {
		if w.text == "" || !w.fence && !d.roomy(face, place) {
			continue
		}
		// The taper may slope inwards below a corner; keep clear of it.
		x, _ := place(w.at)
		y := d.lowRow(face, place)
		if w.fence {
			y = d.topRow(face, place)
		}
		if other := d.inner(face, place, w.inner > 0, y); w.inner > 0 {
			x = math.Max(x, other)
		} else {
			x = math.Min(x, other)
		}
		x += 1.2 * w.inner
		align := drawing.AlignStart
		if w.inner < 0 {
			align = drawing.AlignEnd
		}
		d.text(x, y, 0, w.text, letter{size: 2.9, bold: w.bold, align: align, halo: true})
	}
}

// topRow and lowRow are the baselines of the lettering inside the outline:
// below its upper edge at its lowest, and above its lower edge and the hatched
// band at their highest.
func (d *drawer) topRow(face []mgl64.Vec2, place func(mgl64.Vec2) (float64, float64)) float64 {
	far, _ := edgeRows(d.piece, face, place)
	return far + 3
}

func (d *drawer) lowRow(face []mgl64.Vec2, place func(mgl64.Vec2) (float64, float64)) float64 {
	_, near := edgeRows(d.piece, face, place)
	return near - bandDeep - 0.9
}

// roomy says that both rows fit without touching.
func (d *drawer) roomy(face []mgl64.Vec2, place func(mgl64.Vec2) (float64, float64)) bool {
	return d.lowRow(face, place)-d.topRow(face, place) >= 2.95
}

func edgeRows(p *pieces.Piece, face []mgl64.Vec2, place func(mgl64.Vec2) (float64, float64)) (far, near float64) {
	y := func(i int) float64 { _, v := place(face[i]); return v }
	b1, b2, f1, f2 := y(p.BackLeft), y(p.BackRight), y(p.FrontLeft), y(p.FrontRight)
	if b1+b2 > f1+f2 {
		b1, b2, f1, f2 = f1, f2, b1, b2
	}
	return math.Max(b1, b2), math.Min(f1, f2)
}

// bandDeep is how deep the hatched band is drawn along the nose.
const bandDeep = 2.0

// pointSeen is how far apart, in mm, two corners of an end must be to be
// called long and short: below it nobody sees which is which.
const pointSeen = 0.05

// steepEnd is how far, on paper, the two corners of an end lie apart along the
// board from which lettering goes by the end beside it, not by its inner corner:
// the end of a winder would leave it no room.
const steepEnd = 8.0

// inner returns how far in a side reaches beside a row of lettering at y: the x
// of the innermost of its two corners, or of a steep end that of the end there.
func (d *drawer) inner(face []mgl64.Vec2, place func(mgl64.Vec2) (float64, float64), atLeft bool, y float64) float64 {
	p := d.piece
	in := math.Max
	if !atLeft {
		in = math.Min
	}
	side := func(back, front int) (outer, inner float64) {
		bx, by := place(face[back])
		fx, fy := place(face[front])
		if math.Abs(bx-fx) < steepEnd || by == fy {
			return math.Min(bx, fx), in(bx, fx)
		}
		at := func(y float64) float64 {
			return bx + (fx-bx)*math.Max(0, math.Min(1, (y-by)/(fy-by)))
		}
		return math.Min(bx, fx), in(at(y-2.4), at(y+0.8)) // the height of the letters
	}
	a, b := side(p.BackLeft, p.FrontLeft)
	c, e := side(p.BackRight, p.FrontRight)
	if (a < c) == atLeft {
		return b
	}
	return e
}

// grain draws the arrow along which the grain runs.
func (d *drawer) grain(cx, cy float64) {
	const reach, word = 11.0, 4.8
	s := d.stroke(drawing.Soft, 0.25)
	d.l.Arrow(d.at(cx-word, cy-0.9), d.at(cx-reach, cy-0.9), s)
	d.l.Arrow(d.at(cx+word, cy-0.9), d.at(cx+reach, cy-0.9), s)
	d.text(cx, cy, 0, "grain", letter{size: 3, align: drawing.AlignMiddle})
}

func bounds(pts []mgl64.Vec2) (lo, hi mgl64.Vec2) {
	lo, hi = pts[0], pts[0]
	for _, p := range pts {
		for i := range 2 {
			lo[i], hi[i] = math.Min(lo[i], p[i]), math.Max(hi[i], p[i])
		}
	}
	for i := range 2 {
		if hi[i]-lo[i] < 1 {
			hi[i] = lo[i] + 1
		}
	}
	return lo, hi
}

func notSquare(p *pieces.Piece) bool {
	if len(p.Face) != 4 {
		return true
	}
	for _, v := range deviations(p) {
		if v.Len() > pointSeen {
			return true
		}
	}
	return false
}
