package solver

import (
	"context"
	"slices"

	"risewright/model"
	"risewright/solver/estimate"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/solver/skirt"
	"risewright/solver/stock"
	"risewright/solver/wood"
)

// Work is what follows from an answer for those who buy and fit: it takes up
// to a second and so is not part of Solve. It is read-only once returned.
type Work struct {
	Answer *Answer
	Order  fitting.Result
	Skirts []skirt.Board // every treatment that each side allows
	Buy    stock.Plan
	// Cards are the answer's cut cards, each on the blank that Buy cuts for it.
	Cards    []saw.Card
	Movement wood.Movement
	Species  model.Species
	Hours    []estimate.StageHours
	Total    estimate.Range // of the hours
	Money    estimate.Money
	// Calendar has no days when the job names no first day of work.
	Calendar estimate.Calendar

	problem fitting.Problem // that Order answers
}

// Beside returns the same work with the order of candidate i in place of the
// winner's, to be seen beside it, and false when there is no such candidate.
func (w *Work) Beside(i int) (*Work, bool) {
	if i < 0 || i >= len(w.Order.Candidates) {
		return nil, false
	}
	other := *w
	other.Order = fitting.Lay(w.problem, w.Order.Candidates[i])
	other.time(w.problem.Job, w.problem.Labour)
	return &other, true
}

// Plan works out the order of fitting, what to buy, how the wood will move and
// how long it all takes. An answer that could not be solved gives an order
// without boards and nothing to buy.
func Plan(a *Answer, t model.Tables) *Work {
	w, _ := PlanUntil(context.Background(), a, t) // which never ends
	return w
}

// PlanUntil is Plan; it gives up with the context's error soon after that has
// ended.
func PlanUntil(ctx context.Context, a *Answer, t model.Tables) (*Work, error) {
	w := &Work{Answer: a}
	if a.Survey == nil {
		w.Order.Status, w.Order.Why = fitting.NoShape, "the job could not be solved; see its findings"
		return w, ctx.Err()
	}
	job := a.Job
	// Bars that are laid out are fitted, bought and take hours, whether or not
	// they were wished for by name.
	job.Wishes.LightBars = job.Wishes.LightBars || job.Lighting.On()
	var gone []string
	t.Goods, gone = goodsOf(job.Shop, t.Goods)
	t.Labour = labourOf(job.Shop, t.Labour)
	spec := skirtSpec(&job, t.Goods)
	w.problem = fitting.Problem{Job: job, Survey: a.Survey, Buildup: &a.Buildup, Wishes: job.Wishes, Skirt: spec, Labour: t.Labour}
	p := w.problem
	p.Stop = func() bool { return ctx.Err() != nil }
	w.Order = fitting.Solve(p)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	w.Skirts = skirt.Make(job, a.Survey, &a.Buildup, a.Pieces, spec)
	want := extras(&job, &w.Order)
	for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
		if b, ok := w.Board(side); ok && b.Treatment != skirt.Kept && b.Impossible == "" {
			want.Skirts = append(want.Skirts, stock.SkirtSize{Length: b.Length, Width: b.Width})
		}
	}
	want.Spans = spansOf(&job)
	w.Buy = stock.Buy(job, a.Survey, a.Pieces, t, want)
	w.Buy.Notes = append(w.Buy.Notes, gone...)
	w.Buy.Electric = electric(a, t)
	w.Cards = cardsOn(a, &w.Buy)
	w.Species = speciesOf(job.Shop, t.Wood)
	w.Movement = wood.Treads(job, estimate.Boards(a.Pieces), w.choice(job.Shop, t.Wood))
	w.time(job, t.Labour)
	return w, nil
}

// skirtSpec tells the skirts what the wishes know of the old boards, and what
// boards the yard has.
func skirtSpec(job *model.Job, goods model.Goods) skirt.Spec {
	var s skirt.Spec
	for side, w := range [2]model.SideWish{job.Wishes.Left, job.Wishes.Right} {
		s.OldThickness[side] = float64(w.OldThickness)
		s.OldMargin[side] = [2]float64{float64(w.MarginFirst), float64(w.MarginLast)}
	}
	format := job.Format()
	add := func(sizes []model.StockSize, size model.Length, standing model.Standing) []model.StockSize {
		if size <= 0 || slices.ContainsFunc(sizes, func(o model.StockSize) bool { return o.Size == size }) {
			return sizes
		}
		return append(sizes, model.StockSize{Size: size, Name: format.Length(size), Units: job.Units, Standing: standing})
	}
	for _, b := range goods.Boards {
		if b.Use == model.UseSkirt && (b.Units == "" || b.Units == job.Units) {
			s.Widths = add(s.Widths, b.Width, b.Standing)
			s.Lengths = add(s.Lengths, b.Length, b.Standing)
		}
	}
	return s
}

// extras returns what the order of fitting takes beside the boards.
func extras(job *model.Job, order *fitting.Result) stock.Extras {
	e := stock.Extras{Coves: job.Wishes.Coves, LightBars: job.Wishes.LightBars, Screwed: job.Wishes.Usable}
	if order.Status != fitting.Solved {
		return e
	}
	for _, t := range order.Order {
		switch t.Kind {
		case fitting.Skirt:
			if !t.InPlace {
				e.NewSkirts++
			}
		case fitting.WireCap:
			e.WireCover = true
		}
	}
	e.NewSkirts = min(e.NewSkirts, 2)
	return e
}

// speciesOf returns the chosen wood, or the table's first.
func speciesOf(s model.Shop, t model.WoodTable) model.Species {
	if sp, ok := t.ByID(s.Species); ok || len(t.Species) == 0 {
		return sp
	}
	return t.Species[0]
}

// choice returns the wood and the air of the job: its own where it has them,
// else the table's driest and dampest seasons.
func (w *Work) choice(s model.Shop, t model.WoodTable) wood.Choice {
	c := wood.Choice{Species: w.Species, Cut: wood.FlatSawn, Laid: s.Moisture, Screwed: w.problem.Wishes.Usable}
	if s.QuarterSawn {
		c.Cut = wood.QuarterSawn
	}
	for i, season := range t.Seasons {
		if i == 0 || season.Humidity < c.Winter.Humidity {
			c.Winter = season
		}
		if i == 0 || season.Humidity > c.Summer.Humidity {
			c.Summer = season
		}
	}
	if s.WinterHumidity > 0 {
		c.Winter.Humidity, c.Winter.Standing = s.WinterHumidity, model.Yours
	}
	if s.SummerHumidity > 0 {
		c.Summer.Humidity, c.Summer.Standing = s.SummerHumidity, model.Yours
	}
	return c
}

// Board returns the skirt board of a side for the decision that won, and
// false on a side without one.
func (w *Work) Board(side pieces.Side) (skirt.Board, bool) {
	d := w.Order.Left
	if side == pieces.Right {
		d = w.Order.Right
	}
	treatment, ok := map[fitting.Board]skirt.Treatment{
		fitting.KeptSkirt: skirt.Kept, fitting.NewSkirt: skirt.New, fitting.FalseBoard: skirt.False,
	}[d.Board]
	if !ok {
		return skirt.Board{}, false
	}
	lower := skirt.OverRough // risers and treads butt against the board
	switch {
	case treatment == skirt.Kept:
		lower = ""
	case d.RiserPast && d.TreadPast:
		lower = skirt.OverFinished
	case d.RiserPast:
		lower = skirt.RiserLine
	}
	for _, b := range w.Skirts {
		if b.Side == side && b.Treatment == treatment && b.Lower == lower {
			return b, true
		}
	}
	return skirt.Board{}, false
}
