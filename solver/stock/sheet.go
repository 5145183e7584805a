package stock

import (
	"fmt"
	"math"
	"sort"
)

// SheetCutting is a list of panels to be cut from sheets in two stages: a sheet
// is ripped into strips along its whole length, and a strip is crosscut into
// panels; a panel narrower than its strip is ripped once more. That is how
// risers are cut on a saw table or along a track. Panels keep their length
// along the sheet's. Lengths are millimetres.
type SheetCutting struct {
	Panels []Panel
	Sheets []Sheet
	Kerf   float64
	Trim   float64 // lost along every edge of a sheet
	// Work bounds the search, in choices tried; 0 means DefaultSheetWork.
	Work int
}

// Panel is something to be cut, Count times over (0 means once).
type Panel struct {
	Name          string
	Length, Width float64
	Count         int
}

// Sheet is a size that can be had in any number.
type Sheet struct {
	Name          string
	Length, Width float64
	Price         float64
}

// DefaultSheetWork is the search allowed when Work is 0: a fraction of a second.
const DefaultSheetWork = 2_000_000

// SheetResult is how the sheets are cut, with the same promises as Result.
type SheetResult struct {
	Status  Status
	Why     string
	Value   float64 // price of the sheets
	Lower   float64
	Layouts []SheetLayout
	Work    int
}

// SheetLayout is one sheet as it is cut, strips from the edge that was trued
// first.
type SheetLayout struct {
	Sheet  int // index in SheetCutting.Sheets
	Strips []Strip
}

// Strip is one rip of a sheet.
type Strip struct {
	At, Width float64
	Cuts      []Cut // Part is the index in Panels
	Offcut    float64
}

// layPanel, layStrip and laySheet are the search's own, with kerfs added.
type layPanel struct {
	part          int
	length, width int64
}

type layStrip struct {
	sheet       int // index in open
	width, rest int64
	panels      []int
}

type laySheet struct {
	kind int
	rest int64
}

type sheetSearch struct {
	panels []layPanel
	length []int64 // of each kind of sheet, what can be used
	width  []int64
	cost   []float64
	rate   float64   // least cost of a unit of area
	area   []float64 // of panels from i on

	strips []layStrip
	open   []laySheet
	free   float64 // area not used on open sheets
	spent  float64

	best       float64
	bestStrips []layStrip
	bestOpen   []laySheet
	lower      float64
	budget     int
}

// Cut returns the cheapest way to cut the panels that it can find.
func (c SheetCutting) Cut() SheetResult {
	s := &sheetSearch{best: math.Inf(1), rate: math.Inf(1), budget: c.Work}
	if s.budget <= 0 {
		s.budget = DefaultSheetWork
	}
	if why := s.load(c); why != "" {
		return SheetResult{Status: Impossible, Why: why}
	}
	if len(s.panels) == 0 {
		return SheetResult{Status: Optimal}
	}
	s.lower = s.bound()
	work := s.budget
	s.place(0)
	r := SheetResult{Status: Optimal, Value: s.best, Lower: s.best, Work: work - max(0, s.budget)}
	if s.budget <= 0 && s.lower < s.best*(1-slip) {
		r.Status, r.Lower = Bounded, s.lower
	}
	s.lay(c, &r)
	return r
}

