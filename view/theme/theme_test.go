package theme_test

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"

	"risewright/view/drawing"
	"risewright/view/theme"
)

// luminance is the relative luminance of WCAG 2.2: the sRGB value v, from 0
// to 1, counts as v/12.92 up to 0.04045 and as ((v+0.055)/1.055)^2.4 above, and
// the three are weighed 0.2126, 0.7152 and 0.0722. The figure 0.04045 was read in
// w3c.github.io/wcag/understanding/relative-luminance.html, the others in pages that
// restate the text.
func luminance(c color.NRGBA) float64 {
	lin := func(b uint8) float64 {
		v := float64(b) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

// contrast is (lighter + 0.05) / (darker + 0.05), WCAG 2.2, read in pages that
// restate the text. So were the limits: 4.5 for words, 3 for what is not words.
func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// The measure itself against two pairs that can be worked out by hand.
func TestContrastOfBlackAndWhite(t *testing.T) {
	white, black := color.NRGBA{255, 255, 255, 255}, color.NRGBA{0, 0, 0, 255}
	if got := contrast(white, black); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %v, and 1.05/0.05 is 21", got)
	}
	if got := contrast(white, white); got != 1 {
		t.Errorf("white on white: %v", got)
	}
}

// over paints c on the ground g.
func over(c color.Color, g color.NRGBA) color.NRGBA {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	mix := func(a, b uint8) uint8 {
		return uint8((int(a)*int(n.A) + int(b)*(255-int(n.A))) / 255)
	}
	return color.NRGBA{mix(n.R, g.R), mix(n.G, g.G), mix(n.B, g.B), 255}
}

func TestWordsAndEdgesStandOut(t *testing.T) {
	const words, edges = 4.5, 3.0
	for _, v := range []struct {
		name  string
		theme *theme.Theme
	}{{"light", theme.New(theme.Light)}, {"dark", theme.New(theme.Dark)}} {
		t.Run(v.name, func(t *testing.T) {
			get := func(n fyne.ThemeColorName) color.NRGBA {
				return color.NRGBAModel.Convert(v.theme.Color(n, base.VariantDark)).(color.NRGBA)
			}
			least := math.Inf(1)
			check := func(what string, fg, bg color.NRGBA, want float64) {
				c := contrast(fg, bg)
				if c < want {
					t.Errorf("%s: %.2f, want %.1f", what, c, want)
				}
				if want == words {
					least = math.Min(least, c)
				}
			}
			grounds := []fyne.ThemeColorName{base.ColorNameBackground, base.ColorNameInputBackground, base.ColorNameHeaderBackground,
				base.ColorNameMenuBackground, base.ColorNameOverlayBackground}
			text := []fyne.ThemeColorName{base.ColorNameForeground, base.ColorNamePlaceHolder, base.ColorNamePrimary,
				base.ColorNameSuccess, base.ColorNameWarning, base.ColorNameError, base.ColorNameHyperlink}
			for _, g := range grounds {
				for _, f := range text {
					fore, hover := v.theme.Color(f, 0), over(v.theme.Color(base.ColorNameHover, 0), get(g))
					check(fmt.Sprintf("%s on %s", f, g), over(fore, get(g)), get(g), words)
					check(fmt.Sprintf("%s on %s pointed at", f, g), over(fore, hover), hover, words)
				}
				check(fmt.Sprintf("field edge on %s", g), get(base.ColorNameInputBorder), get(g), edges)
				check(fmt.Sprintf("focus edge on %s", g), get(base.ColorNamePrimary), get(g), edges)
			}
			button := get(base.ColorNameButton)
			check("button", over(v.theme.Color(base.ColorNameForeground, 0), button), button, words)
			check("button out of use", get(base.ColorNameDisabled), button, words)
			check("chosen text", over(v.theme.Color(base.ColorNameForeground, 0), get(base.ColorNameSelection)), get(base.ColorNameSelection), words)
			for on, under := range map[fyne.ThemeColorName]fyne.ThemeColorName{
				base.ColorNameForegroundOnPrimary: base.ColorNamePrimary, base.ColorNameForegroundOnSuccess: base.ColorNameSuccess,
				base.ColorNameForegroundOnWarning: base.ColorNameWarning, base.ColorNameForegroundOnError: base.ColorNameError,
			} {
				check(string(on), get(on), get(under), words)
			}
			p := v.theme.Palette(base.VariantLight)
			for _, ink := range []drawing.Ink{drawing.Letter, drawing.LetterSoft, drawing.Select, drawing.Hold, drawing.Good, drawing.Caution, drawing.Bad} {
				check(fmt.Sprintf("%s on paper", ink), p[ink], p[drawing.Paper], words)
			}
			for _, wash := range []drawing.Ink{drawing.Wood, drawing.Painted, drawing.Existing, drawing.Wall, drawing.Ground,
				drawing.SelectWash, drawing.HoldWash, drawing.GoodWash, drawing.CautionWash, drawing.BadWash} {
				check(fmt.Sprintf("letters on %s", wash), p[drawing.Letter], p[wash], words)
			}
			// What is not words, such as outlines, hatches and handles, on all that
			// lies under them.
			for _, line := range []drawing.Ink{drawing.Line, drawing.Soft, drawing.Select, drawing.Hold, drawing.Good, drawing.Caution, drawing.Bad} {
				for _, under := range []drawing.Ink{drawing.Paper, drawing.Wood, drawing.WoodDark, drawing.Painted, drawing.Existing, drawing.Wall, drawing.Ground,
					drawing.SelectWash, drawing.HoldWash, drawing.GoodWash, drawing.CautionWash, drawing.BadWash} {
					check(fmt.Sprintf("%s on %s", line, under), p[line], p[under], edges)
				}
			}
			check("scroll bar", over(v.theme.Color(base.ColorNameScrollBar, 0), get(base.ColorNameBackground)), get(base.ColorNameBackground), edges)
			t.Logf("the weakest words stand %.2f to 1", least)
		})
	}
}

func TestModes(t *testing.T) {
	for _, row := range []struct {
		mode    theme.Mode
		desktop fyne.ThemeVariant
		dark    bool
	}{
		{theme.System, base.VariantLight, false}, {theme.System, base.VariantDark, true},
		{theme.Light, base.VariantDark, false}, {theme.Dark, base.VariantLight, true},
		{"", base.VariantDark, true},
	} {
		want := drawing.Light()
		if row.dark {
			want = drawing.Dark()
		}
		th := theme.New(row.mode)
		if th.Palette(row.desktop) != want || theme.PaletteOf(th, row.desktop) != want {
			t.Errorf("mode %q on a desktop of variant %v: the wrong palette", row.mode, row.desktop)
		}
		if th.Color(base.ColorNamePrimary, row.desktop) != color.Color(want[drawing.Select]) {
			t.Errorf("mode %q on a desktop of variant %v: the window does not agree with its drawings", row.mode, row.desktop)
		}
	}
}

// The keys in fyne's menus, worked out as fyne 2.7 does it (see wordAlpha).
func TestKeysInMenusCanBeRead(t *testing.T) {
	for _, th := range []*theme.Theme{theme.New(theme.Light), theme.New(theme.Dark)} {
		r, g, b, a := th.Color(base.ColorNameForeground, 0).RGBA()
		a = uint32(float32(a) * 0.95)
		key := color.NRGBA{R: uint8(r), G: uint8(g), B: uint8(b), A: uint8(a)}
		menu := color.NRGBAModel.Convert(th.Color(base.ColorNameMenuBackground, 0)).(color.NRGBA)
		if c := contrast(over(key, menu), menu); c < 4.5 {
			t.Errorf("%s: %.2f", th.Mode(), c)
		}
	}
}

// fyne rounds the ascent and the height of a line up to whole pixels. What is
// left below the baseline must hold the tail of a g: see Size.
func TestTailsFit(t *testing.T) {
	const ascent, descent = 1901.0 / 2048, 483.0 / 2048 // hhea of the fonts
	th := theme.New(theme.Light)
	for _, n := range []fyne.ThemeSizeName{base.SizeNameText, base.SizeNameCaptionText, base.SizeNameSubHeadingText, base.SizeNameHeadingText} {
		for _, scale := range []float64{1, 2} {
			s := float64(th.Size(n)) * scale
			if room := math.Ceil(s*(ascent+descent)) - math.Ceil(s*ascent); room < s*descent-0.25 {
				t.Errorf("%s at scale %g: %g pixels for a tail of %.2f", n, scale, room, s*descent)
			}
		}
	}
}
