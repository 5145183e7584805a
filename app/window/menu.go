package window

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"risewright/assets"
	"risewright/model"
	"risewright/view/panel"
	"risewright/view/theme"
	"risewright/view/words"
)

// menu is the main menu, and those of its items that change.
type menu struct {
	w    *window
	main *fyne.MainMenu

	undo, redo       *fyne.MenuItem
	recent           *fyne.MenuItem
	imperial, metric *fyne.MenuItem
	looks            []*fyne.MenuItem
	times            []*fyne.MenuItem
	dimensions       *fyne.MenuItem
	letters, tongues []*fyne.MenuItem
	said             string // what the items said when last refreshed
}

func key(k fyne.KeyName, m fyne.KeyModifier) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: k, Modifier: m}
}

const (
	ctrl  = fyne.KeyModifierShortcutDefault
	shift = fyne.KeyModifierShift
	alt   = fyne.KeyModifierAlt
)

func item(label string, s fyne.Shortcut, do func()) *fyne.MenuItem {
	i := fyne.NewMenuItem(label, do)
	i.Shortcut = s
	return i
}

// looks and times are what the View menu offers.
var (
	lookModes = [...]theme.Mode{theme.System, theme.Light, theme.Dark}
	times     = [...]float64{1, 5, 10}
)

