package stock

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// Buy returns what to buy for a flight and how to cut it up. The pieces are
// those of the job's estimate; s may be nil when there is none, and then the
// lengths along the flight are left out. Quantities follow the practice rows
// of the goods table.
func Buy(job model.Job, s *survey.Result, ps []pieces.Piece, t model.Tables, want Extras) Plan {
	b := newBuyer(&job, ps, t.Goods, want)
	b.boards()
	b.strips(s)
	b.packs()
	b.leftInHand()
	for _, r := range b.plan.Rows {
		b.plan.Total += r.Cost
	}
	b.plan.Lower += b.plan.Total - b.cutCost
	return b.plan
}

// Map returns the blank map alone: the boards of Buy, with no strips, packs and
// sums. What else a job asks for does not change it, so the order of fitting need
// not be known.
func Map(job model.Job, ps []pieces.Piece, goods model.Goods, hand []Span) Plan {
	b := newBuyer(&job, ps, goods, Extras{Spans: hand})
	b.boards()
	return b.plan
}

func newBuyer(job *model.Job, ps []pieces.Piece, goods model.Goods, want Extras) *buyer {
	b := &buyer{job: job, goods: goods, want: want, hand: newHand(want.Spans), plan: Plan{Currency: goods.Currency}}
	for i := range ps {
		p := &ps[i]
		if p.Impossible != "" {
			b.note(fmt.Sprintf("%s is not bought for: %s", p.ID, p.Impossible))
			continue
		}
		b.pieces = append(b.pieces, p)
		if !p.Released && p.Template == "" {
			b.plan.Early = true
		}
	}
	if b.plan.Early {
		b.note("the survey is not finished: lengths are enough with 99 %, and nothing should be bought cut to size yet")
	}
	return b
}

type buyer struct {
	job    *model.Job
	goods  model.Goods
	want   Extras
	pieces []*pieces.Piece
	plan   Plan
	// cutCost is the price of what was cut by a solved plan: for the rest the
	// bound is the price itself.
	cutCost float64
	hand    hand
	asked   []*batch // all that was to be bought
}

func (b *buyer) note(s string) { b.plan.Notes = append(b.plan.Notes, s) }

// useOf returns what a piece is bought as.
func useOf(k pieces.Kind) model.GoodsUse {
	switch k {
	case pieces.Riser:
		return model.UseRiser
	case pieces.LandingNosing:
		return model.UseLanding
	}
	return model.UseTread
}

// batch is parts of one use and thickness.
type batch struct {
	use       model.GoodsUse
	thickness float64
	blanks    []Blank
	final     []bool
	to        []float64
	spares    int
}

// boards buys treads, risers and landing nosings, each use by itself, with the
// spares.
func (b *buyer) boards() {
	var order []*batch
	tapered := false
	for _, p := range b.pieces {
		if p.Kind == pieces.Tread && (len(p.Face) != 4 || math.Abs(p.Figures.LeftDepth.Value-p.Figures.RightDepth.Value) > taper) {
			tapered = true
		}
		use := useOf(p.Kind)
		var at *batch
		for _, x := range order {
			if x.use == use && x.thickness == p.Thickness {
				at = x
			}
		}
		if at == nil {
			at = &batch{use: use, thickness: p.Thickness}
			order = append(order, at)
		}
		bl := BlankOf(p, b.goods, b.job.Units)
		at.blanks = append(at.blanks, bl)
		at.final = append(at.final, p.Released)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range p.Solid.Verts {
			lo, hi = math.Min(lo, v[1]), math.Max(hi, v[1])
		}
		at.to = append(at.to, hi-lo)
	}
	spared := map[model.GoodsUse]bool{}
	for _, x := range order {
		if !spared[x.use] {
			spared[x.use] = true
			switch {
			case x.use == model.UseTread && tapered:
				x.spares = int(b.goods.Figure("spare-treads-winders", 2))
			case x.use == model.UseTread:
				x.spares = int(b.goods.Figure("spare-treads", 1))
			case x.use == model.UseRiser:
				x.spares = int(b.goods.Figure("spare-risers", 1))
			}
		}
		b.buyBatch(x)
	}
	sort.SliceStable(b.plan.Rips, func(i, k int) bool { return b.place(b.plan.Rips[i].Piece) < b.place(b.plan.Rips[k].Piece) })
}

// taper is how much the depths of a tread's ends may differ, mm, before it is
// a winder: twice the 25 mm by which a straight flight's may, common practice,
// no source.
const taper = 50.0

func (b *buyer) place(id string) int {
	for i, p := range b.pieces {
		if p.ID == id {
			return i
		}
	}
	return len(b.pieces)
}

