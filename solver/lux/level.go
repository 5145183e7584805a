package lux

import (
	"fmt"
	"math"

	"risewright/model"
)

// Measure says which figure a level is compared with.
type Measure string

// The measures. The centre line runs half way across the floor, the treads and
// the landing nosing; the others leave the floor out.
const (
	AtCentre   Measure = "centre"      // lux at the centre of a tread or landing, at least
	Least      Measure = "minimum"     // lux anywhere on a tread or landing, at least
	Average    Measure = "mean"        // lux, mean of a tread or landing, at least
	Even       Measure = "uniformity"  // minimum over mean of a tread or landing, at least
	CentreLine Measure = "centre line" // lux anywhere along it, at least
	Diversity  Measure = "diversity"   // maximum over minimum along the centre line, at most
)

// Level is one published level of light on stairs.
type Level struct {
	ID       string
	Title    string // the publication
	Section  string
	Measure  Measure
	Value    float64 // lux, or a ratio
	Dwelling bool    // made for homes; others are shown for comparison
	Standing model.Standing
	Note     string
}

// footCandle is one lumen on a square foot, in lux: 1/0.09290304.
const footCandle = 1 / 0.09290304

// Published returns the published levels, electrical.md rows 6.15 to 6.18. A
// user may edit the copy. Row 6.19 (IES) has no number and is not here.
func Published() []Level {
	return []Level{
		{"irc.light.centre", "IRC, interior stairway illumination", "R303.7 (R303.6 or R303.8 by edition)", AtCentre, footCandle, true, model.Transcription,
			"1 foot-candle at the centre of treads and landings, from the stair's own switched light; the number of the section changes with the edition"},
		{"ibc.light.least", "IBC, means of egress illumination", "1008.2.1", Least, footCandle, false, model.Secondary,
			"1 foot-candle at the walking surface; not for one- and two-family homes"},
		{"nfpa.light.least", "NFPA 101, new stairs in use", "7.8.1.3", Least, 10 * footCandle, false, model.Secondary,
			"10 foot-candles on new stairs in use; 1 on floors"},
		{"en12464.2011.mean", "EN 12464-1:2011, stairs", "", Average, 100, false, model.Secondary,
			"workplaces; enhanced contrast on the steps"},
		{"en12464.2021.mean", "EN 12464-1:2021, stairs", "Table 44", Average, 150, false, model.Secondary, "education buildings"},
		{"en12464.2021.even", "EN 12464-1:2021, stairs", "Table 44", Even, 0.40, false, model.Secondary, "education buildings"},
		{"hsg38.mean", "HSE HSG38 (1997)", "", Average, 20, false, model.Secondary, "workplaces, movement of people"},
		{"hsg38.least", "HSE HSG38 (1997)", "", Least, 5, false, model.Secondary, "workplaces, movement of people"},
		{"en1838.centre", "EN 1838:2013, escape routes", "4.2", CentreLine, 1, false, model.Secondary,
			"emergency lighting on the centre line of a route up to 2 m wide"},
		{"en1838.diversity", "EN 1838:2013, escape routes", "4.2", Diversity, 40, false, model.Secondary,
			"emergency lighting: brightest to darkest along the centre line"},
	}
}

// Comparison is a level held against the result.
type Comparison struct {
	Level
	Got   float64 // the worst figure; +Inf for a diversity with a dark place
	Met   bool
	Worst int // place in Result.Surfaces
	Short int // how many surfaces do not reach it
	Of    int // how many it was compared with
}

// Compare holds every level against the result. It returns nothing when no
// surface was computed.
func (r *Result) Compare(levels []Level) []Comparison {
	if len(r.Surfaces) == 0 {
		return nil
	}
	out := make([]Comparison, 0, len(levels))
	for _, l := range levels {
		c := Comparison{Level: l, Got: math.Inf(1), Met: true}
		lo, hi := math.Inf(1), 0.0
		for i := range r.Surfaces {
			s := &r.Surfaces[i]
			var got float64
			switch l.Measure {
			case AtCentre, Average, Even, Least:
				if s.Kind == Floor {
					continue
				}
				got = map[Measure]float64{AtCentre: s.Centre, Average: s.Mean, Even: s.Uniformity(), Least: s.Min}[l.Measure]
			case CentreLine, Diversity:
				got = math.Inf(1)
				for _, e := range s.Middle {
					got, lo, hi = math.Min(got, e), math.Min(lo, e), math.Max(hi, e)
				}
			default:
				continue
			}
			c.Of++
			// A figure that equals the level but for rounding reaches it.
			if got < l.Value*(1-rounding) {
				c.Short++
			}
			if got < c.Got {
				c.Got, c.Worst = got, i
			}
		}
		if c.Of == 0 {
			continue
		}
		if l.Measure == Diversity {
			c.Short = 0
			c.Got = math.Inf(1)
			if lo > 0 {
				c.Got = hi / lo
			}
			if c.Got > l.Value*(1+rounding) {
				c.Short = 1
			}
		}
		c.Met = c.Short == 0
		out = append(out, c)
	}
	return out
}

