package panel

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// shapeForm makes turns, landings, open sides and a starting step of a flight,
// and takes them away. What is set here is tried on the job as it is: where it
// would be refused the button is out, and the reason stands below it.
type shapeForm struct {
	desk  *Desk
	form  form
	what  *para
	acts  []*act
	picks []*chooser // of steps: of a turn, and of an open side from and to
	turn  turnDraft
	open  openDraft
	start startDraft
	fold  *folded
}

// turnDraft is a turn as it is set in the form.
type turnDraft struct {
	kind             int // an index in turnKinds
	side             int // 0 left, 1 right
	at               int // the first step, from 1
	count            int
	angle            model.Angle
	well, depth, gap model.Length // 0: the usual
	fields           [5]*field    // count, angle, well, depth, gap
}

// openDraft is an open side as it is set in the form.
type openDraft struct {
	side     int
	from, to int
	plain    bool // without returned nosings
	bars     int
	length   model.Length
	returned *check
}

// startDraft is a starting step as it is set in the form.
type startDraft struct{ width, radius model.Length }

var (
	turnKinds = [...]string{"winders", "quarter landing", "half landing"}
	handEdges = [...]model.Edge{model.Left, model.Right}
)

// act is a button with the edit it hands on and the reason why it cannot.
type act struct {
	*button
	words func() string
	edit  func(*model.Job) (model.Edit, error)
	why   *para
}

func newShapeForm(d *Desk) *shapeForm {
	f := &shapeForm{desk: d, form: form{desk: d, tab: tabJob}, what: newPara(""), fold: newFolded("Shape of the flight")}
	f.turn = turnDraft{at: 4, count: 3, angle: 90 * model.Degree}
	f.open = openDraft{from: 1, to: 3, bars: 2}
	f.turn.fields = [5]*field{
		f.count("shape.winders", "Winders", &f.turn.count),
		f.angle("shape.angle", "Turn in all", &f.turn.angle),
		f.length("shape.well", "Well beside the turn", &f.turn.well, "usual"),
		f.length("shape.depth", "Depth of the landing", &f.turn.depth, "as wide as the flight"),
		f.length("shape.gap", "Gap between flights", &f.turn.gap, "none"),
	}
	kind := f.choose(turnKinds[:], &f.turn.kind)
	turn := container.NewGridWithColumns(2)
	f.pair(turn, "Make of it", kind)
	f.pair(turn, "Turn to the", f.hand(&f.turn.side))
	f.pair(turn, "First step", f.step(&f.turn.at))
	for _, x := range f.turn.fields {
		turn.Add(f.form.add(x).box)
	}
	side := container.NewGridWithColumns(2)
	f.pair(side, "Side", f.hand(&f.open.side))
	f.open.returned = newCheck("Nosings are returned along the ends", func(on bool) { f.open.plain = !on; f.tell() })
	side.Add(f.open.returned)
	f.pair(side, "From step", f.step(&f.open.from))
	f.pair(side, "to step", f.step(&f.open.to))
	side.Add(f.form.add(f.count("shape.balusters", "Balusters a tread", &f.open.bars)).box)
	side.Add(f.form.add(f.length("shape.baluster_length", "Their old length", &f.open.length, "not measured")).box)
	start := container.NewGridWithColumns(2)
	start.Add(f.form.add(f.length("shape.start_width", "Width of the first step", &f.start.width, "type it")).box)
	start.Add(f.form.add(f.length("shape.start_radius", "Radius of its old riser", &f.start.radius, "type it")).box)
	caution := newPara("These change the sketch, and set aside the readings of what changes shape; Undo brings all back. A side that is open, or opened, needs its guard; whether anything may be cut or taken out is for a builder or an engineer to say.")
	caution.soft()
	part := func(s string) fyne.CanvasObject { return container.New(&gap{y: 3}, newLabel(s).bold()) }
	f.fold.opening = f.show
	for _, o := range []fyne.CanvasObject{
		f.what, caution,
		part("Turn: winders or a landing"), turn,
		f.row(
			f.act(func() string { return "Make " + turnWords[f.turn.kind] }, f.makeTurn),
			f.act(f.straightWords, f.straighten)),
		part("Open side"), side,
		f.row(
			f.act(func() string { return "Open the side" }, f.openSide),
			f.act(func() string { return "Close it with a skirt board" }, f.closeSide(model.Skirt)),
			f.act(func() string { return "Close it with a wall" }, f.closeSide(model.Wall))),
		part("Starting step"), start,
		f.row(
			f.act(func() string { return "Make a starting step" }, f.startStep),
			f.act(func() string { return "Make it a plain step" }, func(*model.Job) (model.Edit, error) { return model.PlainFirstStep{}, nil })),
	} {
		f.fold.body.Add(o)
	}
	return f
}

