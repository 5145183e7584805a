package panel

import (
	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
)

// sensorFindings is what is to be known of the sensors. It is worked out when the
// job has changed, never while something is dragged: at once where the drawings
// show the zones anyway, else off the goroutine of the interface. The last stay
// until there are others.
type sensorFindings struct {
	own     []model.Finding // of the sensors and their rules
	all     []model.Finding // with those of the answer
	allOf   *solver.Answer
	ownOf   *solver.Answer
	running bool
}

// Findings returns what is to be known of the job, the worst first.
func (d *Desk) Findings() []model.Finding {
	a := d.session.Answer()
	g := &d.sensors.found
	if a.Survey == nil || !a.Job.Sensing.On() {
		g.own, g.ownOf = nil, nil
		return a.Findings
	}
	if g.ownOf != a {
		if d.sensing() {
			g.own, g.ownOf, g.allOf = solver.SensorFindings(a, d.session.Tables(), d.sensedJob()), a, nil
		} else {
			d.findLater()
		}
	}
	if g.allOf != a {
		g.all, g.allOf = solver.Joined(a.Findings, g.own), a
	}
	return g.all
}

// findLater works out what the sensors see off the goroutine of the interface,
// one answer at a time.
func (d *Desk) findLater() {
	g := &d.sensors.found
	if g.running {
		return
	}
	g.running = true
	a, t, before := d.session.Answer(), d.session.Tables(), d.sensors.job
	var sense sensing.Result
	var own []model.Finding
	failed := false
	d.later(func() {
		defer func() { failed = recover() != nil }() // our fault and not the job's: the list does without
		sense = solver.Sense(a, t, &before)
		own = solver.SensorFindings(a, t, &sense)
	}, func() {
		g.running = false
		if d.session.Answer() != a {
			d.tell(Found)
			return
		}
		if !failed && d.sensors.jobOf != a {
			d.sensors.job, d.sensors.jobOf = sense, a
			d.sensors.live, d.sensors.liveOf = sensing.Result{}, nil
		}
		g.own, g.ownOf, g.allOf = own, a, nil
		d.tell(Found)
	})
}
