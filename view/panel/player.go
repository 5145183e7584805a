package panel

import (
	"risewright/solver/fitting"
)

// player is where the order of fitting is being looked at. The zero player is
// at the first task.
type player struct {
	at int    // the task that is being done; the length of the order when all are done
	id string // its name, so that it is found again in another order

	// beside is the candidate laid beside the winner, 0 for none; other is its
	// order when it is known, and why says why it cannot be shown.
	beside  int
	other   *fitting.Result
	why     string
	running bool
}

// order returns the order that is played, or nil.
func (d *Desk) order() *fitting.Result {
	if w := d.planned.work; w != nil && len(w.Order.Order) > 0 {
		return &w.Order
	}
	return nil
}

// Task returns the index of the task that is shown, and the number of tasks.
func (d *Desk) Task() (at, of int) {
	if r := d.order(); r != nil {
		return min(d.player.at, len(r.Order)), len(r.Order)
	}
	return 0, 0
}

// ShowTask shows the task with an index, and chooses its piece. The number of
// tasks is the finished stair.
func (d *Desk) ShowTask(i int) {
	r := d.order()
	if r == nil {
		return
	}
	i = max(0, min(i, len(r.Order)))
	if i == d.player.at && (i == len(r.Order) || r.Order[i].ID == d.player.id) {
		return
	}
	d.player.at, d.player.id = i, ""
	if i < len(r.Order) {
		t := &r.Order[i]
		d.player.id = t.ID
		if d.session.Answer().Piece(t.ID) >= 0 {
			d.ChoosePiece(t.ID)
		} else if t.Step > 0 {
			d.Choose(t.Step)
		}
	}
	d.tell(Played)
}

// take follows a new plan: the task stays if the new order has it.
func (p *player) take(r *fitting.Result) {
	p.beside, p.other, p.why = 0, nil, ""
	if i := taskIn(r, p.id); p.id != "" && i >= 0 {
		p.at = i
		return
	}
	p.at, p.id = 0, ""
	if len(r.Order) > 0 {
		p.id = r.Order[0].ID
	}
}

// playing says whether the drawings show the order and not the survey.
func (d *Desk) playing() bool { return d.tabs.shows(tabOrder) && d.order() != nil }
