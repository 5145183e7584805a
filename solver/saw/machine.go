package saw

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

const (
	quarter = math.Pi / 2
	// sameAngle is how far, in radians, two angles on a card that say the same
	// may differ: rounding of a subtraction, and no more.
	sameAngle = 1e-9
	// noAngle is the angle below which an arm or head is not moved: over 500
	// mm it makes 0.00005 mm.
	noAngle = 1e-7
	// squareEdge is how far from square to the face, in radians, an edge may be
	// and still be laid to the fence.
	squareEdge = 1e-6
	// lying is how far the cosines of the board's directions may be from 1, and
	// its place in mm (squared) from 0, for it to lie as wanted already: 1e-20
	// in the direction squared is below what float64 can show over a board, and
	// so is 1e-10 mm.
	lying = 1e-20
	// samePoint is how much longer one corner of an end must be, in mm, for
	// long and short point to be told apart: below it either name does no harm.
	samePoint = 1e-3
	// mostSwing and mostTilt bound what is taken for a saw at all. They lie
	// beyond what saws reach, which the card notes.
	mostSwing = 80 * math.Pi / 180
	mostTilt  = 60 * math.Pi / 180
)

// Wood is what the virtual saw leaves of a blank.
type Wood struct{ b board }

// Execute saws the blank as the ops say, one after the other, turning the board
// as each says. It returns an error that says which op cannot be done, or
// contradicts itself, and why. It knows nothing of what the wood is for.
func Execute(blank Blank, ops []Op) (Wood, error) {
	var w Wood
	err := w.execute(&blank, ops)
	return w, err
}

func (w *Wood) execute(blank *Blank, ops []Op) error {
	for _, v := range [3]float64{blank.Length, blank.Width, blank.Thickness} {
		if !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("the blank is %g by %g by %g mm; give it three sizes above 0", blank.Length, blank.Width, blank.Thickness)
		}
	}
	left, right := tagLeft, tagRight
	if blank.Riser {
		left, right = right, left
	}
	w.b.box(blank.Length, blank.Width, blank.Thickness, left, right)
	for i := range ops {
		if err := w.do(&ops[i]); err != nil {
			return fmt.Errorf("cut %d, %s: %w", i+1, ops[i].name(), err)
		}
	}
	return nil
}

// name says which cut an op is.
func (op *Op) name() string {
	if op.Verb == Crosscut {
		return string(op.End) + " end"
	}
	return string(op.Verb)
}

func (w *Wood) do(op *Op) error {
	if err := w.lay(op.Fence, op.Face); err != nil {
		return err
	}
	if op.NoseToYou != (op.Fence == Back) {
		return fmt.Errorf("with the %s at the fence the nose cannot lie as the card says", op.Fence)
	}
	for _, v := range [...]float64{op.Gauge, op.Saw, op.Bevel, op.Measures[0].Value, op.Measures[0].Along, op.Measures[1].Value, op.Measures[1].Along} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return errors.New("a figure is not a number")
		}
	}
	switch op.Verb {
	case Rip:
		return w.rip(op)
	case Crosscut:
		return w.crosscut(op)
	}
	return fmt.Errorf("%q is no cut", op.Verb)
}

// lay turns the board so that it lies on the table (z = 0) with the given edge
// against the fence (y = 0) and the face up or down. x is to the user's right,
// y away from the user, z up.
func (w *Wood) lay(fence Edge, face Face) error {
	t, ok := edgeTag(fence)
	if !ok {
		return fmt.Errorf("%q is no edge; the fence takes the back or the nose", fence)
	}
	if face != Up && face != Down {
		return fmt.Errorf("the face lies %q; it can lie up or down", face)
	}
	edge, show := w.b.face(t), w.b.face(tagFace)
	if edge == nil || show == nil {
		return fmt.Errorf("the board has no %s left to lay to the fence", fence)
	}
	if math.Abs(edge.normal.Dot(show.normal)) > squareEdge {
		return fmt.Errorf("the %s is not square to the face, so it does not stand against the fence", fence)
	}
	z := show.normal
	if face == Down {
		z = z.Mul(-1)
	}
	y := edge.normal
	x := y.Cross(z)
	// The face on the table and the edge at the fence say where it lies; along
	// the fence it does not matter.
	down := show.offset
	if face == Up {
		under := w.b.face(tagUnder)
		if under == nil {
			return errors.New("the board has no underside left to lie on")
		}
		down = under.offset
	}
	shift := mgl64.Vec3{0, -edge.offset, down}
	if y[1] > 1-lying && z[2] > 1-lying && shift.Dot(shift) < lying {
		return nil // it lies that way already
	}
	w.b.turn(x, y, z, shift)
	return nil
}