// offered returns the goods of a use that the job's yards sell.
func (b *buyer) offered(use model.GoodsUse, sheet bool) []model.GoodsBoard {
	var out []model.GoodsBoard
	for _, g := range b.goods.Boards {
		if g.Use == use && g.Sheet == sheet && (g.Units == "" || g.Units == b.job.Units) {
			out = append(out, g)
		}
	}
	return out
}

// buyBatch buys for one batch: each part goes to the narrowest listed width
// that holds it, and each width is cut as a plan of its own. Where sheets are
// listed too, whichever comes cheaper is taken.
func (b *buyer) buyBatch(x *batch) {
	longest := 0
	for i := range x.blanks {
		if x.blanks[i].Length > x.blanks[longest].Length {
			longest = i
		}
	}
	blanks, final, to := x.blanks, x.final, x.to
	for n := range x.spares {
		sp := x.blanks[longest]
		for _, o := range x.blanks {
			sp.Width, sp.Least = math.Max(sp.Width, o.Width), math.Max(sp.Least, o.Least)
		}
		sp.Piece = "spare"
		if x.spares > 1 {
			sp.Piece = fmt.Sprintf("spare %d", n+1)
		}
		blanks, final, to = append(blanks, sp), append(final, false), append(to, 0)
	}
	sized := &batch{use: x.use, thickness: x.thickness, blanks: blanks, final: final, to: to, spares: x.spares}
	b.asked = append(b.asked, sized)
	boards, missing := b.fromBoards(sized)
	best, rest := []lot{boards}, missing
	if sheets := b.offered(x.use, true); len(sheets) > 0 {
		cost := boards.cost
		try := func(ways ...lot) {
			sum := 0.0
			for _, l := range ways {
				if !l.ok {
					return
				}
				sum += l.cost
			}
			if len(rest) > 0 || sum < cost-coin {
				best, rest, cost = ways, nil, sum
			}
		}
		if len(missing) > 0 && len(missing) < len(blanks) { // what no board holds from sheets
			try(boards, b.fromSheets(sized.only(missing), sheets))
		}
		try(b.fromSheets(sized, sheets))
	}
	for i := range best {
		best[i].into(b)
	}
	if len(rest) > 0 {
		b.plan.Rows = append(b.plan.Rows, b.missing(sized, rest))
	}
}

// only returns the batch with the parts at some indices; the spares are told
// with the whole.
func (x *batch) only(which []int) *batch {
	out := &batch{use: x.use, thickness: x.thickness}
	for _, i := range which {
		out.blanks, out.final, out.to = append(out.blanks, x.blanks[i]), append(out.final, x.final[i]), append(out.to, x.to[i])
	}
	return out
}

// missing is the row for blanks that no listed board holds.
func (b *buyer) missing(x *batch, which []int) Row {
	widest := 0.0
	for _, g := range b.offered(x.use, false) {
		widest = math.Max(widest, float64(g.Width))
	}
	var ids []string
	length, width, narrow := 0.0, 0.0, 0
	for _, i := range which {
		bl := x.blanks[i]
		ids = append(ids, bl.Piece)
		b.plan.Missing = append(b.plan.Missing, bl)
		length, width = math.Max(length, bl.Length), math.Max(width, bl.Width)
		if x.to[i] > 0 && x.to[i] <= widest && bl.Width > widest {
			narrow++
		}
	}
	r := Row{Use: x.use, Name: "to order or glue up", Count: len(ids), Missing: true, Unit: "blanks", Need: float64(len(ids)),
		Why: fmt.Sprintf("no listed board holds %s: up to %s by %s", strings.Join(ids, ", "), b.length(length), b.length(width))}
	if narrow > 0 {
		r.Why += fmt.Sprintf("; %d of them are narrower than the widest board, %s, but not by what the saw and the survey need", narrow, b.length(widest))
	}
	return r
}

func (b *buyer) length(mm float64) string { return b.job.Format().Length(model.Length(mm)) }

// lot is what one way of buying a batch adds to the plan.
type lot struct {
	rows        []Row
	cuts        []CutPlan
	sheets      []SheetPlan
	rips        []Rip
	used        map[int]int // boards in hand that are used up, by span
	notes       []string
	cost, lower float64
	ok          bool
}

func (l *lot) into(b *buyer) {
	b.plan.Rows = append(b.plan.Rows, l.rows...)
	b.plan.Cuts = append(b.plan.Cuts, l.cuts...)
	b.plan.Sheets = append(b.plan.Sheets, l.sheets...)
	b.plan.Rips = append(b.plan.Rips, l.rips...)
	b.plan.Notes = append(b.plan.Notes, l.notes...)
	for i, n := range l.used {
		b.hand.used[i] += n
	}
	b.plan.Lower += l.lower
	b.cutCost += l.cost
}

