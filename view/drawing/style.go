package drawing

// Line widths in paper millimetres, each √2 times the one before, as drawing
// practice has it (common practice, no source consulted).
const (
	Fine   = 0.18
	Thin   = 0.25
	Medium = 0.35
	Thick  = 0.5
	Heavy  = 0.7
)

// Stroke is how a line is drawn. The zero value draws nothing, because its ink
// is None. Ends are square to the line; corners are mitred, rounded or cut
// when sharp.
type Stroke struct {
	Ink   Ink
	Width float64   // paper mm; zero means Thin
	Dash  []float64 // paper mm: on, off, on, off …; empty is unbroken
}

// Hidden returns a stroke of short dashes, for what lies behind.
func Hidden(ink Ink, width float64) Stroke {
	return Stroke{Ink: ink, Width: width, Dash: []float64{2, 1}}
}

// Centre returns a stroke of long and short dashes, for centre and reference
// lines.
func Centre(ink Ink, width float64) Stroke {
	return Stroke{Ink: ink, Width: width, Dash: []float64{6, 1, 1, 1}}
}

// Pattern is the lines laid over a fill.
type Pattern uint8

// The patterns.
const (
	Plain        Pattern = iota
	Diagonal             // rising to the right at 45°
	BackDiagonal         // falling to the right at 45°
	CrossHatch           // both
	Level                // along x
)

// Hatch is a pattern of lines over a fill. The zero value is none.
type Hatch struct {
	Pattern Pattern
	Spacing float64 // paper mm between lines; zero means 1.6
	Ink     Ink     // None means Soft
	Width   float64 // paper mm; zero means Fine
}

// Fill is how the inside of a shape is drawn. The zero value draws nothing.
// Where a shape runs over itself, all that it goes round is inside.
type Fill struct {
	Ink   Ink
	Hatch Hatch
}

// Align is where along a text its At point lies.
type Align uint8

// The alignments.
const (
	AlignStart Align = iota
	AlignMiddle
	AlignEnd
)

// Baseline is where up a text its At point lies.
type Baseline uint8

// The baselines. Middle and top are measured on the capitals and figures, so
// numbers sit centred on lines.
const (
	BaseLine Baseline = iota
	BaseMiddle
	BaseTop
)

// Text is one line of lettering.
type Text struct {
	At         Point
	Size       float64 // font size in paper mm (capitals are 0.73 of it); zero means LetterSize
	Align      Align
	Baseline   Baseline
	Angle      float64 // radians, anticlockwise from +x
	Bold, Mono bool
	Halo       bool // a paper-coloured outline, so it stays readable over lines
	Ink        Ink  // None means Letter
	String     string
}

// LetterSize is the font size, in paper mm, of text that names none.
const LetterSize = 3.2
