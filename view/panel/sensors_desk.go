package panel

import (
	"fmt"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
	"risewright/view/drawing"
	"risewright/view/zones"
)

// sensorDesk is how the sensors are being looked at, and what they see. The
// zero sensorDesk looks at the first.
type sensorDesk struct {
	chosen int // place in the job of the chosen sensor

	// What the sensors of two answers see: that of the job, and that of the drag
	// in hand. The later takes over what still holds.
	job, live     sensing.Result
	jobOf, liveOf *solver.Answer

	drag  sensorDrag
	found sensorFindings

	place   *sensing.Placement // found last
	placeOf *solver.Answer
	placing bool
	fault   string // why there is no placement
}

// sensorDrag is a grip of the sensors in hand, on whichever drawing.
type sensorDrag struct {
	grip   zones.Grip
	start  *sensing.Result
	answer *solver.Answer
	moved  bool
	make   func() (model.Edit, error) // the edit for where the pointer is
	change model.Edit                 // of the last frame
	known  *sensing.Zone              // of the last frame, if an end of it is dragged
	why    string                     // it cannot be so
}

// sensing says whether the drawings show the sensors so that they can be moved.
func (d *Desk) sensing() bool {
	return d.tabs.shows(tabSensors) && d.session.Job().Sensing.On() && d.session.Answer().Survey != nil
}

// walkable says whether somebody can be put on the stair: there is one, now and
// as a drag would have it. Sensors may be in the job before its boards can be made.
func (d *Desk) walkable() bool { return d.sensing() && d.Sensed().Stair != nil }

// Sensed returns what the sensors see: during a drag as it would be.
func (d *Desk) Sensed() *sensing.Result {
	g := &d.sensors
	d.sensedJob()
	if a := d.Answer(); a != g.jobOf {
		if g.liveOf != a {
			before := &g.live
			if g.liveOf == nil {
				before = &g.job
			}
			if z := g.drag.known; z != nil {
				before = before.Knowing(*z)
			}
			g.live, g.liveOf = solver.Sense(a, d.session.Tables(), before), a
		}
		return &g.live
	}
	return &g.job
}

// sensedJob returns what the sensors of the job see.
func (d *Desk) sensedJob() *sensing.Result {
	g := &d.sensors
	if a := d.session.Answer(); g.jobOf != a {
		g.job, g.jobOf = solver.Sense(a, d.session.Tables(), &g.job), a
		g.live, g.liveOf = sensing.Result{}, nil
	}
	return &g.job
}

// Sensor returns the place in the job of the chosen sensor, or -1.
func (d *Desk) Sensor() int {
	if n := len(d.session.Job().Sensing.Sensors); n == 0 {
		return -1
	} else if d.sensors.chosen >= n {
		return n - 1
	}
	return d.sensors.chosen
}

// ChooseSensor chooses a sensor by its place in the job.
func (d *Desk) ChooseSensor(i int) {
	if i >= 0 && i < len(d.session.Job().Sensing.Sensors) && i != d.sensors.chosen {
		d.sensors.chosen = i
		d.tell(Viewed)
	}
}

// chosenSensor returns the chosen sensor, and whether there is one.
func (d *Desk) chosenSensor() (model.Sensor, bool) {
	s := d.session.Job().Sensing.Sensors
	if i := d.Sensor(); i >= 0 {
		return s[i], true
	}
	return model.Sensor{}, false
}

// zoneOptions returns how zones are drawn.
func (d *Desk) zoneOptions(v drawing.Viewport) zones.Options {
	o := zones.Options{Chosen: d.Sensor(), Held: d.sensors.drag.grip, Grips: true, At: d.walkerAt()}
	if v.Paper > 0 {
		o.Scale = v.Scale / v.Paper
	}
	return o
}

// takeSensor takes hold of a grip; make says what its drag does to the job.
func (d *Desk) takeSensor(g zones.Grip, make func() (model.Edit, error)) {
	d.Leave()
	d.ChooseSensor(g.Sensor)
	// A copy, because what is sensed meanwhile takes the place of the job's.
	start := *d.Sensed()
	d.sensors.drag = sensorDrag{grip: g, start: &start, answer: d.session.Answer(), make: make}
}

// endSensor returns the edit that brings an end of the zone in hand to a place
// along the flight.
func (d *Desk) endSensor(g zones.Grip, along float64) (model.Edit, error) {
	e, z, err := zones.End(d.sensors.drag.start, g, along)
	if err != nil {
		return nil, err
	}
	d.sensors.drag.known = &z
	return e, nil
}

// draggedSensor notes that the pointer has moved.
func (d *Desk) draggedSensor() {
	d.sensors.drag.moved = true
	d.tell(Dragged)
}

// settleSensors works out what the drag in hand makes of the zones. Only the
// sensors change, so the rest of the answer is the job's.
func (d *Desk) settleSensors() {
	g := &d.sensors.drag
	if !g.moved || g.grip.Kind == zones.NoGrip {
		return
	}
	g.moved = false
	defer d.settled()
	e, err := g.make()
	var job model.Job
	if err == nil {
		job, err = e.Apply(d.session.Job())
	}
	if err != nil {
		g.why = model.Sentence(err.Error())
		d.point(g.why)
		return // it stays at the last place it can be in
	}
	if g.why != "" {
		g.why = ""
		d.point("")
	}
	a := *g.answer
	a.Job = job
	g.change, d.preview = e, &a
}

// dropSensor lets go of the drag where it is.
func (d *Desk) dropSensor() {
	d.settleSensors()
	e := d.sensors.drag.change
	d.sensors.drag = sensorDrag{}
	d.preview = nil
	d.point("")
	if e == nil || d.Do(e) != nil {
		d.tell(Dragged)
	}
}

// cancelSensor puts what is dragged back.
func (d *Desk) cancelSensor() {
	if d.sensors.drag.grip.Kind != zones.NoGrip {
		d.sensors.drag = sensorDrag{}
		d.preview = nil
		d.tell(Dragged)
	}
}

// findPlaces looks for places that do what is wished, off the goroutine of the
// interface.
func (d *Desk) findPlaces() {
	g := &d.sensors
	a := d.session.Answer()
	if g.placing || a.Survey == nil {
		return
	}
	g.placing, g.fault = true, ""
	tables := d.session.Tables()
	var found sensing.Placement
	fault := ""
	d.later(func() { found, fault = placesOf(a, tables) }, func() {
		g.placing = false
		g.fault = fault
		g.place, g.placeOf = &found, a
		if fault != "" {
			g.place, g.placeOf = nil, nil
		}
		d.tell(Viewed)
	})
	d.tell(Viewed)
}

// placesOf searches. Should that break down, which is our fault and not the
// job's, it says so.
func placesOf(a *solver.Answer, t model.Tables) (p sensing.Placement, fault string) {
	defer func() {
		if cause := recover(); cause != nil {
			fault = fmt.Sprintf("the program failed while looking for places: %v; nothing is lost", cause)
		}
	}()
	st := solver.StairOf(a, t)
	if st == nil {
		return p, "there is no stair to look at yet"
	}
	return st.Place(&a.Job), ""
}
