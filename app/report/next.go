package report

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
)

// Next returns what to do next, in a sentence or two.
func Next(a *solver.Answer) string {
	if a.Survey == nil {
		for i := range a.Findings {
			if f := &a.Findings[i]; f.Severity == model.Block {
				return model.Sentence(f.Title) + " " + model.Sentence(f.Remedy)
			}
		}
		return "Mend what the findings say."
	}
	if cs := a.Survey.Conflicts; len(cs) > 0 {
		var names []string
		for _, s := range cs[0].Suspects {
			names = append(names, fmt.Sprintf("“%s” of %s", s.Kind.Words(), place(s.Step)))
		}
		return "Take " + strings.Join(names, " and ") + " again on bare wood, and type what the tool shows."
	}
	n, ready := len(a.Survey.Steps), 0
	first := -1
	for i := range a.Survey.Steps {
		switch {
		case a.Survey.Steps[i].Readiness == survey.ReadyCut:
			ready++
		case first < 0:
			first = i
		}
	}
	if first >= 0 {
		s := &a.Survey.Steps[first]
		done := fmt.Sprintf("(%d of %d steps are ready for the saw)", ready, n)
		if len(s.Next) == 0 {
			return fmt.Sprintf("Look at step %d: %s %s.", first+1, s.Why, done)
		}
		return fmt.Sprintf("Read the %s of step %d on bare wood %s.", s.Next[0].Kind.Words(), first+1, done)
	}
	for i := range a.Findings {
		f := &a.Findings[i]
		switch f.Severity {
		case model.Block:
			return model.Sentence(f.Title) + " " + model.Sentence(f.Remedy)
		case model.Outside:
			if strings.HasPrefix(f.Rule, "sensing.") {
				return fmt.Sprintf("All %d steps are ready for the saw, but %s: mend that before the sensors are wired.", n, f.Title)
			}
			return fmt.Sprintf("All %d steps are ready for the saw, but %s: settle the build-up before you cut.", n, f.Title)
		}
	}
	return fmt.Sprintf("All %d steps are ready: print the cards with \"risewright sheets JOB --to DIR\".", n)
}
