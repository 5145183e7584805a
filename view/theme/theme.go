package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"

	"risewright/assets"
	"risewright/view/drawing"
)

// Mode says which of the two sets of colours is shown.
type Mode string

// The modes. System follows the desktop.
const (
	System Mode = "system"
	Light  Mode = "light"
	Dark   Mode = "dark"
)

// Theme gives fyne its colours, letters and sizes. Make one with New.
type Theme struct {
	mode                    Mode
	scale                   float32 // of letters and what holds them; 0 counts as 1
	regular, bold           fyne.Resource
	monospace, monoBold     fyne.Resource
	lightGround, darkGround ground
}

var _ fyne.Theme = (*Theme)(nil)

// ground is the colours that the drawings have no ink for.
type ground struct {
	window, field, button, head, menu color.NRGBA // surfaces
	edge, rule                        color.NRGBA // of fields; between rows
	hover, press, focus, pick         color.NRGBA // laid over a surface
	word, onPrimary, soft, off        color.NRGBA // words; see wordAlpha
	bar                               color.NRGBA // of a scroll
}

// New returns the theme in a mode. Any mode but Light and Dark is System.
func New(mode Mode) *Theme {
	font := func(name string, bold, mono bool) fyne.Resource {
		return fyne.NewStaticResource(name, assets.Font(bold, mono))
	}
	return &Theme{
		mode:    mode,
		regular: font("letters.ttf", false, false), bold: font("letters-bold.ttf", true, false),
		monospace: font("letters-mono.ttf", false, true), monoBold: font("letters-mono-bold.ttf", true, true),
		lightGround: ground{
			window: rgb(0xEEECE6), field: rgb(0xFFFFFF), button: rgb(0xDFDCD3), head: rgb(0xE9E6DF), menu: rgb(0xFAF9F6),
			edge: rgb(0x777D82), rule: rgb(0xD2CFC6),
			hover: rgba(0x23282D, 0x0A), press: rgba(0x23282D, 0x24), focus: rgba(0x0A5CB8, 0x55), pick: rgb(0xCFE2F8),
			word: rgba(0x000000, wordAlpha), onPrimary: rgb(0xFFFFFF), soft: rgb(0x4C545B), off: rgb(0x555D63), bar: rgba(0x23282D, 0x88),
		},
		darkGround: ground{
			window: rgb(0x24282C), field: rgb(0x1A1D20), button: rgb(0x373D43), head: rgb(0x2C3136), menu: rgb(0x2A2F34),
			edge: rgb(0x848E96), rule: rgb(0x3C4248),
			hover: rgba(0xFFFFFF, 0x12), press: rgba(0xFFFFFF, 0x22), focus: rgba(0x6CB4FF, 0x55), pick: rgb(0x1E3F63),
			word: rgba(0xFFFFFF, wordAlpha), onPrimary: rgb(0x10202F), soft: rgb(0xBAC2C8), off: rgb(0xA3ACB3), bar: rgba(0xFFFFFF, 0x70),
		},
	}
}

// wordAlpha is the opacity of words, and with it they must be black or white.
// fyne 2.7 draws the keys in a menu in the words' colour, but takes the low
// byte of its 16-bit opacity times 0.95, and the low bytes of its premultiplied
// red, green and blue. From 255 that is 62258 = 0xF332, so 0x32: hardly to be
// seen. From 0xEF it is 58351 = 0xE3EF, so 0xEF, and black and white stay what
// they are.
const wordAlpha = 0xEF

func rgb(v uint32) color.NRGBA { return rgba(v, 0xff) }

func rgba(v uint32, a uint8) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: a}
}

// Scaled returns the theme with letters, and what holds them, so many times as
// large.
func (t *Theme) Scaled(k float32) *Theme {
	out := *t
	out.scale = k
	return &out
}

// Scale returns how many times as large as usual letters are.
func (t *Theme) Scale() float32 {
	if t.scale <= 0 {
		return 1
	}
	return t.scale
}

// ScaleOf returns the scale of any fyne theme: a Theme's own, or 1.
func ScaleOf(t fyne.Theme) float32 {
	if own, ok := t.(*Theme); ok {
		return own.Scale()
	}
	return 1
}

// Mode returns the mode the theme was made for.
func (t *Theme) Mode() Mode { return t.mode }

// dark says whether the dark colours are shown when the desktop asks for v.
func (t *Theme) dark(v fyne.ThemeVariant) bool {
	switch t.mode {
	case Light:
		return false
	case Dark:
		return true
	}
	return v == base.VariantDark
}

