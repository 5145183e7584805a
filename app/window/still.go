package window

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"risewright/view/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver"
	"risewright/view/panel"
	"risewright/view/picture"
	"risewright/view/scene"
	"risewright/view/still"
)

// stillEnd is when a still stops by itself: calm, or after so many samples.
const (
	stillGrain   = 0.12
	stillSamples = 256
	// stillShown is about how wide the picture in the dialog is, pixels.
	stillShown = 960
	// glanceWide is the width of the first, hasty look.
	glanceWide = 200
	// leastPause is how long a picture in the dialog is left alone.
	leastPause = 1500 * time.Millisecond
)

// stillMaker is a still picture in the making, and its dialog. It belongs to the
// interface's goroutine, but for what run does.
type stillMaker struct {
	w       *window
	job     model.Job
	what    string
	litBy   string // what told the bars how bright to be; a sentence, or none
	refiner *still.Refiner
	divider float64 // between before and after, 0 to 1 of the width; 0: none
	stop    context.CancelFunc
	running bool
	closed  bool

	dialog  *dialog.CustomDialog
	picture *canvas.Image
	bar     *widget.ProgressBar
	line    *widget.Label
	halt    *dialogButton // stop and keep, or go on
	save    *dialogButton
}

// stillOfJob makes a still of the finished stair in the evening, from the hall,
// for those who have not been to the picture.
func (w *window) stillOfJob() {
	w.leaveField()
	answer, tables := w.session.Answer(), w.session.Tables()
	go func() {
		o := scene.Options{Time: scene.Evening, Look: answer.Job.Look}
		s, err := scene.Make(answer, solver.Plan(answer, tables), tables, o)
		w.do(func() {
			if err != nil {
				w.complain(fmt.Errorf("make the still: %w", err))
				return
			}
			w.makeStill(panel.StillWanted{Scene: s, Camera: s.Camera(scene.FromHall, 0), View: scene.FromHall, Time: o.Time})
		})
	}()
}

// makeStill opens the dialog in which a still gets better until it is kept.
func (w *window) makeStill(s panel.StillWanted) {
	w.leaveField()
	if m := w.newStill(s); m != nil {
		m.show()
		m.run()
	}
}

// newStill readies a still, or says why it cannot be.
func (w *window) newStill(s panel.StillWanted) *stillMaker {
	o := still.Options{W: still.UsualW, H: still.UsualH, Grain: stillGrain, Samples: stillSamples}
	if w.config.still != nil {
		o = *w.config.still
	}
	o.Clock = w.config.Clock
	column := 0
	if s.Left != nil {
		column = int(math.Round(s.Divider * float64(o.W)))
	}
	r, err := still.NewDivided(s.Left, s.Scene, column, s.Camera, o)
	if err != nil {
		w.complain(fmt.Errorf("make the still: %w", err))
		return nil
	}
	m := &stillMaker{w: w, job: w.session.Job(), refiner: r, what: fmt.Sprintf("%s, %s", s.View, s.Time), litBy: s.Scene.LitBy.String()}
	switch {
	case s.Left != nil:
		m.what += ", before and after"
		m.divider = s.Divider
	case s.Before:
		m.what += ", before"
	}
	return m
}

func (m *stillMaker) show() {
	m.picture = canvas.NewImageFromImage(image.NewNRGBA(image.Rect(0, 0, 16, 10)))
	m.picture.FillMode = canvas.ImageFillContain
	m.picture.ScaleMode = canvas.ImageScaleSmooth
	m.bar = widget.NewProgressBar()
	m.line = widget.NewLabel(words.Say("The light is being followed. The first look takes a moment."))
	m.line.Wrapping = fyne.TextWrapWord
	note := widget.NewLabel(words.Say("Stop when it is good enough for you. Rooms are made up, and wood differs from board to board."))
	lit := widget.NewLabel(words.Say(m.litBy))
	for _, l := range []*widget.Label{note, lit} {
		l.Wrapping = fyne.TextWrapWord
		l.Importance = widget.LowImportance
	}
	if m.litBy == "" {
		lit.Hide()
	}
	m.dialog = dialog.NewCustomWithoutButtons(words.Say("A still of the stair, "+m.what),
		container.NewBorder(nil, container.NewVBox(m.bar, m.line, note, lit), nil, nil, m.picture), m.w.win)
	m.halt = m.w.newDialogButton("Stop and keep", m.stopOrGoOn)
	m.save = m.w.newDialogButton("Save…", m.askName)
	m.save.Importance = widget.HighImportance
	m.save.Disable()
	m.dialog.SetButtons([]fyne.CanvasObject{m.w.newDialogButton("Cancel", func() { m.dialog.Hide() }), m.halt, m.save})
	m.dialog.SetOnClosed(func() {
		m.closed = true
		m.stop()
	})
	m.stop = func() {}
	canvasSize := m.w.win.Canvas().Size()
	m.dialog.Resize(fyne.NewSize(min(canvasSize.Width*0.94, 1100), min(canvasSize.Height*0.94, 860)))
	m.w.show(m.dialog)
}

