package model

import (
	"fmt"
	"math"
)

// stepsPerSensor is how many steps one bare sensor under the rail speaks for
// before the next begins: a cone of 100° covers 4.2 goings at the walking line,
// and neighbours share one. Common practice, no source.
const stepsPerSensor = 3

// FirstSensing returns the sensors that a job is first given: evenly spread
// under the left rail and aimed across the stair, and one for each end, that at
// the top hung where it sees somebody on the landing before the first step
// down. Common practice, no source; the user moves them and looks at the zones.
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
	var s Sensing
	add := func(name string, along float64, tilt Angle) {
		s.Sensors = append(s.Sensors, Sensor{
			ID: NamedID(j.ID, "first sensor "+name), Name: name, Class: class,
			Mount: RailLeft, Along: along, Below: 10, Tilt: tilt,
		})
	}
	// 10 mm lets a lens clear the rail; 45° lets it see a child who hugs that
	// rail.
	add("bottom", -0.5, 45*Degree)
	between := int(math.Ceil(float64(n-1) / stepsPerSensor))
	for i := range between {
		add(fmt.Sprintf("rail %d", i+1), float64(n-1)*(float64(i)+0.5)/float64(between), 45*Degree)
	}
	add("top", float64(n)-0.5, 45*Degree)
	s.Wish = SensorWish{Every: true, Overlap: 1}
	return s
}
