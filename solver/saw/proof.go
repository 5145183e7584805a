package saw

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

const (
	// proven is the distance, in mm, within which a sawn board must be the
	// piece. It is far below what a saw holds and far above rounding, so that
	// what fails is wrong.
	proven = 0.05
	// printedAngle is what angles are printed to: a tenth of a degree.
	printedAngle = math.Pi / 1800
)

// Prove executes the card and its turned versions on its blank and holds each
// result against the piece. It changes nothing of the card.
func Prove(job model.Job, c *Card, p *pieces.Piece) Proof {
	w := newWriter(&job, &model.Stock{})
	d := *c
	w.prove(&d, p)
	return d.Proof
}

// prove sets the card's proof.
func (w *writer) prove(c *Card, p *pieces.Piece) {
	c.Proof = Proof{}
	if err := w.expect(p); err != nil {
		c.Proof.Reason = err.Error()
		return
	}
	if c.Piece != p.ID {
		c.Proof.Reason = fmt.Sprintf("the card is for %s, not %s", c.Piece, p.ID)
		return
	}
	try := func(ops []Op) (float64, error) {
		if err := w.wood.execute(&c.Blank, ops); err != nil {
			return 0, err
		}
		if err := w.wood.settle(); err != nil {
			return 0, err
		}
		return apart(&w.wood.b, &w.want), nil
	}
	for i := -1; i < len(c.Turned); i++ {
		ops, how := c.Ops, ""
		if i >= 0 {
			ops, how = c.Turned[i].Ops, string(c.Turned[i].How)+": "
		}
		d, err := try(ops)
		if err == nil && !(d <= proven) {
			err = fmt.Errorf("what the saw leaves differs from the piece by %.2f mm", d)
		}
		if err != nil {
			if c.Proof.Reason == "" {
				c.Proof.Reason = how + err.Error()
			}
			continue
		}
		c.Proof.Worst = math.Max(c.Proof.Worst, d)
	}
	if c.Proof.Reason != "" {
		return
	}
	var printed [cardOps]Op
	n := copy(printed[:], c.Ops)
	if n != len(c.Ops) {
		c.Proof.Reason = fmt.Sprintf("the card has %d cuts; it can have %d", len(c.Ops), cardOps)
		return
	}
	for i := range printed[:n] {
		w.print(&printed[i])
	}
	d, err := try(printed[:n])
	if err != nil {
		c.Proof.Reason = "as printed: " + err.Error()
		return
	}
	c.Proof.PrintedWorst = d
	c.Proof.OK = true
}

// Printed returns the op with its figures rounded as the job prints them:
// lengths to its fraction of an inch or half millimetre, angles to 0.1 degree.
func (op Op) Printed(f model.Format) Op {
	w := writer{format: f}
	w.print(&op)
	return op
}

func (w *writer) print(op *Op) {
	for i := range op.Measures {
		m := &op.Measures[i]
		m.Value, m.Along = w.rounded(m.Value), w.rounded(m.Along)
	}
	if op.Verb != Crosscut {
		return
	}
	op.Saw = math.Round(op.Saw/printedAngle) * printedAngle
	op.Gauge = quarter + op.Saw
	op.Bevel = math.Round(op.Bevel/printedAngle) * printedAngle
	if op.Saw == 0 {
		op.Arm = Square
	}
	if op.Bevel == 0 {
		op.Tilt = Square
	}
}

// expect takes the piece as it lies face up with its back (bottom) to the
// fence, its back left corner at the origin.
func (w *writer) expect(p *pieces.Piece) error {
	s := &p.Solid
	if p.Impossible != "" {
		return errors.New(p.Impossible)
	}
	if !s.Convex || p.Template != "" {
		return errors.New("straight cuts do not make this board")
	}
	if len(s.Verts) > maxVerts || len(s.Faces) > maxFaces {
		return errors.New("the piece has more corners than a card can make")
	}
	// A tread's x runs to the user's right, its y towards the user, its z down;
	// a riser's x runs to the left, its y towards the user, its z up.
	flip := mgl64.Vec3{1, -1, -1}
	if p.Kind == pieces.Riser {
		flip = mgl64.Vec3{-1, -1, 1}
	}
	lie := func(v mgl64.Vec3) mgl64.Vec3 { return mgl64.Vec3{v[0] * flip[0], v[1] * flip[1], v[2] * flip[2]} }
	b := &w.want
	b.nv, b.nf = len(s.Verts), len(s.Faces)
	for i, v := range s.Verts {
		b.verts[i] = lie(v)
	}
	for i := range s.Faces {
		f := &s.Faces[i]
		if len(f.Loop) > maxLoop {
			return errors.New("a face of the piece has more corners than a card can make")
		}
		g := facet{normal: lie(f.Normal), offset: f.Offset, n: uint8(len(f.Loop))}
		for k, v := range f.Loop {
			g.loop[k] = uint8(v)
		}
		b.faces[i] = g
	}
	return nil
}

// settle lays the sawn board as expect lays the piece.
func (w *Wood) settle() error {
	if err := w.lay(Back, Up); err != nil {
		return err
	}
	back, left, face := w.b.face(tagBack), w.b.face(tagLeft), w.b.face(tagFace)
	if left == nil {
		return errors.New("the left end was sawn away")
	}
	at, ok := corner(back, left, face)
	if !ok {
		return errors.New("the board has no back left corner")
	}
	w.b.turn(mgl64.Vec3{1, 0, 0}, mgl64.Vec3{0, 1, 0}, mgl64.Vec3{0, 0, 1}, at.Mul(-1))
	return nil
}
