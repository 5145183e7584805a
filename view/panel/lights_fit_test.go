package panel_test

import (
	"testing"

	"risewright/model"
	"risewright/view/panel"
)

// The light map is fitted once for what it shows, however often it is asked for:
// another map, other colours or another size are fitted anew.
func TestTheLightMapIsFittedOnce(t *testing.T) {
	r := lightRig(t)
	r.d.ShowLightMap(true)
	r.runAll()
	fit := panel.MapFitter(r.d)
	fresh := func(what string, w, h float64) {
		t.Helper()
		got := fit(w, h)
		if want := panel.MapFitter(r.d)(w, h); got != want {
			t.Errorf("%s: fitted by %v, want %v", what, got, want)
		}
		if n := testing.AllocsPerRun(5, func() { fit(w, h) }); n > 50 {
			t.Errorf("%s: fitting again takes %g allocations: it is drawn again", what, n)
		}
	}
	fresh("at first", 900, 400)
	fresh("another size", 500, 400)
	l := r.s.Job().Lighting
	l.Lip += 30
	if err := r.d.Do(model.SetLighting{Lighting: l}); err != nil {
		t.Fatal(err)
	}
	fresh("before the next map", 500, 400)
	r.runAll()
	fresh("the next map", 500, 400)
	r.d.PickBar(2)
	r.runAll()
	fresh("one bar", 500, 400)
}
