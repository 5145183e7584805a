package order_test

import (
	"fmt"
	"os"
	"testing"

	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/order"
)

// TestLook writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	if os.Getenv("RISEWRIGHT_LOOK") == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	for name, w := range map[string]*solver.Work{
		"tapering": work(t, demo(t, "tapering"), model.Wishes{}),
		"over":     work(t, demo(t, "well-behaved"), model.Wishes{Left: model.SideWish{Battered: true, NoFalse: true}, Right: model.SideWish{Wiring: true, NoFalse: true, Battered: true}}),
		"wired":    work(t, demo(t, "well-behaved"), model.Wishes{Right: model.SideWish{Wiring: true}, LightBars: true, Coves: false}),
	} {
		n := len(w.Order.Order)
		for _, at := range []int{1, 2, n / 3, 2 * n / 3, n - 2, n} {
			ps := []order.Play{order.PlayOf(w, at)}
			o := order.Options{Format: w.Answer.Job.Format()}
			v := order.FitPlan(ps, o, 1000, 380, drawing.PaperScale(1))
			o.Scale = v.Scale / v.Paper
			var l drawing.List
			order.Plan(&l, ps, o)
			save(t, fmt.Sprintf("order-%s-%02d-plan", name, at), &l, 1000, 380, v, drawing.Light())
			v = order.FitSection(ps, o, 1000, 600, drawing.PaperScale(1))
			o.Scale = v.Scale / v.Paper
			l.Reset()
			order.Section(&l, ps, o)
			save(t, fmt.Sprintf("order-%s-%02d-section", name, at), &l, 1000, 600, v, drawing.Dark())
		}
		a, b := order.PlayOf(w, n/2), order.PlayOf(w, n/3)
		a.Title, b.Title = "A  the choice", "B  beside it"
		o := order.Options{Format: w.Answer.Job.Format()}
		v := order.FitPlan([]order.Play{a, b}, o, 700, 380, drawing.PaperScale(1))
		o.Scale = v.Scale / v.Paper
		var l drawing.List
		order.Plan(&l, []order.Play{a, b}, o)
		save(t, "order-"+name+"-both-plan", &l, 700, 380, v, drawing.Light())
		v = order.FitSection([]order.Play{a, b}, o, 700, 400, drawing.PaperScale(1))
		o.Scale = v.Scale / v.Paper
		l.Reset()
		order.Section(&l, []order.Play{a, b}, o)
		save(t, "order-"+name+"-both-section", &l, 700, 400, v, drawing.Light())
	}
}
