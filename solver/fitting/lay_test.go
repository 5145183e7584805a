package fitting_test

import (
	"reflect"
	"testing"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/fitting"
)

// The winner laid out by itself is the order that was found, and every other
// candidate is laid out as what it is.
func TestLay(t *testing.T) {
	f := straight(4).known(0.2)
	bu := buildup.Compute(f.job, &f.res)
	r := f.solve(model.Wishes{})
	if len(r.Candidates) < 3 {
		t.Fatalf("%d candidates", len(r.Candidates))
	}
	for i, c := range r.Candidates {
		got := fitting.Lay(fitting.Problem{Job: f.job, Survey: &f.res, Buildup: &bu}, c)
		if got.Status != fitting.Solved || got.Left != c.Left || got.Right != c.Right || got.Back != c.Back || len(got.Order) == 0 {
			t.Errorf("candidate %d, %s: %+v", i, c.Words(), got.Status)
		}
		if i == 0 && (!reflect.DeepEqual(got.Order, r.Order) || !reflect.DeepEqual(got.Plan, r.Plan)) {
			t.Error("the winner laid out again differs")
		}
	}
}
