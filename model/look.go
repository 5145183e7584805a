package model

import (
	"fmt"
	"slices"
	"strings"
)

// Look is how the finished stair is to look in pictures: ids in the table of
// finishes, and an empty one takes the table's first. The species is the
// Shop's, so that the wood seen is the wood bought. Nothing is solved from it.
type Look struct {
	Stain  string `json:"stain,omitempty"`
	Sheen  string `json:"sheen,omitempty"`
	Riser  string `json:"riser,omitempty"` // a paint, or WoodRisers
	Wall   string `json:"wall,omitempty"`
	Trim   string `json:"trim,omitempty"` // of skirt boards, balusters and ceiling edge
	Carpet string `json:"carpet,omitempty"`
	// Light is the colour in which the bars are shown; empty is the strip's white.
	Light string `json:"light,omitempty"`
}

// WoodRisers is the Riser of a stair whose risers are of the treads' wood.
const WoodRisers = "wood"

// LookParts lists the parts of a look, in the order they are chosen in.
func LookParts() []LookPart {
	return []LookPart{LookStain, LookSheen, LookRiser, LookWall, LookTrim, LookCarpet, LookLight}
}

// LookPart names one choice of a look.
type LookPart string

// The parts of a look.
const (
	LookStain  LookPart = "stain"
	LookSheen  LookPart = "sheen"
	LookRiser  LookPart = "riser"
	LookWall   LookPart = "wall"
	LookTrim   LookPart = "trim"
	LookCarpet LookPart = "carpet"
	LookLight  LookPart = "light"
)

// part returns the field of a part, or nil for one that is not known.
func (l *Look) part(p LookPart) *string {
	switch p {
	case LookStain:
		return &l.Stain
	case LookSheen:
		return &l.Sheen
	case LookRiser:
		return &l.Riser
	case LookWall:
		return &l.Wall
	case LookTrim:
		return &l.Trim
	case LookCarpet:
		return &l.Carpet
	case LookLight:
		return &l.Light
	}
	return nil
}

// Of returns what is chosen for a part, "" for the table's first.
func (l Look) Of(p LookPart) string {
	if at := l.part(p); at != nil {
		return *at
	}
	return ""
}

// With returns the look with another choice for a part.
func (l Look) With(p LookPart, id string) Look {
	if at := l.part(p); at != nil {
		*at = id
	}
	return l
}

// Validate returns what cannot be read. An id that the table does not have is
// no fault: the table's first is shown instead, and the window says so.
func (l Look) Validate() []Finding {
	var out []Finding
	for _, p := range LookParts() {
		id := l.Of(p)
		if len(id) > MaxText {
			out = append(out, Finding{Rule: "job.look", Severity: Block, Where: Place{Field: "look." + string(p)},
				Title: fmt.Sprintf("the name of the %s is %d bytes long", p, len(id)), Remedy: fmt.Sprintf("keep it within %d", MaxText)})
		}
	}
	return out
}

// SetLook replaces how the finished stair is to look.
type SetLook struct{ Look Look }

// Apply implements Edit.
func (e SetLook) Apply(j Job) (Job, error) {
	out := j
	out.Look = e.Look
	return kept(j, out)
}

// Label implements Edit.
func (e SetLook) Label() string { return "change colours" }

// FinishTable is what a picture can show wood, paint and light in. The names
// and colours are our own.
type FinishTable struct {
	Woods   []WoodLook
	Stains  []Finish
	Sheens  []Sheen
	Paints  []Paint
	Carpets []Finish
	Lights  []LightColour
}

// RGB is a colour as a screen shows it, sRGB of 8 bits (IEC 61966-2-1).
type RGB [3]uint8

// WoodFigure says how the pores of a wood lie in its rings.
type WoodFigure string

// The figures.
const (
	RingPorous    WoodFigure = "ring-porous"    // open pores in the early wood
	DiffusePorous WoodFigure = "diffuse-porous" // fine pores throughout
	SemiPorous    WoodFigure = "semi-ring-porous"
	Softwood      WoodFigure = "softwood" // no pores; dark late wood
)

// WoodFigures lists the figures.
func WoodFigures() []WoodFigure { return []WoodFigure{RingPorous, DiffusePorous, SemiPorous, Softwood} }

// WoodLook is how a species looks, bare and sanded. Ring is the usual width of
// a year, mm.
type WoodLook struct {
	Species     string // id in the table of woods
	Figure      WoodFigure
	Early, Late RGB
	Pore        RGB
	Ring        float64
	// Contrast is how strongly the years show, Rays how strongly the rays, and
	// Vary how much one board differs from the next, each from 0 to 1.
	Contrast, Rays, Vary float64
	Standing             Standing
}

// Finish is a colour laid over something: a stain over wood, or a carpet. Cover
// is how much of what lies below it hides, 0 to 1.
type Finish struct {
	ID, Name string
	Colour   RGB
	Cover    float64
	Standing Standing
}

// Sheen is a clear coat. Gloss and Rough are as in package view/scene.
type Sheen struct {
	ID, Name     string
	Gloss, Rough float64
	Standing     Standing
}

// Paint is a colour of paint, and what it may be put on: "riser", "wall",
// "trim".
type Paint struct {
	ID, Name string
	Colour   RGB
	For      []LookPart
	Standing Standing
}

// LightColour is a colour of light: white of so many kelvin, or RGB where that
// is 0.
type LightColour struct {
	ID, Name string
	Kelvin   float64
	Colour   RGB
	Standing Standing
}

// Wood returns the look of a species: its own, or else the first of the same
// kind of wood by the end of its id ("white-ash" for "black-ash"), or the first.
func (t FinishTable) Wood(species string) (WoodLook, bool) {
	tail := species[strings.LastIndexByte(species, '-')+1:]
	near, found := WoodLook{}, false
	for _, w := range t.Woods {
		if w.Species == species {
			return w, true
		}
		if !found && tail != "" && strings.HasSuffix(w.Species, tail) {
			near, found = w, true
		}
	}
	if !found && len(t.Woods) > 0 {
		near = t.Woods[0]
	}
	return near, false
}

// PaintsFor lists the paints for a part, in order.
func (t FinishTable) PaintsFor(p LookPart) []Paint {
	var out []Paint
	for _, x := range t.Paints {
		if slices.Contains(x.For, p) {
			out = append(out, x)
		}
	}
	return out
}
