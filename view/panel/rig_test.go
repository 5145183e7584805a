package panel_test

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"go.uber.org/goleak"

	"risewright/app/session"
	"risewright/app/tables"
	"risewright/assets"
	"risewright/model"
	"risewright/solver"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/panel"
	"risewright/view/theme"
)

// noon is when every test takes its readings.
var noon = time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)

// rig is the panels in a window of the test driver, on a real session.
type rig struct {
	t        testing.TB
	s        *session.Session
	previews int // how often a drag was solved
	d        *panel.Desk
	b        *panel.Bench
	w        fyne.Window
	later    []func() // searches not yet run
	errs     []error  // shown to the user
}

// Preview counts the solves of a drag.
func (r *rig) Preview(e model.Edit) (*solver.Answer, error) {
	r.previews++
	return r.s.Preview(e)
}

func (r *rig) Job() model.Job         { return r.s.Job() }
func (r *rig) Answer() *solver.Answer { return r.s.Answer() }
func (r *rig) Tables() model.Tables   { return r.s.Tables() }
func (r *rig) Now() time.Time         { return r.s.Now() }
func (r *rig) Do(e model.Edit) error  { return r.s.Do(e) }

func newRig(t testing.TB, job model.Job) *rig {
	t.Helper()
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(theme.New(theme.Light))
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	r := &rig{t: t, s: session.New(pub, job, func() time.Time { return noon })}
	r.d = panel.NewDesk(r)
	r.d.Complain = func(err error) { r.errs = append(r.errs, err) }
	r.d.Later = func(work, then func()) { r.later = append(r.later, func() { work(); then() }) }
	r.b = panel.NewBench(r.d)
	r.w = test.NewTempWindow(t, r.b.Object())
	r.d.Canvas = r.w.Canvas()
	r.w.Resize(fyne.NewSize(1280, 800))
	r.frame()
	return r
}

// density is the pixels of a frame to a fyne unit: coarse, so that the tests
// are quick.
const density = 0.5

// frame draws one frame of both drawings, as the window does before it shows
// them. The rest of the window needs no painter to be tested.
func (r *rig) frame() {
	for _, c := range []*canvas.Canvas{r.b.Plan, r.b.Section} {
		frameOf(r.t, c)(int(c.Size().Width*density), int(c.Size().Height*density))
	}
}

// frameOf returns what draws one frame of a canvas.
func frameOf(t testing.TB, c *canvas.Canvas) func(w, h int) {
	for _, o := range test.WidgetRenderer(c).Objects() {
		if r, ok := o.(*fcanvas.Raster); ok {
			return func(w, h int) { r.Generator(w, h) }
		}
	}
	t.Fatal("the canvas has no raster")
	return nil
}

func demoJob(t testing.TB, name string) model.Job {
	t.Helper()
	job := shippedJob(t, name)
	// A test puts in the light bars and sensors that it wants.
	job.Lighting, job.Sensing = model.Lighting{}, model.Sensing{}
	return job
}

// shippedJob is a demo job as it is shipped, with its light bars and sensors.
func shippedJob(t testing.TB, name string) model.Job {
	t.Helper()
	data, err := assets.DemoJob(name)
	if err != nil {
		t.Fatal(err)
	}
	job, err := model.Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// smallJob is a metric sketch of n risers without a reading.
func smallJob(t testing.TB, n int) model.Job {
	t.Helper()
	base, err := tables.NewJob(model.Metric, nil)
	if err != nil {
		t.Fatal(err)
	}
	return model.Sketch(model.SketchSpec{Risers: n, Width: 900, Rise: 190, Going: 250, Base: base})
}

// typed types text into whatever has the keyboard, over what stands there.
func (r *rig) typed(text string) {
	r.t.Helper()
	on := r.w.Canvas().Focused()
	if on == nil {
		r.t.Fatal("nothing has the keyboard")
	}
	if e, ok := on.(*panel.Entry); ok {
		e.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	if text == "" {
		r.key(fyne.KeyDelete)
	}
	for _, c := range text {
		on.TypedRune(c)
	}
}

func (r *rig) key(k fyne.KeyName) {
	r.t.Helper()
	on := r.w.Canvas().Focused()
	if on == nil {
		r.t.Fatalf("nothing has the keyboard for %s", k)
	}
	on.TypedKey(&fyne.KeyEvent{Name: k})
}

// shiftKey presses a key with Shift held.
func (r *rig) shiftKey(k fyne.KeyName) {
	r.t.Helper()
	on := r.w.Canvas().Focused()
	press := &fyne.KeyEvent{Name: desktop.KeyShiftLeft}
	if s, ok := on.(desktop.Keyable); ok {
		s.KeyDown(press)
	}
	r.key(k)
	if s, ok := on.(desktop.Keyable); ok {
		s.KeyUp(press)
	}
}

// text is what the field with the keyboard shows.
func (r *rig) text() string {
	r.t.Helper()
	e, ok := r.w.Canvas().Focused().(*panel.Entry)
	if !ok {
		r.t.Fatalf("the keyboard is at %T, not in a field", r.w.Canvas().Focused())
	}
	return e.Text
}

// readings of step n, counted from 1; 0 is the whole flight.
func (r *rig) readings(n int) []model.Reading {
	if n == 0 {
		return r.s.Job().Flight.Readings
	}
	return r.s.Job().Flight.Steps[n-1].Readings
}

// press, pull and release are a drag with the left button, in pixels.
func press(c *canvas.Canvas, at drawing.Point) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = c.Place(at)
	c.MouseDown(e)
}

func pull(c *canvas.Canvas, at drawing.Point) {
	e := &fyne.DragEvent{}
	e.Position = c.Place(at)
	c.Dragged(e)
}

func release(c *canvas.Canvas, at drawing.Point) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = c.Place(at)
	c.MouseUp(e)
	c.DragEnd()
}

// endsAlone fails a test that leaves a goroutine which was not there when it
// began. It is called first: what is cleaned up later is cleaned up before it
// looks, and windows are closed by then.
func endsAlone(t testing.TB) {
	before := goleak.IgnoreCurrent()
	t.Cleanup(func() {
		if err := newcomers(before); err != nil {
			t.Error(err)
		}
	})
}

// newcomers gives goroutines two minutes to end that were not there before, and
// tells of those that are left, with their stacks.
func newcomers(before goleak.Option) error {
	var err error
	for range 240 { // each of about half a second
		if err = goleak.Find(before); err == nil {
			return nil
		}
	}
	return err
}
