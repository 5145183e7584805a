package session

import (
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver"
)

// A solver that breaks down leaves the job open, with a finding that says so.
func TestAFaultOfOursLeavesTheJobOpen(t *testing.T) {
	job := model.Job{Name: "kept"}
	a := answer(job, model.Tables{}, func(model.Job, model.Tables) *solver.Answer { panic("index out of range") })
	if a.Job.Name != "kept" || !a.Blocked() || !strings.Contains(a.Findings[0].Detail, "index out of range") {
		t.Errorf("%+v", a)
	}
}
