package panel

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
	"risewright/view/words"

	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"
)

// parseReading reads a text as the kind's instrument shows it, typed in the
// language spoken.
func parseReading(k model.Kind, text string, u model.Units) (float64, error) {
	return typed(text, func(s string) (float64, error) { return parseTyped(k, s, u) })
}

// parseTyped reads it in any language.
func parseTyped(k model.Kind, text string, u model.Units) (float64, error) {
	switch k.Quantity() {
	case model.QuantityAngle:
		a, err := model.ParseAngle(text)
		return float64(a), err
	case model.QuantityLean:
		a, err := model.ParseLean(text)
		return float64(a), err
	case model.QuantitySlope:
		a, err := model.ParseSlope(text)
		return float64(a), err
	}
	l, err := model.ParseLength(text, u)
	return float64(l), err
}

// sameValue is how near a value typed and a value kept must be to count as the
// same: a millionth of a millimetre or of a radian, far below any reading and
// far above float64's rounding at 10⁵ mm, 1.5·10⁻¹¹.
const sameValue = 1e-6

// typedText returns what to show for a reading: what was typed, while it still
// says the same in the job's units; otherwise the value.
func typedText(job *model.Job, k model.Kind, typed string, value float64) string {
	if typed != "" {
		// In whatever language it was typed.
		for _, parse := range []func(model.Kind, string, model.Units) (float64, error){parseTyped, parseReading} {
			if v, err := parse(k, typed, job.Units); err == nil && math.Abs(v-value) < sameValue {
				return words.Figure(typed)
			}
		}
	}
	return words.Figure(solver.Show(job, k, value))
}

// faultText is the message of a text that was refused: for a TextError the
// text with a caret under the character, to be set in a face of one width, and
// then problem and remedy.
func faultText(err error) (caret, why string) {
	var t *model.TextError
	if errors.As(err, &t) {
		why = model.Sentence(t.Problem)
		if t.Remedy != "" {
			why += " " + model.Sentence(t.Remedy)
		}
		return t.Caret(), why
	}
	return "", model.Sentence(err.Error())
}

// offText is a residual: how far the reading lies from the most likely shape.
func offText(job *model.Job, c *survey.Check) string {
	switch c.Kind.Quantity() {
	case model.QuantityAngle, model.QuantityLean:
		return signed(model.Angle(c.Residual).Degrees(), 2, "°")
	case model.QuantitySlope:
		if job.Units != model.Imperial {
			return signed(math.Tan(c.Residual)*1000, 1, " mm/m")
		}
		s := job.Format().Slope(model.Angle(c.Residual))
		if c.Residual > 0 && !strings.HasPrefix(s, "0 ") {
			s = "+" + s
		}
		return s
	}
	return lengthOff(job, c.Residual)
}

// lengthOff writes a small signed length: tenths of a millimetre, or 64ths.
func lengthOff(job *model.Job, mm float64) string {
	if job.Units != model.Imperial {
		return signed(mm, 1, "")
	}
	f := model.Format{Units: model.Imperial, Fraction: 64}
	s := f.Length(model.Length(mm))
	if mm > 0 && s != `0"` {
		s = "+" + s
	}
	return s
}

func signed(v float64, decimals int, unit string) string {
	k := math.Pow10(decimals)
	if v = math.Round(v*k) / k; v == 0 {
		return "0" + unit
	}
	return fmt.Sprintf("%+.*f%s", decimals, v, unit)
}

// faint is the redundancy below which an error in a reading hardly shows in
// its own residual: a blunder of ten spreads would show as one.
const faint = 0.1

// near is the part of the critical value from which a residual deserves a
// second look although no conflict is proved. Our own choice.
const near = 0.75

// verdict says in a word and a mark what the others make of a reading.
func verdict(r *survey.Result, c *survey.Check) (string, fyne.ThemeColorName) {
	for i := range r.Conflicts {
		for j, s := range r.Conflicts[i].Suspects {
			if s.Reading == c.Reading {
				if j > 0 || len(r.Conflicts[i].Suspects) > 1 {
					return "■ one of two", base.ColorNameError
				}
				return "■ retake", base.ColorNameError
			}
		}
	}
	switch {
	case !c.Used:
		return "– aside", base.ColorNamePlaceHolder
	case c.Redundancy < faint:
		return "○ alone", base.ColorNamePlaceHolder
	case math.Abs(c.Normal) > near*r.Critical:
		return "▲ look again", base.ColorNameWarning
	}
	return "● agrees", base.ColorNameSuccess
}

// verdictWords says at length what the verdict rests on.
func verdictWords(job *model.Job, r *survey.Result, c *survey.Check) string {
	for i := range r.Conflicts {
		for _, s := range r.Conflicts[i].Suspects {
			if s.Reading == c.Reading {
				t := fmt.Sprintf("The other readings give %s %s.", solver.Show(job, c.Kind, s.Without), solver.PlusMinus(job, c.Kind, survey.Band95*s.Spread))
				if s.Explanation != "" {
					t += " A slip that fits: " + s.Explanation + "."
				}
				if len(r.Conflicts[i].Suspects) > 1 {
					t += " It and another cannot be told apart: retake both."
				}
				return t
			}
		}
	}
	if !c.Used {
		return "Set aside: kept, not used."
	}
	if c.Redundancy < faint || math.IsInf(c.Smallest, 0) {
		return "No other reading checks it: an error in it would not show."
	}
	return fmt.Sprintf("Checked by the others: an error of %s or more would be found.", solver.Show(job, c.Kind, c.Smallest))
}

// bare returns a length or angle without its unit and marks, for comparing
// what was typed with how it prints.
func bare(text string) string {
	return strings.NewReplacer(",", ".", " mm/m", "", " in/ft", "in/ft", " mm", "", "mm", "", `"`, "", "″", "", "°", "").Replace(strings.TrimSpace(text))
}
