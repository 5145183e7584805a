package drawing

import (
	"fmt"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"risewright/assets"
)

// faceRunes is one past the last rune whose glyph is tabled: Latin, Greek,
// Cyrillic, punctuation, fractions, arrows, mathematics, shapes. Later runes
// are drawn as the font's box for a missing glyph.
const faceRunes = 0x2C00

// capHeight is the height of the capitals and figures as a part of the font
// size: 1493 of 2048 units in all four faces, which is the height of their H (a
// test reads it back from the outlines).
const capHeight = 1493.0 / 2048

// Face is one of the four embedded fonts: outlines and widths, in parts of the
// font size. It never changes after it is made; any goroutine may use it.
type Face struct {
	font    *sfnt.Font
	perEm   int
	glyph   []uint16
	advance []float32
}

// Glyph is the number of a glyph within its face; 0 is the missing glyph.
type Glyph uint16

// Segment is one piece of a glyph's outline, in parts of the font size, y up.
type Segment struct {
	Op Op
	P  [2]Point // quad: control and end; otherwise P[0] is the end
}

// Op is what a segment does.
type Op uint8

// The operations. Every MoveTo closes the contour before it.
const (
	MoveTo Op = iota
	LineTo
	QuadTo
)

// faces are parsed on first use. They are read-only from then on, so this is a
// table and not state.
var faces = [4]func() *Face{
	sync.OnceValue(func() *Face { return parseFace(false, false) }),
	sync.OnceValue(func() *Face { return parseFace(true, false) }),
	sync.OnceValue(func() *Face { return parseFace(false, true) }),
	sync.OnceValue(func() *Face { return parseFace(true, true) }),
}

// FaceIndex returns 0 to 3, a name for the face that FaceFor returns.
func FaceIndex(bold, mono bool) int {
	i := 0
	if bold {
		i |= 1
	}
	if mono {
		i |= 2
	}
	return i
}

// FaceFor returns the embedded face with the given weight and spacing.
func FaceFor(bold, mono bool) *Face { return faces[FaceIndex(bold, mono)]() }

func parseFace(bold, mono bool) *Face {
	f, err := sfnt.Parse(assets.Font(bold, mono))
	if err != nil {
		// Cannot happen, because the embedded files are fixed and tests parse
		// all four.
		panic(fmt.Sprintf("drawing: embedded font (bold %v, mono %v): %v", bold, mono, err))
	}
	face := &Face{
		font:    f,
		perEm:   int(f.UnitsPerEm()),
		glyph:   make([]uint16, faceRunes),
		advance: make([]float32, f.NumGlyphs()),
	}
	var buf sfnt.Buffer
	ppem := fixed.I(face.perEm)
	for r := range rune(faceRunes) {
		if g, err := f.GlyphIndex(&buf, r); err == nil {
			face.glyph[r] = uint16(g)
		}
	}
	for g := range face.advance {
		if a, err := f.GlyphAdvance(&buf, sfnt.GlyphIndex(g), ppem, font.HintingNone); err == nil {
			face.advance[g] = float32(float64(a) / 64 / float64(face.perEm))
		}
	}
	return face
}

// Glyph returns the glyph that draws r, or 0 if the face has none.
func (f *Face) Glyph(r rune) Glyph {
	if r < 0 || r >= faceRunes {
		return 0
	}
	return Glyph(f.glyph[r])
}

// Advance returns how far g moves the pen, as a part of the font size.
func (f *Face) Advance(g Glyph) float64 { return float64(f.advance[g]) }

// Outline appends the outline of g to dst. It reads the font each time, so
// writers keep what they use.
func (f *Face) Outline(g Glyph, dst []Segment) []Segment {
	var buf sfnt.Buffer
	segments, err := f.font.LoadGlyph(&buf, sfnt.GlyphIndex(g), fixed.I(f.perEm), nil)
	if err != nil {
		return dst // a glyph without an outline, such as the space
	}
	k := 1 / (64 * float64(f.perEm))
	at := func(p fixed.Point26_6) Point { return Point{float64(p.X) * k, -float64(p.Y) * k} }
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			dst = append(dst, Segment{MoveTo, [2]Point{at(s.Args[0])}})
		case sfnt.SegmentOpLineTo:
			dst = append(dst, Segment{LineTo, [2]Point{at(s.Args[0])}})
		case sfnt.SegmentOpQuadTo:
			dst = append(dst, Segment{QuadTo, [2]Point{at(s.Args[0]), at(s.Args[1])}})
		default:
			// Cannot happen, because TrueType outlines have no cubic curves.
			panic("drawing: cubic curve in a TrueType glyph")
		}
	}
	return dst
}

// CapHeight returns the height of capitals and figures at the given font size.
func CapHeight(size float64) float64 { return size * capHeight }

// MissingRunes returns the runes of s that the face cannot draw, or nil.
func MissingRunes(s string, bold, mono bool) []rune {
	f := FaceFor(bold, mono)
	var missing []rune
	for _, r := range s {
		if r == fractionSlash {
			continue // set with the solidus where the face has no slash for fractions
		}
		if r == utf8.RuneError || f.Glyph(r) == 0 {
			missing = append(missing, r)
		}
	}
	return missing
}
