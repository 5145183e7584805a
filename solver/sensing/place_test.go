package sensing_test

import (
	"testing"

	"risewright/model"
)

func TestTryPlace(t *testing.T) {
	tb := published(t)
	j := straight(t, 14)
	for _, w := range []model.SensorWish{{Every: true}, {Every: true, Overlap: 1}, {Every: true, Overlap: 1, NoHall: true, Bore: 12}, {Every: true, Most: 3}} {
		j.Sensing = model.Sensing{Wish: w}
		st := stairOf(t, j, tb)
		p := st.Place(&j)
		t.Logf("%+v: found %v need %d blind %v fewer %v failed %v: %s; %s", w, p.Found, p.Need, p.Blind, p.Fewer, p.Failed, p.Proven, p.Why)
		for _, z := range st.Zones(p.Sensors, nil) {
			t.Logf("  %s %s %.1f tilt %.0f yaw %.0f hood %v mask %v: %v %v may %v", z.Name, z.From.Mount, z.From.Along, z.From.Tilt.Degrees(), z.From.Yaw.Degrees(), z.From.Hood, z.From.Mask, z.Sure, z.SureAt, z.MayAt)
		}
	}
}
