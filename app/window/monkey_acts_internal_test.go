package window

import (
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"risewright/app/demo"
	"risewright/app/session"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/canvas"
	"risewright/view/panel"
)

// typedTexts are what the monkey types: figures, words, and what is neither.
var typedTexts = []string{
	"", "900", "36 5/16", "36,5", "89.5", "91°", "x", "-3", "0", "1e9", "2 mm/m", "3' 0 5/16\"", "½", "  ", "1:48",
	"999999 m", "4", "6", "Stair at number 9", "Straße", "stair.json", "a/b", "…", "new", "120 lm", "3 %", "1.234,5",
}

// likelyTexts are such as fields of one kind or the other take.
var likelyTexts = []string{"36 5/16\"", "918,5 mm", "91.2", "89° 30'", "1 mm/m", "3", "12", "0.5", "240 mm", "7 1/2\"", "25", "1", "2,5", "19 mm"}

var typedKeys = []fyne.KeyName{
	fyne.KeyReturn, fyne.KeyEnter, fyne.KeyUp, fyne.KeyDown, fyne.KeyEscape, fyne.KeyHome, fyne.KeyEnd, fyne.KeyLeft, fyne.KeyRight,
	fyne.KeySpace, fyne.KeyTab, fyne.KeyPageUp, fyne.KeyPageDown, fyne.KeyDelete, fyne.KeyBackspace, fyne.KeyF, fyne.KeyF10,
}

// makeFiles writes what can be opened and dropped: short stairs with bars and
// sensors, a demo job, and what is no job.
func (m *monkey) makeFiles() {
	for i, steps := range []int{3, 5} {
		base, err := tables.NewJob([]model.Units{model.Metric, model.Imperial}[i], nil)
		if err != nil {
			m.t.Fatal(err)
		}
		job := model.Sketch(model.SketchSpec{Risers: steps, Width: 900, Rise: 190, Going: 250, Base: base})
		job.Name = fmt.Sprintf("Stair of %d", steps)
		if i == 1 {
			job.Lighting = model.FirstLighting(job, m.config.Tables.Lights)
			job.Sensing = model.FirstSensing(job, m.config.Tables.Senses)
		}
		m.write(fmt.Sprintf("stair %d%s", steps, session.Extension), []byte(encoded(m.t, job)))
	}
	m.write("broken.json", []byte(`{"risewright_job": 1, "name": 7}`))
	m.write("empty.json", nil)
	m.files = append(m.files, m.root, filepath.Join(m.root, "gone.json"))
}

func (m *monkey) write(name string, data []byte) {
	path := filepath.Join(m.root, name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		m.t.Fatal(err)
	}
	m.files = append(m.files, path)
}

func (m *monkey) file() string { return m.files[m.rng.IntN(len(m.files))] }

// papers stands for what writes to a folder: it tells how far it is, may fail,
// and gives up when it is told to.
func (m *monkey) papers(ctx context.Context, dir string, _ *solver.Answer, tell func(float64, string)) ([]string, error) {
	for i := range 4 {
		tell(float64(i)/4, "sheet")
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(3 * time.Millisecond):
		}
	}
	if err := m.disk.may("open", filepath.Join(dir, "sheet.pdf")); err != nil {
		return nil, err
	}
	return []string{"sheet.pdf"}, nil
}

// keep stands for what writes a still.
func (m *monkey) keep(path string, _ image.Image, _ *model.Job, _ string) error {
	if err := m.disk.may("open", path); err != nil {
		return err
	}
	return os.WriteFile(path, []byte("picture"), 0o600)
}

func (m *monkey) keys() keyboard { return keyboard{m.t, m.w} }

