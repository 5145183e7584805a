package panel

import (
	"image/color"
	"slices"
	"unicode"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/view/words"
)

// chooser shows one of several words and lets another be chosen: by a click
// and a menu, or with the keyboard by Up, Down, Space or a first letter. It is
// narrower than fyne's own, so that two stand in a row of readings.
type chooser struct {
	widget.BaseWidget
	// Pick is called with the index of the word chosen by the user.
	Pick func(int)

	short    []string // shown in the field
	long     []string // shown in the menu
	at       int      // -1: none
	quiet    bool     // without a frame until pointed at
	disabled bool
	focused  bool
	hovered  bool
}

var (
	_ fyne.Focusable    = (*chooser)(nil)
	_ fyne.Tappable     = (*chooser)(nil)
	_ desktop.Hoverable = (*chooser)(nil)
)

func newChooser(pick func(int)) *chooser {
	c := &chooser{Pick: pick, at: -1}
	c.ExtendBaseWidget(c)
	return c
}

// words sets what there is to choose from; long may be nil.
func (c *chooser) words(short, long []string) {
	if long == nil {
		long = short
	}
	if slices.Equal(short, c.short) && slices.Equal(long, c.long) {
		return
	}
	c.short, c.long = short, long
	if c.at >= len(short) {
		c.at = -1
	}
	c.Refresh()
}

// set shows the word at index i, and none for -1. Pick is not called.
func (c *chooser) set(i int) {
	if i != c.at {
		c.at = i
		c.Refresh()
	}
}

func (c *chooser) enable(on bool) {
	if c.disabled == on {
		c.disabled = !on
		c.Refresh()
	}
}

func (c *chooser) pick(i int) {
	if i < 0 || i >= len(c.short) || i == c.at || c.disabled {
		return
	}
	c.set(i)
	if c.Pick != nil {
		c.Pick(i)
	}
}

// Tapped implements fyne.Tappable.
func (c *chooser) Tapped(*fyne.PointEvent) {
	if c.disabled {
		return
	}
	focus(c)
	items := make([]*fyne.MenuItem, len(c.long))
	for i, w := range c.long {
		items[i] = fyne.NewMenuItem(words.Say(w), func() { c.pick(i) })
		items[i].Checked = i == c.at
	}
	if on := fyne.CurrentApp().Driver().CanvasForObject(c); on != nil && len(items) > 0 {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(c)
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), on, at.AddXY(0, c.Size().Height))
	}
}

// MouseIn implements desktop.Hoverable.
func (c *chooser) MouseIn(*desktop.MouseEvent) { c.hovered = true; c.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (c *chooser) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (c *chooser) MouseOut() { c.hovered = false; c.Refresh() }

// FocusGained implements fyne.Focusable.
func (c *chooser) FocusGained() {
	c.focused = true
	c.Refresh()
	toSight(c)
}

// FocusLost implements fyne.Focusable.
func (c *chooser) FocusLost() { c.focused = false; c.Refresh() }

// TypedRune implements fyne.Focusable: a letter goes to the next word that
// begins with it.
func (c *chooser) TypedRune(r rune) {
	if r == ' ' {
		c.Tapped(nil)
		return
	}
	for k := 1; k <= len(c.long); k++ {
		i := (max(c.at, 0) + k) % len(c.long)
		for _, first := range words.Say(c.long[i]) {
			if fold(first) == fold(r) {
				c.pick(i)
				return
			}
			break
		}
	}
}

func fold(r rune) rune { return unicode.ToLower(r) }

// TypedKey implements fyne.Focusable.
func (c *chooser) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyUp:
		c.pick(c.at - 1)
	case fyne.KeyDown:
		c.pick(c.at + 1)
	case fyne.KeyReturn, fyne.KeyEnter:
		c.Tapped(nil)
	}
}

// CreateRenderer implements fyne.Widget.
func (c *chooser) CreateRenderer() fyne.WidgetRenderer {
	r := &chooserRenderer{c: c, box: fcanvas.NewRectangle(color.Transparent), word: newLabel(""), mark: newWhole("▾").soft()}
	r.objects = []fyne.CanvasObject{r.box, r.word, r.mark}
	r.look()
	return r
}

type chooserRenderer struct {
	c          *chooser
	box        *fcanvas.Rectangle
	word, mark *label
	objects    []fyne.CanvasObject
}

func (r *chooserRenderer) look() {
	th, v := r.c.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	word, role := "", base.ColorNameForeground
	if r.c.at >= 0 {
		word = r.c.short[r.c.at]
	}
	if r.c.disabled {
		role = base.ColorNameDisabled
	}
	r.word.put(word, role)
	if r.c.quiet && !r.c.focused && !r.c.hovered {
		r.mark.set("")
	} else {
		r.mark.set("▾")
	}
	r.box.CornerRadius = th.Size(base.SizeNameInputRadius)
	r.box.FillColor = th.Color(base.ColorNameInputBackground, v)
	edge, width := base.ColorNameSeparator, float32(1)
	switch {
	case r.c.focused:
		edge, width = base.ColorNamePrimary, 2
	case r.c.hovered || !r.c.quiet:
		edge = base.ColorNameInputBorder
	}
	if r.c.quiet && !r.c.focused && !r.c.hovered {
		r.box.FillColor = color.Transparent
	}
	r.box.StrokeColor, r.box.StrokeWidth = th.Color(edge, v), width
}

func (r *chooserRenderer) Layout(s fyne.Size) {
	pad := r.c.Theme().Size(base.SizeNameInnerPadding)
	r.box.Resize(s)
	m := r.mark.MinSize()
	if r.mark.text == "" {
		m.Width = 0
	}
	r.mark.Move(fyne.NewPos(s.Width-m.Width-pad+1, 0))
	r.mark.Resize(fyne.NewSize(m.Width, s.Height))
	r.word.Move(fyne.NewPos(pad, 0))
	r.word.Resize(fyne.NewSize(s.Width-m.Width-2*pad+1, s.Height))
}

func (r *chooserRenderer) MinSize() fyne.Size {
	th := r.c.Theme()
	pad := th.Size(base.SizeNameInnerPadding)
	wide := float32(20)
	if !r.c.quiet {
		for _, w := range r.c.short {
			wide = fyne.Max(wide, fyne.MeasureText(w, th.Size(base.SizeNameText), fyne.TextStyle{}).Width)
		}
	}
	m := r.mark.MinSize()
	return fyne.NewSize(wide+m.Width+2*pad+2, m.Height+2*pad)
}

func (r *chooserRenderer) Refresh() {
	r.look()
	r.Layout(r.c.Size())
	r.box.Refresh()
}
func (r *chooserRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *chooserRenderer) Destroy()                     {}
