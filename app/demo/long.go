package demo

import (
	"fmt"
	"time"

	"risewright/model"
)

// longestRead is how many steps are read from end to end: 78 m of going, and no
// reading may be longer than 100 m.
const longestRead = 300

// Long returns a flight of n steps read in full, with light bars and sensors:
// what the program is tried with under load. A real one of more than some twenty
// steps has landings; this one has none, so that nothing but the number of steps
// differs from one n to another.
func Long(n int) (model.Job, error) {
	if n < model.MinSteps || n > model.MaxSteps {
		return model.Job{}, fmt.Errorf("a flight of %d steps; give %d to %d", n, model.MinSteps, model.MaxSteps)
	}
	j, newID, err := begin(fmt.Sprintf("long %d", n), model.Metric)
	if err != nil {
		return model.Job{}, err
	}
	j.Name = fmt.Sprintf("Hillside, %d steps", n)
	j.Place = "a hillside (invented, to try long flights)"
	j.Code, j.CodeClass = "irc", "dwelling"
	c := send(&j, plan{
		risers: n, rise: 186, going: 260, width: 938,
		rough: rough{rise: 0.8, going: 0.8, skew: 0.08 * degree, tilt: 0.0005, fall: 0.001, lean: 0.04 * degree},
		seed:  uint64(n),
	}, time.Date(2026, 11, 9, 8, 0, 0, 0, time.UTC), newID)
	if n <= longestRead {
		c.flight(model.Bare, model.FlightKinds()...)
	}
	for i := range j.Flight.Steps {
		c.step(i, model.Bare, false, everything...)
	}
	if err := light(&j, 0); err != nil {
		return model.Job{}, err
	}
	return j, c.err
}
