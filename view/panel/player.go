package panel

import (
	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
	"risewright/view/order"
)

// player is where the order of fitting is being looked at. The zero player is
// at the first task.
type player struct {
	at int    // the task that is being done; the length of the order when all are done
	id string // its name, so that it is found again in another order

	// beside is the candidate laid beside the winner, 0 for none; other is its
	// work when it is known, and why says why it cannot be shown.
	beside  int
	other   *solver.Work
	why     string
	seeking bool
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
	for i := range r.Order { // what is there already is not done
		if !r.Order[i].InPlace {
			p.at, p.id = i, r.Order[i].ID
			return
		}
	}
}

// playing says whether the drawings show the order and not the survey.
func (d *Desk) playing() bool { return d.tabs.shows(tabOrder) && d.order() != nil }

// plays returns what the drawings show: the order, and the one beside it.
func (d *Desk) plays() []order.Play {
	at, _ := d.Task()
	a := order.PlayOf(d.planned.work, at)
	if d.player.other == nil {
		return []order.Play{a}
	}
	b := order.PlayOf(d.player.other, min(at, len(d.player.other.Order.Order)))
	if at == len(a.Order.Order) {
		b.At = len(b.Order.Order)
	}
	a.Title, b.Title = "A: "+wayOfSides(&a.Order.Candidates[0]), "B: "+wayOfSides(&b.Order.Candidates[0])
	return []order.Play{a, b}
}

// showStep shows the task that lays the tread of a step.
func (d *Desk) showStep(step int) {
	r := d.order()
	for i := range r.Order {
		if t := &r.Order[i]; t.Step == step && (t.Kind == fitting.Tread || t.Kind == fitting.Landing) {
			d.ShowTask(i)
			return
		}
	}
}

// playKey answers the keys that go from task to task.
func (d *Desk) playKey(k fyne.KeyName) bool {
	at, n := d.Task()
	switch k {
	case fyne.KeyLeft, fyne.KeyDown:
		at--
	case fyne.KeyRight, fyne.KeyUp:
		at++
	case fyne.KeyHome:
		at = 0
	case fyne.KeyEnd:
		at = n
	default:
		return false
	}
	d.ShowTask(at)
	return true
}

// wayOfSides names a candidate in a few words.
func wayOfSides(c *fitting.Candidate) string {
	side := func(d fitting.Decision) string {
		s := string(d.Board)
		switch {
		case d.Board == fitting.OpenSide:
		case d.RiserPast && d.TreadPast:
			s += " last"
		case d.RiserPast:
			s += " on the risers"
		case d.TreadPast:
			s += " under the treads"
		case d.Board != fitting.KeptSkirt && d.Board != fitting.BareWall:
			s += " first"
		}
		if d.Ends != fitting.Tight && d.Board != fitting.OpenSide {
			s += ", ends " + map[fitting.Ends]string{fitting.Bead: "beaded", fitting.Caulk: "filled", fitting.Housed: "housed"}[d.Ends]
		}
		if d.Cap {
			s += ", capped"
		}
		return s
	}
	back := "treads under risers"
	if c.Back == model.BackAgainstRiser {
		back = "treads against risers"
	}
	if c.Left == c.Right {
		return side(c.Left) + " on both sides; " + back
	}
	return side(c.Left) + " left, " + side(c.Right) + " right; " + back
}

// Beside returns the index of the candidate that is shown beside the order, 0
// for none.
func (d *Desk) Beside() int { return d.player.beside }

// Other returns the work whose order is shown beside the winner's, nil while
// there is none, and why there cannot be one.
func (d *Desk) Other() (w *solver.Work, why string) { return d.player.other, d.player.why }

// ShowBeside lays the order of a candidate beside the winner's; 0 takes it
// away. It takes some tenths of a second and is done elsewhere.
func (d *Desk) ShowBeside(i int) {
	p := &d.player
	r := d.order()
	if r == nil || i < 0 || i >= len(r.Candidates) || i == p.beside {
		return
	}
	p.beside, p.other, p.why = i, nil, ""
	d.tell(Played)
	d.seekBeside()
}

func (d *Desk) seekBeside() {
	p, w := &d.player, d.planned.work
	if p.seeking || p.beside == 0 {
		return
	}
	i := p.beside
	p.seeking = true
	var other *solver.Work
	why := ""
	d.later(func() { other, why = besideOf(w, i) }, func() {
		p := &d.player
		p.seeking = false
		if d.planned.work != w || p.beside != i { // another was asked for meanwhile
			d.seekBeside()
			return
		}
		p.other, p.why = other, why
		d.tell(Played)
	})
}
