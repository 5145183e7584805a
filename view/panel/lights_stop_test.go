package panel_test

import (
	"testing"

	"risewright/model"
	"risewright/view/panel"
)

// lightRig has the Lights tab open with the light map on; what is worked out
// beside the window waits in later.
func lightRig(t *testing.T) *rig {
	t.Helper()
	r := newRig(t, shippedJob(t, "tapering"))
	r.b.ShowTab(5)
	r.runAll()
	return r
}

// runAll runs what is worked out beside the window, and what that begins.
func (r *rig) runAll() {
	for len(r.later) > 0 {
		r.run()
	}
}

// What is worked out of the light is given up when the job changes, or other bars
// are looked at, and worked out anew for what is looked at then; nothing of what
// was given up is shown.
func TestLightIsGivenUpWhenTheJobChanges(t *testing.T) {
	r := lightRig(t)
	r.d.ShowLightMap(true)
	if len(r.later) != 1 || panel.LightGivenUp(r.d) {
		t.Fatalf("%d works wait, given up: %v", len(r.later), panel.LightGivenUp(r.d))
	}
	l := r.s.Job().Lighting
	l.Lip += 3
	if err := r.d.Do(model.SetLighting{Lighting: l}); err != nil {
		t.Fatal(err)
	}
	if !panel.LightGivenUp(r.d) {
		t.Error("the light map of the job before goes on")
	}
	r.runAll()
	if !panel.LightKnown(r.d, r.s.Answer()) {
		t.Error("light map and voltages are not those of the job")
	}
	// Other bars, and the same again before the work has noticed.
	r.d.PickBar(3)
	r.d.PickBar(4)
	if !panel.LightGivenUp(r.d) {
		t.Error("the light map of one bar goes on although two are looked at")
	}
	r.d.PickBar(4)
	r.runAll()
	if !panel.LightKnown(r.d, r.s.Answer()) {
		t.Error("what was given up and is looked at again was not worked out")
	}
	// The voltages, which wait for the job to rest first.
	l.Lip++
	if err := r.d.Do(model.SetLighting{Lighting: l}); err != nil {
		t.Fatal(err)
	}
	for len(r.later) > 0 && !panel.VoltagesRun(r.d) {
		now := r.later
		r.later = nil
		for _, f := range now {
			f()
		}
	}
	if !panel.VoltagesRun(r.d) || panel.VoltagesGivenUp(r.d) {
		t.Fatal("the voltages are not worked out")
	}
	l.Lip++
	if err := r.d.Do(model.SetLighting{Lighting: l}); err != nil {
		t.Fatal(err)
	}
	if !panel.VoltagesGivenUp(r.d) {
		t.Error("the voltages of the job before go on")
	}
	r.runAll()
	if !panel.LightKnown(r.d, r.s.Answer()) {
		t.Error("light map and voltages are not those of the job")
	}
	// Behind another tab nothing is begun anew.
	r.d.PickBar(5)
	r.b.ShowTab(0)
	l.Lip++
	if err := r.d.Do(model.SetLighting{Lighting: l}); err != nil {
		t.Fatal(err)
	}
	r.runAll()
	if panel.LightKnown(r.d, r.s.Answer()) {
		t.Error("light is worked out for a tab that nobody looks at")
	}
	r.b.ShowTab(5)
	r.runAll()
	if !panel.LightKnown(r.d, r.s.Answer()) {
		t.Error("back at the tab, light map and voltages are not those of the job")
	}
}
