package report

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
)

// cutKinds are the figures whose widest band stands in the ± column: the ones
// a tread is cut by.
var cutKinds = [...]model.Kind{model.FrontWidth, model.BackWidth, model.LeftDepth, model.RightDepth}

// survey is the table of openings, then what keeps steps from the saw.
func (t *text) survey() {
	t.title("SURVEY", fmt.Sprintf("%s; gauges in degrees, 90 is square; ± is the widest 95 %% band of the four", capital(t.unit())))
	tb := &table{left: map[int]bool{8: true}, groups: []group{{"", 1}, {"width", 2}, {"depth", 2}, {"back gauge", 2}, {"", 1}, {"", 1}}}
	tb.add("step", "front", "back", "left", "right", "left", "right", "±", "good for")
	type wait struct{ step, why, next string }
	var waits []wait
	for i := range t.a.Survey.Steps {
		s := &t.a.Survey.Steps[i]
		cell := func(k model.Kind) string {
			f, ok := s.Figure(k)
			switch {
			case !ok:
				return "–"
			case k.Quantity() == model.QuantityAngle:
				return fmt.Sprintf("%.1f", model.Angle(f.Value).Degrees())
			}
			return t.number(f.Value)
		}
		widest := 0.0
		for _, k := range cutKinds {
			if f, ok := s.Figure(k); ok {
				widest = max(widest, survey.Band95*f.Spread)
			}
		}
		tb.add(fmt.Sprint(i+1), cell(model.FrontWidth), cell(model.BackWidth), cell(model.LeftDepth), cell(model.RightDepth),
			cell(model.GaugeBackLeft), cell(model.GaugeBackRight), t.bare(widest), goodFor(s.Readiness))
		if s.Readiness != survey.ReadyCut {
			w := wait{step: fmt.Sprint(i + 1), why: s.Why}
			if n, ok := helpful(s); ok && !t.blamed(i) {
				w.next = "read next: " + n.Kind.Words()
				if gain := 100 * (1 - n.After/n.Now); gain >= 1 { // a reading may be needed though it narrows nothing
					w.next += fmt.Sprintf(", which takes %.0f %% off its ±", gain)
				}
			}
			waits = append(waits, w)
		}
	}
	t.table(tb)
	if len(waits) == 0 {
		return
	}
	t.line("")
	t.line("  What keeps steps from the saw")
	for _, w := range waits {
		s := w.why
		if w.next != "" {
			s += "; " + w.next
		}
		t.hang(8, "  "+pad(w.step, 4), s)
	}
}

// helpful returns the reading that would help a step most.
func helpful(s *survey.Step) (survey.NextReading, bool) {
	if len(s.Next) == 0 || !(s.Next[0].Now > 0) {
		return survey.NextReading{}, false
	}
	return s.Next[0], true
}

// blamed says whether a reading of step i is suspected: then it is to be
// retaken before anything else is read there.
func (t *text) blamed(i int) bool {
	for _, c := range t.a.Survey.Conflicts {
		for _, s := range c.Suspects {
			if s.Step == i {
				return true
			}
		}
	}
	return false
}

// capital gives s a capital letter if it is a word and not a unit's sign.
func capital(s string) string {
	if s == "mm" {
		return s
	}
	return model.Capital(s)
}

// pad sets s to the right in n columns.
func pad(s string, n int) string { return fmt.Sprintf("%*s", n, s) }

func goodFor(r survey.Readiness) string {
	switch r {
	case survey.ReadyCut:
		return "the saw"
	case survey.ReadyBuy:
		return "buying"
	}
	return "a sketch"
}

func place(step int) string {
	if step < 0 {
		return "whole flight"
	}
	return fmt.Sprintf("step %d", step+1)
}

// conflicts names the readings to retake.
func (t *text) conflicts() {
	cs := t.a.Survey.Conflicts
	if len(cs) == 0 {
		return
	}
	t.title("READINGS THAT CONFLICT", "Nothing is averaged: take them again on bare wood.")
	for i := range cs {
		c := &cs[i]
		if len(c.Suspects) > 1 {
			t.para(2, "One of these two is wrong, and they cannot be told apart: retake both.")
		}
		for _, s := range c.Suspects {
			read, _, _ := t.job.Reading(s.Reading)
			verb := "RETAKE "
			if len(c.Suspects) > 1 {
				verb = ""
			}
			words := fmt.Sprintf("%s%s: read as %s; the other readings give %s %s.", verb, s.Kind.Words(),
				shownReading(t.job, read), solver.Show(t.job, s.Kind, s.Without), solver.PlusMinus(t.job, s.Kind, survey.Band95*s.Spread))
			if s.Explanation != "" {
				words += " A slip that fits: " + s.Explanation + "."
			}
			if len(c.Suspects) == 1 && s.Kind == model.MiddleWidth {
				words += " " + model.Sentence(solver.BowRemedy)
			}
			t.hang(16, "  "+place(s.Step), words)
		}
	}
}

// shownReading is a reading's value, with the text that was typed where that
// says something else.
func shownReading(j *model.Job, r model.Reading) string {
	s := solver.Show(j, r.Kind, r.Value)
	if r.Typed != "" && !strings.HasPrefix(s, r.Typed) && len([]rune(r.Typed)) <= 20 {
		s += fmt.Sprintf(" (typed %s)", r.Typed)
	}
	return s
}
