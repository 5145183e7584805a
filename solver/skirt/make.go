package skirt

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// Spec says which boards are wanted and how. The zero Spec takes the usual
// sizes, a square nosing and no stock.
type Spec struct {
	NewThickness   float64 // 0: 18 mm
	FalseThickness float64 // 0: 9 mm
	OldThickness   [2]float64
	// Margin is that of a new board's top edge above the highest new nose,
	// square to the pitch; 0: 60 mm.
	Margin float64
	// OldMargin of each side's old skirt above the old nose, square to the
	// pitch, at the first and last step; 0: not measured.
	OldMargin [2][2]float64
	Undercut  float64 // of plumb and level cuts, rad; 0: 4 degrees
	Ahead     float64 // how far the board runs in front of the first nose; 0: 60 mm
	Profile   Profile
	Widths    []model.StockSize
	Lengths   []model.StockSize
}

// The usual sizes: common practice, no source.
const (
	usualNew      = 18.0 // mm
	usualFalse    = 9.0
	usualOld      = 19.0
	usualMargin   = 60.0
	usualAhead    = 60.0
	usualUndercut = 4 * math.Pi / 180 // between 3 and 5 degrees
)

// Filled returns the spec with the usual sizes where it has none.
func (s Spec) Filled() Spec {
	set := func(v *float64, usual float64) {
		if !(*v > 0) {
			*v = usual
		}
	}
	set(&s.NewThickness, usualNew)
	set(&s.FalseThickness, usualFalse)
	set(&s.Margin, usualMargin)
	set(&s.Ahead, usualAhead)
	set(&s.Undercut, usualUndercut)
	for i := range s.OldThickness {
		set(&s.OldThickness[i], usualOld)
	}
	return s
}

// Make returns the boards for every way of treating each side that its kind
// allows: the left side first, then the right. On a side with a skirt these are
// the kept skirt, a new board with each lower edge and a false skirt laid first
// or last; on a wall the new boards; on an open side none. The pieces are those
// of package pieces for the job and survey, risers and treads first; bu is the
// same job's build-up. A flight that turns, or has a landing in it, gets none: no
// straight board follows it.
func Make(job model.Job, res *survey.Result, bu *buildup.Result, ps []pieces.Piece, spec Spec) []Board {
	spec = spec.Filled()
	var out []Board
	if res == nil || len(res.Steps) < 2 || len(ps) < 2*len(res.Steps) || len(job.Flight.Steps) != len(res.Steps) || turns(&job, res) {
		return nil
	}
	for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
		switch KindOf(&job, side) {
		case model.Open:
			continue
		case model.Skirt:
			out = append(out, make1(&job, res, bu, ps, spec, side, Kept, ""))
			for _, l := range []Lower{OverRough, RiserLine, OverFinished} {
				out = append(out, make1(&job, res, bu, ps, spec, side, New, l))
			}
			for _, l := range []Lower{OverRough, OverFinished} {
				out = append(out, make1(&job, res, bu, ps, spec, side, False, l))
			}
		default:
			for _, l := range []Lower{OverRough, RiserLine, OverFinished} {
				out = append(out, make1(&job, res, bu, ps, spec, side, New, l))
			}
		}
	}
	return out
}

// turnedFrom is how far a nose line is turned against the first from which no
// straight board follows the flight: out of square is a degree or two.
const turnedFrom = 10 * math.Pi / 180

// turns says whether a flight turns or has a landing in it.
func turns(job *model.Job, res *survey.Result) bool {
	nose := func(i int) mgl64.Vec2 {
		s := &res.Steps[i]
		return s.Corners[s.FR].Sub(s.Corners[s.FL])
	}
	first := nose(0)
	for i := range res.Steps {
		d := nose(i)
		if job.Flight.Steps[i].Landing || math.Abs(math.Atan2(first[0]*d[1]-first[1]*d[0], first.Dot(d))) > turnedFrom {
			return true
		}
	}
	return false
}

// KindOf returns what most steps meet on a side; the higher of two that tie is
// the one a fall matters more at: open before wall before skirt.
func KindOf(job *model.Job, side pieces.Side) model.SideKind {
	count := map[model.SideKind]int{}
	for i := range job.Flight.Steps {
		s := job.Flight.Steps[i].Left
		if side == pieces.Right {
			s = job.Flight.Steps[i].Right
		}
		count[s.Kind]++
	}
	best := model.Open
	for _, k := range []model.SideKind{model.Wall, model.Skirt} {
		if count[k] > count[best] {
			best = k
		}
	}
	return best
}

// Stand returns how far the show face of a board stands inside the surveyed
// side. A new board in the place of an old skirt stands where that stood, but
// for the difference of their thicknesses.
func Stand(kind model.SideKind, t Treatment, spec Spec, side pieces.Side) float64 {
	spec = spec.Filled()
	switch {
	case t == False:
		return spec.FalseThickness
	case t == New && kind == model.Wall:
		return spec.NewThickness
	case t == New:
		return spec.NewThickness - spec.OldThickness[side]
	}
	return 0
}

