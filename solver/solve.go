package solver

import (
	"fmt"
	"sort"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/power"
	"risewright/solver/rules"
	"risewright/solver/saw"
	"risewright/solver/survey"
)

// Solve computes the answer to a job. A job whose Validate has a Block finding
// gets an answer that holds these findings and nothing else.
func Solve(job model.Job, t model.Tables) *Answer {
	a := &Answer{Job: job, Findings: job.Validate()}
	for _, f := range a.Findings {
		if f.Severity == model.Block {
			sortFindings(a.Findings)
			return a
		}
	}
	a.Survey = survey.Solve(job)
	a.Findings = append(a.Findings, surveyFindings(&a.Job, a.Survey)...)
	a.Buildup = buildup.Compute(job, a.Survey)
	table, _ := t.Code(job.Code)
	a.Findings = append(a.Findings, rules.Check(job, &a.Buildup, table)...)
	a.Pieces = pieces.Make(job, a.Survey)
	a.Balusters = pieces.Balusters(job, a.Survey, func(step int) float64 { return a.Buildup.Runs[a.Buildup.RunOf(step)].Pitch.At })
	a.Cards = saw.Cards(job, t.Stock, a.Pieces)
	for i := range a.Cards {
		if c := &a.Cards[i]; !c.Proof.OK {
			sev, remedy := model.Block, "do not cut this board; check the readings of its step"
			if a.Pieces[i].Template != "" { // no fault of the card: straight cuts cannot make it
				sev, remedy = model.Note, "make it from a template"
			}
			a.Findings = append(a.Findings, model.Finding{
				Rule: "saw.refused", Severity: sev,
				Where:  model.Place{Step: a.Pieces[i].Step, Piece: a.Pieces[i].ID},
				Title:  fmt.Sprintf("%s has no cut card", a.Pieces[i].ID),
				Detail: c.Proof.Reason, Remedy: remedy,
			})
		}
	}
	if job.Lighting.On() {
		a.Bars = bars.Make(job, job.Lighting, t.Lights, a.Pieces)
		a.Power = power.Solve(job, job.Lighting, t.Lights, &a.Bars)
		a.Findings = append(a.Findings, a.Bars.Findings...)
		a.Findings = append(a.Findings, a.Power.Findings...)
	}
	sortFindings(a.Findings)
	return a
}

// Advise searches for the smallest changes that bring the flight within the
// limits of its code. It takes up to a tenth of a second and so is not part of
// Solve, which answers while a handle is dragged.
func Advise(a *Answer, t model.Tables) buildup.Mending {
	if a.Survey == nil {
		return buildup.Mending{Status: buildup.NoLimits, Why: "the job could not be solved"}
	}
	table, _ := t.Code(a.Job.Code)
	return buildup.Remedies(a.Job, a.Survey, table, a.Job.CodeClass, t.Stock)
}

// sortFindings puts the worst first, then from the bottom of the flight up;
// findings of equal rank stay in the order they were found.
func sortFindings(fs []model.Finding) {
	sort.SliceStable(fs, func(i, k int) bool {
		if fs[i].Severity != fs[k].Severity {
			return fs[i].Severity > fs[k].Severity
		}
		return fs[i].Where.Step < fs[k].Where.Step
	})
}
