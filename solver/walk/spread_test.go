package walk_test

import (
	"math"
	"testing"

	"risewright/solver/walk"
)

// TestSpread: sharp sensors whose outputs go off at once light about a window,
// those that glimpse the whole flight more, and without sensors all is bright.
func TestSpread(t *testing.T) {
	s := evenSetup()
	s.Control.Rise, s.Control.Fall, s.Control.Hold = 0, 0, 0
	for i := range s.Zones {
		z := &s.Zones[i]
		z.MayFirst, z.MayLast = z.First, z.Last
		z.Hold, z.Latency = 0.02, 0
	}
	s.Control.Latency = 0
	up, err := walk.SpreadOf(s, true, 1)
	if err != nil {
		t.Fatal(err)
	}
	// A window is a zone of four steps, one behind and two ahead; at the ends it is
	// cut short.
	if up.Bars != 14 || up.Bright < 5 || up.Bright > 7 || up.Dim <= 0 || up.Bright+up.Dim > 14 {
		t.Errorf("up: %+v", up)
	}
	none := s
	none.Zones = nil
	all, err := walk.SpreadOf(none, true, 1)
	if err != nil || math.Abs(all.Bright-14) > 1e-9 || !all.Wide() {
		t.Errorf("no sensor: %+v, %v", all, err)
	}
	if up.Wide() {
		t.Errorf("%.1f of 14 bars are most of the flight", up.Bright)
	}
	far := s
	far.Zones = evenZones()
	for i := range far.Zones { // each glimpses the whole flight
		far.Zones[i].MayFirst, far.Zones[i].MayLast = 0, 14
	}
	if w, err := walk.SpreadOf(far, true, 1); err != nil || w.Bright < up.Bright+1 {
		t.Errorf("far glimpses: %+v, %v; near ones %.1f", w, err, up.Bright)
	}
	bad := s
	bad.Light.Bars = 99
	if _, err := walk.SpreadOf(bad, true, 1); err == nil {
		t.Error("no error for what has no tables")
	}
}
