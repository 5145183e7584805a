package drawing_test

import (
	"math"
	"testing"

	"risewright/view/drawing"
)

// lettered is every character the program prints beyond ASCII.
const lettered = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞⁄′″°±×÷−→←↑↓↔↕∠●○▲△▼■□◆√≤≥≈≠·–—‘’“”…²³µπσΔ∅⌀✓\u00a0\u202f\u2009"

func TestFacesDrawEveryCharacterWePrint(t *testing.T) {
	ascii := ""
	for r := ' '; r <= '~'; r++ {
		ascii += string(r)
	}
	for _, bold := range []bool{false, true} {
		for _, mono := range []bool{false, true} {
			if m := drawing.MissingRunes(ascii+lettered, bold, mono); m != nil {
				t.Errorf("bold %v mono %v: no glyph for %q", bold, mono, m)
			}
		}
	}
	if m := drawing.MissingRunes("a漢b", false, false); len(m) != 1 || m[0] != '漢' {
		t.Errorf("MissingRunes = %q, want the one rune the face lacks", m)
	}
}

func TestCapHeightIsThatOfTheOutlines(t *testing.T) {
	for _, bold := range []bool{false, true} {
		for _, mono := range []bool{false, true} {
			f := drawing.FaceFor(bold, mono)
			top := 0.0
			for _, s := range f.Outline(f.Glyph('H'), nil) {
				top = math.Max(top, s.P[0].Y)
			}
			if math.Abs(top-drawing.CapHeight(1)) > 1e-9 {
				t.Errorf("bold %v mono %v: H is %v high, CapHeight says %v", bold, mono, top, drawing.CapHeight(1))
			}
		}
	}
}
