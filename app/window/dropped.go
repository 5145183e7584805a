package window

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2"

	"risewright/app/store"
	"risewright/model"
)

// heedDrops opens a job file that is dropped on the window.
func (w *window) heedDrops() {
	w.win.SetOnDropped(func(_ fyne.Position, files []fyne.URI) { w.dropped(files) })
}

// dropped opens the job that was dropped. What is no job is said before anybody
// is asked to save, and the open job stays as it is.
func (w *window) dropped(files []fyne.URI) {
	if len(files) == 0 || w.win.Canvas().Overlays().Top() != nil { // a question is open
		return
	}
	if len(files) > 1 {
		w.complain(fmt.Errorf("%d things were dropped; drop one job file", len(files)))
		return
	}
	if files[0].Scheme() != "file" {
		w.complain(errors.New("what was dropped is no file on this machine; save it to a folder first, then drop that file"))
		return
	}
	path := files[0].Path()
	disk := w.config.Store
	if disk == nil {
		disk = store.New(store.Disk{}, "", w.config.Clock)
	}
	data, err := disk.Read(path)
	if err == nil {
		if _, err = model.Decode(data); err != nil {
			err = fmt.Errorf("%s was dropped, and is no job that can be opened: %w", path, err)
		}
	}
	if err != nil {
		w.complain(err)
		return
	}
	w.ifSaved(func() { w.openPath(path) })
}
