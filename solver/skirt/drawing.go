package skirt

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// drawing is a board while its outline is made.
type drawing struct {
	job   *model.Job
	ps    []pieces.Piece
	spec  *Spec
	side  pieces.Side
	face  face
	board *Board
	noses []mgl64.Vec2 // in the board, but x along the flight whichever side
	up    float64      // 1 when x runs up the flight, -1 when down
}

func (d *drawing) steps() int                { return len(d.ps) / 2 }
func (d *drawing) riser(i int) *pieces.Piece { return &d.ps[2*i] }
func (d *drawing) tread(i int) *pieces.Piece { return &d.ps[2*i+1] }
func (d *drawing) floor() plane {
	return plane{mgl64.Vec3{0, 0, 1}, float64(d.job.Overlay.FloorBottom)}
}
func (d *drawing) trace(p plane) trace        { return d.face.trace(p) }
func (d *drawing) along(p mgl64.Vec2) float64 { return d.up * p[0] }
func (d *drawing) nose(i int) (mgl64.Vec2, bool) {
	return meet(d.trace(planeOf(d.tread(i), pieces.ShowFace)), d.trace(planeOf(d.tread(i), pieces.Nose)))
}

// setPitch turns the face's frame so that x lies along the line fitted to the
// noses, with the origin on it at the first nose, and fills in the noses.
func (d *drawing) setPitch() bool {
	n := d.steps()
	level := make([]mgl64.Vec2, n)
	for i := range n {
		p, ok := d.nose(i)
		if !ok {
			return false
		}
		level[i] = p
	}
	l := leastLine(level)
	f := &d.face
	// the face's x is level and runs up the flight
	dir := mgl64.Vec2{1, l.Slope}.Normalize()
	foot := mgl64.Vec2{level[0][0], l.Y(level[0][0])}
	at := f.origin.Add(f.x.Mul(foot[0])).Add(f.y.Mul(foot[1]))
	x := f.x.Mul(dir[0]).Add(f.y.Mul(dir[1]))
	y := f.y.Mul(dir[0]).Sub(f.x.Mul(dir[1]))
	d.up = 1
	if d.side == pieces.Right {
		x, d.up = x.Mul(-1), -1
	}
	f.x, f.y, f.origin = x, y, at
	d.noses = make([]mgl64.Vec2, n)
	for i := range n {
		p, ok := d.nose(i)
		if !ok {
			return false
		}
		d.noses[i] = mgl64.Vec2{d.along(p), p[1]}
	}
	d.board.Noses = FitLine(d.noses)
	return true
}

// lower makes the lower edge, from the bottom of the flight up.
func (d *drawing) lower(l Lower) bool {
	ground, meets, step := d.floor(), "", 0
	from, ok := meet(d.trace(d.endPlane(true)), d.trace(ground))
	if !ok {
		return false
	}
	hidden := l == OverRough
	add := func(kind CutKind, step int, meets string, p plane, hide bool, line ...mgl64.Vec2) {
		d.board.Cuts = append(d.board.Cuts, Cut{Kind: kind, Step: step, Meets: meets, Line: line,
			Bevel: d.face.bevel(p, d.spec.Undercut), Hidden: hide})
	}
	for i := range d.steps() {
		riser, tread := d.riser(i), d.tread(i)
		upright := planeOf(riser, pieces.ShowFace)
		if l == OverRough {
			upright = planeOf(riser, pieces.Underside)
			upright = plane{upright.normal.Mul(-1), -upright.offset}
		}
		under, top := planeOf(tread, pieces.Underside), planeOf(tread, pieces.ShowFace)
		foot, ok1 := meet(d.trace(ground), d.trace(upright))
		head, ok2 := meet(d.trace(upright), d.trace(under))
		if !ok1 || !ok2 {
			return false
		}
		// A level cut on an old tread is buried under the new one.
		add(Level, step, meets, ground, hidden || l != OverFinished && i > 0, from, foot)
		add(Plumb, i+1, riser.ID, upright, hidden, foot, head)
		if l == OverFinished {
			line, ok := d.noseLine(tread)
			if !ok {
				return false
			}
			line = append([]mgl64.Vec2{head}, line...)
			add(Nose, i+1, tread.ID, under, false, line...)
			ground, from = top, line[len(line)-1]
		} else {
			ground, from = plane{under.normal.Mul(-1), -under.offset}, head
		}
		step, meets = i+1, tread.ID
	}
	end, ok := meet(d.trace(ground), d.trace(d.endPlane(false)))
	if !ok {
		return false
	}
	add(Level, step, meets, ground, hidden || l != OverFinished, from, end)
	return true
}

