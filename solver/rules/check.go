package rules

import (
	"fmt"
	"math"
	"sort"

	"risewright/model"
	"risewright/solver/buildup"
)

// Deference is shown wherever findings are shown.
const Deference = "Local code and its officials decide."

// Practice is the section given for what rests on trade practice alone.
const Practice = "common practice, no source"

const (
	// closeCall is the widest 95 % band, half, for which a figure inside its
	// limit is still worth a finding of its own when the band reaches past the
	// limit. Beyond it the figure has hardly been measured, and all such rows
	// share one note. A rise read once carries about 2 mm; the sketch of a
	// flight carries 70 mm.
	closeCall = 5.0
	// slack keeps rounding from turning a figure that equals its limit into
	// one beyond it: coordinates reach 1e5 mm, where float64 is spaced 1.5e-11,
	// and a rise takes a few operations. In mm, and as good for a count; a
	// ratio or an angle is given slack by its own size, far below any gauge.
	slack       = 1e-6
	slackFactor = 1e-9
)

// Check returns the findings on the job whose build-up is b, held against the
// code table and the job's class of stair (the table's first when the job
// names none). An empty table leaves trade practice only.
func Check(job model.Job, b *buildup.Result, table model.RuleTable) []model.Finding {
	if b == nil || len(b.Steps) == 0 {
		return nil
	}
	c := checker{job: &job, b: b, format: job.Format(), class: buildup.ClassOf(table, job.CodeClass)}
	c.walk = walklineOf(&table, c.class)
	c.walk.width = math.Inf(1)
	for i := range b.Steps {
		c.walk.width = math.Min(c.walk.width, b.Steps[i].Width.At)
	}
	for i := range table.Limits {
		if l := &table.Limits[i]; l.Measure == measureNames[winderWalkline] && l.AppliesTo(c.class) {
			c.ownWinders = true
		}
	}
	for i := range table.Limits {
		l := &table.Limits[i]
		if l.Measure == "" || !l.AppliesTo(c.class) {
			continue
		}
		c.limit(l)
	}
	c.unsureFinding()
	c.practice()
	sort.SliceStable(c.out, func(i, k int) bool { return c.out[i].Severity > c.out[k].Severity })
	return c.out
}

// checker is a list of findings being made.
type checker struct {
	job    *model.Job
	b      *buildup.Result
	format model.Format
	class  string
	out    []model.Finding
	unsure []*model.Limit // inside, but hardly measured
	tested [measures]bool // measures that a row of the table tested

	walk       walkline // where winders are measured
	ownWinders bool     // the code has a limit of its own for their going
}

// sample is one figure that a limit applies to.
type sample struct {
	step  int // from 1; 0 is the whole flight
	side  buildup.Side
	at    float64 // mm, rad, ratio or count
	band  float64 // half of the 95 % band
	index int     // which rail or headroom point, or which flight
}

// bounds are what a row allows, in the units of a sample.
type bounds struct {
	lo, hi       float64
	hasLo, hasHi bool
}

// excess returns how far v lies outside; negative inside.
func (l bounds) excess(v float64) float64 {
	e := math.Inf(-1)
	if l.hasHi {
		e = v - l.hi
	}
	if l.hasLo {
		e = math.Max(e, l.lo-v)
	}
	return e
}

// slack returns what rounding may add, by the size of the limits.
func (l bounds) slack(m measure) float64 {
	if m == pitch || m == treadSlope {
		return slackFactor * math.Max(math.Abs(l.lo), math.Abs(l.hi))
	}
	return slack
}

// boundsOf returns what a row allows, and false for a row that compares
// nothing.
func boundsOf(l *model.Limit) (bounds, bool) {
	unit, ok := unitOf(l.Unit)
	if !ok {
		return bounds{}, false
	}
	b := bounds{lo: l.Lo * unit, hi: l.Hi * unit}
	switch l.Op {
	case "max", "ratio_max":
		b.hasHi = true
	case "min":
		b.hasLo = true
	case "range", "eq":
		b.hasLo, b.hasHi = true, true
	default:
		return bounds{}, false
	}
	return b, true
}

// unitOf returns the size of a unit in mm, rad or as a plain number.
func unitOf(unit string) (float64, bool) {
	switch unit {
	case "mm":
		return 1, true
	case "in":
		return float64(model.Inch), true
	case "deg":
		return math.Pi / 180, true
	case "ratio", "count":
		return 1, true
	}
	return 0, false
}

// limit holds every place of a row's measure against it.
func (c *checker) limit(l *model.Limit) {
	m, ok := measureOf(l.Measure)
	if !ok || m == walklinePlace {
		return
	}
	allowed, ok := boundsOf(l)
	if !ok {
		return
	}
	c.tested[m] = true
	if m == winderWalkline || m == winderNarrow { // a board each, and a finding each
		c.each(m, func(s sample) { c.hold(l, m, allowed, func(use func(sample)) { use(s) }) })
		return
	}
	c.hold(l, m, allowed, func(use func(sample)) { c.each(m, use) })
}

