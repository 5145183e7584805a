package panel_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"risewright/model"
	"risewright/solver/stock"
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

// A price typed is taken, shown as the user's, and given back to the table when
// the field is cleared.
func TestPricesAreTyped(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(buyTab)
	r.planned()
	before, _ := r.d.Work()
	at := slices.IndexFunc(before.Buy.Rows, func(x stock.Row) bool { return x.Good != "" && x.Use == model.UseTread })
	row := before.Buy.Rows[at]
	r.d.GoTo(model.Place{Field: "shop.prices." + row.Good})
	if r.text() != "" {
		t.Fatalf("a price that nobody typed is shown as %q", r.text())
	}
	r.typed("a lot")
	r.key(fyne.KeyReturn)
	if len(r.s.Job().Shop.Prices) != 0 || !strings.Contains(shown(r), "is no price") {
		t.Error("a lot is taken for a price")
	}
	r.typed("0")
	r.key(fyne.KeyReturn)
	if len(r.s.Job().Shop.Prices) != 0 || !strings.Contains(shown(r), "boards in hand") {
		t.Error("0 is taken for a price")
	}
	r.typed("1,25")
	r.key(fyne.KeyReturn)
	if own, ok := r.s.Job().Shop.Price(row.Good); !ok || own != 1.25 {
		t.Fatalf("1,25 is kept as %g", own)
	}
	r.planned()
	w, _ := r.d.Work()
	at = slices.IndexFunc(w.Buy.Rows, func(x stock.Row) bool { return x.Good == row.Good })
	if at < 0 || w.Buy.Rows[at].Price != 1.25 || w.Buy.Total >= before.Buy.Total {
		t.Errorf("the list comes to %g after %g", w.Buy.Total, before.Buy.Total)
	}
	s := shown(r)
	for _, want := range []string{fmt.Sprintf("%.2f", w.Buy.Rows[at].Cost), "Your prices: 1", "“yours”: set by you", "“from memory”: not looked up"} {
		if !strings.Contains(s, want) {
			t.Errorf("%q is not shown", want)
		}
	}
	r.d.GoTo(model.Place{Field: "shop.prices." + row.Good})
	r.typed("")
	r.key(fyne.KeyReturn)
	if len(r.s.Job().Shop.Prices) != 0 {
		t.Error("a cleared price stays")
	}
	r.d.GoTo(model.Place{Field: "shop.currency"})
	r.typed("coins")
	r.key(fyne.KeyReturn)
	r.d.GoTo(model.Place{Field: "shop.rate"})
	r.typed("31")
	r.key(fyne.KeyReturn)
	r.planned()
	if w, _ := r.d.Work(); w.Money.Currency != "coins" || w.Money.Labour.Likely != 31*w.Total.Likely || !strings.Contains(shown(r), "coins") {
		t.Errorf("%g hours cost %g %s", w.Total.Likely, w.Money.Labour.Likely, w.Money.Currency)
	}
}

// Boards in hand are typed by their length, changed, and taken off the list.
func TestBoardsInHandAreTyped(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(buyTab)
	r.planned()
	before, _ := r.d.Work()
	r.d.GoTo(model.Place{Field: "shop.hand"})
	r.typed("0")
	r.key(fyne.KeyReturn)
	if len(r.s.Job().Shop.Hand) != 0 || !strings.Contains(shown(r), "more than 0") {
		t.Error("a board without a length is taken")
	}
	r.typed("60\"")
	r.key(fyne.KeyReturn)
	r.d.GoTo(model.Place{Field: "shop.hand.0.count"})
	for _, c := range []struct{ field, text string }{{"count", "101"}, {"count", "3"}, {"width", "12\""}, {"width", ""}, {"name", "from the loft"}} {
		r.d.GoTo(model.Place{Field: "shop.hand.0." + c.field})
		r.typed(c.text)
		r.key(fyne.KeyReturn)
		if c.text == "101" && !strings.Contains(shown(r), "is no number of boards") {
			t.Error("101 boards are taken")
		}
	}
	hand := r.s.Job().Shop.Hand
	want := model.OwnBoard{Use: model.UseTread, Name: "from the loft", Count: 3, Length: 60 * model.Inch}
	if len(hand) != 1 || hand[0] != want {
		t.Fatalf("kept as %+v", hand)
	}
	r.planned()
	w, _ := r.d.Work()
	s := shown(r)
	if w.Buy.Total >= before.Buy.Total || !strings.Contains(s, "in hand: from the loft") || !strings.Contains(s, "Boards in hand: 3") {
		t.Errorf("%g after %g; shown: %v", w.Buy.Total, before.Buy.Total, strings.Contains(s, "from the loft"))
	}
	r.tapText("✕")
	if len(r.s.Job().Shop.Hand) != 0 || !strings.Contains(shown(r), "Boards in hand: none") {
		t.Error("the board stays")
	}
}

