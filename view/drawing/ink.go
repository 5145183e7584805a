package drawing

import "image/color"

// Ink is what a colour means. The zero value, None, draws nothing.
type Ink uint8

// The inks. Fills meant to lie under lettering are light in Light and Print
// and dark in Dark, so Letter and LetterSoft can be read on all of them.
const (
	None        Ink = iota
	Paper           // the ground everything is drawn on
	Line            // main outlines
	Soft            // secondary outlines, dimension lines
	Faint           // grid
	Wood            // fill: new hardwood
	WoodDark        // fill: new hardwood in section or end grain
	Painted         // fill: painted riser
	Existing        // fill: the old stair under the overlay
	Wall            // fill: wall or skirt cut through
	Ground          // fill: floor
	Select          // line or handle: chosen
	SelectWash      // fill: chosen
	Hold            // line or handle: held by readings
	HoldWash        // fill: held by readings
	Good            // line or lettering: within limits
	GoodWash        // fill: within limits
	Caution         // line or lettering: look again
	CautionWash     // fill: look again
	Bad             // line or lettering: out of limits
	BadWash         // fill: out of limits
	Letter          // lettering
	LetterSoft      // secondary lettering
	Lamp            // the first of Lamps inks: the colours of lights, which whoever draws them puts in the palette
)

// Lamps is the number of inks for the colours of lights, from Lamp on.
const Lamps = 8

const inkCount = Lamp + Lamps

var inkNames = [inkCount]string{"None", "Paper", "Line", "Soft", "Faint", "Wood", "WoodDark",
	"Painted", "Existing", "Wall", "Ground", "Select", "SelectWash", "Hold", "HoldWash",
	"Good", "GoodWash", "Caution", "CautionWash", "Bad", "BadWash", "Letter", "LetterSoft",
	"Lamp1", "Lamp2", "Lamp3", "Lamp4", "Lamp5", "Lamp6", "Lamp7", "Lamp8"}

// String returns the ink's name as it stands in the source.
func (i Ink) String() string {
	if i < inkCount {
		return inkNames[i]
	}
	return "Ink?"
}

// Palette gives every ink its colour. Index it by Ink.
type Palette [inkCount]color.NRGBA

// Lit returns the palette with the colours of lights, taken in turn, in its
// inks for them. Without any they stay.
func (p Palette) Lit(colours ...color.NRGBA) Palette {
	for i := range Lamps {
		if len(colours) > 0 {
			p[int(Lamp)+i] = colours[i%len(colours)]
		}
	}
	return p
}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

// Light returns the colours for a light window.
func Light() Palette {
	return Palette{
		Paper: rgb(0xFBFAF7), Line: rgb(0x23282D), Soft: rgb(0x5E676F), Faint: rgb(0xE4E3DD),
		Wood: rgb(0xEBD3A8), WoodDark: rgb(0xDAB981), Painted: rgb(0xF1F3F4), Existing: rgb(0xDDDAD3),
		Wall: rgb(0xD0D3D5), Ground: rgb(0xDCD6CA),
		Select: rgb(0x0A5CB8), SelectWash: rgb(0xCFE2F8), Hold: rgb(0x6A3FA0), HoldWash: rgb(0xE5DAF2),
		Good: rgb(0x1C6E37), GoodWash: rgb(0xD5ECD9), Caution: rgb(0x8A5300), CautionWash: rgb(0xFBE7BC),
		Bad: rgb(0xB3201B), BadWash: rgb(0xF9D8D4),
		Letter: rgb(0x1A1E22), LetterSoft: rgb(0x3F474D),
	}.Lit(rgb(0xFFF1D0))
}

// Dark returns the colours for a dark window.
func Dark() Palette {
	return Palette{
		Paper: rgb(0x1B1E22), Line: rgb(0xE3E6E8), Soft: rgb(0x9CA6AE), Faint: rgb(0x2E3338),
		Wood: rgb(0x5B4526), WoodDark: rgb(0x6B4E27), Painted: rgb(0x3B4147), Existing: rgb(0x34363A),
		Wall: rgb(0x454B51), Ground: rgb(0x3C3932),
		Select: rgb(0x6CB4FF), SelectWash: rgb(0x1E3F63), Hold: rgb(0xC3A0F2), HoldWash: rgb(0x413158),
		Good: rgb(0x7BD492), GoodWash: rgb(0x1F4429), Caution: rgb(0xF2BE5C), CautionWash: rgb(0x4F3C12),
		Bad: rgb(0xFF958C), BadWash: rgb(0x5A2422),
		Letter: rgb(0xF1F3F4), LetterSoft: rgb(0xC9D0D5),
	}.Lit(rgb(0xFFF1D0))
}

// Print returns the inks for paper: nothing but black, greys and white, so a
// sheet can be read from any printer. Meanings told apart by colour on the
// screen must therefore also be told apart by a word, a dash or a hatch.
func Print() Palette {
	return Palette{
		Paper: rgb(0xFFFFFF), Line: rgb(0x000000), Soft: rgb(0x5A5A5A), Faint: rgb(0xD8D8D8),
		Wood: rgb(0xF2F2F2), WoodDark: rgb(0xDEDEDE), Painted: rgb(0xFAFAFA), Existing: rgb(0xE8E8E8),
		Wall: rgb(0xCFCFCF), Ground: rgb(0xD8D8D8),
		Select: rgb(0x000000), SelectWash: rgb(0xE4E4E4), Hold: rgb(0x303030), HoldWash: rgb(0xEAEAEA),
		Good: rgb(0x303030), GoodWash: rgb(0xF4F4F4), Caution: rgb(0x202020), CautionWash: rgb(0xE6E6E6),
		Bad: rgb(0x000000), BadWash: rgb(0xD6D6D6),
		Letter: rgb(0x000000), LetterSoft: rgb(0x404040),
	}.Lit(rgb(0xFFFFFF))
}
