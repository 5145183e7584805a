package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/view/words"
)

// newButton returns a button that works with Enter as well as with Space.
func newButton(text string, do func()) *button {
	b := &button{}
	b.Text, b.OnTapped = words.Say(text), do
	b.ExtendBaseWidget(b)
	return b
}

type button struct{ widget.Button }

// TypedKey implements fyne.Focusable.
func (b *button) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter {
		k = &fyne.KeyEvent{Name: fyne.KeySpace}
	}
	b.Button.TypedKey(k)
}

// FocusGained implements fyne.Focusable.
func (b *button) FocusGained() {
	b.Button.FocusGained()
	toSight(b)
}

// say changes a button's text and whether it can be pressed.
func (b *button) say(text string, on bool) {
	if text = words.Say(text); b.Text != text {
		b.SetText(text)
	}
	if on == b.Disabled() {
		if on {
			b.Enable()
		} else {
			b.Disable()
		}
	}
}

// padded keeps an object clear of its neighbours at left and right.
func padded(o fyne.CanvasObject) fyne.CanvasObject {
	return container.New(&gap{x: 6}, o)
}

// gap is a layout that leaves room round one object.
type gap struct{ x, y float32 }

// Layout implements fyne.Layout.
func (g *gap) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.NewPos(g.x, g.y))
		o.Resize(fyne.NewSize(s.Width-2*g.x, s.Height-2*g.y))
	}
}

// MinSize implements fyne.Layout.
func (g *gap) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.Size{}
	for _, o := range objects {
		s = s.Max(o.MinSize())
	}
	return s.AddWidthHeight(2*g.x, 2*g.y)
}
