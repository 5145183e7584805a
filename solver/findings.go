package solver

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver/survey"
)

// surveyFindings tells the user what the estimate found wrong with the readings.
func surveyFindings(job *model.Job, r *survey.Result) []model.Finding {
	var out []model.Finding
	if r.Status != survey.Converged {
		out = append(out, model.Finding{
			Rule: "survey.stalled", Severity: model.Block,
			Title:  "the shape of the stair could not be settled",
			Detail: fmt.Sprintf("after %d rounds the corners still move", r.Iterations),
			Remedy: "look for a reading far from the sketch, or draw the sketch nearer to the stair",
		})
	}
	for i := range r.Conflicts {
		out = append(out, conflictFinding(job, &r.Conflicts[i]))
	}
	return out
}

// BowRemedy is what to do about a middle width that does not fit its ends.
// Common practice, no source.
const BowRemedy = "if it reads the same again a side is bowed: set it aside and make a hardboard template"

// conflictFinding names the reading to retake, or the two that cannot be told
// apart.
func conflictFinding(job *model.Job, c *survey.Conflict) model.Finding {
	s := c.Suspects[0]
	f := model.Finding{
		Rule: "survey.conflict", Severity: model.Block,
		Where: model.Place{Step: s.Step + 1, Kind: s.Kind, Reading: s.Reading},
		Title: fmt.Sprintf("%s: retake the %s", place(s.Step), s.Kind.Words()),
	}
	read, _, _ := job.Reading(s.Reading)
	f.Detail = fmt.Sprintf("It was read as %s; the other readings give %s %s.",
		Show(job, s.Kind, read.Value), Show(job, s.Kind, s.Without), PlusMinus(job, s.Kind, survey.Band95*s.Spread))
	if s.Explanation != "" {
		f.Detail += fmt.Sprintf(" A slip that fits: %s.", s.Explanation)
	}
	if len(c.Suspects) > 1 {
		o := c.Suspects[1]
		f.Title = fmt.Sprintf("%s: the %s or %s is wrong; these two cannot be told apart",
			place(s.Step), s.Kind.Words(), other(s, o))
		read, _, _ := job.Reading(o.Reading)
		f.Detail += fmt.Sprintf(" Or %s, read as %s, should be %s.", other(s, o),
			Show(job, o.Kind, read.Value), Show(job, o.Kind, o.Without))
		if o.Explanation != "" {
			f.Detail += fmt.Sprintf(" A slip that fits: %s.", o.Explanation)
		}
		f.Remedy = "take both again, and set the wrong one right; nothing is averaged meanwhile"
		return f
	}
	f.Remedy = "take this reading again; until then no board of this step is released"
	if s.Kind == model.MiddleWidth { // two ends that agree, and a middle that does not: a bow
		f.Remedy += "; " + BowRemedy
	}
	return f
}

// other names the second suspect, with its step where that differs.
func other(first, second survey.Suspect) string {
	if first.Step == second.Step {
		return "the " + second.Kind.Words()
	}
	return fmt.Sprintf("the %s of %s", second.Kind.Words(), place(second.Step))
}

func place(step int) string {
	if step < 0 {
		return "whole flight"
	}
	return fmt.Sprintf("step %d", step+1)
}

// Show writes the value of a reading as the instrument would show it, in the
// job's units.
func Show(job *model.Job, k model.Kind, v float64) string {
	switch k.Quantity() {
	case model.QuantityAngle, model.QuantityLean:
		return model.FormatDegrees(model.Angle(v), 1)
	case model.QuantitySlope:
		return job.Format().Slope(model.Angle(v))
	}
	return job.Format().Length(model.Length(v))
}

// PlusMinus writes the half width of a band of a reading's kind.
func PlusMinus(job *model.Job, k model.Kind, v float64) string {
	switch k.Quantity() {
	case model.QuantityAngle, model.QuantityLean:
		return fmt.Sprintf("±%.1f°", math.Max(0.1, model.Angle(v).Degrees()))
	case model.QuantitySlope:
		return job.Format().SlopePlusMinus(model.Angle(v))
	}
	return job.Format().PlusMinus(model.Length(v))
}
