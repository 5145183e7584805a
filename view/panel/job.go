package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// jobTab shows and changes the job as a whole, the chosen step's sides and old
// nosing, and the table of tools.
type jobTab struct {
	desk        *Desk
	form        form
	units       *chooser
	fraction    *chooser
	code, class *chooser
	codeNote    *para
	step        *stepForm
	shape       *shapeForm
	tools       *toolTable
}

// fractions are the smallest parts of an inch offered.
var fractions = [...]int{16, 32, 64}

// newJobTab returns the tab and what brings it up to date.
func newJobTab(d *Desk) (fyne.CanvasObject, func(Change)) {
	t := &jobTab{desk: d, form: form{desk: d, tab: tabJob}, codeNote: newPara("")}
	t.codeNote.soft()
	t.step, t.shape, t.tools = newStepForm(d), newShapeForm(d), newToolTable(d)
	details := func(change func(*model.SetDetails)) {
		e := model.DetailsOf(d.Job())
		change(&e)
		_ = d.Do(e) // an error has been shown
	}
	t.units = newChooser(func(i int) {
		details(func(e *model.SetDetails) { e.Units = [...]model.Units{model.Imperial, model.Metric}[i] })
	})
	t.units.words([]string{"imperial", "metric"}, nil)
	t.fraction = newChooser(func(i int) { details(func(e *model.SetDetails) { e.Fraction = fractions[i] }) })
	t.fraction.words([]string{"1/16 inch", "1/32 inch", "1/64 inch"}, nil)
	t.code = newChooser(func(i int) {
		details(func(e *model.SetDetails) {
			e.Code, e.CodeClass = "", ""
			if c := d.session.Tables().Codes; i < len(c) {
				e.Code = c[i].ID
				if len(c[i].Classes) > 0 {
					e.CodeClass = c[i].Classes[0].ID
				}
			}
		})
	})
	t.class = newChooser(func(i int) {
		if c, ok := d.session.Tables().Code(d.Job().Code); ok && i < len(c.Classes) {
			details(func(e *model.SetDetails) { e.CodeClass = c.Classes[i].ID })
		}
	})
	words := container.NewVBox()
	for _, f := range t.wordFields() {
		words.Add(t.form.add(f.long()).box)
	}
	grid := container.NewGridWithColumns(2)
	pair := func(name string, o fyne.CanvasObject) { grid.Add(fieldColumns().row(newLabel(name), o)) }
	pair("Units", t.units)
	pair("Smallest part shown", t.fraction)
	pair("Code", t.code)
	pair("Class of stair", t.class)
	notes := t.form.fields[len(t.form.fields)-1].lines(3)
	notes.entry.Above, notes.entry.Below = nil, nil
	limits := container.NewGridWithColumns(2)
	for _, f := range t.limitFields() {
		limits.Add(t.form.add(f).box)
	}
	body := container.NewVBox(
		heading("Job"), words, grid, t.codeNote,
		heading("Limits of a cut"), limits,
		heading("What stands there"), t.existing(),
		t.step.box, t.shape.fold.box,
		heading("Tools, and how far they stray"), t.tools.box,
	)
	scroll := container.NewVScroll(container.New(&gap{x: 4, y: 2}, body))
	d.onGo(func(p model.Place) bool {
		if strings.HasPrefix(p.Field, "shape.") {
			t.shape.fold.open(true)
			if !t.shape.form.goTo(p.Field) {
				return false
			}
			reveal(scroll, t.shape.form.focused())
			return true
		}
		if t.form.goTo(p.Field) {
			reveal(scroll, t.form.focused())
			return true
		}
		if o := t.step.goTo(p); o != nil {
			d.tabs.show(tabJob)
			d.focus(o)
			reveal(scroll, o.(fyne.CanvasObject))
			return true
		}
		return false
	})
	return wheeled(scroll), t.tell
}

