package model

import (
	"fmt"
	"math"
	"slices"
)

// What a sensor under the rail is first given: 45° down it sees a child who hugs
// that rail, and tape at both sides lets it see somebody on two steps for sure and
// glimpse them on about five, so that the steps round them light and not the whole
// flight. The end ones look out over a floor and are taped less. Common practice,
// no source; measured on stairs of this program's own tests.
const (
	stepsPerSensor = 2.1 // from one to the next, at most
	stepsPerBare   = 3   // the same, without tape
	// tapePerGoing is the tangent of the angle from its middle line that is left
	// open at either side, for a going of a millimetre: 34.5° for one of 254 mm.
	// That of the end sensors is 41.5°.
	tapePerGoing    = 0.6873 / 254
	endTapePerGoing = 0.8847 / 254
	firstTilt       = 45 * Degree
	lookAgain       = 0.3 // seconds; a class is better not blind for longer after its output has gone off
)

// ControllerInputs is how many sensors one controller takes: as many as the
// tables of package walk, where a test holds the two alike.
const ControllerInputs = 16

// FirstSensing returns the sensors that a job is first given: evenly spread
// under the rail, of a stair that turns the outer one, and aimed across the
// stair, with tape at both sides of the lens; one for each end, that at the top
// hung where it sees somebody on the top floor before the first step down; and one
// over each landing. Common practice, no source; the user moves them and looks at
// the zones. They are of the first class of the table that sees again at once
// when its output has gone off, or of the first.
//
// There are never more than one controller takes. Those of a longer stair stand
// farther apart and are not taped, and findings name the steps that none sees; nor
// are those of a stair with winders, whose outer rail lies too far from who walks
// inside.
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
		if i := slices.IndexFunc(t.Classes, func(c SensorClass) bool { return c.Block.Value <= lookAgain }); i >= 0 {
			class = t.Classes[i].ID
		}
	}
	mount := RailLeft
	if turns(j) > leastWinder { // to the left: its rail is long at the right
		mount = RailRight
	}
	var landings []int
	for i := range j.Flight.Steps {
		if st := &j.Flight.Steps[i]; st.Landing && len(st.Corners) > 2 && len(landings) < ControllerInputs-3 {
			landings = append(landings, i)
		}
	}
	const out = 0.6 // steps from the outer nose lines to the end sensors
	whole := float64(n-1) + 2*out
	gaps := int(math.Ceil(whole / stepsPerSensor))
	most := ControllerInputs - 1 - len(landings)
	taped := gaps <= most && !winds(j)
	if !taped {
		gaps = min(int(math.Ceil(whole/stepsPerBare)), most)
	}
	going := usualGoing(j)
	degrees := func(tan float64) Angle { return Angle(math.Round(math.Atan(tan)/float64(Degree))) * Degree }
	tape, endTape := degrees(tapePerGoing*going), degrees(endTapePerGoing*going)
	var s Sensing
	for i := range gaps + 1 {
		name, open := fmt.Sprintf("rail %d", i), tape
		switch i {
		case 0:
			name, open = "bottom", endTape
		case gaps:
			name, open = "top", endTape
		}
		x := Sensor{
			ID: NamedID(j.ID, "first sensor "+name), Name: name, Class: class,
			Mount: mount, Along: -out + whole*float64(i)/float64(gaps),
			Below: 10, // mm, lets a lens clear the rail
			Tilt:  firstTilt,
		}
		if taped {
			x.Mask = Mask{Left: open, Right: open}
		}
		s.Sensors = append(s.Sensors, x)
	}
	for _, i := range landings {
		s.Sensors = append(s.Sensors, overLanding(j, i, class))
	}
	s.Wish = SensorWish{Every: true, Longest: 2, Class: class}
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

// sketchedTreads calls f with the steps of a flight that have a nose line, landings
// left out, and the corners of each.
func sketchedTreads(j Job, f func(fl, fr, bl, br Corner)) {
	for i := range j.Flight.Steps {
		if st := &j.Flight.Steps[i]; !st.Landing && st.FrontLeft() >= 0 {
			f(st.Corners[st.FrontLeft()], st.Corners[st.FrontRight()], st.Corners[st.BackLeft()], st.Corners[st.BackRight()])
		}
	}
}

// usualGoing returns the mean going of the flight as sketched, landings left out,
// mm along the middle of its steps.
func usualGoing(j Job) float64 {
	sum, n := 0.0, 0
	sketchedTreads(j, func(fl, fr, bl, br Corner) {
		sum += math.Hypot(float64(bl.X+br.X-fl.X-fr.X), float64(bl.Y+br.Y-fl.Y-fr.Y)) / 2
		n++
	})
	if n == 0 {
		return 254
	}
	return sum / float64(n)
}

// winds says whether steps of the flight, landings left out, turn.
func winds(j Job) bool {
	turned := false
	sketchedTreads(j, func(fl, fr, bl, br Corner) {
		turned = turned || math.Abs(turnedBy(fl, fr, bl, br)) > float64(leastWinder)
	})
	return turned
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
