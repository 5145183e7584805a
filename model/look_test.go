package model_test

import (
	"strings"
	"testing"

	"risewright/model"
)

// TestLook: each part of a look is kept on its own, through the file and back,
// and an edit leaves the job before it as it was.
func TestLook(t *testing.T) {
	job := model.Job{}
	l := model.Look{}
	for i, p := range model.LookParts() {
		l = l.With(p, strings.Repeat("x", i+1))
	}
	for i, p := range model.LookParts() {
		if got := l.Of(p); len(got) != i+1 {
			t.Errorf("%s is %q", p, got)
		}
	}
	if l.With("moon", "x") != l || l.Of("moon") != "" {
		t.Error("a part that is not known is kept")
	}
	after, err := model.SetLook{Look: l}.Apply(job)
	if err != nil || after.Look != l || job.Look != (model.Look{}) {
		t.Errorf("%+v, %v", after.Look, err)
	}
	long := model.Look{Wall: strings.Repeat("a", model.MaxText+1)}
	if fs := long.Validate(); len(fs) != 1 || fs[0].Where.Field != "look.wall" || fs[0].Severity != model.Block {
		t.Errorf("%+v", fs)
	}
}

// TestNearestWood: a wood without a look of its own takes one of its kind.
func TestNearestWood(t *testing.T) {
	table := model.FinishTable{Woods: []model.WoodLook{{Species: "red-oak"}, {Species: "white-ash"}}}
	for id, want := range map[string]string{"white-ash": "white-ash", "blue-ash": "white-ash", "white-oak": "red-oak", "elm": "red-oak", "": "red-oak"} {
		if w, own := table.Wood(id); w.Species != want || own != (id == want) {
			t.Errorf("%q takes %q, own %v", id, w.Species, own)
		}
	}
}