func (t *jobTab) wordFields() []*field {
	text := func(id, name string, at func(*model.SetDetails) *string) *field {
		return textField(t.desk, id, name,
			func(j *model.Job) string { e := model.DetailsOf(*j); return *at(&e) },
			func(j *model.Job, s string) model.Edit {
				e := model.DetailsOf(*j)
				*at(&e) = s
				return e
			})
	}
	return []*field{
		text("name", "Name", func(e *model.SetDetails) *string { return &e.Name }),
		text("place", "Place", func(e *model.SetDetails) *string { return &e.Place }),
		text("notes", "Notes", func(e *model.SetDetails) *string { return &e.Notes }),
	}
}

func (t *jobTab) limitFields() []*field {
	length := func(id, name string, at func(*model.SetDetails) *model.Length) *field {
		f := lengthField(t.desk, id, name,
			func(j *model.Job) model.Length { e := model.DetailsOf(*j); return *at(&e) },
			func(j *model.Job, l model.Length) model.Edit {
				e := model.DetailsOf(*j)
				*at(&e) = l
				return e
			})
		return f
	}
	return []*field{
		length("tolerance", "Tolerance, plus or minus", func(e *model.SetDetails) *model.Length { return &e.Tolerance }),
		length("sketch_spread", "Spread of the sketch", func(e *model.SetDetails) *model.Length { return &e.SketchSpread })}
}

// existing returns the fields of the old structure.
func (t *jobTab) existing() fyne.CanvasObject {
	length := func(id, name string, at func(*model.Existing) *model.Length) *field {
		return lengthField(t.desk, "existing."+id, name,
			func(j *model.Job) model.Length { return *at(&j.Existing) },
			func(j *model.Job, l model.Length) model.Edit {
				e := j.Existing
				*at(&e) = l
				return model.SetExisting{Existing: e}
			})
	}
	grid := container.NewGridWithColumns(2)
	for _, f := range []*field{
		length("tread", "Old tread", func(e *model.Existing) *model.Length { return &e.Tread }),
		length("riser", "Old riser", func(e *model.Existing) *model.Length { return &e.Riser }),
		length("overhang", "Old overhang", func(e *model.Existing) *model.Length { return &e.Overhang }),
	} {
		grid.Add(t.form.add(f).box)
	}
	return grid
}

func (t *jobTab) tell(c Change) {
	if c&(Answered|Chosen) == 0 {
		return
	}
	t.step.tell()
	if c&Answered == 0 {
		return
	}
	job := t.desk.Job()
	t.form.tell()
	t.shape.tell()
	t.units.set(1)
	if job.Units == model.Imperial {
		t.units.set(0)
	}
	t.fraction.enable(job.Units == model.Imperial)
	t.fraction.set(0)
	for i, f := range fractions {
		if f == job.Fraction {
			t.fraction.set(i)
		}
	}
	codes := t.desk.session.Tables().Codes
	var short, long []string
	at := len(codes)
	for i, k := range codes {
		short = append(short, k.Title)
		long = append(long, fmt.Sprintf("%s, %s (%s)", k.Title, k.Edition, k.Place))
		if k.ID == job.Code {
			at = i
		}
	}
	short, long = append(short, "none"), append(long, "none: trade practice only")
	t.code.words(short, long)
	t.code.set(at)
	t.class.enable(at < len(codes))
	note := "Without a code only trade practice is checked."
	if at < len(codes) {
		k := codes[at]
		var classes []string
		on := 0
		for i, x := range k.Classes {
			classes = append(classes, x.Title)
			if x.ID == job.CodeClass {
				on = i
			}
		}
		t.class.words(classes, nil)
		t.class.set(on)
		n := map[model.Standing]int{}
		for _, l := range k.Limits {
			n[l.Standing]++
		}
		note = fmt.Sprintf("%s, %s. %s Of its %d rows %d were seen, %d read in a transcription, %d restated elsewhere, %d are from memory.",
			k.Title, k.Edition, k.Note, len(k.Limits), n[model.Seen], n[model.Transcription], n[model.Secondary], n[model.Memory])
	} else {
		t.class.words(nil, nil)
	}
	setPara(t.codeNote, note)
	t.tools.tell()
}
