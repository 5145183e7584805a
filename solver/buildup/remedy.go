package buildup

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"risewright/model"
	"risewright/solver/survey"
)

// What a change costs, in the work of moving one tread by a millimetre. Common
// practice, no source: only the order matters, and it is the trade's. A tread
// touched at all is lifted, packed and checked; another board is another
// order; a floor is a room's work.
const (
	costTread     = 10 // each tread packed or planed, and 1 for each mm
	costPlane     = 4  // for each mm planed off an old tread, instead of 1
	costThickness = 30 // another board for all treads
	costFloor     = 60 // each floor raised
	costFloorMM   = 3  // and for each mm of it
)

// How far a remedy may go, in mm. Common practice, no source.
const (
	// PlaneMost is the most taken off an old tread. It carries people: deeper
	// planing is for someone who can judge what is left.
	PlaneMost = 6.0
	// planeShare is the most of an old tread's thickness that is planed off.
	planeShare = 0.25
	// PackMost is the most laid under a tread, and FloorMost on a floor.
	PackMost  = 40.0
	FloorMost = 40.0
)

const (
	// mostRemedies is as many as a person reads; they are the cheapest.
	mostRemedies = 5
	// knownRise is the half width of the 95 % band, in mm, within which every
	// rise must be known before changes to them are worked out: a rise read over
	// carpet lies beyond it, one read with a level and a rule within. Common
	// practice, no source.
	knownRise = 6.0
	// thinBoard is the thickness below which a board follows every hump of what
	// it lies on. Common practice, no source.
	thinBoard = 12.0
)

// The height grid of remedies. Imperial jobs use the 64th, which tapes show
// half of; it is finer than the half millimetre.
const (
	gridMetric   = 0.5
	gridImperial = float64(model.Inch) / 64
)

// Mending is what can be done to bring the rises within a code's limits.
type Mending struct {
	Status   MendingStatus
	Limits   RiseLimits
	Remedies []Remedy // least work first; empty unless Status is Mendable
	Why      string   // in words: why there are none, or what to mind
}

// MendingStatus says how a search for remedies ended.
type MendingStatus string

// The ways a search can end.
const (
	NoLimits  MendingStatus = "no limits" // the code sets none on rises, or there is no flight
	Compliant MendingStatus = "compliant" // the rises are within the limits as planned
	Mendable  MendingStatus = "mendable"
	Unmended  MendingStatus = "unmended" // nothing tried brings them within
	Unread    MendingStatus = "unread"   // the rises are not known well enough to say
)

// Remedy is one way to bring the rises within the limits: the least work of
// those that touch the same kinds of thing. It has been verified by applying
// Edits and computing again.
type Remedy struct {
	Title  string
	Detail string
	Cost   float64 // see the cost constants
	Edits  []model.Edit

	Bottom, Top float64 // how much each floor is raised, mm
	Board       model.StockSize
	NewBoard    bool // whether Board is to be used instead of the job's
	Treads      []TreadMove
	After       Uniformity // of the rises then
}

// TreadMove is packing added under a tread, or taken away when negative; once
// there is none left the old tread is planed.
type TreadMove struct {
	Step  int // from 1
	By    float64
	Plane float64 // how much of it is planed off the old tread
}

// Edit returns the remedy as one undoable change.
func (r Remedy) Edit() model.Edit { return model.Batch{Name: r.Title, Edits: r.Edits} }

// Remedies returns the smallest changes that bring the rises within the limits
// that table sets for the class of stair. They raise the bottom floor, the top
// floor or both, use another board of the stock for the treads, pack or plane
// single treads, or combine these; for every combination the least work is
// found, and a combination that costs no less than one with fewer kinds of
// change is left out.
//
// The search is exact on a height grid of 0.5 mm (1/64 in for an imperial
// job): a dynamic programme along the flight, run once for every window of
// rises that the permitted spread allows. Packing is level: it cannot mend a
// riser whose sides differ by more than the limits allow.
func Remedies(job model.Job, s *survey.Result, table model.RuleTable, class string, stock model.Stock) Mending {
	return mend(job, s, RiseLimitsOf(table, class), stock, reach{plane: PlaneMost, pack: PackMost, floor: FloorMost, remedies: mostRemedies})
}

