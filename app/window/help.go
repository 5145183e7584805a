package window

import (
	"fmt"

	"risewright/view/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"risewright/solver/rules"
)

// cautions are shown with the program's name and on their own. They are the
// usual ones of the trade; common practice, no source.
const cautions = `**Falls.** A stair under repair has missing treads and loose boards. Close it off, light it, and leave it safe to walk each evening.

**Structure.** Do not cut, notch or plane a string, a carriage or a bearing tread without someone licensed to judge it.

**Dust.** Old and new wood dust harms lungs and burns. Use extraction and a mask that fits.

**Lead and asbestos.** Old paint may hold lead; old tiles, glue and boards under a carpet may hold asbestos. Have them tested before sanding, sawing or lifting; removal is for licensed people.

**Finishes.** Oil-soaked rags can catch fire by themselves. Read the maker's sheet and air the room.

**Saws.** Guard on, eyes and ears covered, short pieces clamped. A card says where to cut; you decide whether it is safe to.

**Electricity.** Step lighting near wood and feet is for a licensed electrician where the law says so.

**Limits.** The tables of codes may be out of date or misread; each value says how far it can be trusted.`

func (w *window) showMarkdown(title, text string) {
	body := widget.NewRichTextFromMarkdown(words.Say(text))
	body.Wrapping = fyne.TextWrapWord
	page := w.newReader(body)
	d := w.closable(title, page)
	d.Resize(fyne.NewSize(640, min(560, w.win.Canvas().Size().Height*0.85)))
	w.show(d)
	w.win.Canvas().Focus(page)
}

func (w *window) about() {
	w.showMarkdown("Risewright", fmt.Sprintf("Version %s\n\nFrom readings of a site-built stair to proved cut cards for hardwood treads and painted risers.\n\nEvery figure comes with its plus-or-minus; what is not known well enough to cut is not released.\n\n**%s** Where structure, lead, asbestos or electricity are touched, so do licensed people.\n\n%s",
		w.config.Version, rules.Deference, cautions))
}

func (w *window) showCautions() { w.showMarkdown("Cautions", "**"+rules.Deference+"**\n\n"+cautions) }

func (w *window) showKeys() {
	w.showMarkdown("Keys", `**Readings.** Enter: the next reading, on to the next step. Shift+Enter: back. Up and Down: within the step. Tab: on to the tool and the state. Escape: take back what is being typed. Ctrl+E: set aside, or use again.

**Drawings.** Arrow keys, Home and End: choose a step. Escape: the whole flight, or put back what is dragged. F or a double click: show all. Plus and minus, or the wheel: zoom. Drag empty ground, or with the middle button, or Shift and an arrow key: move the drawing.

**Handles.** H and Shift+H in a drawing: the next handle and the one before. Arrow keys: move it, with Shift ten times as far. Enter: let go. Escape: put it back. With the lights, L lights the bar of the chosen step; with the sensors, N is the next sensor, and W and S move whoever walks.

**Tool and state.** Up and Down, or a first letter: choose. Space: the list.

**Findings.** Ctrl+5, then Up and Down; Enter goes to the place.

**Order of fitting.** Up, Down, Left and Right in the list, or Left and Right at the slider and in the drawings: the task before or after. Home and End: the first and the last.

**Everywhere.** Ctrl+G: go to what comes next. Ctrl+1 to Ctrl+4, Ctrl+8, Ctrl+9, Ctrl+L, Ctrl+M and Ctrl+I: the tabs. Ctrl+6 and Ctrl+7: plan and section. Tab and Shift+Tab: the next field or button and the one before; Space presses a button. Alt: the menus, then arrow keys and Enter. Alt and an arrow key: more room for a part of the window. Alt+Page Down and Alt+Page Up: the panel a page on or back. Ctrl+Page Up and Ctrl+Page Down: the next step. The menus show the other keys.`)
}
