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
	lit     *solver.Lit     // how much lights for who walks, of the same answer
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
		g.own, g.lit, g.ownOf = nil, nil, nil
		return a.Findings
	}
	if g.ownOf != a {
		if d.sensing() {
			g.own, g.lit = solver.SensorFindings(a, d.session.Tables(), d.sensedJob())
			g.ownOf, g.allOf = a, nil
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
	var lit *solver.Lit
	failed := false
	d.later(func() {
		defer func() { failed = recover() != nil }() // our fault and not the job's: the list does without
		sense = solver.Sense(a, t, &before)
		own, lit = solver.SensorFindings(a, t, &sense)
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
		g.own, g.lit, g.ownOf, g.allOf = own, lit, a, nil
		d.tell(Found)
	})
}

// litFor returns how much of the flight lights for who walks it, or nil when that is
// not known of the job as it is.
func (d *Desk) litFor() *solver.Lit {
	d.Findings()
	if g := &d.sensors.found; g.ownOf == d.session.Answer() {
		return g.lit
	}
	return nil
}
