package canvas

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/theme"
)

// Canvas shows a Scene. Make one with New.
type Canvas struct {
	widget.BaseWidget

	// Name is what the drawing is called when it has the keyboard.
	Name string
	// Gained is called when it gets the keyboard; nil does nothing.
	Gained func()
	// Least is the smallest size it asks for.
	Least fyne.Size

	scene Scene
	hand  Hand // scene, if it can be touched

	view    drawing.Viewport
	fitted  bool // the view shows everything and follows the size
	width   int  // pixels of the last frame
	height  int
	density float64 // pixels per fyne unit at the last frame

	list   drawing.List
	paint  screen.Renderer
	image  *image.RGBA
	raster *fcanvas.Raster

	gesture gesture
	keys    keyHold
	hovered bool // a handle lies under the pointer
	focused bool
	frames  int // drawn so far, for tests and benchmarks
}

// New returns a canvas of a scene. A scene that is a Hand can be touched.
func New(name string, s Scene) *Canvas {
	c := &Canvas{Name: name, scene: s, fitted: true, density: 1, Least: fyne.NewSize(160, 90)}
	c.hand, _ = s.(Hand)
	c.raster = fcanvas.NewRaster(c.frame)
	c.raster.ScaleMode = fcanvas.ImageScalePixels
	c.ExtendBaseWidget(c)
	return c
}

// Redraw shows the scene anew with the next frame.
func (c *Canvas) Redraw() { c.raster.Refresh() }

// Fit shows everything, now and when the size changes.
func (c *Canvas) Fit() {
	c.fitted = true
	c.Redraw()
}

// Zoom enlarges by a factor about the middle.
func (c *Canvas) Zoom(factor float64) {
	c.zoomAt(drawing.Point{X: float64(c.width) / 2, Y: float64(c.height) / 2}, factor)
}

// View returns the viewport of the last frame.
func (c *Canvas) View() drawing.Viewport { return c.view }

// Frames returns how many frames have been drawn.
func (c *Canvas) Frames() int { return c.frames }

// Place returns where a pixel lies in the canvas's own units.
func (c *Canvas) Place(px drawing.Point) fyne.Position {
	return fyne.NewPos(float32(px.X/c.density), float32(px.Y/c.density))
}

// frame draws one frame of w by h pixels.
func (c *Canvas) frame(w, h int) image.Image {
	if w < 1 || h < 1 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	if c.image == nil || c.image.Rect.Dx() != w || c.image.Rect.Dy() != h {
		c.image = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	if size := c.raster.Size(); size.Width > 0 {
		c.density = float64(w) / float64(size.Width)
	}
	// Lettering grows less than the panels': a drawing has to hold it, and can
	// be zoomed.
	letters := 1 + 0.6*(float64(theme.ScaleOf(c.Theme()))-1)
	paper := drawing.PaperScale(c.density * letters)
	switch {
	case c.fitted:
		c.view = c.scene.Fit(float64(w), float64(h), paper)
	case c.width > 0 && (w != c.width || h != c.height):
		// the middle stays in the middle
		c.view = c.view.Pan(float64(w-c.width)/2, float64(h-c.height)/2)
	}
	c.view.Paper = paper
	c.width, c.height = w, h
	c.list.Reset()
	c.scene.Draw(&c.list, c.view)
	c.ring(&c.list)
	settings := fyne.CurrentApp().Settings()
	palette := theme.PaletteOf(c.Theme(), settings.ThemeVariant())
	if s, ok := c.scene.(Inked); ok {
		palette = s.Inks(palette)
	}
	c.paint.Draw(c.image, &c.list, c.view, palette)
	c.frames++
	return c.image
}

// The zoom is held between these, in pixels per scene millimetre, and a notch
// of a wheel or a press of a key is a fifth of a doubling, near enough.
const (
	leastScale = 0.002
	mostScale  = 80
	notch      = 1.15
	keyStep    = 1.25
)

func (c *Canvas) zoomAt(at drawing.Point, factor float64) {
	if c.view.Scale <= 0 {
		return
	}
	if s := c.view.Scale * factor; s < leastScale || s > mostScale {
		return
	}
	c.fitted = false
	c.view = c.view.Zoom(at, factor)
	c.Redraw()
}

func (c *Canvas) pan(dx, dy float64) {
	c.fitted = false
	c.view = c.view.Pan(dx, dy)
	c.Redraw()
}

// MinSize implements fyne.CanvasObject.
func (c *Canvas) MinSize() fyne.Size { return c.Least }

// CreateRenderer implements fyne.Widget.
func (c *Canvas) CreateRenderer() fyne.WidgetRenderer {
	edge := fcanvas.NewRectangle(color.Transparent)
	edge.StrokeWidth = 2
	r := &renderer{c: c, edge: edge, objects: []fyne.CanvasObject{c.raster, edge}}
	r.look()
	return r
}

// renderer lays the edge that shows where the keyboard is over the drawing.
type renderer struct {
	c       *Canvas
	edge    *fcanvas.Rectangle
	objects []fyne.CanvasObject
}

func (r *renderer) look() {
	name := base.ColorNameSeparator
	r.edge.StrokeWidth = 1
	if r.c.focused {
		name, r.edge.StrokeWidth = base.ColorNamePrimary, 2
	}
	r.edge.StrokeColor = r.c.Theme().Color(name, fyne.CurrentApp().Settings().ThemeVariant())
}

func (r *renderer) Layout(s fyne.Size) {
	r.c.raster.Resize(s)
	r.edge.Resize(s)
}
func (r *renderer) MinSize() fyne.Size           { return r.c.Least }
func (r *renderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *renderer) Destroy()                     {}

// Refresh follows a change of theme or focus.
func (r *renderer) Refresh() {
	r.look()
	r.edge.Refresh()
	r.c.raster.Refresh()
}
