package panel

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
)

// NextStep returns one line that says what to do next, and the place to do it.
// all are the findings of the answer with those of its sensors.
func NextStep(a *solver.Answer, all []model.Finding) (string, model.Place) {
	if f, ok := first(a.Findings, func(f model.Finding) bool { return f.Severity == model.Block }); ok {
		if f.Rule == "survey.conflict" && a.Survey != nil {
			return retake(a, f), f.Where
		}
		if f.Remedy != "" {
			return model.Capital(f.Title) + ": " + f.Remedy + ".", f.Where
		}
		return model.Capital(f.Title) + ".", f.Where
	}
	if a.Survey == nil || len(a.Survey.Steps) == 0 {
		return "Start a job with File, New.", model.Place{}
	}
	n := len(a.Survey.Steps)
	ready := 0
	for i := range a.Survey.Steps {
		if a.Survey.Steps[i].Readiness == survey.ReadyCut {
			ready++
		}
	}
	for i := range a.Survey.Steps {
		s := &a.Survey.Steps[i]
		if s.Readiness == survey.ReadyCut {
			continue
		}
		k, ok := bestNext(s)
		if !ok {
			return fmt.Sprintf("Look at step %d: %s.", i+1, s.Why), model.Place{Step: i + 1}
		}
		where := model.Place{Step: i + 1, Kind: k}
		if r, taken := latest(a.Job.Flight.Steps[i].Readings, k); taken {
			where.Reading = r.ID
			return fmt.Sprintf("Read the %s of step %d again on bare wood (%d of %d steps are ready to cut).", k.Words(), i+1, ready, n), where
		}
		return fmt.Sprintf("Type the %s of step %d (%d of %d steps are ready to cut).", k.Words(), i+1, ready, n), where
	}
	if out := len(a.Cards) - a.Released(); out > 0 && len(a.Cards) > 0 {
		for i := range a.Cards {
			c := &a.Cards[i]
			if !c.Released || !c.Proof.OK {
				why := c.Why
				if why == "" {
					why = c.Proof.Reason
				}
				return fmt.Sprintf("All %d steps are ready; %s is not: %s.", n, c.Piece, strings.TrimSuffix(why, ".")), model.Place{Step: a.Pieces[i].Step, Piece: c.Piece}
			}
		}
	}
	if f, ok := first(a.Findings, func(f model.Finding) bool { return f.Severity == model.Outside }); ok {
		if strings.HasPrefix(f.Where.Field, "lighting") {
			return fmt.Sprintf("All %d steps are ready to cut, but %s: see Lights before you wire.", n, lower(f.Title)), f.Where
		}
		return fmt.Sprintf("All %d steps are ready to cut, but %s: see Build-up before you cut.", n, lower(f.Title)), f.Where
	}
	if f, ok := first(all, unseen); ok {
		return fmt.Sprintf("All %d steps are ready to cut. Before the sensors are wired: %s; see Sensors.", n, lower(f.Title)), f.Where
	}
	// the field names the tab Order, not one of its controls
	return fmt.Sprintf("All %d steps are ready: see Order and Buy, and print the cards with File, Write papers.", n), model.Place{Step: 1, Field: "wishes."}
}

// retake says which reading to take again. The finding's remedy is for the
// list; here it has to be short.
func retake(a *solver.Answer, f model.Finding) string {
	for i := range a.Survey.Conflicts {
		c := &a.Survey.Conflicts[i]
		if c.Suspects[0].Reading != f.Where.Reading {
			continue
		}
		s := c.Suspects[0]
		at := "of the whole flight"
		if s.Step >= 0 {
			at = fmt.Sprintf("at step %d", s.Step+1)
		}
		if len(c.Suspects) > 1 {
			o := c.Suspects[1]
			if o.Step == s.Step {
				return fmt.Sprintf("Retake the %s and the %s %s: one of the two is wrong.", s.Kind.Words(), o.Kind.Words(), at)
			}
			return fmt.Sprintf("Retake the %s %s and the %s at step %d: one of the two is wrong.", s.Kind.Words(), at, o.Kind.Words(), o.Step+1)
		}
		text := fmt.Sprintf("Retake the %s %s", s.Kind.Words(), at)
		if s.Explanation != "" {
			text += " (" + s.Explanation + ")"
		}
		return text + "."
	}
	return model.Capital(f.Title) + "."
}

// bestNext returns the reading that would help step s most.
func bestNext(s *survey.Step) (model.Kind, bool) {
	if len(s.Next) == 0 {
		return "", false
	}
	return s.Next[0].Kind, true
}

// latest returns the last used reading of a kind.
func latest(rs []model.Reading, k model.Kind) (model.Reading, bool) {
	for i := len(rs) - 1; i >= 0; i-- {
		if rs[i].Kind == k && !rs[i].Aside {
			return rs[i], true
		}
	}
	return model.Reading{}, false
}

// unseen says whether a finding is that somebody on the stair is not seen.
func unseen(f model.Finding) bool {
	return f.Rule == "sensing.class" || f.Rule == "walk.none" || f.Rule == "walk.tables" || strings.HasPrefix(f.Rule, "sensing.blind")
}

func first(all []model.Finding, want func(model.Finding) bool) (model.Finding, bool) {
	for _, f := range all {
		if want(f) {
			return f, true
		}
	}
	return model.Finding{}, false
}

func lower(s string) string {
	if len(s) < 2 || s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