// fromBoards cuts a batch from boards. It returns the parts that no board holds.
func (b *buyer) fromBoards(x *batch) (lot, []int) {
	offered := b.offered(x.use, false)
	byWidth := map[float64][]model.GoodsBoard{}
	var widths []float64
	for _, g := range offered {
		w := float64(g.Width)
		if byWidth[w] == nil {
			widths = append(widths, w)
		}
		byWidth[w] = append(byWidth[w], g)
	}
	sort.Float64s(widths)
	members := map[float64][]int{}
	needs := map[float64]float64{} // width that a board in hand must have to stand in
	var missing []int
	kerf, trim := b.lost(x.blanks)
	// holds returns the narrowest listed width of at least need, among those
	// long enough.
	holds := func(bl Blank, need float64) (float64, bool) {
		for _, w := range widths {
			if w != 0 && w < need-1e-6 {
				continue
			}
			for _, g := range byWidth[w] {
				if float64(g.Length) >= alone(bl, kerf, trim)-1e-6 {
					return w, true
				}
			}
		}
		return 0, false
	}
	var narrow []string
	for i, bl := range x.blanks {
		need := bl.Width
		w, ok := holds(bl, need)
		if !ok && bl.Least > 0 {
			need = bl.Least
			if w, ok = holds(bl, need); ok {
				narrow = append(narrow, bl.Piece)
			}
		}
		if !ok {
			missing = append(missing, i)
			continue
		}
		members[w] = append(members[w], i)
		needs[w] = math.Max(needs[w], need)
	}
	out := lot{ok: true, used: map[int]int{}}
	missing = b.fromHand(&out, x, missing) // before boards in hand go elsewhere
	if len(narrow) > 0 {
		out.notes = append(out.notes, fmt.Sprintf("%s: the listed board has less than the usual spare in width; choose straight ones", strings.Join(narrow, ", ")))
	}
	for _, w := range widths {
		if len(members[w]) == 0 {
			continue
		}
		c := Cutting{Kerf: kerf, Trim: trim}
		need, unsure := 0.0, 0.0
		for _, i := range members[w] {
			l := part(x.blanks[i], kerf)
			c.Parts = append(c.Parts, Part{Name: x.blanks[i].Piece, Length: l})
			need += l
			unsure = math.Max(unsure, x.blanks[i].Unsure)
			if x.to[i] > 0 {
				out.rips = append(out.rips, Rip{Piece: x.blanks[i].Piece, From: w, To: x.to[i], Final: x.final[i]})
			}
		}
		b.cut(&out, x, w, byWidth[w], b.inHand(&out, x, needs[w]), c, need, unsure)
	}
	return out, missing
}

// part returns the length that a blank takes of a board: its spare already
// holds the cuts at its ends, which the cutting charges for.
func part(bl Blank, kerf float64) float64 { return bl.Length - math.Min(bl.Spare, 2*kerf) }

// alone returns the length of the shortest board that a blank comes out of.
func alone(bl Blank, kerf, trim float64) float64 { return part(bl, kerf) + 2*kerf + 2*trim }

// lost returns what a saw cut takes, and what is lost at each end of a board:
// nothing where the parts are blanks with a spare, because the card of each saws
// both its ends again, and the board's end with them.
func (b *buyer) lost(blanks []Blank) (kerf, trim float64) {
	kerf, trim = float64(b.goods.Kerf), float64(b.goods.Trim)
	for i := range blanks {
		if blanks[i].Spare < 2*kerf+trim {
			return kerf, trim
		}
	}
	return kerf, 0
}

