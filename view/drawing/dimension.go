package drawing

import "math"

// The parts of a dimension, in paper millimetres.
const (
	extensionGap  = 0.9  // from the measured point to its extension line
	extensionPast = 1.3  // of the extension line beyond the dimension line
	linePast      = 0.9  // of the dimension line beyond its ticks
	tickHalf      = 0.95 // half the tick, along each of its two axes
	labelLift     = 0.9  // from the dimension line to the label's baseline
	labelCrowded  = 0.75 // of its label's width: a shorter dimension has it outside
)

// dimension draws the dimension of a→b with everything already on paper. The
// offset is measured to the left of a→b.
func (w *Lowering) dimension(a, b Point, offset float64, t Text, s Stroke) {
	d := b.Sub(a)
	length := d.Len()
	u := Point{1, 0}
	if length > 0 {
		u = d.Mul(1 / length)
	}
	n := Point{-u.Y, u.X}
	side := 1.0
	if offset < 0 {
		side = -1
	}
	da, db := a.Add(n.Mul(offset)), b.Add(n.Mul(offset))

	thin := s
	thin.Dash = nil
	if math.Abs(offset) > extensionGap {
		gap, past := n.Mul(side*extensionGap), n.Mul(side*extensionPast)
		w.line(a.Add(gap), da.Add(past), thin)
		w.line(b.Add(gap), db.Add(past), thin)
	}
	w.line(da.Sub(u.Mul(linePast)), db.Add(u.Mul(linePast)), thin)

	angle := upright(math.Atan2(u.Y, u.X))
	sin, cos := math.Sincos(angle)
	right, up := Point{cos, sin}, Point{-sin, cos}
	// Ticks rise to the right as the label is read.
	tick := right.Add(up).Mul(tickHalf)
	heavy := thin
	heavy.Width = s.Width * 2
	w.line(da.Sub(tick), da.Add(tick), heavy)
	w.line(db.Sub(tick), db.Add(tick), heavy)

	if t.String == "" {
		return
	}
	if t.Size <= 0 {
		t.Size = LetterSize
	}
	t.Halo = true
	t.Angle = angle
	t.Baseline = BaseLine
	t.Align = AlignMiddle
	t.At = da.Add(db).Mul(0.5).Add(up.Mul(labelLift))
	if width := t.Width(); length < width*labelCrowded {
		// Far too long to stand between the extension lines (a little too long
		// is readable over them, thanks to the halo): stand past the end that
		// is on the right as it is read, over a lengthened line.
		end := da
		if u.X*right.X+u.Y*right.Y > 0 {
			end = db
		}
		w.line(end, end.Add(right.Mul(2*tickHalf+width)), thin)
		t.Align = AlignStart
		t.At = end.Add(right.Mul(2 * tickHalf)).Add(up.Mul(labelLift))
	}
	w.text(t)
}
