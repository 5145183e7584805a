package panel

import (
	"strings"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/view/words"
)

// label is one line of text that is cut off with … where it does not fit. It
// is drawn anew only when what it says changes.
type label struct {
	widget.BaseWidget
	text  string
	role  fyne.ThemeColorName
	size  fyne.ThemeSizeName
	style fyne.TextStyle
	align fyne.TextAlign
	whole bool // asks for the room its text needs
}

// newLabel returns a label that takes the room it is given.
func newLabel(text string) *label {
	l := &label{text: text, role: base.ColorNameForeground, size: base.SizeNameText}
	l.ExtendBaseWidget(l)
	return l
}

// newWhole returns a label that asks for the room its text needs.
func newWhole(text string) *label {
	l := newLabel(text)
	l.whole = true
	return l
}

func (l *label) soft() *label {
	l.role = base.ColorNamePlaceHolder
	return l
}

func (l *label) small() *label {
	l.size = base.SizeNameCaptionText
	return l
}

func (l *label) bold() *label {
	l.style.Bold = true
	return l
}

func (l *label) right() *label {
	l.align = fyne.TextAlignTrailing
	return l
}

// set changes what the label says.
func (l *label) set(text string) { l.put(text, l.role) }

// put changes what the label says and the part its colour plays.
func (l *label) put(text string, role fyne.ThemeColorName) {
	if l.text != text || l.role != role {
		l.text, l.role = text, role
		l.Refresh()
	}
}

// CreateRenderer implements fyne.Widget.
func (l *label) CreateRenderer() fyne.WidgetRenderer {
	t := fcanvas.NewText("", nil)
	r := &labelRenderer{l: l, text: t, objects: []fyne.CanvasObject{t}}
	r.look()
	return r
}

type labelRenderer struct {
	l       *label
	text    *fcanvas.Text
	objects []fyne.CanvasObject
}

func (r *labelRenderer) look() {
	th := r.l.Theme()
	r.text.Color = th.Color(r.l.role, fyne.CurrentApp().Settings().ThemeVariant())
	r.text.TextSize = th.Size(r.l.size)
	r.text.TextStyle = r.l.style
	r.text.Alignment = r.l.align
	r.text.Text = words.Say(r.l.text)
	if w := r.l.Size().Width; w > 0 && !r.l.whole {
		r.text.Text = elide(r.text.Text, w, r.text.TextSize, r.l.style)
	}
}

func (r *labelRenderer) Layout(s fyne.Size) {
	r.look()
	h := r.text.MinSize().Height
	r.text.Move(fyne.NewPos(0, (s.Height-h)/2))
	r.text.Resize(fyne.NewSize(s.Width, h))
}

func (r *labelRenderer) MinSize() fyne.Size {
	s := fyne.MeasureText(words.Say(r.l.text), r.text.TextSize, r.l.style)
	if !r.l.whole {
		s.Width = r.text.TextSize
	}
	return s
}

func (r *labelRenderer) Refresh() {
	r.Layout(r.l.Size())
	r.text.Refresh()
}
func (r *labelRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *labelRenderer) Destroy()                     {}

// elide returns text, cut off with … so that it is at most w wide.
func elide(text string, w, size float32, style fyne.TextStyle) string {
	wide := func(s string) float32 { return fyne.MeasureText(s, size, style).Width }
	if wide(text) <= w {
		return text
	}
	runes := []rune(text)
	lo, hi := 0, len(runes) // the longest start that fits, by halving
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if wide(string(runes[:mid])+"…") <= w {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return strings.TrimRight(string(runes[:lo]), " ") + "…"
}