func (s *sheetSearch) load(c SheetCutting) string {
	if !(c.Kerf >= 0 && c.Kerf < longest) || !(c.Trim >= 0 && c.Trim < longest) {
		return "the kerf and the trim must be lengths of 0 or more"
	}
	kerf, trim := grains(c.Kerf), grains(c.Trim)
	for i, h := range c.Sheets {
		if !(h.Length > 0 && h.Length < longest && h.Width > 0 && h.Width < longest && h.Price >= 0 && h.Price < dearest) {
			return fmt.Sprintf("sheet %s is %v by %v mm at %v; these must be numbers in bounds", name(h.Name, i), h.Length, h.Width, h.Price)
		}
		// Each panel and strip pays for one cut, the last one for the far edge;
		// truing the first edge pays for one more.
		s.length = append(s.length, grains(h.Length)-2*trim-kerf)
		s.width = append(s.width, grains(h.Width)-2*trim-kerf)
		s.cost = append(s.cost, h.Price)
	}
	for i, q := range c.Panels {
		if !(q.Length > 0 && q.Length < longest && q.Width > 0 && q.Width < longest) || q.Count < 0 {
			return fmt.Sprintf("panel %s is %v by %v mm; both must be above 0", name(q.Name, i), q.Length, q.Width)
		}
		p := layPanel{part: i, length: grains(q.Length) + kerf, width: grains(q.Width) + kerf}
		fits := false
		for k := range s.cost {
			fits = fits || p.length <= s.length[k] && p.width <= s.width[k]
		}
		if !fits {
			return fmt.Sprintf("no sheet holds %s, %v by %v mm, with its cuts", name(q.Name, i), q.Length, q.Width)
		}
		for range max(1, q.Count) {
			s.panels = append(s.panels, p)
		}
		if len(s.panels) > most {
			return fmt.Sprintf("there are more than %d panels", most)
		}
	}
	// Widest first: then the first panel of a strip is its widest.
	sort.SliceStable(s.panels, func(i, k int) bool {
		a, b := s.panels[i], s.panels[k]
		if a.width != b.width {
			return a.width > b.width
		}
		return a.length > b.length
	})
	s.area = make([]float64, len(s.panels)+1)
	for i := len(s.panels) - 1; i >= 0; i-- {
		s.area[i] = s.area[i+1] + float64(s.panels[i].length)*float64(s.panels[i].width)
	}
	for k := range s.cost {
		if s.length[k] > 0 && s.width[k] > 0 {
			s.rate = math.Min(s.rate, s.cost[k]/(float64(s.length[k])*float64(s.width[k])))
		}
	}
	return ""
}

// folds are how many of the functions that stretch a size are tried; 12 serves
// strips a twelfth of a sheet wide, 100 mm of 1220.
const folds = 12

// stretch is a dual feasible function: whatever set of sizes fits in room, the
// sum of what it makes of them is at most 1. Fold 0 leaves a size as it is. For
// fold k see Fekete and Schepers, Mathematical Programming 91 (2001) 11-31
// (from memory): sizes above 1/(k+1) count 1/k.
func stretch(size, room int64, fold int) float64 {
	if fold == 0 {
		return float64(size) / float64(room)
	}
	k := int64(fold)
	if (k+1)*size%room == 0 {
		return float64(size) / float64(room)
	}
	return float64((k+1)*size/room) / float64(fold)
}

// bound returns a cost that no way of cutting can go below. Areas, with lengths
// and widths stretched each in its own way, may not be larger than the sheets'.
func (s *sheetSearch) bound() float64 {
	best := s.area[0] * s.rate * (1 - slip)
	for f := 0; f <= folds; f++ {
		for g := 0; g <= folds; g++ {
			// worth is what a panel counts on each kind of sheet; the dearest
			// need to cover a unit is taken for all.
			total := 0.0
			for _, p := range s.panels {
				least := math.Inf(1)
				for k := range s.cost {
					if p.length <= s.length[k] && p.width <= s.width[k] {
						least = math.Min(least, s.cost[k]*stretch(p.length, s.length[k], f)*stretch(p.width, s.width[k], g))
					}
				}
				total += least
			}
			best = math.Max(best, total*(1-slip))
		}
	}
	if len(s.cost) == 1 && s.cost[0] > 0 {
		best = math.Ceil(best/s.cost[0]-slip*(1+best/s.cost[0])) * s.cost[0]
	}
	return best
}

