package papers_test

import (
	"bytes"
	"testing"

	"risewright/app/papers"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/sheets"
)

// TestLightPapersComeWithLighting: a job with light bars and sensors has the
// papers of its wiring and of its sensors and the schedule as CSV, one without
// has none.
func TestLightPapersComeWithLighting(t *testing.T) {
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	a, _ := tapering(t)
	job := a.Job
	for _, on := range []bool{false, true} {
		job.Lighting, job.Sensing = model.Lighting{}, model.Sensing{}
		if on {
			job.Lighting = model.FirstLighting(job, tb.Lights)
			job.Sensing = model.FirstSensing(job, tb.Senses)
		}
		a := solver.Solve(job, tb)
		sense := solver.Sense(a, tb, nil)
		fs, err := papers.Files(a, nil, &sense, tb, papers.MetaOf(&job, "", sheets.A4))
		if err != nil {
			t.Fatal(err)
		}
		got := map[string][]byte{}
		for _, f := range fs {
			got[f.Name] = f.Data
		}
		for _, name := range []string{"wiring-schedule.pdf", "wiring-plan.pdf", "wiring-labels.pdf", "light-commissioning.pdf", "light-supply.pdf", "sensors.pdf", "sensor-commissioning.pdf"} {
			if data, ok := got[name]; ok != on || on && !bytes.HasPrefix(data, []byte("%PDF-")) {
				t.Errorf("lighting %v: %s is there: %v", on, name, ok)
			}
		}
		if data, ok := got["wiring-schedule.csv"]; ok != on || on && !bytes.Contains(data, []byte("B01")) {
			t.Errorf("lighting %v: the schedule as CSV is there: %v", on, ok)
		}
	}
}