// noseLine returns where the profile, run along the nose of a tread, meets the
// face: each of its points is drawn along the nose line until it lies in it.
func (d *drawing) noseLine(p *pieces.Piece) ([]mgl64.Vec2, bool) {
	left := mgl64.TransformCoordinate(p.Face[p.FrontLeft].Vec3(0), p.Frame)
	right := mgl64.TransformCoordinate(p.Face[p.FrontRight].Vec3(0), p.Frame)
	nose := right.Sub(left).Normalize()
	down := planeOf(p, pieces.ShowFace).normal.Mul(-1)
	back := nose.Cross(down) // into the tread from its nose
	if back.Dot(planeOf(p, pieces.Nose).normal) > 0 {
		back = back.Mul(-1)
	}
	f := &d.face
	dz := nose.Dot(f.z)
	if math.Abs(dz) < parallel {
		return nil, false
	}
	outline := d.spec.Profile.Outline(p.Thickness)
	out := make([]mgl64.Vec2, len(outline))
	for i, q := range outline {
		at := left.Add(back.Mul(q[0])).Add(down.Mul(q[1]))
		t := -at.Sub(f.origin).Dot(f.z) / dz
		out[i] = f.to(at.Add(nose.Mul(t)))
	}
	return out, true
}

// endPlane returns the plumb plane, square to the run of the board, that ends
// it at the bottom or at the top: in front of the first nose, and at the back of
// the landing nosing.
func (d *drawing) endPlane(bottom bool) plane {
	f := &d.face
	run := f.x.Mul(d.up)
	run[2] = 0
	run = run.Normalize()
	first := f.origin.Add(f.x.Mul(d.up * d.noses[0][0])).Add(f.y.Mul(d.noses[0][1]))
	if bottom {
		return plane{run, run.Dot(first) - d.spec.Ahead}
	}
	last := d.tread(d.steps() - 1)
	corner, ok := meet(d.trace(planeOf(last, pieces.ShowFace)), d.trace(planeOf(last, pieces.BackEdge)))
	if !ok { // cannot happen where the nose, which the back follows, met the face
		corner = d.noses[d.steps()-1]
	}
	return plane{run, run.Dot(f.origin.Add(f.x.Mul(corner[0])).Add(f.y.Mul(corner[1])))}
}

// close adds the ends and the top edge.
func (d *drawing) close() {
	b := d.board
	high := math.Inf(-1)
	for _, p := range d.noses {
		high = math.Max(high, p[1])
	}
	edge := trace{mgl64.Vec2{0, 1}, high + d.spec.Margin}
	for i := range b.Top {
		// cannot fail: the pitch line is never plumb, for a flight has a run
		b.Top[i], _ = meet(d.trace(d.endPlane(i == 0)), edge)
	}
	for _, c := range b.Cuts {
		for _, p := range c.Line {
			if n := len(b.Outline); n == 0 || b.Outline[n-1].Sub(p).Len() > 1e-9 {
				b.Outline = append(b.Outline, p)
			}
		}
	}
	b.Outline = append(b.Outline, b.Top[1], b.Top[0])
	if d.up < 0 {
		for i, k := 0, len(b.Outline)-1; i < k; i, k = i+1, k-1 {
			b.Outline[i], b.Outline[k] = b.Outline[k], b.Outline[i]
		}
	}
}

// mark sets a register mark over the first nose, over every third one and over
// the last.
func (d *drawing) mark() {
	n := d.steps()
	up := mgl64.Vec3{0, 0, 1}
	plumb := mgl64.Vec2{up.Dot(d.face.x), up.Dot(d.face.y)}.Normalize()
	top := d.board.Top[0][1]
	for i := range n {
		if i != 0 && i != n-1 && (i+1)%markEvery != 0 {
			continue
		}
		p, _ := d.nose(i) // was there in setPitch
		q := p.Add(plumb.Mul((top - p[1]) / plumb[1]))
		d.board.Marks = append(d.board.Marks, Mark{Step: i + 1, Line: [2]mgl64.Vec2{p, q}})
	}
}