// place puts panel i everywhere it can go, strips with least room left first.
func (s *sheetSearch) place(i int) {
	if s.budget--; s.budget <= 0 && !math.IsInf(s.best, 1) || s.best <= s.lower*(1+slip) {
		return
	}
	if i == len(s.panels) {
		if s.spent < s.best {
			s.best = s.spent
			s.bestOpen = append([]laySheet(nil), s.open...)
			s.bestStrips = make([]layStrip, len(s.strips))
			for k, t := range s.strips {
				t.panels = append([]int(nil), t.panels...)
				s.bestStrips[k] = t
			}
		}
		return
	}
	if more := s.area[i] - s.free; s.spent+math.Max(0, more)*s.rate*(1-slip) >= s.best*(1-slip) {
		return
	}
	p := s.panels[i]
	order := make([]int, 0, len(s.strips))
	for k := range s.strips {
		if s.strips[k].rest < p.length {
			continue
		}
		same := false
		for _, o := range order { // strips alike in every way need one try
			a, b := &s.strips[o], &s.strips[k]
			same = same || a.rest == b.rest && a.width == b.width && s.open[a.sheet] == s.open[b.sheet]
		}
		if !same {
			order = append(order, k)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return s.strips[order[a]].rest < s.strips[order[b]].rest })
	used := float64(p.length) * float64(p.width)
	for _, k := range order {
		// What stays beside a narrower panel in its strip is lost.
		lost := float64(p.length) * float64(s.strips[k].width)
		s.strips[k].rest -= p.length
		s.strips[k].panels = append(s.strips[k].panels, i)
		s.free -= lost
		s.place(i + 1)
		s.free += lost
		s.strips[k].rest += p.length
		s.strips[k].panels = s.strips[k].panels[:len(s.strips[k].panels)-1]
	}
	start := func(h int) {
		room := s.length[s.open[h].kind]
		if s.open[h].rest < p.width || room < p.length {
			return
		}
		s.open[h].rest -= p.width
		s.strips = append(s.strips, layStrip{sheet: h, width: p.width, rest: room - p.length, panels: []int{i}})
		s.free -= used
		s.place(i + 1)
		s.free += used
		s.strips = s.strips[:len(s.strips)-1]
		s.open[h].rest += p.width
	}
	for h := range s.open {
		if seen := func() bool {
			for g := range h {
				if s.open[g] == s.open[h] {
					return true
				}
			}
			return false
		}; !seen() {
			start(h)
		}
	}
	for k := range s.cost {
		if s.length[k] < p.length || s.width[k] < p.width {
			continue
		}
		area := float64(s.length[k]) * float64(s.width[k])
		s.open = append(s.open, laySheet{kind: k, rest: s.width[k]})
		s.free += area
		s.spent += s.cost[k]
		start(len(s.open) - 1)
		s.spent -= s.cost[k]
		s.free -= area
		s.open = s.open[:len(s.open)-1]
	}
}

// lay writes the best plan out in the caller's terms.
func (s *sheetSearch) lay(c SheetCutting, r *SheetResult) {
	first := c.Trim + c.Kerf
	at := make([]float64, len(s.bestOpen))
	for _, h := range s.bestOpen {
		r.Layouts = append(r.Layouts, SheetLayout{Sheet: h.kind})
	}
	for h := range at {
		at[h] = first
	}
	for _, t := range s.bestStrips {
		wide := c.Panels[s.panels[t.panels[0]].part].Width
		strip := Strip{At: at[t.sheet], Width: wide, Offcut: float64(t.rest)*grain + c.Trim}
		x := first
		for _, i := range t.panels {
			l := c.Panels[s.panels[i].part].Length
			strip.Cuts = append(strip.Cuts, Cut{Part: s.panels[i].part, At: x, Length: l})
			x += l + c.Kerf
		}
		at[t.sheet] += wide + c.Kerf
		r.Layouts[t.sheet].Strips = append(r.Layouts[t.sheet].Strips, strip)
	}
}