// chooseAct does one thing to the window or to what is round it.
func (m *monkey) chooseAct() {
	top := m.w.win.Canvas().Overlays().Top()
	if top != nil && m.rng.IntN(4) > 0 { // a question is mostly answered
		switch m.rng.IntN(8) {
		case 0:
			m.say("Escape in a dialog")
			m.keys().stroke(fyne.KeyEscape, 0)
		case 1:
			m.typeKey()
		case 2:
			m.typeText()
		default:
			m.poke(top)
		}
		m.tally["dialogs"]++
		return
	}
	switch m.rng.IntN(40) {
	case 0, 1, 2, 3, 4, 5, 6:
		m.chooseFromMenu()
	case 7, 8, 9, 10:
		m.pressShortcut()
	case 11, 12, 13:
		m.typeKey()
	case 14, 15, 16:
		m.typeText()
	case 17:
		m.drop()
	case 18:
		m.touchFile()
	case 19:
		m.otherWindow()
	case 20:
		m.fillDisk()
	case 21:
		m.drag()
	case 22:
		sizes := []fyne.Size{{Width: 1280, Height: 800}, {Width: 1600, Height: 1000}, {Width: 800, Height: 500}, {Width: 320, Height: 200}}
		size := sizes[m.rng.IntN(len(sizes))]
		size = size.Max(m.w.win.Content().MinSize()) // less, no window can be
		m.say("the window is made %v", size)
		m.w.win.Resize(size)
	case 23:
		if m.rng.IntN(4) == 0 {
			m.say("the window is closed from outside")
			m.w.close() // whatever is open
		}
	case 24:
		m.tidy()
	case 25:
		m.orphan()
	case 26, 27, 28, 29, 30, 31, 32, 33:
		m.fillIn()
	default:
		m.poke(m.keys().top())
	}
}

// menuItem is something to choose, and what it is called with its menus.
type menuItem struct {
	*fyne.MenuItem
	path string
}

func (m *monkey) menuItems() (items []menuItem) {
	var walk func(*fyne.Menu, string)
	walk = func(menu *fyne.Menu, path string) {
		for _, i := range menu.Items {
			at := path + " > " + i.Label
			if i.ChildMenu != nil {
				walk(i.ChildMenu, at)
			} else if !i.IsSeparator && !i.Disabled && i.Action != nil {
				items = append(items, menuItem{i, at})
			}
		}
	}
	for _, menu := range m.w.win.MainMenu().Items {
		walk(menu, menu.Label)
	}
	return items
}

// chooseFromMenu does what an item of the menus does. On a Mac they can be
// reached while a dialog is open, so here they can, too.
func (m *monkey) chooseFromMenu() {
	items := m.menuItems()
	i := items[m.rng.IntN(len(items))]
	if i.IsQuit && m.rng.IntN(3) > 0 {
		return
	}
	m.say("menu %s", i.path)
	m.tally["menu"]++
	i.Action()
}

func (m *monkey) pressShortcut() {
	var all []menuItem
	for _, i := range m.menuItems() {
		if i.Shortcut != nil && !i.IsQuit {
			all = append(all, i)
		}
	}
	i := all[m.rng.IntN(len(all))]
	k, ok := i.Shortcut.(fyne.KeyboardShortcut)
	if !ok {
		m.t.Fatalf("%s has a shortcut that is no key", i.path)
	}
	m.say("shortcut of %s", i.path)
	m.tally["shortcut"]++
	m.keys().stroke(k.Key(), k.Mod())
}

func (m *monkey) typeKey() {
	k := typedKeys[m.rng.IntN(len(typedKeys))]
	mod := []fyne.KeyModifier{0, 0, 0, fyne.KeyModifierShift}[m.rng.IntN(4)]
	m.say("key %s %v at %T", k, mod, m.w.win.Canvas().Focused())
	m.tally["key"]++
	m.keys().stroke(k, mod)
}

func (m *monkey) typeText() {
	if m.rng.IntN(4) == 0 {
		r := []rune("hHlLnNwWsS+-1 ")[m.rng.IntN(14)]
		m.say("letter %q at %T", r, m.w.win.Canvas().Focused())
		m.keys().text(string(r))
		return
	}
	text := typedTexts[m.rng.IntN(len(typedTexts))]
	m.say("typing %q at %T", text, m.w.win.Canvas().Focused())
	m.tally["typed"]++
	m.keys().press("Ctrl+A")
	if text == "" {
		m.keys().stroke(fyne.KeyDelete, 0)
	}
	m.keys().text(text)
	if m.rng.IntN(2) == 0 && m.w.win.Canvas().Focused() != nil {
		m.keys().stroke(fyne.KeyReturn, 0)
	}
}

