package window

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver"
	"risewright/view/words"
)

// Writer writes files of an answer to a folder and returns their names. It may
// run on another goroutine, tells how far it has come as a part of 1, and leaves
// the folder as it was when the context ends in time.
type Writer func(ctx context.Context, dir string, a *solver.Answer, tell func(part float64, what string)) ([]string, error)

// writing is what is being written beside the interface, and its dialog. It
// belongs to the interface's goroutine.
type writing struct {
	stop context.CancelFunc
	// then is done once it has ended, in place of saying so.
	then func()
}

// writeSheets asks for a folder and has the papers written there.
func (w *window) writeSheets() { w.write("papers", w.config.Sheets) }

// writeTemplates asks for a folder and has the templates written there.
func (w *window) writeTemplates() { w.write("templates", w.config.Templates) }

// writeDrawings asks for a folder and has plan, section and answer written there.
func (w *window) writeDrawings() { w.write("drawings", w.config.Drawings) }

// write asks for a folder and has files of a kind written there; a nil do does
// nothing.
func (w *window) write(what string, do Writer) {
	if do == nil {
		return
	}
	w.leaveField()
	w.chooseFolder("Write the "+what+" to", "Write here", w.firstFolder(), func(dir string) { w.writeTo(dir, what, do) })
}

// mostNamed is how many files are named once they are written: more do not fit
// the window.
const mostNamed = 20

// writeTo writes files off the interface goroutine, under a dialog that says how
// far it has come and stops it: the answer is read-only.
func (w *window) writeTo(dir, what string, do Writer) {
	answer := w.session.Answer()
	ctx, stop := context.WithCancel(context.Background())
	now := &writing{stop: stop}
	w.writing = now

	bar, line := widget.NewProgressBar(), widget.NewLabel("")
	line.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons(words.Say("Writing the "+what), container.NewVBox(bar, line), w.win)
	d.SetButtons([]fyne.CanvasObject{w.newDialogButton("Cancel", func() { d.Hide() })})
	d.SetOnClosed(stop) // by the button, by Escape, or because it is done
	d.Resize(fyne.NewSize(min(w.roomy().Width, 460), 0))
	w.show(d)

	tell := func(part float64, what string) {
		w.do(func() {
			if ctx.Err() == nil {
				bar.SetValue(part)
				line.SetText(words.Say(model.Capital(what)))
			}
		})
	}
	go func() {
		names, err := do(ctx, dir, answer, tell)
		w.do(func() {
			if w.writing == now {
				w.writing = nil
			}
			d.Hide()
			switch {
			case now.then != nil:
				now.then()
			case errors.Is(err, context.Canceled):
				w.inform(model.Capital(what), fmt.Sprintf("Stopped. Nothing was written to %s.", dir))
			case err != nil:
				w.complain(err)
			default:
				w.wrote(dir, what, names, answer)
			}
		})
	}()
}

// wrote says what was written.
func (w *window) wrote(dir, what string, names []string, answer *solver.Answer) {
	text := fmt.Sprintf("Written to %s:\n%s", dir, strings.Join(names[:min(len(names), mostNamed)], "\n"))
	if more := len(names) - mostNamed; more > 0 {
		text += fmt.Sprintf("\nand %d more", more)
	}
	if held := len(answer.Cards) - answer.Released(); held > 0 {
		text += fmt.Sprintf("\n\n%d of %d boards are not released: their cards say why.", held, len(answer.Cards))
	}
	w.inform(model.Capital(what), text)
}

// afterWriting stops what is being written and does something once it has ended;
// it says whether there was anything.
func (w *window) afterWriting(then func()) bool {
	if w.writing == nil {
		return false
	}
	w.writing.then = then
	w.writing.stop()
	return true
}
