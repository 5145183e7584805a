package stock

import (
	"fmt"

	"risewright/model"
)

// Extras are what is bought beside treads, risers and the landing nosing. The
// zero value asks for nothing more.
type Extras struct {
	NewSkirts int // 0, 1 or 2 sides get a new skirt board
	// Skirts are the boards drawn for these sides, where they are known: the
	// smallest that hold their outlines. Without them the size is reckoned from
	// the pitch.
	Skirts    []SkirtSize
	Coves     bool // under every nose
	LightBars bool // under every nose: base strip and diffuser; no cove then
	WireCover bool // along one side
	Screwed   bool // treads are screwed on a dry bed, not glued and pinned
	// Spans are boards already in hand or chosen, with their defects set aside:
	// they cost nothing, so they are cut before anything is bought for their use
	// wherever that saves anything.
	Spans []Span
}

// SkirtSize is the length and width, in mm, of a skirt's outline.
type SkirtSize struct{ Length, Width float64 }

// Span is a usable length between defects. Width and Thickness are 0 where they
// are what its use needs; Count is how many are alike, 0 for one.
type Span struct {
	Use                      model.GoodsUse
	Name                     string
	Length, Width, Thickness model.Length
	Count                    int
}

// Plan is what to buy and how to cut it. It is read-only once returned.
type Plan struct {
	Rows []Row
	// Electric is what light bars and sensors take beside wood: nothing of it is
	// listed, so it is to be asked for and in no sum.
	Electric []Row
	Cuts     []CutPlan   // boards to be crosscut
	Sheets   []SheetPlan // sheets to be ripped and crosscut
	Rips     []Rip       // the rip list, in the order of building up
	Missing  []Blank     // what no board or sheet holds, spares too: to order or glue up
	// Total and Lower are the price of all rows, and what no plan can go below.
	Total, Lower float64
	Currency     string
	// Early says that some piece is not yet known well enough to be cut, so
	// that lengths carry an allowance. Nothing should then be bought cut to size.
	Early bool
	Notes []string
}

// Row is one line of the buying list.
type Row struct {
	Use   model.GoodsUse
	Good  string // id in the table of goods; empty where nothing listed is bought
	Name  string // as the yard names it, or as the board in hand is named
	Count int
	Price float64 // of one
	Cost  float64
	// Need is what the flight takes and Extra what is added for waste, spares
	// and the unknown, both in Unit.
	Need, Extra float64
	Unit        string
	Standing    model.Standing // of the price
	Why         string         // the arithmetic, in words
	// Missing says that nothing listed will do: Why says what to ask for.
	Missing bool
	// InHand says that it is there already and costs nothing.
	InHand bool
}

// The US fluid ounce, of a gallon of 231 cubic inches (NIST Handbook 44, appendix C,
// from memory), and the foot in metres.
const (
	mlPerOunce = 231 * 16.387064 / 128
	footM      = float64(model.Foot) / 1000
)

// Amounts returns what is needed and what is added in the units that somebody
// counts in: feet, square feet and fluid ounces for a job in inches.
func (r *Row) Amounts(u model.Units) (need, extra float64, unit string) {
	if u == model.Imperial {
		switch r.Unit {
		case "m":
			return r.Need / footM, r.Extra / footM, "ft"
		case "m²":
			return r.Need / (footM * footM), r.Extra / (footM * footM), "ft²"
		case "ml":
			return r.Need / mlPerOunce, r.Extra / mlPerOunce, "fl oz"
		}
	}
	return r.Need, r.Extra, r.Unit
}

// lengthWords and areaWords write a metre or square metre of goods in the units
// that somebody counts in.
func lengthWords(mm float64, u model.Units) string {
	if u == model.Imperial {
		return fmt.Sprintf("%.0f ft", mm/1000/footM)
	}
	return fmt.Sprintf("%.0f m", mm/1000)
}

func areaWords(mm2 float64, u model.Units) string {
	if u == model.Imperial {
		return fmt.Sprintf("%.0f ft²", mm2/1e6/(footM*footM))
	}
	return fmt.Sprintf("%.1f m²", mm2/1e6)
}

// CutPlan is the blank map of one use: every board with its parts in order.
type CutPlan struct {
	Use       model.GoodsUse
	Width     float64 // of the boards; 0 where it does not matter
	Thickness float64 // 0 where it does not matter
	Cutting   Cutting
	Result    Result
}

// SheetPlan is the map of one use that is cut from sheets.
type SheetPlan struct {
	Use       model.GoodsUse
	Thickness float64
	Cutting   SheetCutting
	Result    SheetResult
}

// Rip is one line of the rip list: a blank and the widths it is ripped to.
type Rip struct {
	Piece string
	From  float64 // width of the board, mm
	// To is the width the finished piece needs at its widest; its card says
	// how the rip runs.
	To float64
	// Final says that the piece is released; else To is only the most likely.
	Final bool
}

// Blank is the rough size that a piece is cut from, with what was added.
type Blank struct {
	Piece         string
	Length, Width float64 // mm, as asked for
	// Least is the width that will do where no board has Width: a straight
	// board then still yields the piece.
	Least float64
	// Spare is the usual waste and Unsure what the uncertainty of the survey
	// calls for, both of the length.
	Spare, Unsure float64
}

// narrowest is the width that will do.
func (b Blank) narrowest() float64 {
	if b.Least > 0 {
		return b.Least
	}
	return b.Width
}
