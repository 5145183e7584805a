package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/view/theme"
)

// columns lays objects out side by side in a row: each column has its least
// width and a share of what is left over. Hidden objects keep their column, so
// that rows stay in line.
type columns struct {
	least []float32
	share []float32
	gap   float32
}

var _ fyne.Layout = (*columns)(nil)

// row returns a container of objects laid out in the columns.
func (c *columns) row(objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(c, objects...)
}

// letterScale returns how many times as large as usual letters are.
func letterScale() float32 { return theme.ScaleOf(fyne.CurrentApp().Settings().Theme()) }

// widths returns the width of every column in a row of width w.
func (c *columns) widths(w float32) []float32 {
	k := letterScale()
	out := make([]float32, len(c.least))
	left, shares := w-c.gap*float32(len(c.least)-1), float32(0)
	for i := range c.least {
		left -= k * c.least[i]
		shares += c.share[i]
	}
	for i := range out {
		out[i] = k * c.least[i]
		if left > 0 && shares > 0 {
			out[i] += left * c.share[i] / shares
		}
	}
	return out
}

// Layout implements fyne.Layout.
func (c *columns) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	x := float32(0)
	for i, w := range c.widths(s.Width) {
		if i < len(objects) {
			objects[i].Move(fyne.NewPos(x, 0))
			objects[i].Resize(fyne.NewSize(w, s.Height))
		}
		x += w + c.gap
	}
}

// MinSize implements fyne.Layout.
func (c *columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.NewSize(c.gap*float32(len(c.least)-1), 0)
	k := letterScale()
	for i := range c.least {
		s.Width += k * c.least[i]
	}
	for _, o := range objects {
		s.Height = fyne.Max(s.Height, o.MinSize().Height)
	}
	return s
}

// stack lays objects out below each other, as wide as it is, gap apart.
type stack struct{ gap float32 }

var _ fyne.Layout = (*stack)(nil)

// Layout implements fyne.Layout.
func (k *stack) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := o.MinSize().Height
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(s.Width, h))
		y += h + k.gap
	}
}

// MinSize implements fyne.Layout.
func (k *stack) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s, n := fyne.Size{}, 0
	for _, o := range objects {
		if o.Visible() {
			m := o.MinSize()
			s.Width, s.Height, n = max(s.Width, m.Width), s.Height+m.Height, n+1
		}
	}
	s.Height += k.gap * float32(max(0, n-1))
	return s
}

// holdAll puts objects into a box in place of what is there, all at once: each
// Add would lay out all that came before it.
func holdAll(box *fyne.Container, objects []fyne.CanvasObject) {
	box.Objects = objects
	box.Refresh()
}
