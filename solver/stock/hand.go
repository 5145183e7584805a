package stock

import (
	"fmt"
	"math"
	"sort"
)

// hand is what is left of the boards in hand while a plan is made.
type hand struct {
	spans []Span
	used  []int // how many of each are spoken for
}

func newHand(spans []Span) hand { return hand{spans: spans, used: make([]int, len(spans))} }

// sameThickness is how far a board in hand may be from the thickness that is
// laid, mm: less than what a plane leaves uneven. Common practice, no source.
const sameThickness = 0.5

// unfit says why a board in hand does not do for parts of a width, mm; "" when
// it does.
func (b *buyer) unfit(s *Span, x *batch, width float64) string {
	t := float64(s.Thickness)
	switch {
	case t > 0 && x.thickness > 0 && math.Abs(t-x.thickness) > sameThickness:
		return fmt.Sprintf("it is %s thick, and %s is laid", b.length(t), b.length(x.thickness))
	case s.Width > 0 && float64(s.Width) < width-1e-6:
		return fmt.Sprintf("it is %s wide, and %s is needed", b.length(float64(s.Width)), b.length(width))
	}
	return ""
}

// free returns how many of span i neither the plan nor lot have used.
func (b *buyer) free(out *lot, i int) int {
	return max(1, b.hand.spans[i].Count) - b.hand.used[i] - out.used[i]
}

// inHand returns the spans that do for a batch's parts of a width.
func (b *buyer) inHand(out *lot, x *batch, width float64) []int {
	var is []int
	for i := range b.hand.spans {
		if s := &b.hand.spans[i]; s.Use == x.use && b.free(out, i) > 0 && b.unfit(s, x, width) == "" {
			is = append(is, i)
		}
	}
	return is
}

// handBoards returns spans as boards of a cutting.
func (b *buyer) handBoards(out *lot, spans []int) []Board {
	var bs []Board
	for _, i := range spans {
		s := &b.hand.spans[i]
		bs = append(bs, Board{Name: name(s.Name, i), Length: float64(s.Length), Limit: b.free(out, i), Owned: true})
	}
	return bs
}

// handWork bounds the search for whether boards in hand hold some parts: it is
// asked once for each part that must be left out, and answered at once unless
// the boards are filled to the last cut.
const handWork = DefaultWork / 100

// fromHand cuts what no listed board holds from boards in hand, kind by kind,
// the narrowest that will do first: as many parts of each as it holds. It
// returns the parts that are left.
func (b *buyer) fromHand(out *lot, x *batch, missing []int) []int {
	order := b.inHand(out, x, 0)
	// A board that names no width is as wide as those that are sold, and so
	// does not hold what is too wide for all of them.
	usual := 0.0
	for _, g := range b.offered(x.use, false) {
		usual = math.Max(usual, float64(g.Width))
	}
	if usual == 0 {
		usual = math.Inf(1)
	}
	wide := func(i int) float64 {
		if w := float64(b.hand.spans[i].Width); w > 0 {
			return w
		}
		return usual
	}
	sort.SliceStable(order, func(i, k int) bool { return wide(order[i]) < wide(order[k]) })
	kerf, trim := b.lost(x.blanks)
	for _, span := range order {
		var fits, others []int
		for _, i := range missing {
			if x.blanks[i].narrowest() <= wide(span)+1e-6 && alone(x.blanks[i], kerf, trim) <= float64(b.hand.spans[span].Length)+1e-6 {
				fits = append(fits, i)
			} else {
				others = append(others, i)
			}
		}
		// of parts that are too many the longest are left out
		sort.SliceStable(fits, func(i, k int) bool { return x.blanks[fits[i]].Length < x.blanks[fits[k]].Length })
		for n := len(fits); n > 0; n-- {
			c := Cutting{Kerf: kerf, Trim: trim, Work: handWork, Boards: b.handBoards(out, []int{span})}
			need, unsure := 0.0, 0.0
			for _, i := range fits[:n] {
				l := part(x.blanks[i], kerf)
				c.Parts = append(c.Parts, Part{Name: x.blanks[i].Piece, Length: l})
				need += l
				unsure = math.Max(unsure, x.blanks[i].Unsure)
			}
			if need > float64(c.Boards[0].Limit)*c.Boards[0].Length || len(c.Cut().Layouts) == 0 {
				continue
			}
			width := 0.0
			if w := wide(span); !math.IsInf(w, 1) {
				width = w
			}
			for _, i := range fits[:n] {
				if x.to[i] > 0 {
					from := width
					if from == 0 {
						from = x.blanks[i].Width
					}
					out.rips = append(out.rips, Rip{Piece: x.blanks[i].Piece, From: from, To: x.to[i], Final: x.final[i]})
				}
			}
			b.cut(out, x, width, nil, []int{span}, c.without(), need, unsure)
			fits = fits[n:]
			break
		}
		missing = append(others, fits...)
		sort.Ints(missing)
	}
	return missing
}

// without returns the cutting without its boards.
func (c Cutting) without() Cutting {
	c.Boards = nil
	return c
}

// leftInHand notes which boards in hand are not used.
func (b *buyer) leftInHand() {
	for i := range b.hand.spans {
		s := &b.hand.spans[i]
		n := b.free(&lot{}, i)
		if n <= 0 {
			continue
		}
		many := ""
		if c := max(1, s.Count); c > 1 {
			many = fmt.Sprintf(", %d of %d", n, c)
		}
		b.note(fmt.Sprintf("not cut up, %s (%s)%s: %s", name(s.Name, i), s.Use, many, b.whyLeft(s)))
	}
}

// whyLeft says why a board in hand is not used.
func (b *buyer) whyLeft(s *Span) string {
	asked := false
	for _, x := range b.asked {
		if x.use != s.Use {
			continue
		}
		asked = true
		if why := b.unfit(s, x, math.Inf(-1)); why != "" {
			return why
		}
		kerf, trim := b.lost(x.blanks)
		narrow, short := math.Inf(1), math.Inf(1)
		for _, bl := range x.blanks {
			width := bl.narrowest()
			narrow = math.Min(narrow, width)
			if s.Width == 0 || float64(s.Width) >= width-1e-6 {
				short = math.Min(short, alone(bl, kerf, trim))
			}
		}
		if why := b.unfit(s, x, narrow); why != "" {
			return why
		}
		if float64(s.Length) < short-1e-6 {
			return fmt.Sprintf("it is %s long, and the shortest part that is no wider needs %s with its cuts", b.length(float64(s.Length)), b.length(short))
		}
	}
	if !asked {
		return "this job takes none"
	}
	return "it would save nothing"
}