// run refines the picture beside the interface.
func (m *stillMaker) run() {
	ctx, cancel := context.WithCancel(context.Background())
	m.stop, m.running = cancel, true
	m.halt.SetText("Stop and keep")
	m.save.Disable()
	clock := m.w.config.Clock
	first := m.refiner.Progress().Samples == 0
	go func() {
		if first {
			if img, err := m.refiner.Glance(ctx, glanceWide); err == nil {
				m.w.do(func() { m.set(m.divided(img)) })
			}
		}
		pause, looked := time.Duration(0), clock()
		err := m.refiner.Run(ctx, func(p still.Progress) {
			m.w.do(func() { m.tell(p) })
			// A look costs time that the light could be followed in, so it has a
			// fifth of it at most.
			if from := clock(); from.Sub(looked) >= pause && ctx.Err() == nil {
				img := m.developed(stillShown)
				looked = clock()
				pause = max(leastPause, 4*looked.Sub(from))
				m.w.do(func() { m.set(img) })
			}
		})
		cancel()
		var img image.Image
		if err == nil {
			img = m.developed(stillShown)
		}
		m.w.do(func() { m.ended(img, err) })
	}()
}

// developed returns the picture as it is now, about most pixels wide, with its
// divider; see still.Look.
func (m *stillMaker) developed(most int) image.Image {
	return m.divided(m.refiner.Picture(still.Look{Most: most}))
}

// divided draws the divider on a picture, if it has one.
func (m *stillMaker) divided(img *image.NRGBA) image.Image {
	if m.divider > 0 {
		at := int(math.Round(m.divider * float64(img.Rect.Dx())))
		picture.DividerOn(img, at)
	}
	return img
}

// set shows a newer picture.
func (m *stillMaker) set(img image.Image) {
	if m.closed || img == nil {
		return
	}
	m.picture.Image = img
	m.picture.Refresh()
}

// tell says how far the picture has come.
func (m *stillMaker) tell(p still.Progress) {
	if m.closed || !m.running {
		return
	}
	m.bar.SetValue(p.Done)
	text := fmt.Sprintf("%s: %.0f samples of light a pixel.", calm(p.Grain), p.Samples)
	if p.Samples < 1 {
		text = "The first look."
	}
	if p.Left > 0 && p.Samples >= 1 {
		if p.Grain > stillGrain {
			text += fmt.Sprintf(" About %s left until it is calm.", span(p.Left))
		} else {
			text += fmt.Sprintf(" About %s left until it is calmer still.", span(p.Left))
		}
	}
	m.line.SetText(text)
}

// ended follows the end of a run.
func (m *stillMaker) ended(img image.Image, err error) {
	m.running = false
	if m.closed {
		return
	}
	if err != nil {
		m.dialog.Hide()
		if !errors.Is(err, context.Canceled) {
			m.w.complain(fmt.Errorf("make the still: %w", err))
		}
		return
	}
	m.set(img)
	p := m.refiner.Progress()
	m.line.SetText(fmt.Sprintf("%s, after %s of work. Save it, or go on.", calm(p.Grain), span(p.Spent)))
	m.halt.SetText("Go on")
	m.halt.Enable()
	if p.Samples > 0 {
		m.save.Enable()
	}
}

// stopOrGoOn stops and keeps what there is, or goes on from there.
func (m *stillMaker) stopOrGoOn() {
	if m.running {
		m.halt.Disable() // until the last sixteenth is done
		m.refiner.Stop()
		return
	}
	m.refiner.Further() // should it be calm already
	m.run()
}

// calm says how even a picture looks.
func calm(grain float64) string {
	switch {
	case math.IsInf(grain, 1):
		return "A first look"
	case grain > 0.35:
		return "Coarse"
	case grain > 0.2:
		return "Fair"
	case grain > stillGrain*1.2:
		return "Good"
	}
	return "Calm"
}

// span words a time for people who wait.
func span(d time.Duration) string {
	switch s := int(d.Round(time.Second).Seconds()); {
	case s < 90:
		return model.Plural(s, "second")
	case s < 90*60:
		return model.Plural((s+30)/60, "minute")
	default:
		return model.Plural((s+1800)/3600, "hour")
	}
}

// askName asks where the picture is to be kept.
func (m *stillMaker) askName() {
	w := m.w
	base := strings.TrimSuffix(fileName(m.job.Name), ".risewright.json")
	name := base + ", " + strings.ReplaceAll(m.what, ",", "") + ".png"
	w.askPlace("Keep the still as", "Back", name, min(620, w.roomy().Width), func(ok bool, dir, name string) {
		if !ok {
			return
		}
		path, err := picturePath(dir, name)
		if err != nil {
			w.complain(err)
			return
		}
		if _, err := os.Lstat(path); err == nil {
			w.askReplace(path, "It would be gone.", func() { m.keep(path) })
			return
		}
		m.keep(path)
	})
}

// picturePath joins a folder and a name and sees to the ending.
func picturePath(dir, name string) (string, error) {
	return placed("keep the still", dir, name, func(name string) string {
		if !strings.EqualFold(filepath.Ext(name), ".png") {
			name += ".png"
		}
		return name
	})
}

// keep develops the whole picture and writes it, beside the interface.
func (m *stillMaker) keep(path string) {
	m.save.Disable()
	m.halt.Disable()
	m.line.SetText("The picture is being developed…")
	go func() {
		err := m.w.config.Still(path, m.developed(0), &m.job, m.what)
		m.w.do(func() {
			m.save.Enable()
			m.halt.Enable()
			if err != nil {
				m.line.SetText("The picture has not been kept.")
				m.w.complain(fmt.Errorf("keep the still: %w", err))
				return
			}
			m.line.SetText("Kept as " + path + ".")
		})
	}()
}
