package panel

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
)

// readingRow is one line of the table: a reading, or a place for one.
type readingRow struct {
	table *Readings
	index int

	step, id model.ID
	kind     model.Kind

	mark        *mark
	name        *label
	entry       *Entry
	reads       *label
	tool, state *chooser
	tools       []string // ids, as the chooser has them
	off, band   *label
	verdict     *label
	fault       *fault
	box         *fyne.Container
	chosenTool  string // for a reading to come
	chosenState model.State
}

func newReadingRow(t *Readings, i int) *readingRow {
	r := &readingRow{table: t, index: i, mark: newMark(&t.paint), name: newLabel(""), entry: newEntry(),
		reads: newLabel("").small().soft(), off: newLabel("").right(), band: newLabel("").right().soft(),
		verdict: newLabel(""), fault: newFault()}
	r.entry.Commit = func() bool { return t.commit(r) }
	r.entry.Next = func() { t.move(r.index, 1, true) }
	r.entry.Back = func() { t.move(r.index, -1, true) }
	r.entry.Below = func() { t.move(r.index, 1, false) }
	r.entry.Above = func() { t.move(r.index, -1, false) }
	r.entry.Gained = func() { t.gained(r) }
	r.tool = newChooser(r.pickTool)
	r.state = newChooser(r.pickState)
	r.tool.quiet, r.state.quiet = true, true
	var states []string
	for _, s := range model.States() {
		states = append(states, string(s))
	}
	r.state.words(states, nil)
	line := readingColumns().row(r.mark, r.name, r.entry, r.reads, r.tool, r.state, r.off, r.band, r.verdict)
	r.box = container.New(&stack{}, line, r.fault.box)
	return r
}

func (r *readingRow) key() draftKey { return draftKey{step: r.step, reading: r.id, kind: r.kind} }

// bind shows a reading, or with a zero reading a place for one.
func (r *readingRow) bind(job *model.Job, step model.ID, k model.Kind, read model.Reading, c *survey.Check) {
	moved := r.step != step || r.kind != k
	if moved {
		r.chosenTool, r.chosenState = "", ""
	}
	other := moved || r.id != read.ID
	r.step, r.kind, r.id = step, k, read.ID
	r.mark.set(k)
	r.name.set(shortName(k))
	text := ""
	taken := read.ID != (model.ID{})
	if taken {
		text = typedText(job, k, read.Typed, read.Value)
	}
	if d, ok := r.table.drafts[r.key()]; ok {
		r.entry.force(text)
		r.entry.SetText(d.text)
		r.fault.say(d.err)
	} else {
		if other {
			r.entry.force(text)
		} else {
			r.entry.show(text)
		}
		r.fault.say(nil)
	}
	r.showTools(job, read.Instrument)
	s := read.State
	if !taken {
		s = r.newState()
	}
	for i, x := range model.States() {
		if x == s {
			r.state.set(i)
		}
	}
	reads := ""
	if taken {
		if reads = solver.Show(job, k, read.Value); bare(reads) == bare(text) {
			reads = "" // it would only say the same again
		}
	}
	r.reads.set(reads)
	off, verdictText, role := "", "", base.ColorNamePlaceHolder
	if a := r.table.desk.session.Answer(); c != nil && a.Survey != nil {
		verdictText, role = verdict(a.Survey, c)
		if c.Used {
			off = offText(job, c)
		}
	} else if taken && read.Aside {
		verdictText = "– aside"
	}
	r.off.set(off)
	r.verdict.put(verdictText, role)
	r.band.set(r.bandText(job))
}

// bandText is the plus-or-minus of what the row measures, read or not.
func (r *readingRow) bandText(job *model.Job) string {
	d := r.table.desk
	a := d.session.Answer()
	if a.Survey == nil || d.step < 1 || d.step > len(a.Survey.Steps) {
		return ""
	}
	f, ok := a.Survey.Steps[d.step-1].Figure(r.kind)
	if !ok {
		return ""
	}
	text := strings.TrimPrefix(solver.PlusMinus(job, r.kind, survey.Band95*f.Spread), "±")
	return strings.TrimSuffix(text, " mm")
}