// leastKnown returns the half width of the 95 % band of the rise that is known
// least, mm.
func leastKnown(r *Result) float64 {
	out := 0.0
	for i := range r.Steps {
		out = math.Max(out, math.Max(r.Steps[i].RiseAfter.Left.Band(), r.Steps[i].RiseAfter.Right.Band()))
	}
	return out
}

// longestMended is the most risers of a flight for which changes are sought: the
// search grows with their square, and takes some seconds there.
const longestMended = 300

// reach bounds what a remedy may do, in mm, and how many are returned.
type reach struct {
	plane, pack, floor float64
	remedies           int
}

func mend(job model.Job, s *survey.Result, limits RiseLimits, stock model.Stock, far reach) Mending {
	out := Mending{Limits: limits}
	now := Compute(job, s)
	switch {
	case len(now.Steps) < 2:
		out.Status, out.Why = NoLimits, "there is no flight to mend"
		return out
	case len(limits.Rules) == 0:
		out.Status, out.Why = NoLimits, "the chosen code sets no limits on rises that could be tested"
		return out
	case leastKnown(&now) > knownRise:
		out.Status = Unread
		out.Why = fmt.Sprintf("the rises are known only to %s; read them before you plan any change to them", job.Format().PlusMinus(model.Length(leastKnown(&now))))
		return out
	case limits.Within(&now):
		out.Status, out.Why = Compliant, "the rises are within the limits as planned"
		return out
	}
	for i := range now.Runs {
		if n := now.Runs[i].Risers(); n > longestMended {
			out.Status = Unmended
			out.Why = fmt.Sprintf("the rises are outside the limits, and changes are sought for flights of up to %d risers: this one has %d; divide it by landings", longestMended, n)
			return out
		}
	}
	boards := []board{{}}
	for _, t := range stock.TreadThicknesses {
		own := t.Units == job.Units || t.Units == ""
		if own && t.Size > 0 && math.Abs(float64(t.Size-job.Overlay.Tread)) > limitSlack {
			boards = append(boards, board{by: float64(t.Size - job.Overlay.Tread), size: t, other: true})
		}
	}
	found := search(&job, &now, limits, boards, far)
	for _, a := range found {
		if r, ok := a.change().remedy(job, s, limits); ok {
			out.Remedies = append(out.Remedies, r)
		}
	}
	if c, ok := restoring(&job, far); ok && !reached(out.Remedies, c) {
		if r, ok := c.remedy(job, s, limits); ok {
			r.Detail = "This gives every rise back what it is today. " + r.Detail
			out.Remedies = append(out.Remedies, r)
		}
	}
	if len(out.Remedies) > 0 {
		out.Status = Mendable
		sort.SliceStable(out.Remedies, func(i, k int) bool { return out.Remedies[i].Cost < out.Remedies[k].Cost })
		out.Remedies = out.Remedies[:min(len(out.Remedies), far.remedies)]
		if len(now.Runs) > 1 {
			out.Why = "each flight between landings was held to the limits by itself, as codes word them, and one build-up of a landing serves both; whether the limit runs over a landing is for the local code to say"
		}
		if limits.Memory {
			if out.Why != "" {
				out.Why += "; "
			}
			out.Why += "at least one of the limits on rises is from memory; look it up before acting on it"
		}
		return out
	}
	out.Status, out.Why = Unmended, unmended(&job, &now, limits, far)
	return out
}

