package panel

import (
	"context"
	"fmt"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
)

// planned is the work that follows from the answer: order, buying, time. It is
// worked out off the goroutine of the interface, one plan at a time and only
// while a tab shows it; a plan that the job has outrun is dropped. The last one
// stays until there is another.
type planned struct {
	work    *solver.Work   // nil before the first
	about   *solver.Answer // what work is for
	fault   string         // why about has no work of its own
	running bool
	cancel  context.CancelFunc // gives up what is being worked out; nil while nothing is
	subject *solver.Answer     // what is being worked out is for
}

// Work returns the last work planned, nil before the first, and whether it is
// that of the job as it is.
func (d *Desk) Work() (w *solver.Work, fresh bool) {
	p := &d.planned
	return p.work, p.about == d.session.Answer() && p.fault == ""
}

// planFault says why the job as it is has no plan, "" while there is one or it
// is being worked out.
func (d *Desk) planFault() string {
	if d.planned.about == d.session.Answer() {
		return d.planned.fault
	}
	return ""
}

// wantsPlan says whether a tab that shows the plan is at the front.
func (d *Desk) wantsPlan() bool {
	return d.tabs.shows(tabCard) || d.tabs.shows(tabOrder) || d.tabs.shows(tabBuy) || d.tabs.shows(tabPicture)
}

// plan sees to it that the work of the job is known some time, if anything
// shows it.
func (d *Desk) plan() {
	p := &d.planned
	a := d.session.Answer()
	if p.cancel != nil && p.subject != a {
		p.cancel() // nobody will look at it
	}
	if p.running || p.about == a || !d.wantsPlan() {
		return
	}
	p.running = true
	d.rested(func() {
		if d.session.Answer() != a { // it has not rested
			p.running = false
			d.plan()
			return
		}
		d.workOut(a)
	})
}

func (d *Desk) workOut(a *solver.Answer) {
	tables := d.session.Tables()
	var w *solver.Work
	fault := ""
	ctx, cancel := context.WithCancel(context.Background())
	d.planned.cancel, d.planned.subject = cancel, a
	d.later(func() { w, fault = planOf(ctx, a, tables) }, func() {
		cancel()
		p := &d.planned
		p.running, p.cancel, p.subject = false, nil, nil
		if d.session.Answer() != a {
			d.plan()
			return
		}
		p.about, p.fault = a, fault
		if w != nil {
			p.work = w
			d.player.take(&w.Order)
		}
		d.tell(Planned)
	})
}

// planOf plans the work. Should the planner break down, which is our fault and
// not the job's, the window stays.
func planOf(ctx context.Context, a *solver.Answer, t model.Tables) (w *solver.Work, fault string) {
	defer func() {
		if cause := recover(); cause != nil {
			w, fault = nil, fmt.Sprintf("the program failed while working this out: %v; nothing is lost: save the job and send it to those who make Risewright", cause)
		}
	}()
	w, _ = solver.PlanUntil(ctx, a, t) // an error says only that it was given up
	return w, ""
}

// taskIn returns the index of the task called id, or -1.
func taskIn(r *fitting.Result, id string) int {
	for i := range r.Order {
		if r.Order[i].ID == id {
			return i
		}
	}
	return -1
}