// poke taps something that is to be seen, or types into it, or turns the wheel
// over it.
func (m *monkey) poke(root fyne.CanvasObject) {
	var can []fyne.CanvasObject
	eachShown(root, func(o fyne.CanvasObject, _ fyne.Position) {
		if d, ok := o.(fyne.Disableable); ok && d.Disabled() {
			return
		}
		switch o.(type) {
		case fyne.Tappable, fyne.Focusable, fyne.DoubleTappable, fyne.SecondaryTappable:
			can = append(can, o)
		case fyne.Scrollable, desktop.Hoverable:
			if m.rng.IntN(6) == 0 {
				can = append(can, o)
			}
		}
	})
	if len(can) == 0 {
		m.say("nothing to poke")
		return
	}
	o := can[m.rng.IntN(len(can))]
	if m.rng.IntN(3) == 0 { // a button is one of many, and does the most
		if bs := buttonsOf(can); len(bs) > 0 {
			o = bs[m.rng.IntN(len(bs))]
		}
	}
	name, _ := ownName(o)
	m.say("poking %T %q", o, name)
	m.tally["poked"]++
	e := &fyne.PointEvent{Position: fyne.NewPos(o.Size().Width*m.rng.Float32(), o.Size().Height*m.rng.Float32())}
	over, hovers := o.(desktop.Hoverable)
	if hovers {
		over.MouseIn(&desktop.MouseEvent{PointEvent: *e})
		over.MouseMoved(&desktop.MouseEvent{PointEvent: *e})
	}
	switch n := m.rng.IntN(10); {
	case n < 6:
		if p, ok := o.(fyne.Tappable); ok {
			p.Tapped(e)
		}
	case n == 6:
		if p, ok := o.(fyne.DoubleTappable); ok {
			p.DoubleTapped(e)
		}
	case n == 7:
		if p, ok := o.(fyne.SecondaryTappable); ok {
			p.TappedSecondary(e)
		}
	case n == 8:
		if p, ok := o.(fyne.Scrollable); ok {
			p.Scrolled(&fyne.ScrollEvent{PointEvent: *e, Scrolled: fyne.NewDelta(0, 200*m.rng.Float32()-100)})
		}
	default:
		if f, ok := o.(fyne.Focusable); ok {
			m.w.win.Canvas().Focus(f)
			m.typeText()
		}
	}
	if hovers {
		over.MouseOut()
	}
}

// fillIn types a likely value into a field that is to be seen, and Enter.
func (m *monkey) fillIn() {
	var fields []*panel.Entry
	eachShown(m.keys().top(), func(o fyne.CanvasObject, _ fyne.Position) {
		if e, ok := o.(*panel.Entry); ok && !e.Disabled() {
			fields = append(fields, e)
		}
	})
	if len(fields) == 0 {
		return
	}
	m.w.win.Canvas().Focus(fields[m.rng.IntN(len(fields))])
	text := likelyTexts[m.rng.IntN(len(likelyTexts))]
	m.say("filling in %q", text)
	m.keys().press("Ctrl+A")
	m.keys().text(text)
	m.keys().stroke(fyne.KeyReturn, 0)
}

func buttonsOf(all []fyne.CanvasObject) (bs []fyne.CanvasObject) {
	for _, o := range all {
		switch o.(type) {
		case *widget.Button, *dialogButton:
			bs = append(bs, o)
		}
	}
	return bs
}

// drag pulls in a drawing, which may be painted first, so that it has handles.
func (m *monkey) drag() {
	var all []*canvas.Canvas
	eachShown(m.keys().top(), func(o fyne.CanvasObject, _ fyne.Position) {
		if c, ok := o.(*canvas.Canvas); ok {
			all = append(all, c)
		}
	})
	if len(all) == 0 {
		return
	}
	c := all[m.rng.IntN(len(all))]
	m.say("a drag in the %s", c.Name)
	paint(c)
	at := fyne.NewPos(c.Size().Width*m.rng.Float32(), c.Size().Height*m.rng.Float32())
	button := []desktop.MouseButton{desktop.MouseButtonPrimary, desktop.MouseButtonPrimary, desktop.MouseButtonTertiary}[m.rng.IntN(3)]
	press := &desktop.MouseEvent{Button: button}
	press.Position = at
	c.MouseDown(press)
	for range 3 {
		at = at.AddXY(60*m.rng.Float32()-30, 60*m.rng.Float32()-30)
		e := &fyne.DragEvent{}
		e.Position = at
		c.Dragged(e)
		paint(c)
		m.serve() // what comes back meanwhile
	}
	if m.rng.IntN(4) == 0 {
		c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	}
	press.Position = at
	c.MouseUp(press)
	c.DragEnd()
}

// paint draws one frame of a drawing, coarsely.
func paint(c *canvas.Canvas) {
	for _, o := range test.WidgetRenderer(c).Objects() {
		if r, ok := o.(*fcanvas.Raster); ok {
			r.Generator(int(c.Size().Width/2), int(c.Size().Height/2))
		}
	}
}

