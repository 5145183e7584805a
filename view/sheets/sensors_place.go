package sheets

import (
	"fmt"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/sensing"
	"risewright/view/card"
)

// level is what counts as no length on a tape, mm, and straight as no angle.
const (
	level    = 0.5
	straight = 0.05 * model.Degree
)

// mountWords says what a sensor is fixed to.
func mountWords(m model.Mount) string {
	switch m {
	case model.RailLeft:
		return "under the left rail"
	case model.RailRight:
		return "under the right rail"
	case model.WallLeft:
		return "left wall"
	case model.WallRight:
		return "right wall"
	case model.OnPost:
		return "a post"
	case model.OnBox:
		return "a box"
	case model.OnCeiling:
		return "the ceiling"
	}
	return "not said"
}

// place says where a lens is: along the flight in steps, measured from a nose,
// and how high.
func (s *senser) place(z *sensing.Zone) (along, at, height string) {
	st, x := s.r.Stair, &z.From
	lens, _ := st.Lens(x)
	if !x.Mount.Beside() {
		return s.free(lens)
	}
	k := min(max(int(math.Round(x.Along))+1, 1), st.Risers)
	ref := *x
	ref.Along = float64(k - 1)
	there, _ := st.Lens(&ref)
	far := lens.Sub(there).Vec2().Len()
	at = fmt.Sprintf("plumb over nose %d", k)
	switch {
	case far < level:
	case x.Along > ref.Along && k == st.Risers:
		at = fmt.Sprintf("%s beyond nose %d, over the top floor", s.length(far), k)
	case x.Along > ref.Along:
		at = fmt.Sprintf("%s up the flight from nose %d", s.length(far), k)
	case k == 1:
		at = fmt.Sprintf("%s in front of nose 1", s.length(far))
	default:
		at = fmt.Sprintf("%s down the flight from nose %d", s.length(far), k)
	}
	above := lens[2] - noseBelow(st, x)
	height = fmt.Sprintf("%s above the line of the noses", s.length(above))
	if x.Mount.AtRail() {
		height = fmt.Sprintf("%s below the rail's underside, %s above the line of the noses", s.length(float64(x.Below)), s.length(above))
		if x.Below < level {
			height = fmt.Sprintf("at the rail's underside, %s above the line of the noses", s.length(above))
		}
	}
	return card.SetFractions(fmt.Sprintf("%.2f", x.Along)), at, height
}

// noseBelow is the height of the line of the noses at a sensor beside the
// flight: there a sensor on the wall hangs that is 0 above it.
func noseBelow(st *sensing.Stair, x *model.Sensor) float64 {
	on := *x
	on.Mount, on.Below = model.WallLeft, 0
	if x.Mount.Side() == model.Right {
		on.Mount = model.WallRight
	}
	p, _ := st.Lens(&on)
	return p[2]
}

// free says where a lens is that hangs in the room: from the left end of the
// nearest nose line, along and square to it.
func (s *senser) free(lens mgl64.Vec3) (along, at, height string) {
	nose := s.r.Stair.Nose
	k := s.r.Stair.NearestStep(lens) - 1
	across, behind := frameOf(nose[k], lens)
	at = fmt.Sprintf("%s and %s the left end of nose %d",
		s.aside(across, "right of", "left of"), s.aside(behind, "behind", "in front of"), k+1)
	return "–", at, fmt.Sprintf("%s above nose %d", s.length(lens[2]-nose[k][0][2]), k+1)
}

func (s *senser) aside(mm float64, more, less string) string {
	if mm < 0 {
		more = less
	}
	return s.length(math.Abs(mm)) + " " + more
}

// frameOf returns how far p lies to the right of the left end of a nose line and
// how far behind it, level.
func frameOf(nose [2]mgl64.Vec3, p mgl64.Vec3) (across, behind float64) {
	u := nose[1].Sub(nose[0]).Vec2()
	if u.Len() < level {
		u = mgl64.Vec2{1, 0}
	}
	u = u.Normalize()
	d := p.Sub(nose[0]).Vec2()
	return d.Dot(u), d[1]*u[0] - d[0]*u[1]
}

// turnWords says how a sensor is turned about the vertical.
func turnWords(x *model.Sensor) string {
	zero, turned := "square across the stair", "from square across the stair"
	if !x.Mount.Beside() {
		zero, turned = "straight up the survey's plan", "from straight up the survey's plan"
	}
	a := x.Yaw
	switch {
	case math.Abs(float64(a)) < float64(straight):
		return zero
	case a > 0:
		return model.FormatDegrees(a, 1) + " to its left " + turned
	}
	return model.FormatDegrees(-a, 1) + " to its right " + turned
}

