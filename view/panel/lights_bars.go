package panel

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver/bars"
)

// barForm changes what is different on a single bar: that of the chosen step,
// so that a click on a drawing or on the volts chooses it, or the list here.
type barForm struct {
	desk   *Desk
	form   form
	at     int // the step shown
	which  *chooser
	length *field
	pixels *field
	feed   *chooser
	words  *para
	reset  *button
	fields *fyne.Container
	box    *fyne.Container
}

func newBarForm(d *Desk) *barForm {
	f := &barForm{desk: d, form: form{desk: d, tab: tabLights}, words: newPara("").soft()}
	f.which = newChooser(func(i int) { d.Choose(i + 1) })
	f.length = f.form.add(newField(d, "lighting.bars.length", "Length",
		func(j *model.Job) string {
			b := ownBar(j, f.at)
			if b.Length == 0 {
				return ""
			}
			return fieldText(j.Format(), b.Length)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := model.Length(0), error(nil)
			if text != "" {
				v, err = ReadLength(text, j.Units)
			}
			if err == nil && v < 0 {
				err = fmt.Errorf("%q is below 0; leave it empty for as long as fits", text)
			}
			return setBar(j, f.at, func(b *model.BarOwn) { b.Length = v }), err
		}))
	f.pixels = f.form.add(newField(d, "lighting.bars.pixels", "Pixels",
		func(j *model.Job) string {
			if n := ownBar(j, f.at).Pixels; n != 0 {
				return strconv.Itoa(n)
			}
			return ""
		},
		func(j *model.Job, text string) (model.Edit, error) {
			n, err := 0, error(nil)
			if text != "" {
				n, err = strconv.Atoi(text)
			}
			if err != nil || n < 0 || n > model.MaxPixels {
				return nil, fmt.Errorf("%q is no number of pixels from 0 to %d; leave it empty for as many as fit", text, model.MaxPixels)
			}
			return setBar(j, f.at, func(b *model.BarOwn) { b.Pixels = n }), nil
		}))
	f.feed = newChooser(func(i int) {
		job := d.Job()
		_ = d.Do(setBar(&job, f.at, func(b *model.BarOwn) { b.Feed = barFeeds[i] })) // an error has been shown
	})
	f.reset = newButton("As the others", func() {
		job := d.Job()
		_ = d.Do(setBar(&job, f.at, func(b *model.BarOwn) { *b = model.BarOwn{Step: b.Step} }))
	})
	f.fields = container.New(&stack{gap: 1},
		container.NewGridWithColumns(2, f.length.box, f.pixels.box),
		container.NewGridWithColumns(2, fieldColumns().row(newLabel("Fed at"), f.feed), container.NewHBox(f.reset)))
	f.box = container.New(&stack{gap: 1}, fieldColumns().row(newLabel("Bar"), f.which), f.fields, f.words)
	return f
}

// barFeeds are the feeds of a bar; the first leaves it to the setting of all.
var barFeeds = [...]model.FeedEnds{"", model.FeedOne, model.FeedBoth, model.FeedMiddle}

// ownBar returns what is different on the bar of a step, counted from 1.
func ownBar(j *model.Job, step int) model.BarOwn {
	if step < 1 || step > len(j.Flight.Steps) {
		return model.BarOwn{}
	}
	id := j.Flight.Steps[step-1].ID
	for _, b := range j.Lighting.Bars {
		if b.Step == id {
			return b
		}
	}
	return model.BarOwn{Step: id}
}

// setBar returns the edit that changes the bar of a step; a bar on which nothing
// is different any more is no longer listed.
func setBar(j *model.Job, step int, do func(*model.BarOwn)) model.Edit {
	l := j.Lighting
	b := ownBar(j, step)
	do(&b)
	at := slices.IndexFunc(l.Bars, func(o model.BarOwn) bool { return o.Step == b.Step })
	l.Bars = slices.Clone(l.Bars)
	switch none := b == (model.BarOwn{Step: b.Step}); {
	case b.Step == (model.ID{}):
	case at < 0 && !none:
		l.Bars = append(l.Bars, b)
	case at >= 0 && none:
		l.Bars = slices.Delete(l.Bars, at, at+1)
	case at >= 0:
		l.Bars[at] = b
	}
	return model.SetLighting{Lighting: l}
}

func (f *barForm) tell() {
	d := f.desk
	if d.step != f.at {
		f.form.leave()
		f.at = d.step
	}
	job, a := d.Job(), d.session.Answer()
	names := make([]string, len(job.Flight.Steps))
	for i := range names {
		names[i] = bars.Name(i + 1)
		if i < len(a.Bars.Bars) {
			b := &a.Bars.Bars[i]
			names[i] += fmt.Sprintf(", %s, %s", job.Format().Length(model.Length(b.Length)), model.Plural(b.Pixels, "pixel"))
		}
		if o := ownBar(&job, i+1); o != (model.BarOwn{Step: o.Step}) {
			names[i] += ", yours"
		}
	}
	f.which.words(names, nil)
	step := d.step
	if step < 1 || step > len(names) {
		f.which.set(-1)
		f.fields.Hide()
		setPara(f.words, "Choose a bar here, or its step on a drawing.")
		return
	}
	f.fields.Show()
	f.which.set(step - 1)
	f.form.tell()
	own := ownBar(&job, step)
	usual := feedWords(job.Lighting.Feed)
	f.feed.words([]string{"as all: " + usual, "one end", "both ends", "the middle"}, nil)
	f.feed.set(max(0, slices.Index(barFeeds[:], own.Feed)))
	f.reset.say("As the others", own != (model.BarOwn{Step: own.Step}))
	words := ""
	if step <= len(a.Bars.Bars) {
		b := &a.Bars.Bars[step-1]
		mm := func(v float64) string { return job.Format().Length(model.Length(v)) }
		f.length.entry.SetPlaceHolder(mm(b.Length))
		f.pixels.entry.SetPlaceHolder(strconv.Itoa(b.Pixels))
		lit := b.LightsWords()
		if b.Lights == 0 {
			lit = "the " + lit
		}
		words = fmt.Sprintf("It lights %s. Room %s between its ends, strip %s, %s spare at each end; %s.", lit, mm(b.Room), mm(b.Strip), mm(b.Spare), b.Way.Words(job.Format()))
		if step <= len(powerBars(d)) {
			p := powerBars(d)[step-1]
			words += fmt.Sprintf(" At most %.2f A, at least %.2f V.", p.Amps, p.Lowest)
		}
	}
	setPara(f.words, strings.Replace(words, "; .", ".", 1))
}

// goTo returns the control of a field of a bar, or nil. A number names a bar by
// its place in the job's list; its step is chosen.
func (f *barForm) goTo(id string) fyne.Focusable {
	rest, ok := strings.CutPrefix(id, "lighting.bars")
	if !ok {
		return nil
	}
	job := f.desk.Job()
	if i, err := strconv.Atoi(strings.TrimPrefix(rest, ".")); err == nil && i >= 0 && i < len(job.Lighting.Bars) {
		if at := job.StepIndex(job.Lighting.Bars[i].Step); at >= 0 {
			f.desk.Choose(at + 1)
		}
		return f.length.entry
	}
	switch rest {
	case ".length":
		return f.length.entry
	case ".pixels":
		return f.pixels.entry
	case ".feed":
		return f.feed
	}
	return f.which
}