// Palette returns the inks of the drawings when the desktop asks for v.
func (t *Theme) Palette(v fyne.ThemeVariant) drawing.Palette {
	if t.dark(v) {
		return drawing.Dark()
	}
	return drawing.Light()
}

// PaletteOf returns the inks that belong to any fyne theme: a Theme's own, or
// the nearer of light and dark.
func PaletteOf(t fyne.Theme, v fyne.ThemeVariant) drawing.Palette {
	if own, ok := t.(*Theme); ok {
		return own.Palette(v)
	}
	if v == base.VariantDark {
		return drawing.Dark()
	}
	return drawing.Light()
}

// Color implements fyne.Theme.
func (t *Theme) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	g, ink := t.lightGround, drawing.Light()
	if t.dark(v) {
		g, ink = t.darkGround, drawing.Dark()
	}
	switch name {
	case base.ColorNameBackground:
		return g.window
	case base.ColorNameInputBackground:
		return g.field
	case base.ColorNameButton, base.ColorNameDisabledButton:
		return g.button
	case base.ColorNameHeaderBackground:
		return g.head
	case base.ColorNameMenuBackground, base.ColorNameOverlayBackground:
		return g.menu
	case base.ColorNameInputBorder:
		return g.edge
	case base.ColorNameSeparator:
		return g.rule
	case base.ColorNameHover:
		return g.hover
	case base.ColorNamePressed:
		return g.press
	case base.ColorNameFocus:
		return g.focus
	case base.ColorNameSelection:
		return g.pick
	case base.ColorNameForeground:
		return g.word
	case base.ColorNamePlaceHolder:
		return g.soft
	case base.ColorNameDisabled:
		return g.off
	case base.ColorNamePrimary, base.ColorNameHyperlink:
		return ink[drawing.Select]
	case base.ColorNameSuccess:
		return ink[drawing.Good]
	case base.ColorNameWarning:
		return ink[drawing.Caution]
	case base.ColorNameError:
		return ink[drawing.Bad]
	case base.ColorNameForegroundOnPrimary, base.ColorNameForegroundOnSuccess,
		base.ColorNameForegroundOnWarning, base.ColorNameForegroundOnError:
		return g.onPrimary
	case base.ColorNameScrollBar:
		return g.bar
	case base.ColorNameScrollBarBackground:
		return color.Transparent
	case base.ColorNameShadow:
		return rgba(0, 0x40)
	}
	if t.dark(v) {
		v = base.VariantDark
	} else {
		v = base.VariantLight
	}
	return base.DefaultTheme().Color(name, v)
}

// Font implements fyne.Theme. There is no slanted face: slanted figures are
// misread.
func (t *Theme) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Symbol:
		return base.DefaultTheme().Font(s)
	case s.Monospace && s.Bold:
		return t.monoBold
	case s.Monospace:
		return t.monospace
	case s.Bold:
		return t.bold
	}
	return t.regular
}

// Icon implements fyne.Theme.
func (t *Theme) Icon(name fyne.ThemeIconName) fyne.Resource { return base.DefaultTheme().Icon(name) }

// Size implements fyne.Theme. The sizes are smaller than fyne's, so that most
// readings of a step stand on a screen of 800 lines.
//
// Sizes of letters are such that whole pixels leave room for the tails of g
// and y: fyne puts the baseline at the ascent rounded up, in an image as tall
// as ascent and descent rounded up. For these fonts (hhea 1901 and 483 of 2048)
// size 13 leaves 16-13 = 3 pixels for a tail of 3.07; 12.9 leaves 16-12 = 4.
func (t *Theme) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case base.SizeNameInputBorder, base.SizeNameSeparatorThickness:
		return t.size(name) // a line is a line
	}
	return t.size(name) * t.Scale()
}

func (t *Theme) size(name fyne.ThemeSizeName) float32 {
	switch name {
	case base.SizeNameText:
		return 12.9
	case base.SizeNameCaptionText:
		return 11.8
	case base.SizeNameSubHeadingText:
		return 15
	case base.SizeNameHeadingText:
		return 18.2
	case base.SizeNamePadding:
		return 3
	case base.SizeNameInnerPadding:
		return 4
	case base.SizeNameLineSpacing:
		return 3
	case base.SizeNameInlineIcon:
		return 16
	case base.SizeNameScrollBar:
		return 11
	case base.SizeNameScrollBarSmall:
		return 4
	case base.SizeNameInputBorder:
		return 1
	case base.SizeNameInputRadius, base.SizeNameSelectionRadius:
		return 3
	}
	return base.DefaultTheme().Size(name)
}