func edgeTag(e Edge) (tag, bool) {
	switch e {
	case Back:
		return tagBack, true
	case Nose:
		return tagNose, true
	}
	return 0, false
}

func endTag(h Hand) (tag, bool) {
	switch h {
	case Left:
		return tagLeft, true
	case Right:
		return tagRight, true
	}
	return 0, false
}

// start returns the corner a measure starts from and the direction along its
// edge, away from that corner.
func (w *Wood) start(m *Measure) (at, along mgl64.Vec3, err error) {
	et, ok := edgeTag(m.Edge)
	if !ok {
		return at, along, fmt.Errorf("it is measured on %q; measure on the back or the nose", m.Edge)
	}
	ft, ok := endTag(m.From)
	if !ok {
		return at, along, fmt.Errorf("it is measured from %q; measure from the left or right end", m.From)
	}
	edge, end, face := w.b.face(et), w.b.face(ft), w.b.face(tagFace)
	if edge == nil || end == nil || face == nil {
		return at, along, errors.New("the corner it is measured from was sawn away")
	}
	at, ok = corner(edge, end, face)
	if !ok {
		return at, along, errors.New("there is no corner where it is measured from")
	}
	along = edge.normal.Cross(face.normal).Normalize()
	if along.Dot(end.normal) > 0 {
		along = along.Mul(-1)
	}
	return at, along, nil
}

// rip saws from mark to mark, square to the face, and keeps what lies at the
// fence.
func (w *Wood) rip(op *Op) error {
	if op.End != "" || op.Hand != "" || op.Gauge != 0 || op.Saw != 0 || op.Bevel != 0 || (op.Arm != Square) || (op.Tilt != Square) {
		return errors.New("a rip has no end, no gauge and no bevel")
	}
	if op.Measures[0].From == op.Measures[1].From {
		return errors.New("its two marks start from the same end")
	}
	var marks [2]mgl64.Vec3
	for i := range marks {
		m := &op.Measures[i]
		if m.Edge != op.Fence {
			return fmt.Errorf("it is measured from the %s, but the %s is at the fence", m.Edge, op.Fence)
		}
		if m.Point != "" {
			return errors.New("a rip's marks are no points of an end")
		}
		at, along, err := w.start(m)
		if err != nil {
			return err
		}
		marks[i] = at.Add(along.Mul(m.Along))
		marks[i][1] -= m.Value // square in from the fence
	}
	d := marks[1].Sub(marks[0])
	if d[0] == 0 {
		return errors.New("its two marks lie over each other")
	}
	if d[0] < 0 {
		d = d.Mul(-1)
	}
	// Running to the right, the fence is on the left hand and the waste on the
	// right.
	normal := mgl64.Vec3{d[1], -d[0], 0}.Normalize()
	made := tagBack
	if op.Fence == Back {
		made = tagNose
	}
	return w.b.clip(normal, normal.Dot(marks[0]), made)
}

