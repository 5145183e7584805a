package panel

import (
	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/view/drawing"
	"risewright/view/words"
)

// para is a text broken into lines as wide as it is given room, by the same
// rule as on cards and sheets: a fraction is never parted from its inches,
// because 7 at the end of a line and 3/4 on the next is misread.
type para struct {
	widget.BaseWidget
	text   string
	role   fyne.ThemeColorName
	strong bool

	lines []string
	width float32 // that lines are broken for
}

// paraFirst is the width a paragraph is broken for before it is laid out.
const paraFirst = 400

func newPara(text string) *para {
	p := &para{text: text, role: base.ColorNameForeground, width: paraFirst}
	p.ExtendBaseWidget(p)
	p.wrap()
	return p
}

func (p *para) soft() *para {
	p.role = base.ColorNamePlaceHolder
	return p
}

func (p *para) bold() *para {
	p.strong = true
	p.wrap()
	return p
}

// setPara changes a paragraph, if it says something else.
func setPara(p *para, text string) {
	if p.text != text {
		p.text = text
		p.wrap()
		p.Refresh()
	}
}

// setOrHide shows a text, and takes no room where there is none.
func setOrHide(p *para, text string) {
	setPara(p, text)
	if text == "" {
		p.Hide()
	} else {
		p.Show()
	}
}

func (p *para) wrap() {
	pad := p.Theme().Size(base.SizeNameInnerPadding)
	// A hair less than the room, because fyne sums advances that it rounds to
	// 64ths of a unit: 100 letters come to less than 1.
	const hair = 1
	room := float64(p.width - 2*pad - hair)
	p.lines = p.lines[:0]
	if p.text != "" {
		p.lines = append(p.lines, drawing.Wrap(p.text, max(room, 1), float64(p.Theme().Size(base.SizeNameText)), p.strong, false)...)
	}
}

// Resize implements fyne.CanvasObject.
func (p *para) Resize(s fyne.Size) {
	if s.Width != p.width && s.Width > 0 {
		p.width = s.Width
		p.wrap()
		p.BaseWidget.Resize(s)
		p.Refresh()
		return
	}
	p.BaseWidget.Resize(s)
}

// CreateRenderer implements fyne.Widget.
func (p *para) CreateRenderer() fyne.WidgetRenderer {
	r := &paraRenderer{p: p}
	r.look()
	return r
}

type paraRenderer struct {
	p       *para
	texts   []*fcanvas.Text
	objects []fyne.CanvasObject
}

func (r *paraRenderer) look() {
	th := r.p.Theme()
	c := th.Color(r.p.role, fyne.CurrentApp().Settings().ThemeVariant())
	for len(r.texts) < len(r.p.lines) {
		r.texts = append(r.texts, fcanvas.NewText("", nil))
	}
	r.objects = r.objects[:0]
	for i, line := range r.p.lines {
		t := r.texts[i]
		t.Text, t.Color, t.TextSize = words.Say(line), c, th.Size(base.SizeNameText)
		t.TextStyle = fyne.TextStyle{Bold: r.p.strong}
		r.objects = append(r.objects, t)
	}
}

// step is the height of a line.
func (r *paraRenderer) step() float32 {
	return fyne.MeasureText("Ag", r.p.Theme().Size(base.SizeNameText), fyne.TextStyle{Bold: r.p.strong}).Height
}

func (r *paraRenderer) Layout(s fyne.Size) {
	pad, step := r.p.Theme().Size(base.SizeNameInnerPadding), r.step()
	for i, o := range r.objects {
		o.Move(fyne.NewPos(pad, pad+float32(i)*step))
		o.Resize(fyne.NewSize(s.Width-2*pad, step))
	}
}

func (r *paraRenderer) MinSize() fyne.Size {
	pad := r.p.Theme().Size(base.SizeNameInnerPadding)
	return fyne.NewSize(60, float32(max(1, len(r.p.lines)))*r.step()+2*pad)
}

func (r *paraRenderer) Refresh() {
	r.look()
	r.Layout(r.p.Size())
	for _, t := range r.objects {
		t.Refresh()
	}
	fcanvas.Refresh(r.p)
}
func (r *paraRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *paraRenderer) Destroy()                     {}
