package solver

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver/estimate"
	"risewright/solver/fitting"
)

// time fills in hours, money and days: those of the fitting are the evenings of
// the order.
func (w *Work) time(job model.Job, l model.Labour) {
	work := workOf(job, &w.Order)
	w.Hours, w.Total = estimate.Hours(l, work)
	w.Money = estimate.Cost(l, work, w.Total, w.Buy)
	w.Calendar = estimate.Calendar{}
	if start, ok := job.Shop.StartDay(); ok {
		w.Calendar = estimate.Plan(l, work, estimate.Settings{
			Start: start, HoursPerDay: job.Shop.HoursPerDay, Evening: fitting.EveningHours(job.Wishes),
		})
	}
}

// workOf counts the work of a job by its order of fitting; without one, by the
// flight alone.
func workOf(job model.Job, o *fitting.Result) estimate.Work {
	bars := 0
	if job.Wishes.LightBars {
		bars = len(job.Flight.Steps)
	}
	w := estimate.WorkOf(job, 0, false, bars)
	w.Householder, w.Novice = job.Shop.Householder, job.Wishes.FirstTimer
	if o.Status != fitting.Solved {
		return w
	}
	w.Pieces = map[string]int{}
	for i := range o.Order {
		if t := &o.Order[i]; !t.InPlace && t.Stage != "" && t.Kind != fitting.Baluster {
			w.Pieces[t.Stage]++
		}
	}
	for i := range o.Plan.Evenings {
		w.Sessions = append(w.Sessions, sessionOf(o, &o.Plan.Evenings[i]))
	}
	return w
}

// sessionOf is an evening of the order as the calendar takes it.
func sessionOf(o *fitting.Result, e *fitting.Evening) estimate.Session {
	s := estimate.Session{Number: e.Number, Hours: e.Minutes / 60, Holds: e.Holds, Night: estimate.NightUsable}
	var names []string
	for _, i := range e.Tasks {
		t := &o.Order[i]
		switch t.Kind {
		case fitting.Hold:
			continue
		case fitting.Tread, fitting.Landing:
			s.Boards, s.Treads = true, true
		case fitting.Wires, fitting.Notch:
		default:
			s.Boards = true
		}
		names = append(names, t.ID)
	}
	s.Name = fmt.Sprintf("evening %d", e.Number)
	switch n := len(names); {
	case n > 2:
		s.Name += fmt.Sprintf(": %s to %s", names[0], names[n-1])
	case n > 0:
		s.Name += ": " + strings.Join(names, ", ")
	}
	switch {
	case e.Closed:
		s.Night = estimate.NightOff
	case len(e.Off) > 0:
		s.Night = estimate.NightStepOver
	}
	for _, x := range e.Waits {
		s.Waits = append(s.Waits, fmt.Sprintf("%s, %.0f h", x.What, x.Hours))
	}
	return s
}