// drop drops a file or two on the window.
func (m *monkey) drop() {
	paths := []string{m.file()}
	if m.rng.IntN(5) == 0 {
		paths = append(paths, m.file())
	}
	m.say("dropping %s", strings.Join(paths, ", "))
	var files []fyne.URI
	for _, p := range paths {
		files = append(files, storage.NewFileURI(p))
	}
	if m.rng.IntN(12) == 0 {
		files[0], _ = storage.ParseURI("https://example.org/stair.json")
	}
	m.w.dropped(files)
}

// touchFile writes or removes the job's file, or another, as another program
// does.
func (m *monkey) touchFile() {
	path := m.w.session.Path()
	if path == "" || m.rng.IntN(3) == 0 {
		path = m.files[m.rng.IntN(2)]
	}
	m.touched[path] = true
	switch m.rng.IntN(4) {
	case 0:
		m.say("another program removes %s", path)
		os.Remove(path)
	case 1:
		m.say("another program spoils %s", path)
		os.WriteFile(path, []byte("{"), 0o600)
	default:
		m.say("another program writes %s", path)
		name := demo.Names()[m.rng.IntN(len(demo.Names()))]
		if m.rng.IntN(2) == 0 {
			name = firstDemo
		}
		s, err := m.config.demo(name)
		if err != nil {
			m.t.Fatal(err)
		}
		os.WriteFile(path, []byte(encoded(m.t, s.Job())), 0o600)
		s.Close()
	}
}

// otherWindow opens a file in another window, has that change and save it, or
// closes it.
func (m *monkey) otherWindow() {
	if n := len(m.others); n > 0 && m.rng.IntN(2) == 0 {
		o := m.others[n-1]
		if m.rng.IntN(2) == 0 {
			m.say("another window saves %s", o.Path())
			e := model.DetailsOf(o.Job())
			e.Name += "!"
			_ = o.Do(e)
			_, _ = o.Save()
			m.touched[o.Path()] = true
			return
		}
		m.say("another window closes %s", o.Path())
		o.Session.Close()
		m.others = m.others[:n-1]
		return
	}
	if len(m.others) > 2 {
		return
	}
	path := m.files[m.rng.IntN(2)]
	if p := m.w.session.Path(); p != "" && m.rng.IntN(2) == 0 {
		path = p
	}
	m.say("another window opens %s", path)
	o, err := m.config.home().Open(path, m.rng.IntN(4) == 0)
	if err != nil {
		return
	}
	_, unlocked := m.disk.refused.Load(filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".open"))
	if m.w.session.Has(path) && !unlocked {
		m.t.Errorf("%s is open twice", path)
	}
	m.others = append(m.others, o)
}

// fillDisk fills the disk, or makes room again.
func (m *monkey) fillDisk() {
	full := !m.disk.full.Load() && m.rng.IntN(3) == 0
	m.say("the disk is full: %v", full)
	m.disk.full.Store(full)
}

// orphan leaves work behind as a window does that is killed: a copy of this one's
// journal.
func (m *monkey) orphan() {
	dir := filepath.Join(m.root, "journals")
	names, _ := filepath.Glob(filepath.Join(dir, "*.journal"))
	if len(names) == 0 || len(names) > 4 {
		return
	}
	m.say("a window is killed")
	_ = m.w.session.Flush()
	data, err := os.ReadFile(names[m.rng.IntN(len(names))])
	if err != nil {
		m.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%016x.journal", m.rng.Uint64())), data, 0o600); err != nil {
		m.t.Fatal(err)
	}
}

// escape presses Escape as somebody does who wants out of a dialog.
func (m *monkey) escape() {
	m.keys().stroke(fyne.KeyEscape, 0)
	m.serve()
}

// tidy leaves all dialogs by Escape, which must get out of every one, wherever
// the keyboard is in it.
func (m *monkey) tidy() {
	o := m.w.win.Canvas().Overlays()
	if o.Top() == nil {
		return
	}
	m.say("Escape out of all dialogs")
	const most = 40
	for range most {
		if o.Top() == nil || m.closed {
			return
		}
		m.escape()
	}
	if top := o.Top(); top != nil {
		m.t.Errorf("Escape does not leave %T, the keyboard at %T:\n%s", top, m.w.win.Canvas().Focused(), test.RenderObjectToMarkup(top))
	}
}