func newMenu(w *window) *menu {
	m := &menu{w: w}
	m.recent = fyne.NewMenuItem("Open recent", nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	sheets := item("Write papers…", key(fyne.KeyP, ctrl), w.free(w.writeSheets))
	sheets.Disabled = w.config.Sheets == nil
	templates := item("Write templates…", key(fyne.KeyT, ctrl), w.free(w.writeTemplates))
	templates.Disabled = w.config.Templates == nil
	drawings := fyne.NewMenuItem("Write drawings and answer…", w.free(w.writeDrawings))
	drawings.Disabled = w.config.Drawings == nil
	picture := fyne.NewMenuItem("Make a still…", w.free(w.stillOfJob))
	picture.Disabled = w.config.Still == nil
	quit := item("Quit", key(fyne.KeyQ, ctrl), w.free(w.close))
	quit.IsQuit = true
	file := fyne.NewMenu("File",
		item("New…", key(fyne.KeyN, ctrl), w.free(w.newJob)),
		item("Open…", key(fyne.KeyO, ctrl), w.free(w.open)),
		m.recent,
		fyne.NewMenuItem("Open a demo job", nil),
		fyne.NewMenuItemSeparator(),
		item("Save", key(fyne.KeyS, ctrl), w.free(func() { w.save(nil) })),
		item("Save as…   ", key(fyne.KeyS, ctrl|shift), w.free(func() { w.saveAs(nil) })),
		fyne.NewMenuItem("Earlier versions…", w.free(w.showVersions)),
		fyne.NewMenuItem("Unsaved work…", w.free(w.showUnsaved)),
		fyne.NewMenuItemSeparator(),
		sheets, templates, drawings, picture,
		fyne.NewMenuItemSeparator(),
		quit)
	file.Items[3].ChildMenu = w.demoMenu()

	m.undo = item("Undo", &fyne.ShortcutUndo{}, w.undo)
	m.redo = item("Redo", &fyne.ShortcutRedo{}, w.redo)
	// the other usual key for it; a menu item has room for one
	w.win.Canvas().AddShortcut(key(fyne.KeyZ, ctrl|shift), func(fyne.Shortcut) { w.redo() })
	edit := fyne.NewMenu("Edit", m.undo, m.redo,
		fyne.NewMenuItemSeparator(),
		item("Set reading aside, or use it again", key(fyne.KeyE, ctrl), w.bench.Readings.Aside),
		fyne.NewMenuItemSeparator(),
		item("Go to what comes next", key(fyne.KeyG, ctrl), func() {
			_, where := panel.NextStep(w.session.Answer(), w.desk.Findings())
			w.desk.GoTo(where)
		}))

	m.imperial = fyne.NewMenuItem("Imperial", func() { w.setUnits(model.Imperial) })
	m.metric = fyne.NewMenuItem("Metric", func() { w.setUnits(model.Metric) })
	units := fyne.NewMenuItem("Units", nil)
	units.ChildMenu = fyne.NewMenu("", m.imperial, m.metric)
	look := fyne.NewMenuItem("Appearance", nil)
	look.ChildMenu = fyne.NewMenu("")
	for _, mode := range lookModes {
		i := fyne.NewMenuItem(strings.ToUpper(string(mode)[:1])+string(mode)[1:], func() { w.setLook(mode) })
		m.looks = append(m.looks, i)
		look.ChildMenu.Items = append(look.ChildMenu.Items, i)
	}
	exaggerate := fyne.NewMenuItem("Exaggerate out of square", nil)
	exaggerate.ChildMenu = fyne.NewMenu("")
	for _, k := range times {
		i := fyne.NewMenuItem(fmt.Sprintf("×%g", k), func() {
			v := w.desk.View()
			v.Exaggerate = k
			w.desk.SetView(v)
		})
		m.times = append(m.times, i)
		exaggerate.ChildMenu.Items = append(exaggerate.ChildMenu.Items, i)
	}
	m.dimensions = item("Dimensions", key(fyne.KeyD, ctrl), func() {
		v := w.desk.View()
		v.Dimensions = !v.Dimensions
		w.desk.SetView(v)
	})
	room := fyne.NewMenuItem("Room for each part", nil)
	room.ChildMenu = fyne.NewMenu("",
		item("Wider drawings", key(fyne.KeyRight, alt), func() { w.bench.Share(1, 0) }),
		item("Narrower drawings", key(fyne.KeyLeft, alt), func() { w.bench.Share(-1, 0) }),
		item("Upper part taller", key(fyne.KeyDown, alt), func() { w.bench.Share(0, 1) }),
		item("Upper part shorter", key(fyne.KeyUp, alt), func() { w.bench.Share(0, -1) }),
		fyne.NewMenuItemSeparator(),
		item("Panel a page down", key(fyne.KeyPageDown, alt), func() { w.bench.Page(1) }),
		item("Panel a page up", key(fyne.KeyPageUp, alt), func() { w.bench.Page(-1) }))
	view := fyne.NewMenu("View",
		item("Fit", key(fyne.KeyF, 0), w.bench.Fit), m.dimensions, exaggerate,
		fyne.NewMenuItemSeparator(),
		item("Readings", key(fyne.Key1, ctrl), func() { w.bench.ShowTab(0) }),
		item("Card", key(fyne.Key2, ctrl), func() { w.bench.ShowTab(1) }),
		item("Build-up", key(fyne.Key3, ctrl), func() { w.bench.ShowTab(2) }),
		item("Job", key(fyne.Key4, ctrl), func() { w.bench.ShowTab(3) }),
		item("Order", key(fyne.Key8, ctrl), func() { w.bench.ShowTab(4) }),
		item("Buy", key(fyne.Key9, ctrl), func() { w.bench.ShowTab(7) }),
		item("Lights", key(fyne.KeyL, ctrl), func() { w.bench.ShowTab(5) }),
		item("Sensors", key(fyne.KeyM, ctrl), func() { w.bench.ShowTab(6) }),
		item("Picture", key(fyne.KeyI, ctrl), func() { w.bench.ShowTab(8) }),
		item("Findings", key(fyne.Key5, ctrl), w.bench.Findings.FocusFirst),
		item("Plan", key(fyne.Key6, ctrl), func() { w.win.Canvas().Focus(w.bench.Plan) }),
		item("Section", key(fyne.Key7, ctrl), func() { w.win.Canvas().Focus(w.bench.Section) }),
		item("Whole flight", key(fyne.Key0, ctrl), func() { w.desk.Choose(0) }),
		item("Next step up", key(fyne.KeyPageUp, ctrl), func() { w.desk.Choose(w.desk.Step() + 1) }),
		item("Next step down", key(fyne.KeyPageDown, ctrl), func() { w.desk.Choose(w.desk.Step() - 1) }),
		fyne.NewMenuItemSeparator(), room, units, look, m.lettersMenu(), m.tongueMenu())
	help := fyne.NewMenu("Help",
		item("Pages and words", key(fyne.KeyH, ctrl), w.free(w.showPages)),
		fyne.NewMenuItem("Tour on a demo job", w.free(w.tourOnDemo)),
		fyne.NewMenuItem("Keys", w.showKeys),
		fyne.NewMenuItem("Cautions", w.showCautions),
		fyne.NewMenuItem("About Risewright", w.about))
	m.main = fyne.NewMainMenu(file, edit, view, help)
	for _, menu := range m.main.Items {
		sayMenu(menu)
	}
	return m
}

// tell brings the items up to date, and the menu only when one has changed.
func (m *menu) tell() {
	w := m.w
	name := func(verb, label string) string { return words.Say(strings.TrimSpace(verb + " " + label)) }
	m.undo.Label, m.undo.Disabled = name("Undo", w.session.UndoLabel()), w.session.UndoLabel() == ""
	m.redo.Label, m.redo.Disabled = name("Redo", w.session.RedoLabel()), w.session.RedoLabel() == ""
	imperial := w.session.Job().Units == model.Imperial
	m.imperial.Checked, m.metric.Checked = imperial, !imperial
	mode := w.look()
	for i, k := range lookModes {
		m.looks[i].Checked = k == mode
	}
	for i, k := range times {
		m.times[i].Checked = k == w.desk.View().Exaggerate
	}
	m.dimensions.Checked = w.desk.View().Dimensions
	for i, k := range letterSizes {
		m.letters[i].Checked = float32(k) == w.letters()
	}
	for i, l := range assets.Languages() {
		m.tongues[i].Checked = l.Code == w.language()
	}
	recent := w.recent()
	said := fmt.Sprint(m.undo.Label, m.redo.Label, imperial, mode, w.desk.View(), recent)
	if said == m.said {
		return
	}
	m.said = said
	m.recent.ChildMenu.Items = nil
	for _, path := range recent {
		m.recent.ChildMenu.Items = append(m.recent.ChildMenu.Items, fyne.NewMenuItem(filepath.Base(path)+"   "+filepath.Dir(path), func() {
			w.ifSaved(func() { w.openPath(path) })
		}))
	}
	m.recent.Disabled = len(recent) == 0
	m.main.Refresh()
}

// setUnits changes how lengths are shown and bare numbers read.
func (w *window) setUnits(u model.Units) {
	e := model.DetailsOf(w.session.Job())
	if e.Units == u {
		return
	}
	e.Units = u
	_ = w.desk.Do(e) // an error has been shown
}

// look returns the appearance chosen.
func (w *window) look() theme.Mode {
	if t, ok := w.app.Settings().Theme().(*theme.Theme); ok {
		return t.Mode()
	}
	return theme.System
}

func (w *window) setLook(m theme.Mode) {
	w.app.Preferences().SetString(keyLook, string(m))
	w.app.Settings().SetTheme(theme.New(m).Scaled(w.letters()))
	w.tell()
}
