package window

import (
	"image/color"
	"strings"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// pickList is a list of names in a dialog, one of them chosen. A click or an
// arrow key chooses; a second click, Enter or Space opens. The library's own list
// keeps Escape for itself, which closes our dialogs.
type pickList struct {
	widget.BaseWidget
	w      *window
	Chose  func(i int) // when another is chosen; may be nil
	Opened func(i int) // may be nil
	Back   func()      // on Backspace; may be nil

	at     int // -1: none
	rows   []*pickRow
	column *fyne.Container
	scroll *container.Scroll
	edge   *fcanvas.Rectangle // says that it has the keyboard
}

var _ fyne.Focusable = (*pickList)(nil)

func (w *window) newPickList() *pickList {
	l := &pickList{w: w, at: -1, column: container.NewVBox(), edge: fcanvas.NewRectangle(color.Transparent)}
	l.scroll = container.NewVScroll(l.column)
	l.ExtendBaseWidget(l)
	return l
}

// CreateRenderer implements fyne.Widget.
func (l *pickList) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(l.scroll, l.edge))
}

// set fills the list, and chooses none.
func (l *pickList) set(names []string) {
	l.at, l.rows, l.column.Objects = -1, nil, nil
	for i, name := range names {
		r := &pickRow{list: l, at: i, text: fcanvas.NewText(name, color.Transparent), back: fcanvas.NewRectangle(color.Transparent)}
		r.ExtendBaseWidget(r)
		l.rows = append(l.rows, r)
		l.column.Add(r)
	}
	l.column.Refresh()
	l.scroll.ScrollToTop()
}

// choose chooses a row, and brings it into sight.
func (l *pickList) choose(i int) {
	i = min(i, len(l.rows)-1)
	if i < 0 || i == l.at {
		return
	}
	was := l.at
	l.at = i
	if was >= 0 {
		l.rows[was].Refresh()
	}
	r := l.rows[i]
	r.Refresh()
	if top, high := r.Position().Y, l.scroll.Size().Height; top < l.scroll.Offset.Y {
		l.scroll.ScrollToOffset(fyne.NewPos(0, top))
	} else if end := top + r.Size().Height; end > l.scroll.Offset.Y+high {
		l.scroll.ScrollToOffset(fyne.NewPos(0, end-high))
	}
	if l.Chose != nil {
		l.Chose(i)
	}
}

func (l *pickList) open(i int) {
	if i >= 0 && i < len(l.rows) && l.Opened != nil {
		l.Opened(i)
	}
}

func (l *pickList) mark(width float32) {
	l.edge.StrokeWidth = width
	l.edge.StrokeColor = l.Theme().Color(base.ColorNamePrimary, fyne.CurrentApp().Settings().ThemeVariant())
	l.edge.Refresh()
}

// FocusGained implements fyne.Focusable.
func (l *pickList) FocusGained() { l.mark(2) }

// FocusLost implements fyne.Focusable.
func (l *pickList) FocusLost() { l.mark(0) }

// TypedRune implements fyne.Focusable: a letter goes to the next name that begins
// with it.
func (l *pickList) TypedRune(r rune) {
	for k := range l.rows {
		i := (l.at + 1 + k) % len(l.rows)
		if first, _ := utf8.DecodeRuneInString(l.rows[i].text.Text); strings.EqualFold(string(first), string(r)) {
			l.choose(i)
			return
		}
	}
}

// TypedKey implements fyne.Focusable.
func (l *pickList) TypedKey(k *fyne.KeyEvent) {
	page := 1
	if len(l.rows) > 0 {
		page = max(1, int(l.scroll.Size().Height/l.rows[0].MinSize().Height))
	}
	switch k.Name {
	case fyne.KeyUp:
		l.choose(max(0, l.at-1))
	case fyne.KeyDown:
		l.choose(l.at + 1)
	case fyne.KeyPageUp:
		l.choose(max(0, l.at-page))
	case fyne.KeyPageDown:
		l.choose(l.at + page)
	case fyne.KeyHome:
		l.choose(0)
	case fyne.KeyEnd:
		l.choose(len(l.rows) - 1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		l.open(l.at)
	case fyne.KeyBackspace:
		if l.Back != nil {
			l.Back()
		}
	case fyne.KeyEscape:
		l.w.escape()
	}
}

// pickRow is a name in a list.
type pickRow struct {
	widget.BaseWidget
	list *pickList
	at   int
	text *fcanvas.Text
	back *fcanvas.Rectangle
}

var _ fyne.Tappable = (*pickRow)(nil)

// Tapped implements fyne.Tappable.
func (r *pickRow) Tapped(*fyne.PointEvent) {
	l := r.list
	l.w.win.Canvas().Focus(l)
	if l.at == r.at {
		l.open(r.at)
		return
	}
	l.choose(r.at)
}

// CreateRenderer implements fyne.Widget.
func (r *pickRow) CreateRenderer() fyne.WidgetRenderer {
	p := &pickRowRenderer{r}
	p.look()
	return p
}

type pickRowRenderer struct{ r *pickRow }

func (p *pickRowRenderer) look() {
	th, v := p.r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	p.r.text.Color, p.r.text.TextSize = th.Color(base.ColorNameForeground, v), th.Size(base.SizeNameText)
	p.r.back.FillColor, p.r.back.CornerRadius = color.Transparent, th.Size(base.SizeNameSelectionRadius)
	if p.r.list.at == p.r.at {
		p.r.back.FillColor = th.Color(base.ColorNameSelection, v)
	}
}

func (p *pickRowRenderer) Refresh() {
	p.look()
	p.r.back.Refresh()
	p.r.text.Refresh()
}

func (p *pickRowRenderer) Layout(s fyne.Size) {
	pad := p.r.Theme().Size(base.SizeNameInnerPadding)
	p.r.back.Resize(s)
	p.r.text.Move(fyne.NewPos(pad, 0))
	p.r.text.Resize(fyne.NewSize(max(0, s.Width-2*pad), s.Height))
}

func (p *pickRowRenderer) MinSize() fyne.Size {
	pad := p.r.Theme().Size(base.SizeNameInnerPadding)
	return fyne.NewSize(2*pad, p.r.text.MinSize().Height+pad)
}

func (p *pickRowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{p.r.back, p.r.text}
}

func (p *pickRowRenderer) Destroy() {}