// hold holds the samples that each gives against a row.
func (c *checker) hold(l *model.Limit, m measure, allowed bounds, each func(func(sample))) {
	tolerance := allowed.slack(m)
	exempt := exemptGoing(l)
	var worst, close sample
	worstBy, closeBy := 0.0, 0.0
	lastStep, places, sure, found := 0, 0, false, false
	each(func(s sample) {
		if exempt > 0 && s.step > 0 && c.goingOn(s.step) >= exempt-slack {
			return
		}
		e := allowed.excess(s.at)
		if e > tolerance {
			if places == 0 || s.step != lastStep {
				places++
				lastStep = s.step
			}
			// the first of places that are equal but for rounding is named
			if !found || e > worstBy+tolerance {
				worst, worstBy, sure, found = s, e, e > s.band, true
			}
			return
		}
		if s.band > 0 && e+s.band > tolerance && e+s.band > closeBy {
			close, closeBy = s, e+s.band
		}
	})
	if places > 0 {
		c.out = append(c.out, c.outside(l, m, allowed, worst, worstBy, sure, places-1))
		return
	}
	switch {
	case closeBy == 0:
	case close.band <= closeCall || m == pitch || m == treadSlope:
		c.out = append(c.out, c.near(l, m, allowed, close))
	case len(c.unsure) == 0 || c.unsure[len(c.unsure)-1] != l:
		c.unsure = append(c.unsure, l)
	}
}

// goingOn returns the going of the tread whose nose is that of step k: from
// nose k to nose k+1, at mid width. The landing has none and is never exempt
// by it.
func (c *checker) goingOn(k int) float64 {
	if k >= len(c.b.Steps) {
		return 0
	}
	return c.b.Steps[k].GoingAfter.Mean()
}

// exemptGoing returns the going, in mm, from which the limit is waived; 0 when
// it never is.
func exemptGoing(l *model.Limit) float64 {
	unit, _ := unitOf(l.Unit)
	return l.ExemptGoing * unit
}

// severity of a limit exceeded.
func severity(s model.Standing) model.Severity {
	if s == model.Memory {
		return model.Advice
	}
	return model.Outside
}

// outside words a limit exceeded.
func (c *checker) outside(l *model.Limit, m measure, allowed bounds, s sample, by float64, sure bool, others int) model.Finding {
	over := allowed.hasHi && s.at > allowed.hi
	value, limit := c.pair(m, l, s.at, over)
	name := bound(over, l.Standing)
	title := c.doubtful(m, s, over, name, value, limit)
	if sure {
		title = fmt.Sprintf("%s %s %s; %s is %s", c.subject(m, s), m.verb(), value, name, limit)
	}
	if others > 0 {
		title += fmt.Sprintf(" (and %d more)", others)
	}
	word := "Over"
	if !over {
		word = "Short"
	}
	f := c.finding(l, m, s)
	f.Severity, f.Unsure = severity(f.Standing), !sure
	f.Title = title
	f.Detail = fmt.Sprintf("%s %s by %s. %s", c.arithmetic(m, s), word, c.amount(m, by), source(l))
	return f
}

// doubtful words a figure whose band reaches past its limit.
func (c *checker) doubtful(m measure, s sample, over bool, name, value, limit string) string {
	may := "may exceed"
	if !over {
		may = "may fall short of"
	}
	of := ""
	if m.verb() == "will differ by" {
		of = "the difference of "
	}
	return fmt.Sprintf("%s%s %s %s of %s: it is about %s %s", of, c.subject(m, s), may, name, limit, value, c.bandText(m, s.band))
}

// near words a figure inside its limit whose band reaches past it.
func (c *checker) near(l *model.Limit, m measure, allowed bounds, s sample) model.Finding {
	over := allowed.hasHi && (!allowed.hasLo || allowed.hi-s.at <= s.at-allowed.lo)
	value, limit := c.pair(m, l, s.at, over)
	f := c.finding(l, m, s)
	f.Severity = model.Note
	f.Title = c.doubtful(m, s, over, bound(over, l.Standing), value, limit)
	f.Detail = fmt.Sprintf("%s The limit lies inside the 95 %% band of what was measured, so it cannot be said which side of it the figure is. %s", c.arithmetic(m, s), source(l))
	f.Remedy = "measure it again on bare wood, or with a closer instrument"
	return f
}

// finding returns what outside and near share.
func (c *checker) finding(l *model.Limit, m measure, s sample) model.Finding {
	f := model.Finding{
		Rule: l.ID, Where: c.place(m, s), Section: l.Section, Standing: l.Standing,
		Remedy: m.remedy(),
	}
	if m.rests() && c.walk.standing == model.Memory { // no surer than where it was measured
		f.Standing = model.Memory
	}
	return f
}

// unsureFinding is the one note on all rows whose figures are inside but
// hardly measured.
func (c *checker) unsureFinding() {
	if len(c.unsure) == 0 {
		return
	}
	detail := "Inside as far as is known, but the 95 % band reaches past the limit: "
	for i, l := range c.unsure {
		if i > 0 {
			detail += "; "
		}
		detail += l.Quantity
	}
	c.out = append(c.out, model.Finding{
		Rule: "rules.unmeasured", Severity: model.Note, Where: model.Place{},
		Title:  fmt.Sprintf("%s cannot be judged yet: too little has been measured", model.Plural(len(c.unsure), "limit")),
		Detail: detail + ".",
		Remedy: "take the rises and goings at both sides of every step, on bare wood",
	})
}
