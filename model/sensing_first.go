package model

import (
	"fmt"
	"math"
)

// stepsPerSensor is how many steps one bare sensor under the rail speaks for
// before the next begins: a cone of 100° covers 4.2 goings at the walking line,
// and neighbours share one. Common practice, no source.
const stepsPerSensor = 3

// ControllerInputs is how many sensors one controller takes: as many as the
// tables of package walk, where a test holds the two alike.
const ControllerInputs = 16

// FirstSensing returns the sensors that a job is first given: evenly spread
// under the rail, of a stair that turns the outer one, and aimed across the
// stair; one for each end, that at the top hung where it sees somebody on the top
// floor before the first step down; and one over each landing. Common practice, no source; the user moves them and looks at the zones.
// There are never more than one controller takes: those of a longer stair stand
// farther apart, and findings name the steps that none sees.
//
// The ids belong to the job's, so that the same job gives the same sensors.
func FirstSensing(j Job, t SensorTables) Sensing {
	n := len(j.Flight.Steps)
	if n < MinSteps {
		return Sensing{}
	}
	class := ""
	if len(t.Classes) > 0 {
		class = t.Classes[0].ID
	}
	mount := RailLeft
	if turns(j) > leastWinder { // to the left: its rail is long at the right
		mount = RailRight
	}
	var s Sensing
	add := func(name string, along float64, tilt Angle) {
		s.Sensors = append(s.Sensors, Sensor{
			ID: NamedID(j.ID, "first sensor "+name), Name: name, Class: class,
			Mount: mount, Along: along, Below: 10, Tilt: tilt,
		})
	}
	// 10 mm lets a lens clear the rail; 45° lets it see a child who hugs that
	// rail.
	add("bottom", -0.5, 45*Degree)
	var landings []int
	for i := range j.Flight.Steps {
		if st := &j.Flight.Steps[i]; st.Landing && len(st.Corners) > 2 && len(landings) < ControllerInputs-3 {
			landings = append(landings, i)
		}
	}
	between := min(int(math.Ceil(float64(n-1)/stepsPerSensor)), ControllerInputs-2-len(landings))
	for i := range between {
		add(fmt.Sprintf("rail %d", i+1), float64(n-1)*(float64(i)+0.5)/float64(between), 45*Degree)
	}
	for _, i := range landings {
		s.Sensors = append(s.Sensors, overLanding(j, i, class))
	}
	add("top", float64(n)-0.5, 45*Degree)
	s.Wish = SensorWish{Every: true, Overlap: 1}
	return s
}

// turns returns how far the flight as sketched turns from its first nose line to
// its last, anticlockwise.
func turns(j Job) Angle {
	sum, px, py := 0.0, 0.0, 0.0
	for i := range j.Flight.Steps {
		st := &j.Flight.Steps[i]
		if st.FrontLeft() < 0 {
			continue
		}
		a, b := st.Corners[st.FrontLeft()], st.Corners[st.FrontRight()]
		x, y := float64(b.X-a.X), float64(b.Y-a.Y)
		if px != 0 || py != 0 {
			sum += math.Atan2(px*y-py*x, px*x+py*y)
		}
		px, py = x, y
	}
	return Angle(sum)
}

// overLanding returns a sensor high in the corner of a landing that lies farthest
// from where people come and go, aimed at its middle.
func overLanding(j Job, i int, class string) Sensor {
	st := &j.Flight.Steps[i]
	var mid Corner
	for _, c := range st.Corners {
		mid.X += c.X / Length(len(st.Corners))
		mid.Y += c.Y / Length(len(st.Corners))
	}
	ends := []Corner{st.Corners[st.FrontLeft()], st.Corners[st.FrontRight()], st.Corners[st.BackRight()], st.Corners[st.BackLeft()]}
	best, at := Length(-1), st.Corners[0]
	for _, c := range st.Corners {
		least := MaxLength
		for _, e := range ends {
			least = min(least, c.Distance(e))
		}
		if least > best {
			best, at = least, c
		}
	}
	// 60 mm clear of both walls
	d := at.Distance(mid)
	x, y := (mid.X-at.X)/d, (mid.Y-at.Y)/d
	name := fmt.Sprintf("landing %d", i+1)
	top := (st.TopLeft + st.TopRight) / 2
	return Sensor{
		ID: NamedID(j.ID, "first sensor "+name), Name: name, Class: class, Mount: OnPost,
		At:  Point{at.X + 85*x, at.Y + 85*y, top + 2000},
		Yaw: Angle(math.Atan2(float64(-x), float64(y))), Tilt: 50 * Degree,
	}
}