// crosscut saws an end.
func (w *Wood) crosscut(op *Op) error {
	made, ok := endTag(op.End)
	if !ok {
		return fmt.Errorf("%q is no end", op.End)
	}
	end := w.b.face(made)
	if end == nil {
		return errors.New("that end was sawn away")
	}
	hand := Left
	if end.normal[0] > 0 {
		hand = Right
	}
	if op.Hand != hand {
		return fmt.Errorf("the %s end lies at your %s hand, not %q", op.End, hand, op.Hand)
	}
	if err := op.settings(); err != nil {
		return err
	}
	if op.Measures[1] != (Measure{}) {
		return errors.New("a crosscut has one mark")
	}
	m := &op.Measures[0]
	if m.Along != 0 {
		return errors.New("a crosscut's mark lies on the edge itself")
	}
	at, along, err := w.start(m)
	if err != nil {
		return err
	}
	mark := at.Add(along.Mul(m.Value))

	// Seen from above, the arm's line runs from the fence towards the user; h
	// is the direction to the right of it, square to it.
	swing := math.Abs(op.Saw)
	if op.Arm == Square {
		swing = 0
	} else if op.Arm == Right {
		swing = -swing
	}
	h := mgl64.Vec3{math.Cos(swing), -math.Sin(swing), 0}
	// Leaning the head left about that line turns the blade's right side up.
	tilt := op.Bevel
	if op.Tilt == Right {
		tilt = -tilt
	}
	sin, cos := math.Sincos(tilt)
	normal := mgl64.Vec3{h[0] * cos, h[1] * cos, sin}
	if hand == Left { // what is taken off lies on the left
		normal = normal.Mul(-1)
	}
	if err := w.b.clip(normal, normal.Dot(mark), made); err != nil {
		return err
	}
	return w.checkPoint(op, made, mark)
}

// settings says whether an op's angles and words agree with each other.
func (op *Op) settings() error {
	if math.Abs(op.Gauge-quarter-op.Saw) > sameAngle {
		return fmt.Errorf("gauge %.2f° is saw %.2f°, but the card says %.2f°: the saw reads the gauge less 90",
			deg(op.Gauge), deg(op.Gauge)-90, deg(op.Saw))
	}
	if math.Abs(op.Saw) > mostSwing || op.Bevel < 0 || op.Bevel > mostTilt {
		return fmt.Errorf("saw %.1f° and bevel %.1f° are beyond any saw", deg(op.Saw), deg(op.Bevel))
	}
	want := Square
	switch {
	case op.Saw > noAngle: // the board widens away from the fence
		want = op.Hand
	case op.Saw < -noAngle:
		want = other(op.Hand)
	}
	if op.Arm != want {
		return fmt.Errorf("saw %.2f° at the %s hand swings the arm %s, but the card says %q", deg(op.Saw), op.Hand, want, op.Arm)
	}
	if upright := op.Bevel <= noAngle; upright != (op.Tilt == Square) || (op.Tilt != Square && op.Tilt != Left && op.Tilt != Right) {
		return fmt.Errorf("a bevel of %.2f° cannot tilt the head %q", deg(op.Bevel), op.Tilt)
	}
	return nil
}

// checkPoint holds the mark's name against the end as sawn.
func (w *Wood) checkPoint(op *Op, made tag, mark mgl64.Vec3) error {
	m := &op.Measures[0]
	here, far := tagBack, tagNose
	if m.Edge == Nose {
		here, far = far, here
	}
	edge, end, face := w.b.face(far), w.b.face(made), w.b.face(tagFace)
	if edge == nil || end == nil || face == nil {
		return errors.New("it takes off an edge or the face whole")
	}
	p, ok := corner(edge, end, face)
	if !ok {
		return errors.New("it leaves an end without corners")
	}
	out := w.b.face(here)
	if out == nil {
		return errors.New("it takes off an edge whole")
	}
	along := out.normal.Cross(face.normal).Normalize()
	if along.Dot(end.normal) < 0 {
		along = along.Mul(-1)
	}
	longer := along.Dot(p.Sub(mark)) // how far the end's other corner lies beyond the mark
	switch {
	case m.Point != LongPoint && m.Point != ShortPoint && m.Point != PointSquare:
		return fmt.Errorf("the mark is called %q", m.Point)
	case longer > samePoint && m.Point != ShortPoint:
		return fmt.Errorf("the mark is the end's short point, but the card says %s", m.Point)
	case longer < -samePoint && m.Point != LongPoint:
		return fmt.Errorf("the mark is the end's long point, but the card says %s", m.Point)
	}
	return nil
}

func other(h Hand) Hand {
	switch h {
	case Left:
		return Right
	case Right:
		return Left
	}
	return h
}

func deg(rad float64) float64 { return rad * 180 / math.Pi }
