package pieces

import (
	"fmt"
	"math"
	"strconv"

	"risewright/model"
	"risewright/solver/survey"
)

const (
	// paintedBand is the band, in mm, that a painted riser's widths may have
	// where the job's tolerance, meant for clear wood, is tighter: gaps between
	// painted boards up to 2 mm are caulked. Common practice, no source.
	paintedBand = 2.0
	// heightBand is the band, in mm, that a riser's height may have: its top edge
	// is hidden by the tread, and hidden gaps may be 3 mm. Common practice, no
	// source.
	heightBand = 3.0
	// hiddenFactor is how much looser than a width a depth or a diagonal may
	// be, as in package survey: it ends where a gap is hidden. Common practice,
	// no source.
	hiddenFactor = 2.0
	// shownSlope is the slope, rise over run, from which a board is noted to
	// lie on a tread that falls: 0.3 mm across an 18 mm riser.
	shownSlope = 1.0 / 60
)

// Make returns the boards of the flight in the order of building up: riser 1,
// tread 1, riser 2 and so on to the landing nosing, so that those of the step
// at index i lie at 2i and 2i+1; on a landing between flights the second is its
// nosing. After them come the floors of landings and the return nosings, from
// the bottom up. The steps of s are those of job.
func Make(job model.Job, s *survey.Result) []Piece {
	n := min(len(job.Flight.Steps), len(s.Steps))
	out := make([]Piece, 2*n)
	var more []Piece
	steps := make([]site, n)
	for i := range steps {
		steps[i] = siteOf(&job, s, i)
	}
	var b builder
	for i := range steps {
		b.reset(&job, s, steps, i)
		b.riser(&out[2*i])
		b.reset(&job, s, steps, i)
		if job.Flight.Steps[i].Landing && i < n-1 {
			b.landingNosing(&out[2*i+1])
			b.reset(&job, s, steps, i)
			more = append(more, Piece{})
			b.floor(&more[len(more)-1])
			continue
		}
		b.tread(&out[2*i+1])
		b.rounds(&out[2*i+1])
		more = b.returns(&out[2*i+1], more)
	}
	return append(out, more...)
}

// Label returns the letter and number pencilled on a board.
func Label(k Kind, step int) string {
	letter := byte('T')
	switch k {
	case Riser:
		letter = 'R'
	case LandingNosing:
		letter = 'L'
	case ReturnNosing:
		letter = 'N'
	case LandingFloor:
		letter = 'F'
	}
	var b [12]byte
	text := append(b[:0], letter)
	if step < 10 {
		text = append(text, '0')
	}
	return string(strconv.AppendInt(text, int64(step), 10))
}

// builder makes one piece at a time; it keeps its arrays from piece to piece.
type builder struct {
	job   *model.Job
	res   *survey.Result
	steps []site
	i     int // index of the piece's step

	outline outline
	grads   [4][2]row // how the two lines at each named corner move
	// twoSteps says that the piece depends on the step below, too.
	twoSteps bool
}

func (b *builder) reset(job *model.Job, s *survey.Result, steps []site, i int) {
	b.job, b.res, b.steps, b.i = job, s, steps, i
	b.outline = outline{}
	b.grads = [4][2]row{}
	b.twoSteps = false
}

// release decides whether the piece may be cut, given the steps it depends on.
func (b *builder) release(p *Piece, on ...int) {
	if p.Why = p.Impossible; p.Why != "" {
		p.Solid.Convex = false
		return
	}
	if p.Why = p.Template; p.Why != "" {
		return
	}
	if b.res.Status != survey.Converged {
		p.Why = "the estimate of the flight did not settle; look for a misread reading"
		return
	}
	for _, i := range on {
		if s := &b.res.Steps[i]; s.Readiness != survey.ReadyCut {
			p.Why = fmt.Sprintf("step %d is not ready for the saw", i+1)
			if s.Why != "" {
				p.Why += ": " + s.Why
			}
			return
		}
	}
	limit := float64(b.job.Tolerance)
	if p.Kind == Riser {
		limit = math.Max(limit, paintedBand)
	}
	if p.Kind == ReturnNosing { // its far end lies free
		limit *= hiddenFactor
	}
	names := figureNames(p.Kind)
	for k, v := range p.Figures.list() {
		allowed := limit
		if k >= 2 {
			allowed = hiddenFactor * limit
		}
		if p.Kind == Riser && (k == 2 || k == 3) {
			allowed = heightBand
		}
		if v.PlusMinus > allowed {
			f := b.job.Format()
			p.Why = fmt.Sprintf("its %s is known to %s; a cut needs %s", names[k],
				f.PlusMinus(model.Length(v.PlusMinus)), f.PlusMinus(model.Length(allowed)))
			if foot := b.i; p.Kind == Riser && k >= 2 && foot > 0 && !b.fallRead(foot-1) {
				p.Why += fmt.Sprintf("; read the tilt fore and aft of step %d, on which it stands", foot)
			}
			return
		}
	}
	p.Released = true
}

// fallRead says whether the fore-and-aft tilt of the step at index i is in use.
func (b *builder) fallRead(i int) bool {
	for _, r := range b.job.Flight.Steps[i].Readings {
		if r.Kind == model.TiltFore && !r.Aside {
			return true
		}
	}
	return false
}

// list returns the figures in the order of figureNames.
func (f *Figures) list() [6]Value {
	return [6]Value{f.Back, f.Front, f.LeftDepth, f.RightDepth, f.DiagonalLeft, f.DiagonalRight}
}

// figureNames returns what the six figures are called on a board of kind k.
func figureNames(k Kind) [6]string {
	switch k {
	case ReturnNosing:
		return [6]string{"inner edge", "outer edge", "left end", "right end",
			"diagonal, inner left to outer right", "diagonal, inner right to outer left"}
	case Riser:
		return [6]string{"bottom width", "top width", "left height", "right height",
			"diagonal, bottom left to top right", "diagonal, bottom right to top left"}
	}
	return [6]string{"back width", "front width", "left depth", "right depth",
		"diagonal, back left to front right", "diagonal, back right to front left"}
}

// NamedFigure is one of a piece's figures with the trade's name for it.
type NamedFigure struct {
	Name string
	Value
}

// Named returns the six figures with their names: the two widths, the two
// depths, the two diagonals.
func (p *Piece) Named() [6]NamedFigure {
	names, values := figureNames(p.Kind), p.Figures.list()
	var out [6]NamedFigure
	for i := range out {
		out[i] = NamedFigure{names[i], values[i]}
	}
	return out
}