// showTools lists the instruments that measure the row's kind.
func (r *readingRow) showTools(job *model.Job, id string) {
	if id == "" {
		id = r.toolID(job)
	}
	same, n := true, 0
	for _, in := range job.Instruments {
		if in.Measures == r.kind.Quantity() {
			same = same && n < len(r.tools) && r.tools[n] == in.ID && r.tool.short[n] == in.Name
			n++
		}
	}
	if !same || n != len(r.tools) {
		r.tools = r.tools[:0]
		var names, long []string
		for _, in := range job.Instruments {
			if in.Measures == r.kind.Quantity() {
				r.tools = append(r.tools, in.ID)
				names = append(names, in.Name)
				long = append(long, in.Name+"   "+spreadText(job, in))
			}
		}
		r.tool.words(names, long)
	}
	at := -1
	for i, x := range r.tools {
		if x == id {
			at = i
		}
	}
	r.tool.set(at)
}

// toolID returns the instrument of a reading to come.
func (r *readingRow) toolID(job *model.Job) string {
	if r.chosenTool != "" {
		return r.chosenTool
	}
	in, _ := job.DefaultInstrument(r.kind)
	return in.ID
}

// newState returns the state of a reading to come.
func (r *readingRow) newState() model.State {
	if r.chosenState != "" {
		return r.chosenState
	}
	job := r.table.desk.Job()
	rs := job.Flight.Readings
	if i := job.StepIndex(r.step); i >= 0 {
		rs = job.Flight.Steps[i].Readings
	}
	return r.table.desk.stateAt(rs)
}

func (r *readingRow) pickTool(i int) {
	if i >= len(r.tools) {
		return
	}
	id := r.tools[i]
	if r.id == (model.ID{}) {
		r.chosenTool = id
		return
	}
	r.table.change(r, func(x *model.Reading) { x.Instrument = id })
}

func (r *readingRow) pickState(i int) {
	s := model.States()[i]
	r.table.desk.state = s // the next readings are likely taken the same way
	if r.id == (model.ID{}) {
		r.chosenState = s
		return
	}
	r.table.change(r, func(x *model.Reading) { x.State = s })
}

// spreadText is an instrument's spread as plus or minus one standard deviation.
func spreadText(job *model.Job, in model.Instrument) string {
	switch in.Measures {
	case model.QuantityLength:
		return job.Format().PlusMinus(model.Length(in.Spread))
	case model.QuantitySlope:
		return job.Format().SlopePlusMinus(model.Angle(in.Spread))
	}
	return "±" + model.FormatDegrees(model.Angle(in.Spread), 2)
}

// fault shows under a field why its text was refused. Only the lines with the
// caret are in a face of one width, and scroll if they are long; the sentences
// are broken to the room there is.
type fault struct {
	caret *widget.Label
	line  fyne.CanvasObject // holds the caret
	words *para
	box   *fyne.Container
}

func newFault() *fault {
	f := &fault{caret: widget.NewLabel(""), words: newPara("")}
	f.caret.TextStyle.Monospace = true
	f.caret.Importance = widget.DangerImportance
	f.caret.Wrapping = fyne.TextWrapOff
	f.words.role = base.ColorNameError
	f.line = container.NewHScroll(f.caret)
	f.box = container.New(&stack{}, f.line, f.words)
	f.box.Hide()
	return f
}

// say shows an error, and nothing for nil.
func (f *fault) say(err error) {
	if err == nil {
		if f.box.Visible() {
			f.box.Hide()
		}
		return
	}
	caret, words := faultText(err)
	f.caret.SetText(caret)
	if caret == "" {
		f.line.Hide()
	} else {
		f.line.Show()
	}
	setPara(f.words, words)
	f.box.Show()
}

func trim(s string) string { return strings.TrimSpace(s) }
