package window

import (
	"fmt"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/model"
	"risewright/view/panel"
	"risewright/view/theme"
)

// The size of a window opened for the first time.
const (
	firstWidth  = 1280
	firstHeight = 800
)

// restFor is how long the job must have stayed as it is before its work is
// planned: shorter than anybody waits on purpose, longer than a pause between
// two keys.
const restFor = 300 * time.Millisecond

// frameFor is the time from frame to frame of what moves by itself.
const frameFor = 40 * time.Millisecond

// Keys of what is remembered between runs.
const (
	keyRecent = "recent"
	keyLook   = "appearance"
	keyText   = "letters" // how many times as large
	keyTongue = "language"
)

// window is the one window of the program.
type window struct {
	app    fyne.App
	config Config
	win    fyne.Window

	session *session.Session
	desk    *panel.Desk
	bench   *panel.Bench
	menu    *menu
	shown   []dialog.Dialog // those that are open, the topmost last
	writing *writing        // nil when nothing is being written
	unsafe  bool            // the last change is not in the journal, and that has been said
}

// do does something on the goroutine of the interface, from beside it.
func (w *window) do(f func()) {
	if w.config.do != nil {
		w.config.do(f)
		return
	}
	fyne.Do(f)
}

func newWindow(a fyne.App, c Config, s *session.Session) *window {
	w := &window{app: a, config: c, session: s, win: a.NewWindow("Risewright")}
	w.heed(s)
	w.speak()
	w.build()
	w.win.SetPadded(false)
	w.win.Resize(fyne.NewSize(firstWidth, firstHeight))
	w.win.SetMaster()
	w.win.SetCloseIntercept(w.close)
	w.heedDrops()
	if s.Path() != "" {
		w.remember(s.Path())
	}
	w.tell()
	w.win.Canvas().Focus(w.bench.Plan)
	return w
}

// build fills the window with what it shows, anew when letters or language
// change. The job and its history stay.
func (w *window) build() {
	p := w.app.Preferences()
	look := theme.Mode(p.StringWithFallback(keyLook, string(theme.System)))
	w.app.Settings().SetTheme(theme.New(look).Scaled(float32(p.FloatWithFallback(keyText, 1))))
	w.desk = panel.NewDesk(w.session)
	w.desk.Later = w.config.later
	w.desk.Complain, w.desk.Canvas = w.complain, w.win.Canvas()
	w.desk.Rest = func() { time.Sleep(restFor) }
	w.desk.Frame = func() { time.Sleep(frameFor) }
	if w.config.Still != nil {
		w.desk.MakeStill = w.makeStill
	}
	w.bench = panel.NewBench(w.desk)
	w.menu = newMenu(w)
	w.win.SetMainMenu(w.menu.main)
	w.win.SetContent(w.bench.Object())
	w.win.Canvas().SetOnTypedKey(w.typed)
	w.win.Canvas().SetOnTypedRune(w.bench.Plan.TypedRune)
	w.desk.Watch(func(panel.Change) { w.tell() })
}

// tell follows a change of the job: the title and the menus.
func (w *window) tell() {
	name := w.session.Job().Name
	if p := w.session.Path(); p != "" {
		name += " (" + filepath.Base(p) + ")"
	}
	if w.session.Dirty() {
		name = "• " + name + ", not saved"
	}
	w.tellTrouble()
	if w.unsafe {
		name += ", not kept safe"
	}
	if title := name + " · Risewright"; title != w.win.Title() {
		w.win.SetTitle(title)
	}
	w.menu.tell()
}

// typed answers a key while nothing has the keyboard: it goes to the plan.
func (w *window) typed(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape && w.escape() {
		return
	}
	w.bench.Plan.TypedKey(k)
}

// complain shows an error, with what can be done about it where that is known.
func (w *window) complain(err error) {
	if remedy := store.Remedy(err); remedy != "" {
		err = fmt.Errorf("%w; %s", err, remedy)
	}
	w.inform("Error", model.Capital(err.Error()))
}

// use puts another session into the window and ends the one that was there.
func (w *window) use(s *session.Session) {
	w.session.Close()
	w.session = s
	w.heed(s)
	w.desk.Use(s)
	w.bench.Fit()
	w.tell()
}

// heed has the window hear of a change that the disk would not confirm.
func (w *window) heed(s *session.Session) {
	s.OnTrouble(func() {
		w.do(func() {
			if w.session == s {
				w.tell()
			}
		})
	})
}

// tellTrouble says once that changes are not kept safe any more: the job is
// open and as it should be, but a crash would lose what was done since.
func (w *window) tellTrouble() {
	err := w.session.Trouble()
	was := w.unsafe
	if w.unsafe = err != nil; w.unsafe && !was {
		w.complain(fmt.Errorf("the change is made, but it is not kept safe against a crash: %w. Each further change tries again", err))
	}
}

// undo takes back what is being typed, or else the last edit.
func (w *window) undo() {
	if e, ok := w.win.Canvas().Focused().(*panel.Entry); ok && e.Pending() {
		e.Revert()
		return
	}
	if w.session.Undo() {
		w.desk.Answered()
	}
}

func (w *window) redo() {
	if w.session.Redo() {
		w.desk.Answered()
	}
}

// leaveField hands a text being typed to the job, so that it is saved too.
func (w *window) leaveField() {
	if e, ok := w.win.Canvas().Focused().(*panel.Entry); ok && e.Pending() && e.Commit != nil {
		e.Commit()
	}
}
