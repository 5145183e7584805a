package sheets

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/view/card"
	"risewright/view/drawing"
)

// shortKind is what a kind is called where there is little room.
func shortKind(k model.Kind) string {
	switch k {
	case model.DiagonalLeft:
		return "diagonal BL to FR"
	case model.DiagonalRight:
		return "diagonal BR to FL"
	case model.GaugeBackLeft:
		return "gauge, back left"
	case model.LongDiagonalLeft:
		return "diagonal, bottom left"
	case model.LongDiagonalRight:
		return "diagonal, bottom right"
	}
	return k.Words()
}

// kindHelp says how a kind is read.
func kindHelp(k model.Kind) string {
	switch k {
	case model.TotalRise:
		return "old bottom floor to old top floor, at the middle"
	case model.TotalGoing:
		return "level, first nose line to last, at the middle"
	case model.LongDiagonalLeft:
		return "level, first nose left to last nose right"
	case model.LongDiagonalRight:
		return "level, first nose right to last nose left"
	}
	return ""
}

// value is what a reading says: as it was typed if that can be shown and means
// the same in the units of the sheet.
func value(j *model.Job, r *model.Reading) string {
	if r.Typed != "" && drawing.MissingRunes(r.Typed, true, false) == nil && len(r.Typed) <= longestTyped && sameHere(j, r) {
		return card.SetFractions(noMinusZero(r.Typed))
	}
	return card.SetFractions(solver.Show(j, r.Kind, r.Value))
}

// noMinusZero takes the sign off a zero.
func noMinusZero(s string) string {
	figure, _, _ := strings.Cut(s, " ")
	if strings.HasPrefix(s, "-") && !strings.ContainsAny(figure, "123456789") {
		return s[1:]
	}
	return s
}

// sameHere says whether what was typed means the same in the units that lengths
// are shown in now: a bare 36 typed in inches is no 36 mm.
func sameHere(j *model.Job, r *model.Reading) bool {
	if r.Kind.Quantity() != model.QuantityLength {
		return true
	}
	v, err := model.ParseLength(r.Typed, j.Units)
	return err == nil && math.Abs(float64(v)-r.Value) < 0.01
}

// longestTyped is the longest text shown as it was typed: more does not fit in
// a box.
const longestTyped = 14

// latest returns the reading of kind k that counts: the last one in use, or
// the last one set aside when none is.
func latest(rs []model.Reading, k model.Kind) (r *model.Reading, others int) {
	for i := range rs {
		if rs[i].Kind != k {
			continue
		}
		if r != nil {
			others++
		}
		if r == nil || !rs[i].Aside || r.Aside {
			r = &rs[i]
		}
	}
	return r, others
}

// spread writes one standard deviation of an instrument.
func spread(f model.Format, in model.Instrument) string {
	switch in.Measures {
	case model.QuantityAngle, model.QuantityLean:
		return fmt.Sprintf("±%.2f°", model.Angle(in.Spread).Degrees())
	case model.QuantitySlope:
		return card.SetFractions(f.SlopePlusMinus(model.Angle(in.Spread)))
	}
	return card.PlusMinus(f, in.Spread)
}

// sideWord says what a side of a step meets.
func sideWord(s model.SideKind) string {
	if s == "" {
		return "not said"
	}
	return string(s)
}

// nosingWord says what became of an old nosing.
func nosingWord(n model.NosingState) string {
	if n == model.NosingCut {
		return "cut off"
	}
	return string(n)
}

// standing says how far a value can be trusted, in a word or two.
func standing(s model.Standing) string {
	switch s {
	case "":
		return "standing not known"
	case model.Memory:
		return "from memory"
	case model.Seen:
		return "as published"
	case model.Yours:
		return "set by you"
	}
	return string(s)
}
