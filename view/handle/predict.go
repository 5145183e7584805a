package handle

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/survey"
)

// predict returns what a reading of kind k would show at the step of index i
// of a shape, and false where there is no such reading. It is the plain twin
// of the survey's own; a test holds the two together.
func predict(steps []survey.Step, i int, k model.Kind) (float64, bool) {
	first, last := &steps[0], &steps[len(steps)-1]
	switch k {
	case model.TotalRise:
		return (last.TopLeft + last.TopRight) / 2, true
	case model.TotalGoing:
		if len(steps) < 2 {
			return 0, false
		}
		l, okL := offset(first.Corners[first.FL], first.Corners[first.FR], last.Corners[last.FL])
		r, okR := offset(first.Corners[first.FL], first.Corners[first.FR], last.Corners[last.FR])
		return (l + r) / 2, okL && okR
	case model.LongDiagonalLeft:
		return last.Corners[last.FR].Sub(first.Corners[first.FL]).Len(), true
	case model.LongDiagonalRight:
		return last.Corners[last.FL].Sub(first.Corners[first.FR]).Len(), true
	}
	if i < 0 || i >= len(steps) {
		return 0, false
	}
	s := &steps[i]
	fl, fr, br, bl := s.Corners[s.FL], s.Corners[s.FR], s.Corners[s.BR], s.Corners[s.BL]
	distance := func(a, b mgl64.Vec2) (float64, bool) { d := b.Sub(a).Len(); return d, d > 0 }
	switch k {
	case model.FrontWidth:
		return distance(fl, fr)
	case model.BackWidth:
		return distance(bl, br)
	case model.MiddleWidth:
		return distance(fl.Add(bl).Mul(0.5), fr.Add(br).Mul(0.5))
	case model.LeftDepth:
		return distance(fl, bl)
	case model.RightDepth:
		return distance(fr, br)
	case model.DiagonalLeft:
		return distance(bl, fr)
	case model.DiagonalRight:
		return distance(br, fl)
	case model.GaugeFrontLeft:
		return Interior(s, s.FL)
	case model.GaugeFrontRight:
		return Interior(s, s.FR)
	case model.GaugeBackRight:
		return Interior(s, s.BR)
	case model.GaugeBackLeft:
		return Interior(s, s.BL)
	case model.LeanLeft:
		return s.Lean[0], true
	case model.LeanRight:
		return s.Lean[1], true
	case model.TiltFore:
		return math.Atan(s.Fall), true
	case model.TiltAcross:
		w, ok := distance(fl, fr)
		if !ok {
			return 0, false
		}
		return math.Atan((s.TopRight - s.TopLeft) / w), true
	case model.RiseLeft:
		if i == 0 {
			return s.TopLeft, true
		}
		return s.TopLeft - steps[i-1].TopLeft, true
	case model.RiseRight:
		if i == 0 {
			return s.TopRight, true
		}
		return s.TopRight - steps[i-1].TopRight, true
	case model.GoingLeft, model.GoingRight:
		if i == 0 {
			return 0, false
		}
		p := fl
		if k == model.GoingRight {
			p = fr
		}
		b := &steps[i-1]
		return offset(b.Corners[b.FL], b.Corners[b.FR], p)
	}
	return 0, false
}

// offset returns the distance of p from the line through a and b, positive to
// the left of a→b.
func offset(a, b, p mgl64.Vec2) (float64, bool) {
	d := b.Sub(a)
	w := d.Len()
	if w == 0 {
		return 0, false
	}
	q := p.Sub(a)
	return (d[0]*q[1] - d[1]*q[0]) / w, true
}

// Interior returns the interior angle of an opening at corner c, in radians,
// and false where two corners fall together.
func Interior(s *survey.Step, c int) (float64, bool) {
	n := len(s.Corners)
	p := s.Corners[c]
	a, b := s.Corners[(c+1)%n].Sub(p), s.Corners[(c+n-1)%n].Sub(p)
	if a.Len() == 0 || b.Len() == 0 {
		return 0, false
	}
	angle := math.Atan2(a[0]*b[1]-a[1]*b[0], a.Dot(b))
	if angle < 0 {
		angle += 2 * math.Pi
	}
	return angle, true
}
