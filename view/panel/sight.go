package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Whatever gets the keyboard is brought into sight: Tab also goes to what has
// been scrolled away, and fyne leaves it there.

// toSight scrolls what has just got the keyboard into sight.
func toSight(o fyne.CanvasObject) {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if c == nil {
		return
	}
	root := c.Content()
	if top := c.Overlays().Top(); top != nil {
		root = top
	}
	for _, s := range scrollsOver(root, o) {
		reveal(s, o)
	}
}

// scrollsOver returns the scrolls that hold an object below root, the outermost
// first.
func scrollsOver(root, o fyne.CanvasObject) []*container.Scroll {
	scrolls, _ := holding(root, o)
	return scrolls
}

func holding(at, o fyne.CanvasObject) (scrolls []*container.Scroll, found bool) {
	if at == o {
		return nil, true
	}
	if at == nil || !at.Visible() {
		return nil, false
	}
	s, scroll := at.(*container.Scroll)
	for _, part := range partsOf(at) {
		if below, ok := holding(part, o); ok {
			if scroll {
				below = append([]*container.Scroll{s}, below...)
			}
			return below, true
		}
	}
	return nil, false
}

// partsOf returns what stands in an object, for the kinds that the panels are
// made of.
func partsOf(o fyne.CanvasObject) []fyne.CanvasObject {
	switch x := o.(type) {
	case *fyne.Container:
		return x.Objects
	case *container.Scroll:
		return []fyne.CanvasObject{x.Content}
	case *container.Split:
		return []fyne.CanvasObject{x.Leading, x.Trailing}
	case *container.AppTabs:
		if i := x.Selected(); i != nil {
			return []fyne.CanvasObject{i.Content}
		}
	}
	return nil
}

// scrollIn returns the first scroll of several lines at or below an object, or
// nil.
func scrollIn(o fyne.CanvasObject) *container.Scroll {
	if o == nil || !o.Visible() {
		return nil
	}
	if s, ok := o.(*container.Scroll); ok && s.Direction != container.ScrollHorizontalOnly {
		return s
	}
	for _, part := range partsOf(o) {
		if s := scrollIn(part); s != nil {
			return s
		}
	}
	return nil
}

// Page scrolls the panel at the front by so many of its heights.
func (b *Bench) Page(n float32) {
	at := b.desk.tabs.at.Selected()
	if at == nil {
		return
	}
	s := scrollIn(at.Content)
	if s == nil || s.Content == nil {
		return
	}
	most := max(0, s.Content.MinSize().Height-s.Size().Height)
	s.ScrollToOffset(fyne.NewPos(s.Offset.X, max(0, min(most, s.Offset.Y+n*0.9*s.Size().Height))))
}

// shareStep is how far a key moves the line between two parts of the window, of
// their size together.
const shareStep = 0.04

// Share moves the line between the drawings and the panels to the right by x
// steps. It moves the line below the part that has the keyboard down by y: that
// between plan and section for a drawing, or that above the findings.
func (b *Bench) Share(x, y float64) {
	move := func(s *container.Split, n float64) {
		if n != 0 {
			s.SetOffset(max(0.1, min(0.9, s.Offset+n*shareStep)))
		}
	}
	move(b.across, x)
	on, _ := b.desk.Canvas.Focused().(fyne.CanvasObject)
	if on == b.Plan || on == b.Section {
		move(b.drawings, y)
		return
	}
	move(b.right, y)
}
