package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
)

// remedyList shows the smallest changes that bring the rises within the
// limits. They are searched off the interface goroutine, one search at a time;
// one that the job has outrun is dropped and begun anew.
type remedyList struct {
	desk    *Desk
	status  *para
	body    *fyne.Container
	box     *fyne.Container
	running bool
	about   *solver.Answer // what the remedies shown, or sought, are for
}

func newRemedyList(d *Desk) *remedyList {
	l := &remedyList{desk: d, status: newPara(""), body: container.NewVBox()}
	l.box = container.NewVBox(l.status, l.body)
	return l
}

// tell begins a search, unless there is one for this answer.
func (l *remedyList) tell() {
	a := l.desk.session.Answer()
	if a == l.about || l.running {
		return
	}
	l.about, l.running = a, true
	l.body.RemoveAll()
	setPara(l.status, "Searching…")
	tables := l.desk.session.Tables()
	var m buildup.Mending
	l.desk.later(func() { m = solver.Advise(a, tables) }, func() {
		l.running = false
		if l.desk.session.Answer() == a {
			l.show(&m)
		} else if l.desk.tabs.shows(tabBuildup) { // the job has changed meanwhile
			l.tell()
		}
	})
}

func (l *remedyList) show(m *buildup.Mending) {
	text := ""
	switch m.Status {
	case buildup.Compliant:
		text = "● The rises are within the limits as planned."
	case buildup.Mendable:
		text = "▲ The rises are outside the limits. Each of these brings them within; least work first."
	case buildup.NoLimits:
		text = "○ No limits to hold the rises against: " + m.Why + "."
	case buildup.Unread:
		text = "◆ " + model.Capital(m.Why) + "."
	default:
		text = "■ Nothing tried brings the rises within the limits: " + m.Why + "."
	}
	setPara(l.status, text)
	l.body.RemoveAll()
	for i := range m.Remedies {
		r := &m.Remedies[i]
		title := newPara(model.Capital(r.Title) + ".")
		title.bold()
		apply := newButton("Apply", func() { _ = l.desk.Do(r.Edit()) }) // an error has been shown
		detail := newPara(r.Detail)
		detail.soft()
		l.body.Add(container.NewBorder(nil, nil, nil, container.NewVBox(apply), title))
		if r.Detail != "" {
			l.body.Add(detail)
		}
	}
}
