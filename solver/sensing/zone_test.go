package sensing_test

import (
	"testing"

	"risewright/model"
)

func TestLook(t *testing.T) {
	tb := published(t)
	j := straight(t, 14)
	j.Sensing = model.FirstSensing(j, tb.Senses)
	st := stairOf(t, j, tb)
	for tilt := 0; tilt <= 60; tilt += 10 {
		s := j.Sensing.Sensors[2]
		s.Tilt = model.Angle(tilt) * model.Degree
		z := st.Zones([]model.Sensor{s}, nil)[0]
		t.Logf("tilt %d: along %.2f sure %v %v may %v", tilt, s.Along, z.Sure, z.SureAt, z.MayAt)
	}
	for _, z := range st.Zones(j.Sensing.Sensors, nil) {
		t.Logf("%-8s %v %v %v %v cross %.2f\n least %.2f\n most %.2f", z.Name, z.Sure, z.SureAt, z.May, z.MayAt, z.Crossing, z.Least, z.Most)
	}
}

func BenchmarkZones(b *testing.B) {
	tb := published(b)
	j := straight(b, 14)
	j.Sensing = model.FirstSensing(j, tb.Senses)
	st := stairOf(b, j, tb)
	b.ReportAllocs()
	for b.Loop() {
		st.Zones(j.Sensing.Sensors, nil)
	}
}