func tiltWords(a model.Angle) string {
	switch {
	case math.Abs(float64(a)) < float64(straight):
		return "level"
	case a > 0:
		return model.FormatDegrees(a, 1) + " down"
	}
	return model.FormatDegrees(-a, 1) + " up"
}

// hoodWords says how wide and deep a hood is, and what it leaves free.
func (s *senser) hoodWords(x *model.Sensor) string {
	if !(x.Hood.Depth > 0) {
		return "none"
	}
	text := fmt.Sprintf("bore %s, depth %s", s.length(float64(x.Hood.Bore)), s.length(float64(x.Hood.Depth)))
	if c, ok := s.senses.Class(x.Class); ok {
		text += fmt.Sprintf(": leaves %s each way", model.FormatDegrees(x.Hood.Half(model.Length(c.LensMM.Value)), 0))
	}
	return text
}

func maskWords(m model.Mask) string {
	var parts []string
	for _, p := range []struct {
		side string
		a    model.Angle
	}{{"left", m.Left}, {"right", m.Right}, {"up", m.Up}, {"down", m.Down}} {
		if p.a != 0 {
			parts = append(parts, p.side+" from "+model.FormatDegrees(p.a, 0))
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, ", ")
}

// aimedAt says where the middle line of a sensor's view meets a tread or a
// floor. Rails, balusters and walls on the way are not looked for.
func (s *senser) aimedAt(e *sensing.Eye) string {
	best, what := math.Inf(1), ""
	for i := range s.a.Pieces {
		p := &s.a.Pieces[i]
		if p.Impossible != "" || p.Kind == pieces.Riser || p.Kind == pieces.ReturnNosing || len(p.Face) < 3 {
			continue
		}
		in := p.Frame.Inv()
		o, d := mgl64.TransformCoordinate(e.At, in), mgl64.TransformNormal(e.Axis, in)
		t := -o[2] / d[2]
		if !(t > 0) || t >= best {
			continue
		}
		if h := o.Add(d.Mul(t)).Vec2(); inside(p.Face, h) {
			best, what = t, s.onBoard(p, e.At.Add(e.Axis.Mul(t)))
		}
	}
	if what != "" {
		return what
	}
	n := s.r.Stair.Risers
	first, last := s.r.Stair.Nose[0], s.r.Stair.Nose[n-1]
	for _, f := range []struct {
		z     float64
		nose  [2]mgl64.Vec3
		front bool
		words string
	}{{last[0][2], last, false, "the top floor, %s behind nose %d"}, {float64(s.a.Job.Overlay.FloorBottom), first, true, "the bottom floor, %s in front of nose %d"}} {
		t := (f.z - e.At[2]) / e.Axis[2]
		if !(t > 0) || math.IsInf(t, 0) {
			continue
		}
		_, behind := frameOf(f.nose, e.At.Add(e.Axis.Mul(t)))
		switch {
		case f.front && behind <= 0:
			return fmt.Sprintf(f.words, s.length(-behind), 1)
		case !f.front && behind >= 0:
			return fmt.Sprintf(f.words, s.length(behind), n)
		}
	}
	return s.atSide(e)
}

// atSide says where the middle line of a view that meets no tread comes to a side
// of the flight.
func (s *senser) atSide(e *sensing.Eye) string {
	nose := s.r.Stair.Nose
	for k := len(nose) - 1; k >= 0; k-- {
		u := nose[k][1].Sub(nose[k][0]).Vec2()
		wide := u.Len()
		across, _ := frameOf(nose[k], e.At)
		speed := e.Axis.Vec2().Dot(u) / max(wide, level)
		to, side := wide, "right"
		if speed < 0 {
			to, side = 0, "left"
		}
		t := (to - across) / speed
		if !(t > 0) || math.IsInf(t, 0) {
			continue
		}
		p := e.At.Add(e.Axis.Mul(t))
		if _, behind := frameOf(nose[k], p); behind < 0 && k > 0 {
			continue
		}
		up := p[2] - nose[k][0][2]
		if up < 0 {
			break
		}
		return fmt.Sprintf("the %s side, %s above tread %d", side, s.length(up), k+1)
	}
	return "no tread and no floor"
}

// onBoard says where a point on a tread lies, from its nose.
func (s *senser) onBoard(p *pieces.Piece, at mgl64.Vec3) string {
	if p.Step < 1 || p.Step > len(s.r.Stair.Nose) {
		return p.ID
	}
	across, behind := frameOf(s.r.Stair.Nose[p.Step-1], at)
	return fmt.Sprintf("tread %d, %s from its left end and %s behind its nose", p.Step, s.length(max(across, 0)), s.length(max(behind, 0)))
}

// inside says whether a point lies in an outline.
func inside(outline []mgl64.Vec2, p mgl64.Vec2) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}