var turnWords = [...]string{"the winders", "the landing", "the landing"}

// pair adds a named control to a grid.
func (f *shapeForm) pair(grid *fyne.Container, name string, o fyne.CanvasObject) {
	grid.Add(fieldColumns().row(newLabel(name), o))
}

// choose returns a chooser of words that sets at to the index chosen.
func (f *shapeForm) choose(list []string, at *int) *chooser {
	c := newChooser(func(i int) { *at = i; f.tell() })
	c.words(list, nil)
	c.set(*at)
	return c
}

func (f *shapeForm) hand(at *int) *chooser { return f.choose([]string{"left", "right"}, at) }

// step returns a chooser of a step, counted from 1.
func (f *shapeForm) step(at *int) *chooser {
	c := newChooser(func(i int) { *at = i + 1; f.desk.Choose(i + 1); f.tell() })
	f.picks = append(f.picks, c)
	return c
}

// put keeps a value of the form, which is no edit of the job, and tries the
// buttons anew.
func put[T any](f *shapeForm, at *T, v T, err error) (model.Edit, error) {
	if err == nil {
		*at = v
		f.tell()
	}
	return nil, err
}

func (f *shapeForm) count(id, name string, at *int) *field {
	return newField(f.desk, id, name,
		func(*model.Job) string { return strconv.Itoa(*at) },
		func(_ *model.Job, text string) (model.Edit, error) {
			n, err := strconv.Atoi(text)
			if err != nil || n < 0 {
				return nil, fmt.Errorf("%q is no whole number from 0 up; type one, as figures alone", text)
			}
			return put(f, at, n, nil)
		})
}

func (f *shapeForm) angle(id, name string, at *model.Angle) *field {
	return newField(f.desk, id, name,
		func(*model.Job) string { return model.FormatDegrees(*at, 1) },
		func(_ *model.Job, text string) (model.Edit, error) {
			a, err := readAngle(text)
			return put(f, at, a, err)
		})
}

// length returns a field of a length; empty is 0, which the words stand for.
func (f *shapeForm) length(id, name string, at *model.Length, words string) *field {
	x := newField(f.desk, id, name,
		func(j *model.Job) string {
			if *at == 0 {
				return ""
			}
			return fieldText(j.Format(), *at)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			if text == "" {
				return put(f, at, 0, nil)
			}
			l, err := ReadLength(text, j.Units)
			return put(f, at, l, err)
		})
	x.entry.SetPlaceHolder(words)
	return x
}

// act returns a button that hands on an edit.
func (f *shapeForm) act(words func() string, edit func(*model.Job) (model.Edit, error)) *act {
	a := &act{words: words, edit: edit, why: newPara("")}
	a.why.soft()
	a.button = newButton(words(), func() {
		job := f.desk.Job()
		if e, err := edit(&job); err == nil {
			_ = f.desk.Do(e) // an error has been shown
		}
	})
	f.acts = append(f.acts, a)
	return a
}

// row sets buttons beside each other and their reasons below.
func (f *shapeForm) row(acts ...*act) fyne.CanvasObject {
	line, all := container.NewHBox(), container.New(&stack{gap: 1})
	all.Add(line)
	for _, a := range acts {
		line.Add(a.button)
		all.Add(a.why)
	}
	return all
}

// id returns the id of a step, counted from 1; none beyond the flight.
func id(j *model.Job, step int) model.ID {
	if step >= 1 && step <= len(j.Flight.Steps) {
		return j.Flight.Steps[step-1].ID
	}
	return model.ID{}
}

func (f *shapeForm) makeTurn(j *model.Job) (model.Edit, error) {
	t := &f.turn
	switch t.kind {
	case 1:
		return model.InsertLanding{At: id(j, t.at), Turn: model.QuarterTurn, Side: handEdges[t.side], Depth: t.depth}, nil
	case 2:
		return model.InsertLanding{At: id(j, t.at), Turn: model.HalfTurn, Side: handEdges[t.side], Depth: t.depth, Gap: t.gap}, nil
	}
	return model.TurnToWinders{From: id(j, t.at), Count: t.count, Angle: t.angle, Side: handEdges[t.side], Well: t.well}, nil
}

func (f *shapeForm) straighten(j *model.Job) (model.Edit, error) {
	return model.Straighten{At: id(j, f.turn.at)}, nil
}

