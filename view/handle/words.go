package handle

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// TreadName returns what a step is called on drawings, which is what its board
// is called on cards: T07, and for the landing nosing of a flight of 14, L14.
func TreadName(i, steps int) string {
	if i == steps-1 {
		return pieces.Label(pieces.LandingNosing, i+1)
	}
	return pieces.Label(pieces.Tread, i+1)
}

// StepName is TreadName for a step of a job, whose landings between flights
// have an L as well.
func StepName(job *model.Job, i int) string {
	if job.Flight.Steps[i].Landing {
		return pieces.Label(pieces.LandingNosing, i+1)
	}
	return TreadName(i, len(job.Flight.Steps))
}

// words returns the handle's name for people, such as "T07, back left corner".
func (id ID) words(steps []survey.Step) string {
	name := TreadName(id.Step-1, len(steps))
	switch id.Kind {
	case Corner:
		return name + ", " + cornerWords(&steps[id.Step-1], id.Corner)
	case SideLine:
		return fmt.Sprintf("%s, %s side", name, id.Side)
	case NosingLine:
		return name + ", nosing line"
	case LandingDepth:
		return "depth of the landing nosing"
	case TreadHeight:
		return name + ", height of the existing tread"
	case FloorBottom:
		return "new finish on the bottom floor"
	case FloorTop:
		return "new finish on the top floor"
	case Rail:
		return name + ", rail height"
	case Overhang:
		return "overhang of the new noses"
	}
	return string(id.Kind)
}

func cornerWords(s *survey.Step, c int) string {
	switch {
	case c == s.FL && c == s.BL:
		return "left point"
	case c == s.FR && c == s.BR:
		return "right point"
	case c == s.FL:
		return "front left corner"
	case c == s.FR:
		return "front right corner"
	case c == s.BR:
		return "back right corner"
	case c == s.BL:
		return "back left corner"
	}
	return fmt.Sprintf("corner %d", c+1)
}

// Lettered returns a printed length as it is drawn: set fractions with a thin
// space before them and real prime signs.
func Lettered(s string) string {
	if !strings.ContainsAny(s, `/"'`) {
		return strings.Replace(s, " mm", "\u202fmm", 1)
	}
	var b strings.Builder
	for i := range len(s) {
		switch c := s[i]; {
		case c == '/':
			b.WriteRune('⁄')
		case c == '"':
			b.WriteRune('″')
		case c == '\'':
			b.WriteRune('′')
		case c == ' ' && i > 0 && isFigure(s[i-1]) && i+1 < len(s) && isFigure(s[i+1]):
			b.WriteRune('\u202f')
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}

func isFigure(c byte) bool { return '0' <= c && c <= '9' }

// Length returns l as it is drawn, with its unit.
func (o *Options) Length(l float64) string {
	return Lettered(o.Format.Length(model.Length(l)))
}

// Number returns l as it is drawn, without its unit.
func (o *Options) Number(l float64) string {
	return Lettered(o.Format.Number(model.Length(l)))
}

// Figure returns a length with the half width of its 95 % band.
func (o *Options) Figure(value, spread float64) string {
	return o.Length(value) + " " + Lettered(o.Format.PlusMinus(model.Length(spread*survey.Band95)))
}

// Marks of a finding on a drawing, from least to worst. Their shapes differ, so
// that they can be told apart without colour.
const (
	MarkAdvice  = "△"
	MarkOutside = "▲"
	MarkStop    = "■"
)

// Mark returns the mark of a severity, and false for a note, which is not drawn.
func Mark(s model.Severity) (mark string, drawn bool) {
	switch s {
	case model.Advice:
		return MarkAdvice, true
	case model.Outside:
		return MarkOutside, true
	case model.Block:
		return MarkStop, true
	}
	return "", false
}
