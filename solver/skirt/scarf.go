package skirt

import (
	"fmt"
	"math"
	"sort"

	"risewright/model"
)

// Joints tells how a board's length is made from listed lengths. The zero
// Joints is one board.
type Joints struct {
	// Windows are where a scarf may fall: over a tread, clear of the plumb cuts
	// and noses. x in the board's frame, from low to high.
	Windows []Window
	// Scarf is the length of a scarf, mm; it must lie whole in a window.
	Scarf float64
	// Boards are the lengths to take from the bottom of the flight up, and At
	// the middles of the scarfs between them. Empty when nothing was listed.
	Boards []model.StockSize
	At     []float64
	// Impossible says why the listed lengths will not do, or is empty.
	Impossible string
}

// Window is a stretch of the board over the tread of a step.
type Window struct {
	Step   int
	Lo, Hi float64
}

const (
	// scarfSlope is the length of a glued scarf to the board's thickness, and
	// scarfClear how far, in mm, it stays off a plumb cut or a nose. From
	// memory; no source.
	scarfSlope = 3.0
	scarfClear = 30.0
	// endTrim is what is taken off both ends of a board together to get past
	// checks and out-of-square ends, mm. Common practice, no source.
	endTrim = 25.0
)

// joints finds the windows and chooses lengths: the fewest boards, each reaching
// as far up the flight as it may, which is the least number by exchange: no
// other choice reaches farther with as many.
func (d *drawing) joints(lengths []model.StockSize) Joints {
	b := d.board
	j := Joints{Scarf: scarfSlope * b.Thickness}
	// along the flight, whichever way x runs
	plumb := map[int]float64{}
	level := map[int]float64{}
	for _, c := range b.Cuts {
		if c.Kind == Plumb {
			// the plumb line leans to the pitch: the higher end lies farther up
			plumb[c.Step] = math.Min(d.along(c.Line[0]), d.along(c.Line[1]))
		}
		if c.Kind == Level {
			level[c.Step] = d.along(c.Line[0])
		}
	}
	n := d.steps()
	for i := 1; i < n; i++ {
		lo, hi := level[i]+scarfClear, plumb[i+1]-scarfClear
		if hi-lo < j.Scarf {
			continue
		}
		w := Window{Step: i, Lo: lo, Hi: hi}
		if d.up < 0 {
			w.Lo, w.Hi = -hi, -lo
		}
		j.Windows = append(j.Windows, w)
	}
	if len(lengths) == 0 {
		return j
	}
	sizes := append([]model.StockSize(nil), lengths...)
	sort.SliceStable(sizes, func(i, k int) bool { return sizes[i].Size < sizes[k].Size })
	shortest := func(need float64) (model.StockSize, bool) {
		for _, s := range sizes {
			if float64(s.Size) >= need+endTrim {
				return s, true
			}
		}
		return model.StockSize{}, false
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range b.Outline {
		low, high = math.Min(low, d.along(p)), math.Max(high, d.along(p))
	}
	longest := float64(sizes[len(sizes)-1].Size) - endTrim
	for at := low; ; {
		if s, ok := shortest(high - at); ok {
			j.Boards = append(j.Boards, s)
			return j
		}
		// the farthest scarf that this board can still make whole
		next := math.Inf(-1)
		for _, w := range j.Windows {
			lo, hi := w.Lo, w.Hi
			if d.up < 0 {
				lo, hi = -w.Hi, -w.Lo
			}
			end := math.Min(hi, at+longest)
			if end-lo >= j.Scarf && end-j.Scarf > at {
				next = math.Max(next, end-j.Scarf)
			}
		}
		if math.IsInf(next, -1) {
			j.Boards, j.At = nil, nil
			j.Impossible = fmt.Sprintf("the longest listed board, %s, does not reach from one place for a scarf to the next; list a longer one", sizes[len(sizes)-1].Name)
			return j
		}
		s, _ := shortest(next + j.Scarf - at) // the longest is enough by the choice of next
		j.Boards = append(j.Boards, s)
		j.At = append(j.At, d.up*(next+j.Scarf/2))
		at = next
	}
}