func (f *shapeForm) straightWords() string {
	job := f.desk.Job()
	switch first, last, ok := model.TurnAt(job, f.turn.at-1); {
	case !ok:
		return "Make it straight again"
	case first == last:
		return fmt.Sprintf("Make step %d a plain tread again", first+1)
	default:
		return fmt.Sprintf("Make steps %d to %d straight again", first+1, last+1)
	}
}

func (f *shapeForm) openSide(j *model.Job) (model.Edit, error) {
	o := &f.open
	return model.OpenSide{From: id(j, o.from), To: id(j, o.to), Side: handEdges[o.side], Returned: !o.plain, Balusters: o.bars, Length: o.length}, nil
}

func (f *shapeForm) closeSide(kind model.SideKind) func(*model.Job) (model.Edit, error) {
	return func(j *model.Job) (model.Edit, error) {
		o := &f.open
		return model.CloseSide{From: id(j, o.from), To: id(j, o.to), Side: handEdges[o.side], Kind: kind}, nil
	}
}

func (f *shapeForm) startStep(*model.Job) (model.Edit, error) {
	if f.start.width == 0 || f.start.radius == 0 {
		return nil, fmt.Errorf("type the width of the step and the radius of its riser first")
	}
	return model.StartingStep{Width: f.start.width, Radius: f.start.radius}, nil
}

// tell shows the job as it is, unless the group is folded.
func (f *shapeForm) tell() {
	if f.fold.body.Visible() {
		f.show()
	}
}

// show tries what is set on the job as it is.
func (f *shapeForm) show() {
	job := f.desk.Job()
	n := len(job.Flight.Steps)
	var names []string
	for i := range n {
		names = append(names, fmt.Sprint(i+1))
	}
	for i, at := range [...]*int{&f.turn.at, &f.open.from, &f.open.to} {
		c := f.picks[i]
		*at = max(1, min(*at, n))
		c.words(names, nil)
		c.set(*at - 1)
	}
	f.form.tell()
	for i, x := range f.turn.fields {
		winds := i < 3
		why := "winders only"
		on := winds == (f.turn.kind == 0)
		if i == 4 {
			on, why = f.turn.kind == 2, "half landing only"
		} else if !winds {
			why = "landings only"
		}
		x.permit(on, why)
	}
	f.open.returned.show(!f.open.plain)
	for _, a := range f.acts {
		e, err := a.edit(&job)
		if err == nil {
			_, err = e.Apply(job)
		}
		a.say(a.words(), err == nil)
		why := ""
		if err != nil {
			why = fmt.Sprintf("“%s” cannot be done: %v.", a.words(), err)
		}
		if setPara(a.why, why); (why != "") != a.why.Visible() {
			if why != "" {
				a.why.Show()
			} else {
				a.why.Hide()
			}
		}
	}
	setPara(f.what, ShapeWords(&job))
}

// ShapeWords says in a sentence or two how a flight turns, where it is open, and
// whether it has a starting step.
func ShapeWords(j *model.Job) string {
	var parts []string
	side := func(right bool) string {
		if right {
			return "right"
		}
		return "left"
	}
	for i := 0; i < len(j.Flight.Steps); {
		first, last, ok := model.TurnAt(*j, i)
		if !ok {
			i++
			continue
		}
		if s := &j.Flight.Steps[first]; s.Landing {
			parts = append(parts, fmt.Sprintf("a landing at step %d", first+1))
		} else {
			parts = append(parts, fmt.Sprintf("%s at steps %d to %d", model.Plural(last-first+1, "winder"), first+1, last+1))
		}
		i = last + 1
	}
	for k, e := range [2]func(*model.Step) model.Side{func(s *model.Step) model.Side { return s.Left }, func(s *model.Step) model.Side { return s.Right }} {
		for i := 0; i < len(j.Flight.Steps); i++ {
			from := i
			for i < len(j.Flight.Steps) && e(&j.Flight.Steps[i]).Kind == model.Open {
				i++
			}
			if i > from {
				parts = append(parts, fmt.Sprintf("%s side open from step %d to %d", side(k == 1), from+1, i))
			}
		}
	}
	if len(j.Flight.Steps) > 0 && (j.Flight.Steps[0].RoundLeft > 0 || j.Flight.Steps[0].RoundRight > 0) {
		parts = append(parts, "a starting step")
	}
	if len(parts) == 0 {
		return "The flight is straight and closed at both sides."
	}
	return model.Capital(strings.Join(parts, "; ")) + "."
}