// A long map is folded, so that what stands below it is near; a short one is
// open; and what the user chose stays.
func TestALongMapIsFolded(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(buyTab)
	r.planned()
	w, _ := r.d.Work()
	pick := func(use model.GoodsUse) {
		var rows []fyne.Tappable
		for _, o := range test.LaidOutObjects(r.b.Object()) {
			if row, ok := o.(fyne.Tappable); ok && fmt.Sprintf("%T", o) == "*panel.pickRow" {
				rows = append(rows, row)
			}
		}
		rows[slices.IndexFunc(w.Buy.Rows, func(x stock.Row) bool { return x.Use == use })].Tapped(nil)
	}
	boards := func(use model.GoodsUse) int {
		for i := range w.Buy.Cuts {
			if w.Buy.Cuts[i].Use == use {
				return len(w.Buy.Cuts[i].Result.Layouts)
			}
		}
		return 0
	}
	many, few := boards(model.UseTread), boards(model.UseLanding)
	if many < 12 || few != 1 {
		t.Fatalf("%d boards and %d are no long and no short map", many, few)
	}
	for _, c := range []struct {
		use  model.GoodsUse
		says string
	}{
		{model.UseTread, fmt.Sprintf("How it is cut up: %d boards Show", many)},
		{model.UseLanding, "How it is cut up: 1 board Hide"},
	} {
		pick(c.use)
		if !strings.Contains(shown(r), c.says) {
			t.Errorf("%q is not shown", c.says)
		}
	}
	r.tapText("Hide")
	pick(model.UseTread)
	pick(model.UseLanding)
	if !strings.Contains(shown(r), "How it is cut up: 1 board Show") {
		t.Error("a map that was folded away comes back")
	}
	pick(model.UseAdhesive)
	if strings.Contains(shown(r), "How it is cut up") {
		t.Error("there is a map of the adhesive")
	}
}

// What the light bars and sensors take stands in a group of its own, with its
// caution and no price; picking a line says what it rests on.
func TestElectricGoodsAreAGroup(t *testing.T) {
	r := newRig(t, litJob(t, "well-behaved"))
	r.b.ShowTab(buyTab)
	r.planned()
	w, _ := r.d.Work()
	if len(w.Buy.Electric) < 8 {
		t.Fatalf("%d electric goods", len(w.Buy.Electric))
	}
	s := shown(r)
	for _, want := range []string{stock.Electric, stock.ElectricCaution} {
		if strings.Count(s, want) != 1 {
			t.Errorf("%q is not shown once", want)
		}
	}
	var rows []fyne.Tappable
	for _, o := range test.LaidOutObjects(r.b.Object()) {
		if row, ok := o.(fyne.Tappable); ok && fmt.Sprintf("%T", o) == "*panel.pickRow" {
			rows = append(rows, row)
		}
	}
	if len(rows) != len(w.Buy.All()) {
		t.Fatalf("%d lines for %d goods", len(rows), len(w.Buy.All()))
	}
	for i, e := range w.Buy.Electric {
		if strings.Contains(s, e.Why) {
			t.Errorf("why %s is shown before it is picked", e.Name)
		}
		rows[len(w.Buy.Rows)+i].Tapped(nil)
		if now := shown(r); !strings.Contains(now, e.Name[1:]) || !strings.Contains(now, e.Why) {
			t.Errorf("%s is not explained when it is picked", e.Name)
		}
	}
	if err := r.d.Do(model.SetLighting{}); err != nil {
		t.Fatal(err)
	}
	r.planned()
	if strings.Contains(shown(r), stock.Electric) {
		t.Error("the group stays without lights")
	}
}