// unmended says why nothing helped.
func unmended(job *model.Job, now *Result, limits RiseLimits, far reach) string {
	f := job.Format()
	for _, o := range now.Steps {
		d := math.Abs(o.RiseAfter.Left.At - o.RiseAfter.Right.At)
		allowed := math.Min(limits.Spread, limits.Most-limits.Least)
		if d > allowed+limitSlack {
			return fmt.Sprintf("riser %d differs by %s between its two sides and the limits allow %s; raising it level cannot mend that: take the tilt out of the treads first, then look again",
				o.Number, f.Length(model.Length(d)), f.Length(model.Length(allowed)))
		}
	}
	return fmt.Sprintf("no floor raised by up to %s, no board in stock, and no packing up to %s or planing up to %s brings every rise within the limits; the flight may have to be rebuilt, and that is for a builder and the local official to say",
		f.Length(model.Length(far.floor)), f.Length(model.Length(far.pack)), f.Length(model.Length(far.plane)))
}

// board is a choice of tread thickness, as a change from the job's.
type board struct {
	by    float64
	size  model.StockSize
	other bool
}

// answer is what the search found for one combination of kinds of change.
type answer struct {
	kinds kinds
	cost  int64 // in costUnit
	grid  float64
	moves []int // grid steps: bottom floor, treads 1 to N-1, top floor
	board board
}

// change is what a remedy does to the job, in mm.
type change struct {
	cost        float64
	bottom, top float64
	treads      []TreadMove
	board       board
}

// change returns the answer in mm.
func (a answer) change() change {
	n := len(a.moves) - 1
	c := change{
		cost: float64(a.cost) * costUnit, board: a.board,
		bottom: float64(a.moves[0]) * a.grid, top: float64(a.moves[n]) * a.grid,
	}
	for k := 1; k < n; k++ {
		if a.moves[k] != 0 {
			c.treads = append(c.treads, TreadMove{Step: k, By: float64(a.moves[k]) * a.grid})
		}
	}
	return c
}

// restoring returns the trade's best fix, both floors raised by the board, so
// that every rise is what it was. It is offered even where less would do,
// because the least change leaves the rises at the edge of the limits. There is
// none when boards or packing differ from tread to tread.
func restoring(job *model.Job, far reach) (change, bool) {
	up, _ := laid(job, 0)
	for i := range job.Flight.Steps[:len(job.Flight.Steps)-1] {
		if left, right := laid(job, i); left != up || right != up {
			return change{}, false
		}
	}
	c := change{bottom: up - float64(job.Overlay.FloorBottom), top: up - float64(job.Overlay.FloorTop)}
	if c.bottom < 0 || c.top < 0 || math.Max(c.bottom, c.top) > far.floor {
		return change{}, false
	}
	for _, up := range [2]float64{c.bottom, c.top} {
		if up > 0 {
			c.cost += costFloor + costFloorMM*up
		}
	}
	return c, true
}

// reached says whether a remedy found already raises the floors just so.
func reached(rs []Remedy, c change) bool {
	for _, r := range rs {
		if len(r.Treads) == 0 && !r.NewBoard && r.Bottom == c.bottom && r.Top == c.top {
			return true
		}
	}
	return false
}

// remedy words the change, makes edits of it, and verifies it.
func (a change) remedy(job model.Job, s *survey.Result, limits RiseLimits) (Remedy, bool) {
	r := Remedy{Cost: a.cost, Bottom: a.bottom, Top: a.top}
	overlay := job.Overlay
	overlay.FloorBottom += model.Length(r.Bottom)
	overlay.FloorTop += model.Length(r.Top)
	if a.board.other {
		r.Board, r.NewBoard = a.board.size, true
		overlay.Tread = a.board.size.Size
	}
	if overlay != job.Overlay {
		r.Edits = append(r.Edits, model.SetOverlay{Overlay: overlay})
	}
	for _, m := range a.treads {
		st := &job.Flight.Steps[m.Step-1]
		e := model.StepOf(*st)
		e.PackLeft += model.Length(m.By)
		e.PackRight += model.Length(m.By)
		r.Edits = append(r.Edits, e)
		m.Plane = planed(lowest(st), lowest(st)+m.By)
		r.Treads = append(r.Treads, m)
	}
	r.describe(job.Format())
	changed, err := r.Edit().Apply(job)
	if err != nil {
		return Remedy{}, false
	}
	after := Compute(changed, s)
	r.After = after.RiseAfter
	if !limits.Within(&after) {
		return Remedy{}, false
	}
	lo, hi := job.Format().Length(model.Length(r.After.Smallest.Value.At)), job.Format().Length(model.Length(r.After.Largest.Value.At))
	rises := fmt.Sprintf("Rises then lie between %s and %s.", lo, hi)
	if lo == hi {
		rises = fmt.Sprintf("Every rise is then %s.", lo)
	}
	r.Detail = strings.TrimSpace(r.Detail + " " + rises)
	return r, true
}

