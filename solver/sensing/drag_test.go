package sensing_test

import (
	"math"
	"reflect"
	"testing"

	"risewright/model"
	"risewright/solver/sensing"
)

// TestDragEnd drags both ends of a zone in and out: the end comes to where it
// was dragged, and the other stays; where that cannot be, the sensor stays and
// the reason is told.
func TestDragEnd(t *testing.T) {
	tb := published(t)
	j := straight(t, 14)
	sensor := model.Sensor{ID: model.NamedID(j.ID, "s"), Name: "S", Class: "small-digital", Mount: model.RailLeft, Along: 6.5, Below: 10, Tilt: 45 * model.Degree}
	right := sensor
	right.ID = model.NamedID(j.ID, "r")
	right.Mount = model.RailRight
	taped := sensor
	taped.Mask = model.Mask{Left: 0.2, Right: 0.3}
	hooded := sensor
	hooded.Hood = model.Hood{Bore: 12, Depth: 16}
	post := model.Sensor{ID: model.NamedID(j.ID, "p"), Name: "P", Class: "standard-lens", Mount: model.OnPost, At: model.Point{X: 100, Y: -600, Z: 1000}, Yaw: -10 * model.Degree}
	j.Sensing.Sensors = []model.Sensor{sensor, right}
	st := stairOf(t, j, tb)
	for _, c := range []struct {
		name   string
		s      model.Sensor
		end    sensing.End
		by     float64 // out from where it is; negative: in
		how    func(was, now model.Sensor) bool
		stays  bool // the other end
		refuse bool
	}{
		{"in, above", sensor, sensing.Upper, -0.7, func(a, b model.Sensor) bool { return b.Mask.Left != 0 && b.Mask.Right == 0 && a.Yaw == b.Yaw }, true, false},
		{"in, below", sensor, sensing.Lower, -0.7, func(a, b model.Sensor) bool { return b.Mask.Right != 0 && b.Mask.Left == 0 }, true, false},
		{"in, right side", right, sensing.Upper, -0.7, func(a, b model.Sensor) bool { return b.Mask.Right != 0 && b.Mask.Left == 0 }, true, false},
		{"tape taken off", taped, sensing.Upper, 0.3, func(a, b model.Sensor) bool { return b.Mask.Left == 0 || b.Mask.Left > a.Mask.Left }, true, false},
		{"hood opened", hooded, sensing.Upper, 0.3, func(a, b model.Sensor) bool { return b.Hood.Depth < a.Hood.Depth && b.Yaw == a.Yaw }, true, false},
		{"turned", sensor, sensing.Upper, 0.4, func(a, b model.Sensor) bool { return b.Yaw > a.Yaw }, false, false},
		{"post, in", post, sensing.Upper, -1.5, func(a, b model.Sensor) bool { return b.Yaw == a.Yaw }, false, false},
		{"too far", sensor, sensing.Upper, 5, nil, false, true},
		{"past the other", sensor, sensing.Upper, -9, nil, false, true},
		{"off the floor", sensor, sensing.Lower, 40, nil, false, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			was := st.Zones([]model.Sensor{c.s}, nil)[0]
			at, other, way := was.SureAt.From, was.SureAt.To, -1.0
			if c.end == sensing.Upper {
				at, other, way = was.SureAt.To, was.SureAt.From, 1
			}
			if was.Sure.Len() == 0 {
				t.Fatalf("sees nothing to begin with")
			}
			to := at + way*c.by
			z, err := st.DragEnd(was, c.end, to)
			now := z.From
			if c.refuse {
				if err == nil || now != c.s {
					t.Errorf("taken: %+v, %v", now, err)
				}
				t.Log(err)
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if fresh := st.Zones([]model.Sensor{now}, nil)[0]; !reflect.DeepEqual(fresh, z) {
				t.Errorf("the zone of the drag is %+v, afresh %+v", z, fresh)
			}
			got, rest := z.SureAt.From, z.SureAt.To
			if c.end == sensing.Upper {
				got, rest = z.SureAt.To, z.SureAt.From
			}
			if math.Abs(got-to) > 0.061 {
				t.Errorf("came to %.3f, not %.3f", got, to)
			}
			if c.stays && math.Abs(rest-other) > 0.3 {
				t.Errorf("the other end went from %.3f to %.3f", other, rest)
			}
			if !c.how(c.s, now) {
				t.Errorf("%+v became %+v", c.s, now)
			}
		})
	}
	if _, err := st.DragEnd(st.Zones([]model.Sensor{{Name: "x", Class: "none"}}, nil)[0], sensing.Upper, 3); err == nil {
		t.Error("a class that is not there")
	}
}
