package window

import (
	"fmt"

	"risewright/view/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"risewright/app/store"
)

// showVersions lists the earlier versions of the job's file.
func (w *window) showVersions() {
	versions, err := w.session.Versions()
	if err != nil {
		w.complain(err)
		return
	}
	if len(versions) == 0 {
		w.inform("Earlier versions", fmt.Sprintf("There is none yet. Each save keeps what the file held before; the last %d are kept.", store.Kept))
		return
	}
	var d dialog.Dialog
	rows := container.NewVBox(widget.NewLabel(words.Say("Opening one replaces what is shown, which can be undone.\nThe file stays as it is until you save.")))
	for _, v := range versions {
		open := w.newDialogButton("Open", func() {
			d.Hide()
			w.leaveField()
			if err := w.session.OpenVersion(v); err != nil {
				w.complain(err)
				return
			}
			w.desk.Answered()
		})
		text := fmt.Sprintf("Version %d, saved %s (%d kB)", v.Number, v.Taken.Local().Format("2 January 2006 at 15:04:05"), (v.Bytes+1023)/1024)
		rows.Add(container.NewBorder(nil, nil, nil, open, widget.NewLabel(words.Say(text))))
	}
	d = w.closable("Earlier versions", container.NewVScroll(rows))
	d.Resize(fyne.NewSize(min(w.roomy().Width, 560), min(w.roomy().Height, 380)))
	w.show(d)
}
