package window

import (
	"fmt"

	"fyne.io/fyne/v2"

	"risewright/app/tongue"
	"risewright/assets"
	"risewright/view/theme"
	"risewright/view/words"
)

// letterSizes is what the View menu offers: how many times as large as usual.
var letterSizes = [...]float64{1, 1.25, 1.5, 2}

// letters returns how many times as large letters are.
func (w *window) letters() float32 { return theme.ScaleOf(w.app.Settings().Theme()) }

// language returns the code of the language chosen.
func (w *window) language() string {
	return w.app.Preferences().StringWithFallback(keyTongue, "en")
}

// speak has everything shown from now on be in the language chosen.
func (w *window) speak() {
	b, err := tongue.Book(w.language())
	words.Speak(b)
	if err != nil {
		w.complain(err)
	}
}

// lettersMenu offers sizes of letters.
func (m *menu) lettersMenu() *fyne.MenuItem {
	i := fyne.NewMenuItem("Letters", nil)
	i.ChildMenu = fyne.NewMenu("")
	for _, k := range letterSizes {
		at := fyne.NewMenuItem(fmt.Sprintf("%g %%", k*100), func() {
			m.w.app.Preferences().SetFloat(keyText, k)
			m.w.rebuild()
		})
		m.letters = append(m.letters, at)
		i.ChildMenu.Items = append(i.ChildMenu.Items, at)
	}
	return i
}

// tongueMenu offers languages, each by its own name.
func (m *menu) tongueMenu() *fyne.MenuItem {
	i := fyne.NewMenuItem("Language", nil)
	i.ChildMenu = fyne.NewMenu("")
	for _, l := range assets.Languages() {
		at := fyne.NewMenuItem(l.Name, func() {
			m.w.app.Preferences().SetString(keyTongue, l.Code)
			m.w.speak()
			m.w.rebuild()
		})
		m.tongues = append(m.tongues, at)
		i.ChildMenu.Items = append(i.ChildMenu.Items, at)
	}
	return i
}

// rebuild shows everything anew; what is being typed goes to the job first.
func (w *window) rebuild() {
	w.leaveField()
	w.build()
	w.tell()
	w.win.Canvas().Focus(w.bench.Plan)
}

// sayMenu turns a menu into the language spoken.
func sayMenu(m *fyne.Menu) {
	m.Label = words.Say(m.Label)
	for _, i := range m.Items {
		i.Label = words.Say(i.Label)
		if i.ChildMenu != nil {
			sayMenu(i.ChildMenu)
		}
	}
}