func make1(job *model.Job, res *survey.Result, bu *buildup.Result, ps []pieces.Piece, spec Spec, side pieces.Side, t Treatment, l Lower) Board {
	b := Board{Side: side, Treatment: t, Lower: l, Margin: spec.Margin}
	switch t {
	case New:
		b.Thickness = spec.NewThickness
	case False:
		b.Thickness = spec.FalseThickness
	case Kept:
		b.Thickness = spec.OldThickness[side]
		b.Margin = 0
	}
	for i := range ps {
		if ps[i].Impossible != "" {
			b.Impossible = fmt.Sprintf("%s cannot be made: %s", ps[i].ID, ps[i].Impossible)
			return b
		}
	}
	f, wall, ok := fitFace(sidePoints(job, res, ps, side), side)
	if !ok {
		b.Impossible = "the side has no length; check the corners on this side"
		return b
	}
	b.Wall = wall
	f.origin = f.origin.Add(f.z.Mul(Stand(KindOf(job, side), t, spec, side)))
	d := drawing{job: job, ps: ps, spec: &spec, side: side, face: f, board: &b}
	if !d.setPitch() {
		b.Impossible = "a tread's nose runs along the side, so the skirt has no section there; make a template on site"
		return b
	}
	if why := spec.Profile.Validate(ps[1].Thickness); why != "" {
		b.Impossible = why
		return b
	}
	b.Frame = d.face.frame()
	if t == Kept {
		b.margins(bu, d.noses, side, spec.OldMargin[side], job.Format())
		return b
	}
	if !d.lower(l) {
		b.Impossible = "a riser and a tread do not meet at this side; check the step's readings"
		return b
	}
	d.close()
	b.measure(spec.Widths)
	d.mark()
	b.Joints = d.joints(spec.Lengths)
	if b.Wall.Bow > bowPulled {
		b.Notes = append(b.Notes, fmt.Sprintf("the wall is hollow or full by %s within %s: scribe the board's back or fill behind the top edge", job.Format().Length(model.Length(b.Wall.Bow)), job.Format().Length(bowReach)))
	}
	if l == OverFinished {
		b.Notes = append(b.Notes, "offer the board up and mark it in place before sawing: the lines come from the survey, the steps from the saw")
	}
	return b
}

// margins fills in what a kept skirt keeps. Its top edge is straight; between
// the first and the last step its margin over the straight line of the noses is
// taken to change evenly.
func (b *Board) margins(bu *buildup.Result, noses []mgl64.Vec2, side pieces.Side, old [2]float64, f model.Format) {
	if bu == nil || len(bu.Steps) != len(noses) {
		return
	}
	known := old[0] > 0 && old[1] > 0
	cos, sin := math.Cos(bu.Pitch.At), math.Sin(bu.Pitch.At)
	on := buildup.Left
	if side == pieces.Right {
		on = buildup.Right
	}
	n := len(bu.Steps)
	// Height of each old nose above the line through the first and the last,
	// square to the pitch: x along the flight from the new noses, moved back
	// to the old.
	across := make([]float64, n)
	along := make([]float64, n)
	for i := range bu.Steps {
		s := &bu.Steps[i]
		across[i] = noses[i][1] - shrink(s, on, cos, sin)
		along[i] = noses[i][0]
	}
	for i := range bu.Steps {
		m := Margin{Step: i + 1, Known: known, Shrinks: shrink(&bu.Steps[i], on, cos, sin)}
		if known {
			u := (along[i] - along[0]) / (along[n-1] - along[0])
			line := across[0] + (across[n-1]-across[0])*u
			m.Old = old[0] + (old[1]-old[0])*u - (across[i] - line)
			m.New = m.Old - m.Shrinks
		}
		b.Margins = append(b.Margins, m)
	}
	worst := 0
	for i, m := range b.Margins {
		if m.Known && m.New < b.Margins[worst].New {
			worst = i
		}
	}
	switch {
	case !known:
		b.Notes = append(b.Notes, "measure how far the old skirt stands above the first and the last nose, to know what is left of it")
	case b.Margins[worst].New <= 0:
		b.Notes = append(b.Notes, fmt.Sprintf("the new nose of step %d rises %s above the old skirt's top edge", worst+1, f.Length(model.Length(-b.Margins[worst].New))))
	default:
		b.Notes = append(b.Notes, fmt.Sprintf("the old skirt keeps at least %s above the new noses, at step %d", f.Length(model.Length(b.Margins[worst].New)), worst+1))
	}
}

// shrink is how much closer to the top edge a new nose stands than the old one:
// it rises by the overlay and comes forward, which at the pitch a brings it
// closer by rise·cos a + forward·sin a.
func shrink(s *buildup.Step, on buildup.Side, cos, sin float64) float64 {
	return (s.NewTop.On(on).At-s.OldTop.On(on).At)*cos + s.Forward*sin
}
