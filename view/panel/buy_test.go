package panel_test

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/model"
)

func TestBuyShowsTheListAndWhatItRestsOn(t *testing.T) {
	r := newRig(t, demoJob(t, "unfinished"))
	r.b.ShowTab(buyTab)
	r.planned()
	w, fresh := r.d.Work()
	if w == nil || !fresh || len(w.Buy.Rows) == 0 {
		t.Fatal("nothing to buy")
	}
	if !w.Buy.Early {
		t.Fatal("the unfinished job is not early")
	}
	s := shown(r)
	for _, want := range []string{
		fmt.Sprintf("Total %.2f", w.Buy.Total), fmt.Sprintf("%.2f", w.Buy.Lower), "99 %", "from memory",
		fmt.Sprintf("About %.0f hours", w.Total.Likely), fmt.Sprintf("%.0f", w.Money.Total.High), w.Species.Name[1:],
	} {
		if !strings.Contains(s, want) {
			t.Errorf("%q is not shown", want)
		}
	}
	for _, row := range w.Buy.Rows {
		if !row.Missing && row.Cost > 0 && !strings.Contains(s, fmt.Sprintf("%.2f", row.Cost)) {
			t.Errorf("the price of %s is not shown", row.Name)
		}
	}
	if strings.Contains(s, "Mon ") {
		t.Error("a calendar without a first day")
	}
}

func TestWoodAndDaysAreTyped(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(buyTab)
	r.planned()
	before, _ := r.d.Work()
	r.d.GoTo(model.Place{Field: "shop.start"})
	r.typed("soon")
	r.key(fyne.KeyReturn)
	if r.s.Job().Shop.Start != "" || !strings.Contains(shown(r), "2026-11-30; or leave it empty") {
		t.Error("soon is taken for a day")
	}
	r.typed("30 Nov 2026")
	r.key(fyne.KeyReturn)
	if got := r.s.Job().Shop.Start; got != "2026-11-30" {
		t.Fatalf("the first day is %q", got)
	}
	r.d.GoTo(model.Place{Field: "shop.winter_humidity"})
	r.typed("20%")
	r.key(fyne.KeyReturn)
	if got := r.s.Job().Shop.WinterHumidity; got != 0.2 {
		t.Errorf("winter air %g", got)
	}
	r.d.GoTo(model.Place{Field: "shop.moisture"})
	r.typed("31")
	r.key(fyne.KeyReturn)
	if r.s.Job().Shop.Moisture != 0 {
		t.Error("31 % is taken")
	}
	r.key(fyne.KeyEscape)
	r.d.GoTo(model.Place{Field: "shop.householder"})
	r.w.Canvas().Focused().TypedRune(' ')
	r.planned()
	w, fresh := r.d.Work()
	if !fresh || w.Movement.Treads[0].Swing <= before.Movement.Treads[0].Swing {
		t.Error("drier winters move the wood no more")
	}
	if w.Total.Likely <= before.Total.Likely || w.Money.Labour.High != 0 {
		t.Errorf("the household takes %g hours, others %g, and costs %g", w.Total.Likely, before.Total.Likely, w.Money.Labour.High)
	}
	s := shown(r)
	for _, m := range w.Calendar.Milestones {
		if !strings.Contains(s, m.Likely.Format("2 Jan 2006")) {
			t.Errorf("%s on %s is not shown", m.Name, m.Likely.Format("2 Jan 2006"))
		}
	}
	if len(w.Calendar.Milestones) == 0 {
		t.Error("no calendar")
	}
}
