package handle

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
	"risewright/view/drawing"
)

// Steps returns the shape to draw: the estimate, or the sketch when the job is
// in no state to be estimated, or nil when not even that can be drawn. The
// steps are only to be read.
func Steps(a *solver.Answer) []survey.Step {
	if a == nil {
		return nil
	}
	if a.Survey != nil && len(a.Survey.Steps) == len(a.Job.Flight.Steps) {
		return a.Survey.Steps
	}
	return sketch(&a.Job)
}

// sketch returns the job's sketch as steps without covariance, or nil.
func sketch(job *model.Job) []survey.Step {
	out := make([]survey.Step, len(job.Flight.Steps))
	for i := range out {
		if !SketchStep(&out[i], &job.Flight.Steps[i]) {
			return nil
		}
	}
	return out
}

// SketchStep sets dst to the sketch of s. It returns false for a step that is
// no opening at all: too few corners, edges that do not go round, or a
// coordinate that is not a number. Corners of dst are used again.
func SketchStep(dst *survey.Step, s *model.Step) bool {
	n := len(s.Corners)
	*dst = survey.Step{
		Corners: dst.Corners[:0], FL: s.FrontLeft(), FR: s.FrontRight(), BR: s.BackRight(), BL: s.BackLeft(),
		TopLeft: float64(s.TopLeft), TopRight: float64(s.TopRight), Fall: math.Tan(float64(s.Fall)),
		Lean: [2]float64{float64(s.Left.Lean), float64(s.Right.Lean)},
	}
	sum := dst.TopLeft + dst.TopRight + dst.Fall
	for _, c := range s.Corners {
		dst.Corners = append(dst.Corners, mgl64.Vec2{float64(c.X), float64(c.Y)})
		sum += float64(c.X) + float64(c.Y)
	}
	return n >= model.MinCorners && len(s.Edges) == n && dst.FL >= 0 && dst.BR >= 0 && sum-sum == 0
}

// Turn takes a plan place from stair axes to the scene of the plan.
func (o *Options) Turn(p mgl64.Vec2) drawing.Point {
	if o.Upright {
		return drawing.Point{X: p[0], Y: p[1]}
	}
	return drawing.Point{X: p[1], Y: -p[0]}
}

// unturn undoes Turn.
func (o *Options) unturn(p drawing.Point) mgl64.Vec2 {
	if o.Upright {
		return mgl64.Vec2{p.X, p.Y}
	}
	return mgl64.Vec2{-p.Y, p.X}
}

const (
	// alignedWithin is how far an opening may be turned from the axes and still
	// be drawn, dragged and exaggerated along them. Carpenters leave a degree
	// or two; the steps of a turn are set out at 15 degrees and more.
	alignedWithin = 10 * math.Pi / 180
	// squareWithin is how far the corners of an opening may be from square for
	// it to count as a rectangle out of square, and not as tapered by design.
	squareWithin = 12 * math.Pi / 180
	// landingFrom is the angle between nose line and riser face from which an
	// opening is a landing that turns and no winder: none turns by more.
	landingFrom = 60.5 * math.Pi / 180
)

// Axes returns the directions across (to the right) and up the flight of a
// step: those of the stair for a step that lies within ten degrees of them. A
// landing that turns has those of its nose line.
func Axes(s *survey.Step) (across, up mgl64.Vec2) {
	fl, fr, br, bl := s.Corners[s.FL], s.Corners[s.FR], s.Corners[s.BR], s.Corners[s.BL]
	ends := fr.Sub(fl).Add(br.Sub(bl))
	sides := bl.Sub(fl).Add(br.Sub(fr))
	d := ends.Add(mgl64.Vec2{sides[1], -sides[0]})
	if front, back := fr.Sub(fl), br.Sub(bl); math.Abs(math.Atan2(front[0]*back[1]-front[1]*back[0], front.Dot(back))) > landingFrom {
		d = front
	}
	a := math.Atan2(d[1], d[0])
	if math.Abs(a) < alignedWithin || d.Len() == 0 {
		a = 0
	}
	sin, cos := math.Sincos(a)
	return mgl64.Vec2{cos, sin}, mgl64.Vec2{-sin, cos}
}

// nearlySquare says whether an opening is a rectangle out of square.
func nearlySquare(s *survey.Step) bool {
	if len(s.Corners) != 4 {
		return false
	}
	for c, p := range s.Corners {
		a, b := s.Corners[(c+1)%4].Sub(p), s.Corners[(c+3)%4].Sub(p)
		if math.Abs(math.Atan2(a[0]*b[1]-a[1]*b[0], a.Dot(b))-math.Pi/2) > squareWithin {
			return false
		}
	}
	return true
}

// Shown appends the corners of s in stair axes as the plan shows them, with
// what is out of square multiplied by the factor of o. An opening that is
// tapered by design, or has other than four corners, is shown true to shape.
func (o *Options) Shown(dst []mgl64.Vec2, s *survey.Step) []mgl64.Vec2 {
	e := o.Factor()
	if e == 1 || !nearlySquare(s) {
		return append(dst, s.Corners...)
	}
	across, up := Axes(s)
	mean := func(v mgl64.Vec2, a, b int) float64 { return (s.Corners[a].Dot(v) + s.Corners[b].Dot(v)) / 2 }
	left, right := mean(across, s.FL, s.BL), mean(across, s.FR, s.BR)
	front, back := mean(up, s.FL, s.FR), mean(up, s.BL, s.BR)
	for c, p := range s.Corners {
		u, v := left, front
		if c == s.FR || c == s.BR {
			u = right
		}
		if c == s.BL || c == s.BR {
			v = back
		}
		u += e * (p.Dot(across) - u)
		v += e * (p.Dot(up) - v)
		dst = append(dst, across.Mul(u).Add(up.Mul(v)))
	}
	return dst
}
