package panel

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/view/words"
)

// field is a named entry for one value of the job, with its message below.
type field struct {
	desk  *Desk
	id    string // as in model.Place.Field; may be empty
	name  *label
	entry *Entry
	fault *fault
	box   *fyne.Container
	line  *fyne.Container

	// get returns the text to show; put reads one and returns the edit it
	// makes, or nil when nothing changes.
	get  func(*model.Job) string
	put  func(*model.Job, string) (model.Edit, error)
	bad  string // the text that could not be read
	hold string // what an empty field says when it can be typed into
	free bool   // it holds the person's own words, whose figures stay as they are
	form *form
}

// fieldColumns are name and entry, for fields below each other.
func fieldColumns() *columns {
	return &columns{least: []float32{120, 90}, share: []float32{2, 3}, gap: 6}
}

func newField(d *Desk, id, name string, get func(*model.Job) string, put func(*model.Job, string) (model.Edit, error)) *field {
	f := &field{desk: d, id: id, name: newLabel(name), entry: newEntry(), fault: newFault(), get: get, put: put}
	f.entry.Commit = f.commit
	f.line = fieldColumns().row(f.name, f.entry)
	f.box = container.New(&stack{gap: 1}, f.line, f.fault.box)
	return f
}

// lengthField is a field of a length in the job's units.
func lengthField(d *Desk, id, name string, get func(*model.Job) model.Length, edit func(*model.Job, model.Length) model.Edit) *field {
	return newField(d, id, name,
		func(j *model.Job) string { return fieldText(j.Format(), get(j)) },
		func(j *model.Job, text string) (model.Edit, error) {
			l, err := ReadLength(text, j.Units)
			if err != nil {
				return nil, err
			}
			return edit(j, l), nil
		})
}

// permit says whether the field can be typed into; if not, why stands in it.
func (f *field) permit(on bool, why string) {
	if on == !f.entry.Disabled() && (on || f.entry.PlaceHolder == why) {
		return
	}
	if on {
		f.entry.SetPlaceHolder(f.hold)
		f.entry.Enable()
		return
	}
	if !f.entry.Disabled() {
		f.hold = f.entry.PlaceHolder
	}
	f.entry.force("")
	f.entry.SetPlaceHolder(why)
	f.entry.Disable()
}

// long gives most of the width to the entry.
func (f *field) long() *field {
	f.line.Layout = &columns{least: []float32{72, 90}, share: []float32{0, 1}, gap: 6}
	return f
}

// lines makes the field one of several lines that are broken where they end.
func (f *field) lines(n int) *field {
	f.entry.MultiLine = true
	f.entry.Wrapping = fyne.TextWrapWord
	f.entry.SetMinRowsVisible(n)
	return f
}

// shownWithin is how far the text of a field may be from its value, in mm:
// less than a sheet of paper, and far more than float64's rounding.
const shownWithin = 0.005

// fieldText returns a length as it stands in a field: in the job's fraction if
// that is what it is, otherwise as fine as it takes, so that nobody thinks a
// 0.2 mm allowance is nothing.
func fieldText(f model.Format, l model.Length) string {
	tries := []model.Format{{Step: 0.1}, {Step: 0.01}}
	if f.Units == model.Imperial {
		tries = []model.Format{{Units: model.Imperial, Fraction: 64}, {Units: model.Imperial, Fraction: 128}, {}, {Step: 0.1}, {Step: 0.01}}
	}
	for _, finer := range tries {
		if math.Abs(float64(f.Round(l)-l)) <= shownWithin {
			break
		}
		f = finer
	}
	return f.Length(l)
}

// textField is a field of plain words.
func textField(d *Desk, id, name string, get func(*model.Job) string, edit func(*model.Job, string) model.Edit) *field {
	return newField(d, id, name, get, func(j *model.Job, text string) (model.Edit, error) { return edit(j, text), nil }).words()
}

// words makes it a field of plain words.
func (f *field) words() *field {
	f.free = true
	return f
}

// text is what the field shows of a job, in the figures of the language spoken.
func (f *field) text(job *model.Job) string {
	text := f.get(job)
	if !f.free {
		text = words.Figure(text)
	}
	return text
}

// tell shows the job's value, unless a text waits to be mended.
func (f *field) tell(job *model.Job) {
	if f.bad != "" && f.entry.Text == f.bad {
		f.entry.was = f.text(job)
		return
	}
	f.bad = ""
	f.fault.say(nil)
	f.entry.show(f.text(job))
}

func (f *field) commit() bool {
	if !f.entry.Pending() {
		f.bad = ""
		f.fault.say(nil)
		return true
	}
	if f.bad != "" && f.bad == f.entry.Text {
		return false
	}
	job := f.desk.Job()
	e, err := f.put(&job, trim(f.entry.Text))
	if err == nil && e != nil {
		was := f.entry.was
		f.entry.was = f.entry.Text
		if err = f.desk.session.Do(e); err != nil {
			f.entry.was = was
		}
	}
	if err != nil {
		f.bad = f.entry.Text
		f.fault.say(err)
		return false
	}
	f.bad = ""
	f.fault.say(nil)
	f.desk.Answered()
	after := f.desk.Job()
	f.entry.force(f.text(&after))
	return true
}

// form is fields below each other; Enter goes from one to the next.
type form struct {
	desk   *Desk
	fields []*field
	tab    tab
}

// add puts a field at the end.
func (m *form) add(f *field) *field {
	i := len(m.fields)
	m.fields = append(m.fields, f)
	f.form = m
	to := func(k int) func() {
		return func() {
			if k >= 0 && k < len(m.fields) {
				m.desk.focus(m.fields[k].entry)
			}
		}
	}
	f.entry.Next, f.entry.Below = to(i+1), to(i+1)
	f.entry.Back, f.entry.Above = to(i-1), to(i-1)
	return f
}

// tell shows the job's values.
func (m *form) tell() {
	job := m.desk.Job()
	for _, f := range m.fields {
		f.tell(&job)
	}
}

// leave takes what was typed, before the fields show something else; a text that
// cannot be read is dropped.
func (m *form) leave() {
	for _, f := range m.fields {
		if f.entry.Pending() && !f.commit() {
			f.bad = ""
			f.fault.say(nil)
			f.entry.Revert()
		}
	}
}

// goTo gives the keyboard to the field called id.
func (m *form) goTo(id string) bool {
	for _, f := range m.fields {
		if id != "" && f.id == id {
			m.desk.tabs.show(m.tab)
			m.desk.focus(f.entry)
			return true
		}
	}
	return false
}