// rounding is the slack of a comparison: a sum of a thousand terms rounded at
// 2^-53 stays below 1e-12.
const rounding = 1e-9

// Supplement is shown wherever the light is: no finding here is a pass.
const Supplement = "Light bars come on top of the stair's own switched light and never replace it. Local code and its officials decide."

// Judge returns what the user should know: everything left out, and each level
// that the bars alone do not reach. A level is never more than Advice, because
// the stair's own light counts too and is not in these figures; levels that
// were not made for homes are a Note.
func (r *Result) Judge(levels []Level) []model.Finding {
	out := append([]model.Finding(nil), r.Findings...)
	if r.LitBars == 0 {
		return append(out, model.Finding{
			Rule: "lux.dark", Severity: model.Note, Title: "no light bar gives light, so the light on the treads is not judged",
			Detail: Supplement, Remedy: "give the bars lumens",
		})
	}
	for _, c := range r.Compare(levels) {
		if c.Met {
			continue
		}
		f := model.Finding{Rule: c.ID, Severity: model.Note, Section: c.Section, Standing: c.Standing}
		if c.Dwelling {
			f.Severity = model.Advice
		}
		f.Where.Step = max(r.Surfaces[c.Worst].Step, 0)
		f.Title = c.title(r)
		f.Detail = fmt.Sprintf("%s: %s (%s). %s", c.Title, c.Note, standingWords(c.Standing), Supplement)
		f.Remedy = "more lumens, a wider or better aimed bar, or count on the switched stair light"
		if c.Measure == Diversity || c.Measure == Even {
			f.Remedy = "a longer bar, or one aimed further out, lights more evenly"
		}
		out = append(out, f)
	}
	return out
}

// title words a level that is not reached.
func (c *Comparison) title(r *Result) string {
	name := r.Surfaces[c.Worst].Name()
	var text string
	switch c.Measure {
	case AtCentre:
		text = fmt.Sprintf("%s gets %s at its centre from the bars; %s asks %s", name, lux(c.Got), c.Title, lux(c.Value))
	case Average:
		text = fmt.Sprintf("%s gets %s on average from the bars; %s asks %s", name, lux(c.Got), c.Title, lux(c.Value))
	case Least:
		text = fmt.Sprintf("%s gets %s from the bars at its darkest; %s asks %s", name, lux(c.Got), c.Title, lux(c.Value))
	case Even:
		text = fmt.Sprintf("%s is lit unevenly: minimum over mean is %.2f; %s asks %.2f", name, c.Got, c.Title, c.Value)
	case CentreLine:
		text = fmt.Sprintf("%s gets %s on its centre line; %s asks %s", name, lux(c.Got), c.Title, lux(c.Value))
	case Diversity:
		if math.IsInf(c.Got, 1) {
			return fmt.Sprintf("the centre line has a place with no light from the bars; %s asks at most %.0f to 1", c.Title, c.Value)
		}
		return fmt.Sprintf("the centre line goes from bright to dark by %.0f to 1; %s asks at most %.0f to 1", c.Got, c.Title, c.Value)
	}
	if c.Short > 1 {
		text += fmt.Sprintf(" (and %d more)", c.Short-1)
	}
	return text
}

// lux prints an illuminance to three figures at most.
func lux(v float64) string { return Print(v) + " lx" }

// Print returns an illuminance to a tenth below 20 lx and to a whole lux above.
func Print(v float64) string {
	if v < 19.95 {
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}

// standingWords says how far a value can be trusted.
func standingWords(s model.Standing) string {
	switch s {
	case model.Seen:
		return "read in the publication"
	case model.Transcription:
		return "read in a copy of the text, not in the publication"
	case model.Secondary:
		return "read in a page that restates it, not in the publication"
	case model.Yours:
		return "set by you"
	}
	return "from memory, not checked"
}
