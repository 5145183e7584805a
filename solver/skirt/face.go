package skirt

import (
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// face is the plane of a show face: a frame whose z points into the stair.
type face struct {
	origin  mgl64.Vec3
	x, y, z mgl64.Vec3
}

func (f *face) to(p mgl64.Vec3) mgl64.Vec2 {
	d := p.Sub(f.origin)
	return mgl64.Vec2{d.Dot(f.x), d.Dot(f.y)}
}

func (f *face) frame() mgl64.Mat4 {
	return mgl64.Mat4FromCols(f.x.Vec4(0), f.y.Vec4(0), f.z.Vec4(0), f.origin.Vec4(1))
}

// plane is the points p with normal·p = offset, the normal of unit length.
type plane struct {
	normal mgl64.Vec3
	offset float64
}

// trace is a line in a face: a·p = c, where a plane meets it; a points out of
// the piece whose plane it is.
type trace struct {
	a mgl64.Vec2
	c float64
}

func (f *face) trace(p plane) trace {
	return trace{mgl64.Vec2{p.normal.Dot(f.x), p.normal.Dot(f.y)}, p.offset - p.normal.Dot(f.origin)}
}

// parallel is the sine below which two traces do not meet in a usable point: a
// riser and a tread would have to be within 0.006 degrees of each other.
const parallel = 1e-4

func meet(s, t trace) (mgl64.Vec2, bool) {
	det := s.a[0]*t.a[1] - s.a[1]*t.a[0]
	if !(math.Abs(det) > parallel*s.a.Len()*t.a.Len()) {
		return mgl64.Vec2{}, false
	}
	return mgl64.Vec2{(s.c*t.a[1] - t.c*s.a[1]) / det, (s.a[0]*t.c - t.a[0]*s.c) / det}, true
}

// bevel returns how far a cut along the trace of an obstacle's plane must lean
// from square so that only its show edge touches: the undercut, and more where
// the obstacle comes closer going into the board (z negative).
func (f *face) bevel(p plane, undercut float64) float64 {
	m := f.x.Mul(p.normal.Dot(f.x)).Add(f.y.Mul(p.normal.Dot(f.y)))
	// The obstacle's normal points at the board. At depth t behind the face its
	// surface has moved along m, towards the board, by t·normal·z/|m|.
	closer := math.Atan2(p.normal.Dot(f.z), m.Len())
	return undercut + math.Max(0, closer)
}

// leanReach is how far above a tread, in mm, a side's lean is followed when the
// plane of a board is fitted: about the height of the board itself.
const leanReach = 200.0

// sidePoint is a place on the side of the stair at the height of a new tread.
type sidePoint struct {
	step int
	at   mgl64.Vec3
	lean float64
}

// sidePoints returns the front and the back corner of every step on a side, at
// the height of the new tread's face.
func sidePoints(job *model.Job, res *survey.Result, ps []pieces.Piece, side pieces.Side) []sidePoint {
	var out []sidePoint
	for i := range res.Steps {
		s := &res.Steps[i]
		front, back := s.FL, s.BL
		if side == pieces.Right {
			front, back = s.FR, s.BR
		}
		top := planeOf(&ps[2*i+1], pieces.ShowFace)
		for k, c := range []int{front, back} {
			if k == 1 && back == front {
				continue
			}
			p := s.Corners[c]
			z := (top.offset - top.normal[0]*p[0] - top.normal[1]*p[1]) / top.normal[2]
			out = append(out, sidePoint{i, mgl64.Vec3{p[0], p[1], z}, s.Lean[side]})
		}
	}
	return out
}

// planeOf returns the plane of a part of a placed board.
func planeOf(p *pieces.Piece, part pieces.Part) plane {
	for _, f := range p.Solid.Faces {
		if f.Part == part {
			n := mgl64.TransformNormal(f.Normal, p.Frame).Normalize()
			at := mgl64.TransformCoordinate(p.Solid.Verts[f.Loop[0]], p.Frame)
			return plane{n, n.Dot(at)}
		}
	}
	return plane{normal: mgl64.Vec3{0, 0, 1}} // cannot happen: every board has all its parts but in a winder's point
}

// WallFit is a rigid board against a side.
type WallFit struct {
	LineFit
	// Bow is the largest depth, mm, of the side below the straight line from
	// any of its points to another no more than bowReach away.
	Bow float64
}

// bowReach and bowPulled: a fibreboard skirt pulls into a bow of 2 to 3 mm over
// 1.2 m; beyond that scribe its back. Common practice, no source.
const (
	bowReach  = 1200.0
	bowPulled = 2.0
)

// fitFace returns the plane of the side fitted to its points and to what their
// leans say above them, and the side's gaps behind that plane along the flight.
func fitFace(points []sidePoint, side pieces.Side) (face, WallFit, bool) {
	var f face
	if len(points) < 2 {
		return f, WallFit{}, false
	}
	first, last := points[0].at, points[len(points)-1].at
	run := mgl64.Vec3{last[0] - first[0], last[1] - first[1], 0}
	if run.Len() < 1 { // less than a millimetre of flight
		return f, WallFit{}, false
	}
	run = run.Normalize()
	in := mgl64.Vec3{run[1], -run[0], 0} // to the right of going up
	if side == pieces.Right {
		in = in.Mul(-1)
	}
	// in·(p - first) = a + b·run + c·z, by least squares.
	var m mgl64.Mat3
	var rhs mgl64.Vec3
	add := func(p mgl64.Vec3) {
		d := p.Sub(first)
		row := mgl64.Vec3{1, d.Dot(run) / bowReach, d[2] / bowReach} // scaled so that the matrix is well conditioned
		for i := range 3 {
			for k := range 3 {
				m.Set(i, k, m.At(i, k)+row[i]*row[k])
			}
			rhs[i] += row[i] * d.Dot(in)
		}
	}
	for _, p := range points {
		add(p.at)
		// a positive lean opens outwards going up
		add(p.at.Add(mgl64.Vec3{0, 0, leanReach}).Sub(in.Mul(leanReach * math.Tan(p.lean))))
	}
	if math.Abs(m.Det()) < 1e-12 {
		return f, WallFit{}, false
	}
	x := m.Inv().Mul3x1(rhs)
	a, b, c := x[0], x[1]/bowReach, x[2]/bowReach
	f.z = in.Sub(run.Mul(b)).Sub(mgl64.Vec3{0, 0, c}).Normalize()
	f.origin = first.Add(in.Mul(a))
	f.x = mgl64.Vec3{0, 0, 1}.Cross(f.z).Normalize() // level; turned to the pitch later
	if f.x.Dot(run) < 0 {
		f.x = f.x.Mul(-1)
	}
	f.y = f.z.Cross(f.x)
	if f.y[2] < 0 {
		f.y = f.y.Mul(-1)
	}

	plan := make([]mgl64.Vec2, len(points))
	for i, p := range points {
		d := p.at.Sub(f.origin)
		plan[i] = mgl64.Vec2{d.Dot(run), d.Dot(f.z)}
	}
	w := WallFit{LineFit: FitLine(plan)}
	w.Bow = bow(plan)
	return f, w, true
}

// bow returns the largest depth of a point below the chord between two others
// no more than bowReach apart.
func bow(plan []mgl64.Vec2) float64 {
	// the back corner of an opening lies beyond the front of the next
	plan = append([]mgl64.Vec2(nil), plan...)
	sort.Slice(plan, func(i, k int) bool { return plan[i][0] < plan[k][0] })
	worst := 0.0
	for i := range plan {
		for k := i + 2; k < len(plan) && plan[k][0]-plan[i][0] <= bowReach; k++ {
			if plan[k][0] <= plan[i][0] {
				continue
			}
			l := through(plan[i], plan[k])
			for _, p := range plan[i+1 : k] {
				worst = math.Max(worst, math.Abs(l.Y(p[0])-p[1]))
			}
		}
	}
	return worst
}
