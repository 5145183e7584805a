package solver

import (
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/survey"
)

// What is said of a conflict reads as a sentence, and a middle width that does
// not fit is said to be a bow when it stands.
func TestConflictWords(t *testing.T) {
	job := model.Job{Units: model.Metric}
	job.Flight.Steps = make([]model.Step, 2)
	for i := range job.Flight.Steps {
		for _, k := range []model.Kind{model.BackWidth, model.MiddleWidth} {
			job.Flight.Steps[i].Readings = append(job.Flight.Steps[i].Readings,
				model.Reading{ID: model.NamedID(model.ID{}, string(k)+string(rune('a'+i))), Kind: k, Value: 900})
		}
	}
	suspect := func(step, reading int) survey.Suspect {
		r := job.Flight.Steps[step].Readings[reading]
		return survey.Suspect{Reading: r.ID, Step: step, Kind: r.Kind, Without: 905, Spread: 0.5}
	}
	bow := "if it reads the same again a side is bowed"
	for _, c := range []struct {
		suspects []survey.Suspect
		title    string
		detail   string
		bow      bool
	}{
		{[]survey.Suspect{suspect(1, 0)}, "step 2: retake the back width", "It was read as 900.0 mm; the other readings give 905.0 mm", false},
		{[]survey.Suspect{suspect(1, 1)}, "step 2: retake the middle width", "It was read as 900.0 mm", true},
		{[]survey.Suspect{suspect(0, 0), suspect(0, 1)}, "step 1: the back width or the middle width is wrong; these two cannot be told apart",
			"Or the middle width, read as 900.0 mm, should be 905.0 mm.", false},
		{[]survey.Suspect{suspect(0, 0), suspect(1, 0)}, "step 1: the back width or the back width of step 2 is wrong; these two cannot be told apart",
			"Or the back width of step 2, read as 900.0 mm, should be 905.0 mm.", false},
	} {
		f := conflictFinding(&job, &survey.Conflict{Suspects: c.suspects})
		if f.Title != c.title || !strings.Contains(f.Detail, c.detail) {
			t.Errorf("got  %s | %s\nwant %s | %s", f.Title, f.Detail, c.title, c.detail)
		}
		if strings.Contains(f.Remedy, bow) != c.bow {
			t.Errorf("%s: remedy %q", c.title, f.Remedy)
		}
	}
}
