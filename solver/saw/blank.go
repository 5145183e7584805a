package saw

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
)

const (
	// spareLength and spareWidth are what a blank must have over its piece, in
	// mm: enough to square both ends and to true one edge. Common practice, no
	// source.
	spareLength = 25.0
	spareWidth  = 6.0
	// tightWidth is the least a board may have over its piece in width: with it
	// a straight board still yields the piece, and the note says it is tight.
	tightWidth = 2.0
	// ripMargin is how far inside the blank's edge the rip must stay at the
	// blank's ends, mm: marks rounded to sixteenths, half of one each, move it
	// by up to 1.6 mm there. A rip that leaves the board sideways would leave a
	// piece of the old edge to lie against the fence.
	ripMargin = 2.0
	// roughStep rounds up the size a blank is roughly cut to, mm.
	roughStep = 5.0
	// unwieldy is how much larger than it need be, in mm, a board may go to the
	// saw; a longer one, or a sheet, is roughly cut first.
	unwieldy = 150.0
)

// need is what a blank must hold: the piece with its allowances, laid with the
// edge that stays along the blank. Beyond the piece the rip runs on in a line,
// which must stay on the board to its end.
type need struct {
	length, width float64
	// ends are how far in from the edge that stays the rip lies at the ends of
	// a blank of the given length.
	ends func(length float64) (left, right float64)
}

// chooseBlank returns the blank for a piece: the smallest board of the yard's
// list that will do, or what is roughly cut from it first. Where the yard has
// none it returns a board just large enough, without a stock name. The note
// says what is to be said about it.
func (w *writer) chooseBlank(k pieces.Kind, n need, thickness float64) (b Blank, note string) {
	b = Blank{Thickness: thickness, Riser: k == pieces.Riser}
	lengths, widths := w.stock.TreadLengths, w.stock.TreadDepths
	across := acrossName(k)
	switch k {
	case pieces.Riser:
		lengths, widths = w.stock.RiserLengths, w.stock.RiserHeights
	case pieces.LandingNosing:
		widths = w.stock.LandingDepths
	case pieces.ReturnNosing: // from a length of nosing, of which the yard's list says nothing
		lengths, widths = nil, nil
	}
	b.Length = math.Ceil(n.length/roughStep) * roughStep
	b.Width = math.Ceil(math.Max(n.width, n.atEnds(b.Length)))
	f := w.format
	l, okL := smallest(lengths, n.length, w.job.Units)
	d, okW := smallest(widths, b.Width, w.job.Units)
	// Rounding up may have asked for a little too much, and the whole allowance
	// is a wish: the piece must come out of the board.
	tight := 0.0
	for _, width := range [2]float64{n.width, n.width - spareWidth + tightWidth} {
		if okW {
			break
		}
		if d, okW = smallest(widths, math.Max(width, n.atEnds(n.length)), w.job.Units); okW {
			b.Length, b.Width = n.length, float64(d.Size)
			tight = math.Max(0, n.width-float64(d.Size))
		}
	}
	switch {
	case k == pieces.ReturnNosing:
		b.Stock = "a length of return nosing"
		return b, returnNote
	case len(lengths) == 0 && len(widths) == 0:
		return b, "no list of stock: take any board at least as large as this blank"
	case !okL && !okW:
		return b, fmt.Sprintf("no listed board is %s long and %s in %s: glue up, or order it", f.Length(model.Length(n.length)), f.Length(model.Length(b.Width)), across)
	case !okL:
		return b, fmt.Sprintf("no listed board is %s long: glue up, or order it", f.Length(model.Length(n.length)))
	case !okW:
		return b, fmt.Sprintf("no listed board is %s in %s: glue up, or order it", f.Length(model.Length(b.Width)), across)
	}
	b.Stock = stockName(l.Name, d.Name)
	rough := false
	if width := float64(d.Size); width <= b.Width+unwieldy {
		b.Width = width
	} else {
		rough = true
	}
	if length := math.Max(b.Length, float64(l.Size)); length <= b.Length+unwieldy && n.atEnds(length) <= b.Width {
		b.Length = length
	} else {
		rough = true
	}
	if rough {
		note = fmt.Sprintf("first cut a rough blank of %s by %s from it", f.Length(model.Length(b.Length)), f.Length(model.Length(b.Width)))
	}
	if tight > 0 {
		if note != "" {
			note += "; "
		}
		note += tightNote(f, spareWidth-tight, across)
	}
	return b, note
}

// returnNote is said of every return nosing's blank.
const returnNote = "the return has the profile of the treads' noses"

// tightNote says that a board has less than the usual spare in width, mm.
func tightNote(f model.Format, spare float64, across string) string {
	return fmt.Sprintf("the board has only %s to spare in %s: choose one with straight edges", f.Length(model.Length(spare)), across)
}

// acrossName is what the trade calls a board's size from edge to edge.
func acrossName(k pieces.Kind) string {
	if k == pieces.Riser {
		return "height"
	}
	return "depth"
}

// stockName joins the names of a length and a width: a unit or a word that both
// end in is said once.
func stockName(length, width string) string {
	for _, word := range []string{" sheet", " mm"} {
		if l, ok := strings.CutSuffix(length, word); ok && strings.HasSuffix(width, word) {
			return stockName(l, strings.TrimSuffix(width, word)) + word
		}
	}
	return length + " × " + width
}

// atEnds returns the width that the rip needs at the ends of a blank.
func (n *need) atEnds(length float64) float64 {
	l, r := n.ends(length)
	return math.Max(l, r) + ripMargin
}

// smallest returns the smallest size of at least need that yards of the given
// units sell.
func smallest(sizes []model.StockSize, need float64, units model.Units) (model.StockSize, bool) {
	var best model.StockSize
	found := false
	for _, s := range sizes {
		if s.Units != "" && s.Units != units {
			continue
		}
		if float64(s.Size) >= need && (!found || s.Size < best.Size) {
			best, found = s, true
		}
	}
	return best, found
}
