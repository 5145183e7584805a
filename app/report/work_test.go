package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"risewright/app/report"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
)

// workOf plans a job and writes it.
func workOf(t *testing.T, j model.Job) (*solver.Work, string) {
	t.Helper()
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	w := solver.Plan(solver.Solve(j, tb), tb)
	var b bytes.Buffer
	if err := report.Work(&b, w); err != nil {
		t.Fatal(err)
	}
	return w, b.String()
}

// TestWorkText looks for each piece in its turn, what to stop for, each row to
// buy, and that every line fits a terminal.
func TestWorkText(t *testing.T) {
	lit := demoJob(t, "tapering")
	lit.Name = "a\x1b[2Jb\nc\u202ed"
	lit.Wishes = model.Wishes{LightBars: true, Right: model.SideWish{Wiring: true, Battered: true}}
	lit.Shop = model.Shop{Start: "2026-11-30", Householder: true, Hand: []model.OwnBoard{{Use: model.UseLightBase, Name: "a\u202estrip", Length: 2400}}}
	lit.Shop = lit.Shop.WithPrice("finish-1l", 31.5).WithPrice("finish-quart", 31.5)
	bad := demoJob(t, "tapering")
	bad.Flight.Steps = append([]model.Step(nil), bad.Flight.Steps...)
	bad.Flight.Steps[1].Corners = nil
	for name, j := range map[string]model.Job{"lit": lit, "unfinished": demoJob(t, "unfinished"), "bad": bad, "empty": {}} {
		w, out := workOf(t, j)
		for i, line := range strings.Split(out, "\n") {
			if n := utf8.RuneCountInString(line); n > report.Width {
				t.Errorf("%s: line %d is %d wide: %s", name, i+1, n, line)
			}
			if strings.TrimRight(line, " ") != line || strings.ContainsAny(line, "\x1b\t\r⁄\u202e") {
				t.Errorf("%s: line %d: %q", name, i+1, line)
			}
		}
		flat := strings.Join(strings.Fields(out), " ")
		want := func(s string) {
			t.Helper()
			if s = strings.Join(strings.Fields(s), " "); !strings.Contains(flat, s) {
				t.Errorf("%s: nowhere: %s", name, s)
			}
		}
		o := &w.Order
		if o.Status != fitting.Solved {
			want("NO ORDER OF WORK")
			continue
		}
		want(o.Winner)
		want(o.RunnerUp)
		turn, holds := 0, 0
		for i := range o.Order {
			k := &o.Order[i]
			switch {
			case k.InPlace:
				want("staying: " + k.ID)
				continue
			case k.Kind == fitting.Hold:
				holds++
				turn++
				want(fmt.Sprintf("%d STOP", turn))
				want(k.Note)
				continue
			}
			turn++
			want(fmt.Sprintf("%d %s", turn, k.ID))
		}
		if name == "lit" && (holds < 2 || len(w.Calendar.Days) == 0) {
			t.Errorf("the job proves little: %d holds, %d days", holds, len(w.Calendar.Days))
		}
		for i := range o.Plan.Evenings {
			for _, h := range o.Plan.Evenings[i].Holds {
				want(h[1:])
			}
		}
		for _, r := range w.Buy.Rows {
			if r.InHand {
				want("in hand: a")
				want("nothing to pay")
				want("for light base")
				continue
			}
			want(r.Name)
			if r.Standing == model.Yours {
				want("31.50 each")
				want("price set by you")
			}
			if !r.Missing {
				want(fmt.Sprintf("%.2f", r.Cost))
			}
		}
		for _, r := range w.Buy.Electric {
			want("ASK: " + r.Name)
			want("CAUTION: A licensed electrician does the mains side")
		}
		want(fmt.Sprintf("in all, as listed %.2f", w.Buy.Total))
		want(fmt.Sprintf("no plan costs less than %.2f", w.Buy.Lower))
		want(fmt.Sprintf("hours in all %.1f %.1f %.1f", w.Total.Low, w.Total.Likely, w.Total.High))
		for _, m := range w.Calendar.Milestones {
			want(m.Name)
		}
	}
}