// cut solves one cutting from listed boards and the spans of boards in hand,
// and writes its rows.
func (b *buyer) cut(out *lot, x *batch, width float64, goods []model.GoodsBoard, spans []int, c Cutting, need, unsure float64) {
	unpriced := len(goods) > 0
	for _, g := range goods {
		c.Boards = append(c.Boards, Board{Name: g.Name, Length: float64(g.Length), Price: g.Price})
		unpriced = unpriced && g.Price == 0
	}
	c.Boards = append(c.Boards, b.handBoards(out, spans)...)
	if unpriced { // then the least length is the best that can be asked for
		c.Goal = LeastLength
	}
	r := c.Cut()
	if r.Status == Impossible || len(r.Layouts) == 0 {
		out.rows = append(out.rows, Row{Use: x.use, Name: "to order", Missing: true, Count: 1, Why: r.Why})
		return
	}
	out.cuts = append(out.cuts, CutPlan{Use: x.use, Width: width, Thickness: x.thickness, Cutting: c, Result: r})
	if !unpriced {
		out.cost += r.Value
		out.lower += r.Lower
	}
	count := make([]int, len(c.Boards))
	bought := 0.0
	for _, l := range r.Layouts {
		count[l.Board]++
		bought += c.Boards[l.Board].Length
		if k := l.Board - len(goods); k >= 0 && b.hand.spans[spans[k]].Width > 0 {
			out.ripFrom(c, l, float64(b.hand.spans[spans[k]].Width))
		}
	}
	first := true
	for i, n := range count {
		if n == 0 {
			continue
		}
		var row Row
		if i < len(goods) {
			g := &goods[i]
			row = Row{Use: x.use, Good: g.ID, Name: g.Name, Count: n, Price: g.Price, Cost: float64(n) * g.Price, Unit: "m", Standing: g.Standing}
		} else {
			row = Row{Use: x.use, Name: c.Boards[i].Name, Count: n, Unit: "m", InHand: true}
			out.used[spans[i-len(goods)]] += n
		}
		if first {
			first = false
			row.Need, row.Extra = need/1000, (bought-need)/1000
			row.Why = b.why(x, len(c.Parts), unsure, r)
			if unpriced {
				row.Why += "; no prices are set, so the least length is bought"
			}
		} else if row.InHand {
			row.Why = "cut with those above"
		}
		out.rows = append(out.rows, row)
	}
}

// ripFrom notes that the parts of a layout come from a board of another width.
func (l *lot) ripFrom(c Cutting, lay Layout, width float64) {
	for _, q := range lay.Cuts {
		for i := range l.rips {
			if l.rips[i].Piece == c.Parts[q.Part].Name {
				l.rips[i].From = width
			}
		}
	}
}

// why says in words what a cutting plan rests on.
func (b *buyer) why(x *batch, parts int, unsure float64, r Result) string {
	text := fmt.Sprintf("%d parts", parts)
	if parts == 1 {
		text = "1 part"
	}
	if x.spares > 0 {
		text += fmt.Sprintf(", spares among them: %d", x.spares)
	}
	if unsure > 0 {
		text += fmt.Sprintf("; lengthened by up to %s so that they are long enough with 99 %%", b.length(unsure))
	}
	switch {
	case r.Status == Optimal:
		text += "; no better cutting exists"
	default:
		text += fmt.Sprintf("; no cutting costs less than %.2f, this one %.2f", r.Lower, r.Value)
	}
	return text
}

// fromSheets cuts a batch from sheets.
func (b *buyer) fromSheets(x *batch, sheets []model.GoodsBoard) lot {
	c := SheetCutting{Kerf: float64(b.goods.Kerf), Trim: float64(b.goods.Trim)}
	for _, g := range sheets {
		c.Sheets = append(c.Sheets, Sheet{Name: g.Name, Length: float64(g.Length), Width: float64(g.Width), Price: g.Price})
	}
	need, unsure := 0.0, 0.0
	var out lot
	for i, bl := range x.blanks {
		c.Panels = append(c.Panels, Panel{Name: bl.Piece, Length: bl.Length, Width: bl.Width})
		need += bl.Length * bl.Width
		unsure = math.Max(unsure, bl.Unsure)
		if x.to[i] > 0 {
			out.rips = append(out.rips, Rip{Piece: bl.Piece, From: bl.Width, To: x.to[i], Final: x.final[i]})
		}
	}
	r := c.Cut()
	if r.Status == Impossible {
		return lot{}
	}
	out.ok, out.cost, out.lower = true, r.Value, r.Lower
	out.sheets = append(out.sheets, SheetPlan{Use: x.use, Thickness: x.thickness, Cutting: c, Result: r})
	count := make([]int, len(c.Sheets))
	area := 0.0
	for _, l := range r.Layouts {
		count[l.Sheet]++
		area += c.Sheets[l.Sheet].Length * c.Sheets[l.Sheet].Width
	}
	first := true
	for i, n := range count {
		if n == 0 {
			continue
		}
		row := Row{Use: x.use, Good: sheets[i].ID, Name: sheets[i].Name, Count: n, Price: sheets[i].Price, Cost: float64(n) * sheets[i].Price, Unit: "m²", Standing: sheets[i].Standing}
		if first {
			first = false
			row.Need, row.Extra = need/1e6, (area-need)/1e6
			row.Why = b.why(x, len(c.Panels), unsure, Result{Status: r.Status, Value: r.Value, Lower: r.Lower})
		}
		out.rows = append(out.rows, row)
	}
	return out
}