// lowest returns the packing of a step at its lower side.
func lowest(s *model.Step) float64 { return float64(min(s.PackLeft, s.PackRight)) }

// planed returns how much of a change of packing is planed off the old tread.
func planed(from, to float64) float64 {
	return math.Max(0, math.Max(0, -to)-math.Max(0, -from))
}

// describe fills in the title and the detail.
func (r *Remedy) describe(f model.Format) {
	if f.Units == model.Imperial {
		f.Fraction = 64
	}
	length := func(v float64) string { return f.Length(model.Length(v)) }
	var parts []string
	switch {
	case r.Bottom > 0 && r.Bottom == r.Top:
		parts = append(parts, "raise both floors by "+length(r.Bottom))
	case r.Bottom > 0 && r.Top > 0:
		parts = append(parts, fmt.Sprintf("raise the bottom floor by %s and the top floor by %s", length(r.Bottom), length(r.Top)))
	case r.Bottom > 0:
		parts = append(parts, "raise the bottom floor by "+length(r.Bottom))
	case r.Top > 0:
		parts = append(parts, "raise the top floor by "+length(r.Top))
	}
	if r.NewBoard {
		parts = append(parts, "use "+r.Board.Name+" treads")
	}
	var pack, lower, moves []string
	deepest := 0.0
	for _, t := range r.Treads {
		name := fmt.Sprint(t.Step)
		if t.By > 0 {
			pack = append(pack, name)
			moves = append(moves, fmt.Sprintf("tread %d up %s", t.Step, length(t.By)))
		} else {
			lower = append(lower, name)
			moves = append(moves, fmt.Sprintf("tread %d down %s", t.Step, length(-t.By)))
		}
		deepest = math.Max(deepest, t.Plane)
	}
	if len(pack) > 0 {
		parts = append(parts, "pack "+treads(pack))
	}
	if len(lower) > 0 {
		verb := "take packing out under "
		if deepest > 0 {
			verb = "plane "
		}
		parts = append(parts, verb+treads(lower))
	}
	r.Title = strings.Join(parts, ", ")
	var detail []string
	if len(moves) > 0 {
		text := strings.Join(moves, ", ")
		detail = append(detail, strings.ToUpper(text[:1])+text[1:]+".")
	}
	if r.NewBoard && float64(r.Board.Size) < thinBoard {
		detail = append(detail, "A board this thin needs a sound, flat bed under all of it.")
	}
	if r.Bottom > 0 || r.Top > 0 {
		detail = append(detail, "A raised floor meets doors, skirtings and thresholds: look at those first.")
	}
	if deepest > 0 {
		detail = append(detail, "Planing thins a board that carries people: have it judged by someone who knows before taking off more than a shaving.")
	}
	r.Detail = strings.Join(detail, " ")
}

func treads(names []string) string {
	if len(names) == 1 {
		return "tread " + names[0]
	}
	return "treads " + model.Listed(names)
}

// least keeps the answers that cost less than every one with a part of their
// kinds of change, cheapest first.
func least(best map[kinds]answer) []answer {
	var out []answer
	for k, a := range best {
		dominated := false
		for m, b := range best {
			dominated = dominated || m != k && m&k == m && b.cost <= a.cost
		}
		if !dominated {
			out = append(out, a)
		}
	}
	sort.Slice(out, func(i, k int) bool {
		if out[i].cost != out[k].cost {
			return out[i].cost < out[k].cost
		}
		return out[i].kinds < out[k].kinds
	})
	return out
}
