package panel

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
	"risewright/solver/walk"
	"risewright/view/drawing"
	"risewright/view/lights"
	"risewright/view/sheets"
)

// walkDesk is somebody put on the stair, and a day of people.
type walkDesk struct {
	on     bool
	at     float64 // place along the flight
	clock  float64 // seconds of the walk
	live   *walk.Live
	liveOf *solver.Answer
	bars   []walk.Bar
	fault  string
	// covered is a sensor with its lens covered while somebody walks by hand, so
	// that what the controller does without it can be seen.
	covered model.ID

	seed    uint64      // of the day
	few     int         // only one in so many of the usual walks is walked; 0: all
	kept    *walk.Setup // arrangement A, to compare with
	days    []walk.Outcome
	daysOf  *solver.Answer
	daysBy  uint64 // their seed
	running bool
	found   *walk.Found
	foundOf *solver.Answer
	foundBy uint64 // its seed
	playing int    // the walk that is played; another number ends it
}

// handPace is how fast somebody who is dragged counts as walking, steps a
// second, however fast the hand is.
const handPace = walk.UsualPace

// walk returns what is shown of somebody on the stair, or nil.
func (d *Desk) walk() *walkShow {
	w := &d.walking
	if !w.on || !d.walkable() {
		return nil
	}
	d.live()
	if w.live == nil {
		return nil
	}
	return &walkShow{at: w.at, bars: w.bars, lit: w.live.Tables().Lit, why: d.underFoot()}
}

// walkerAt returns the place of the walker for the band, or nil.
func (d *Desk) walkerAt() *float64 {
	if !d.walking.on {
		return nil
	}
	at := d.walking.at
	return &at
}

// setupOf returns the stair as it is, to be walked on.
func (d *Desk) setupOf(name string) walk.Setup {
	s := solver.WalkOn(d.session.Answer(), d.session.Tables(), d.Sensed())
	s.Name = name
	return s
}

// live makes the stair to walk on anew when the job has changed: the walker
// stays where they are.
func (d *Desk) live() {
	w := &d.walking
	a := d.session.Answer()
	if w.live != nil && w.liveOf == a || w.fault != "" && w.liveOf == a {
		return
	}
	w.liveOf, w.fault = a, ""
	setup := d.setupOf("now")
	if i := d.coveredSensor(); i >= 0 && i < len(setup.Zones) {
		setup.Faults = make([]walk.Fault, len(setup.Zones))
		setup.Faults[i] = walk.DeadOff
	}
	l, err := walk.NewLive(setup)
	if err != nil {
		w.live, w.bars, w.fault = nil, nil, model.Sentence(err.Error())
		return
	}
	w.live, w.clock = l, 0
	w.bars = l.At(w.at, 0)
}

// takeWalker notes that the walker is dragged; an animation ends.
func (d *Desk) takeWalker() {
	d.Leave()
	d.stopWalk()
}

func (d *Desk) stopWalk() {
	d.walking.playing++
}

// moveWalker lets the walker go to a place at a usual pace.
func (d *Desk) moveWalker(to float64) {
	w := &d.walking
	if !w.on {
		return
	}
	d.live()
	if w.live == nil || d.Sensed().Stair == nil {
		return
	}
	n := float64(len(d.session.Job().Flight.Steps))
	to = math.Max(-1.5, math.Min(n+0.5, to))
	w.clock += math.Abs(to-w.at) / handPace
	w.at = to
	w.bars = w.live.At(to, w.clock)
	d.tell(Walked)
}

// stepWalker moves the walker by steps; the first puts them in front of the
// stair.
func (d *Desk) stepWalker(by float64) {
	if !d.walking.on {
		d.putWalker(true)
		return
	}
	d.stopWalk()
	d.moveWalker(math.Round((d.walking.at+by)*2) / 2)
}

// waitWalker lets the walker stand for some seconds.
func (d *Desk) waitWalker(seconds float64) {
	w := &d.walking
	if !w.on || w.live == nil {
		return
	}
	w.clock += seconds
	w.bars = w.live.At(w.at, w.clock)
	d.tell(Walked)
}

// putWalker puts somebody in front of the stair, or takes them off.
func (d *Desk) putWalker(on bool) {
	d.stopWalk()
	d.walking.on = on
	d.walking.at, d.walking.live, d.walking.fault = -1, nil, ""
	d.tell(Viewed)
}

// play has somebody walk the whole flight.
func (d *Desk) playWalk(up bool) {
	d.stopWalk()
	n := float64(len(d.session.Job().Flight.Steps))
	from, to := -1.0, n+0.5
	if !up {
		from, to = to, from
	}
	w := &d.walking
	w.on, w.at, w.live, w.fault = true, from, nil, ""
	d.live()
	d.playOn(w.playing, to)
	d.tell(Viewed)
}

// frameTime is the time between two frames of a walk that is played, seconds.
const frameTime = 0.04

// playOn takes a walk on by a frame, and by the next after it.
func (d *Desk) playOn(which int, to float64) {
	d.later(func() {
		if d.Frame != nil {
			d.Frame()
		}
	}, func() {
		w := &d.walking
		if w.playing != which || !w.on || w.at == to || d.Sensed().Stair == nil {
			return
		}
		step := handPace * frameTime
		if gap := to - w.at; math.Abs(gap) <= step {
			d.moveWalker(to)
		} else {
			d.moveWalker(w.at + math.Copysign(step, gap))
			d.playOn(which, to)
		}
	})
}

// The day that is walked.
const (
	walksOfDay   = 400 // about a month of a household, so that rare things happen
	passersOfDay = 100
	mostSeed     = 999_999_999
)

// crowd draws the people of so large a part of the days of a seed and does
// something with them off the goroutine of the interface, one such thing at a time; then shows
// what came of it, and whether it failed, which is our fault and not the job's.
func (d *Desk) crowd(part int, seed uint64, doing string, work func([]walk.Walker), then func(failed bool)) {
	w := &d.walking
	w.running, w.fault = true, ""
	part *= max(1, w.few)
	n, paces := len(d.session.Job().Flight.Steps), sensorTables(d).Paces
	fault := ""
	d.later(func() {
		defer func() {
			if cause := recover(); cause != nil {
				fault = fmt.Sprintf("The program failed while %s: %v. Nothing is lost.", doing, cause)
			}
		}()
		work(walk.Crowd{Walks: walksOfDay / part, Passers: passersOfDay / part}.Draw(seed, n, paces))
	}, func() {
		w.running, w.fault = false, fault
		then(fault != "")
		d.tell(Viewed)
	})
	d.tell(Viewed)
}

// runDay lets people walk over the stair, and over arrangement A if one is kept.
func (d *Desk) runDay() {
	w := &d.walking
	a := d.session.Answer()
	if w.running || d.Sensed().Stair == nil {
		return
	}
	setups := []walk.Setup{d.setupOf("now")}
	if w.kept != nil {
		setups = append([]walk.Setup{*w.kept}, setups...)
	}
	var days []walk.Outcome
	seed := w.seed
	d.crowd(1, seed, "people walked",
		func(walkers []walk.Walker) { days = walk.Compare(setups, walkers, seed) },
		func(bool) { w.days, w.daysOf, w.daysBy = days, a, seed })
}

// searchControl looks for settings with fewer feet in the dark.
func (d *Desk) searchControl() {
	w := &d.walking
	a := d.session.Answer()
	if w.running || d.Sensed().Stair == nil {
		return
	}
	setup := d.setupOf("now")
	var found walk.Found
	seed := w.seed
	d.crowd(4, seed, "looking for settings",
		func(walkers []walk.Walker) { found = walk.Search(setup, walkers, seed, 2) },
		func(failed bool) {
			if !failed {
				w.found, w.foundOf, w.foundBy = &found, a, seed
			}
		})
}

// walkShow is somebody on the stair and the bars lit for them.
type walkShow struct {
	at   float64
	bars []walk.Bar
	lit  func(index uint8) bool
	why  string // the step underfoot is lit so; a few words, or none
}

// walkerTall is the height of the figure drawn, mm.
const walkerTall = 1650

// middleOf is where the walker stands, as a point of the stair.
func middleOf(r *sensing.Result, along float64) (step int, p mgl64.Vec3) {
	return r.Stair.StepAt(along), r.Stair.Middle(along)
}

// draw draws the lit steps and the walker.
func (w *walkShow) draw(l *drawing.List, r *sensing.Result, place lights.Place, section bool, v drawing.Viewport) {
	if r.Stair == nil || place == nil || v.Scale <= 0 {
		return
	}
	on := func(along float64) drawing.Point {
		step, p := middleOf(r, along)
		return place(step, p)
	}
	for i := range w.bars {
		b := &w.bars[i]
		if b.Level == 0 {
			continue
		}
		// bar i+1 lights position i, from the nose of riser i to that of i+1
		a, c := on(float64(i)-0.95), on(float64(i)-0.05)
		bright := float64(b.Level) / 255
		stroke := drawing.Stroke{Ink: drawing.Lamp, Width: 0.8 + 2.4*math.Sqrt(bright)}
		if !w.lit(b.Index) {
			stroke = drawing.Stroke{Ink: drawing.Lamp, Width: drawing.Medium, Dash: []float64{1, 1}}
		}
		// on a darker line, or its colour would hardly be seen on light paper
		l.Line(a, c, drawing.Stroke{Ink: drawing.Line, Width: stroke.Width + 0.5, Dash: stroke.Dash})
		l.Line(a, c, stroke)
	}
	foot := on(w.at)
	body := drawing.Fill{Ink: drawing.Paper}
	s := drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium}
	if !section {
		l.Circle(foot, 230, body, s)
		ahead := on(w.at + 0.6)
		l.Arrow(foot, ahead, s)
		return
	}
	step, p := middleOf(r, w.at)
	up := func(z float64) drawing.Point { return place(step, p.Add(mgl64.Vec3{0, 0, z})) }
	const half = 110
	hip, shoulder, head := up(walkerTall*0.5), up(walkerTall*0.82), up(walkerTall*0.93)
	l.Line(drawing.Point{X: foot.X - half, Y: foot.Y}, hip, s)
	l.Line(drawing.Point{X: foot.X + half, Y: foot.Y}, hip, s)
	l.Polygon([]drawing.Point{{X: hip.X - half, Y: hip.Y}, {X: hip.X + half, Y: hip.Y}, {X: shoulder.X + half, Y: shoulder.Y}, {X: shoulder.X - half, Y: shoulder.Y}}, body, s)
	l.Circle(head, walkerTall*0.07, body, s)
	w.note(l, up(walkerTall*1.06))
}

// walkInk is the colour of lit steps.
var walkInk = color.NRGBA{R: 0xFF, G: 0xB0, B: 0x3C, A: 0xFF}

// Inks implements canvas.Inked.
func (s *sensorDrawing) Inks(p drawing.Palette) drawing.Palette {
	if s.desk.walk() != nil {
		return p.Lit(walkInk)
	}
	return s.lightDrawing.Inks(p)
}

// onWalker says whether the walker is under a pixel.
func (s *sensorDrawing) onWalker(v drawing.Viewport, at drawing.Point) bool {
	if s.desk.walk() == nil || v.Scale <= 0 {
		return false
	}
	r := s.desk.Sensed()
	place := s.place(s.desk.session.Answer(), v)
	if r.Stair == nil || place == nil {
		return false
	}
	step, p := middleOf(r, s.desk.walking.at)
	reach := 250.0
	if s.section {
		p, reach = p.Add(mgl64.Vec3{0, 0, walkerTall / 2}), walkerTall/2
		d := v.Scene(at).Sub(place(step, p))
		return math.Abs(d.X) < 180 && math.Abs(d.Y) < reach
	}
	return v.Scene(at).Sub(place(step, p)).Len() < reach
}

// walkForm puts somebody on the stair and runs days.
type walkForm struct {
	desk *Desk
	put, up, down, wait, cover,
	day, keep, seek, use *button
	words  *para
	why    *para // the step underfoot is lit so
	form   form
	scores *fyne.Container
	scored []walk.Outcome // that scores shows
	result *para
	box    *fyne.Container
}

func newWalkForm(d *Desk) *walkForm {
	f := &walkForm{desk: d, words: newPara(""), why: newPara("").bold(), form: form{desk: d, tab: tabSensors}, result: newPara(""), scores: container.New(&stack{gap: 1})}
	f.put = newButton("Put somebody there", func() { d.putWalker(!d.walking.on) })
	f.up = newButton("Walk up", func() { d.playWalk(true) })
	f.down = newButton("Walk down", func() { d.playWalk(false) })
	f.wait = newButton("Stand 5 s", func() { d.waitWalker(5) })
	f.cover = newButton(coverWord, d.coverSensor)
	f.day = newButton("Run many days", d.runDay)
	f.keep = newButton("Keep this as A", func() {
		s := d.setupOf("A")
		d.walking.kept = &s
		d.walking.days = nil
		d.tell(Viewed)
	})
	f.seek = newButton("Look for better settings", d.searchControl)
	f.use = newButton("Use them", func() {
		if w := &d.walking; w.found != nil {
			_ = d.Do(model.SetControl{Control: w.found.Best.Setup.Control}) // an error has been shown
		}
	})
	f.box = container.New(&stack{gap: 3},
		container.NewHBox(f.put, f.up, f.down, f.wait, f.cover), f.words, f.why,
		container.NewHBox(f.day, f.keep, f.seek, f.use), f.seed(), f.scores, f.result)
	return f
}

// seed is the field of the day's seed.
func (f *walkForm) seed() fyne.CanvasObject {
	w := &f.desk.walking
	x := newField(f.desk, "sensing.seed", "Seed of the days",
		func(*model.Job) string { return strconv.FormatUint(w.seed, 10) },
		func(_ *model.Job, text string) (model.Edit, error) {
			n, err := strconv.ParseUint(text, 10, 64)
			if err != nil || n > mostSeed {
				return nil, fmt.Errorf("%q is no seed; type a whole number from 0 to %d", text, mostSeed)
			}
			w.seed = n
			return nil, nil
		})
	return container.NewGridWithColumns(2, f.form.add(x).box, newPara("Same seed, same days.").soft())
}

func (f *walkForm) tell() {
	d := f.desk
	w := &d.walking
	ok := d.walkable()
	put := "Put somebody there"
	if w.on {
		put = "Take them off"
	}
	f.put.say(put, ok)
	f.up.say("Walk up", ok)
	f.down.say("Walk down", ok)
	f.wait.say("Stand 5 s", ok && w.on)
	f.day.say("Run many days", ok && !w.running)
	f.keep.say("Keep this as A", ok && !w.running)
	f.seek.say("Look for better settings", ok && !w.running)
	f.use.say("Use them", w.found != nil && w.foundOf == d.session.Answer() && len(w.found.Changes) > 0)
	text := "Drag the walker in plan or section, or press W and S there: they count as walking about 1.8 steps a second, however fast you drag."
	if ok && w.on {
		d.live()
		if w.live != nil {
			text = f.live()
		}
	}
	if w.fault != "" {
		text = w.fault
	}
	setPara(f.words, text)
	setOrHide(f.why, d.whyLit())
	word := coverWord
	if d.coveredSensor() >= 0 {
		word = "Uncover it"
	}
	f.cover.say(word, ok && w.on)
	f.form.tell()
	f.outcome()
}

// live says what is lit now.
func (f *walkForm) live() string {
	d := f.desk
	w := &d.walking
	r := d.Sensed()
	full, dim := []int{}, 0
	for i := range w.bars {
		switch b := &w.bars[i]; {
		case b.Level == 0:
		case w.live.Tables().Lit(b.Index) && b.Level > 20:
			full = append(full, i+1)
		default:
			dim++
		}
	}
	at := r.Stair.PositionWords(max(0, min(r.Stair.Risers, walk.Position(w.at))))
	s := fmt.Sprintf("At %.1f s on %s. ", w.clock, at)
	var on []string
	for i := range d.session.Job().Sensing.Sensors {
		if w.live.Sensors()&(1<<i) != 0 {
			on = append(on, d.sensorName(i))
		}
	}
	if len(on) == 0 {
		s += "No sensor is on. "
	} else {
		s += "On: " + strings.Join(on, ", ") + ". "
	}
	switch {
	case len(full) > 0:
		s += "Bars lit: " + sheets.Steps(full)
		if dim > 0 {
			s += fmt.Sprintf(", and %d dimly", dim)
		}
		s += "."
	case dim > 0:
		s += fmt.Sprintf("%s lit dimly.", model.Capital(model.Plural(dim, "bar")))
	default:
		s += "All bars are dark."
	}
	return s
}

// score fills in the scores of the days, when there are others than before.
func (f *walkForm) score() {
	days := f.desk.walking.days
	if len(days) == len(f.scored) && (len(days) == 0 || &days[0] == &f.scored[0]) {
		return
	}
	f.scored = days
	f.scores.RemoveAll()
	if len(days) > 0 {
		cols := &columns{least: []float32{150, 80, 80}, share: []float32{2, 1, 1}, gap: 6}
		head := []fyne.CanvasObject{newLabel(fmt.Sprintf("%d walks, seed %d", walksOfDay/max(1, f.desk.walking.few), f.desk.walking.daysBy)).soft().small()}
		for i := range days {
			name := "now"
			if len(days) > 1 && i == 0 {
				name = "A"
			}
			head = append(head, newLabel(name).soft().small().right())
		}
		f.scores.Add(cols.row(head...))
		for _, line := range scoreLines {
			row := []fyne.CanvasObject{newLabel(line.name)}
			for i := range days {
				text := line.of(&days[i].Score)
				if days[i].Err != nil {
					text = "–"
				}
				row = append(row, newLabel(text).right())
			}
			f.scores.Add(cols.row(row...))
		}
	}
	f.scores.Refresh()
}

// outcome shows the scores of the days, and says what they are of.
func (f *walkForm) outcome() {
	d := f.desk
	w := &d.walking
	f.score()
	text := ""
	switch {
	case w.running:
		text = "People are walking…"
	case len(w.days) > 0 && w.days[len(w.days)-1].Err != nil:
		text = model.Sentence(w.days[len(w.days)-1].Err.Error())
	case len(w.days) > 0 && w.daysOf != d.session.Answer():
		text = "For the job before its last change. Run again to compare with the same walkers."
	case len(w.days) > 0 && w.daysBy != w.seed:
		text = fmt.Sprintf("For the days of seed %d. Run again for those of seed %d.", w.daysBy, w.seed)
	case w.found != nil && w.foundOf == d.session.Answer():
		text = foundWords(w.found) + fmt.Sprintf(" Tried on the days of seed %d.", w.foundBy)
	case w.kept != nil && len(w.days) == 0:
		text = "A is kept. Change sensors or settings, then run: both get the same walkers."
	}
	if text == "" && len(w.days) > 0 {
		text = "Feet in the dark while nobody could have been seen yet are counted apart."
	}
	setOrHide(f.result, text)
}

// scoreLines are the scores shown.
var scoreLines = []struct {
	name string
	of   func(*walk.Score) string
}{
	{"feet that landed on steps", func(s *walk.Score) string { return fmt.Sprint(s.Footfalls) }},
	{"of these in the dark", func(s *walk.Score) string { return fmt.Sprint(s.Dark) }},
	{"of those before a sensor could act", func(s *walk.Score) string { return fmt.Sprint(s.DarkEntry) }},
	{"with a step ahead dark", func(s *walk.Score) string { return fmt.Sprint(s.LookDark) }},
	{"light ahead of a foot, s, on average", func(s *walk.Score) string { return fmt.Sprintf("%.1f", s.Warning) }},
	{"light ahead of a foot, s, least", func(s *walk.Score) string { return fmt.Sprintf("%.1f", s.LeastWarning) }},
	{"hours that steps were lit, all added", func(s *walk.Score) string { return fmt.Sprintf("%.2f", s.Lit/3600) }},
	{"of these for nobody", func(s *walk.Score) string { return fmt.Sprintf("%.2f", s.Needless/3600) }},
	{"energy, Wh", func(s *walk.Score) string { return fmt.Sprintf("%.1f", s.WattHours) }},
	{"triggers where nobody could be", func(s *walk.Score) string { return fmt.Sprint(s.Conflicts) }},
}

// foundWords says what a search came to.
func foundWords(f *walk.Found) string {
	if len(f.Changes) == 0 {
		return "No setting that was tried is better."
	}
	var out []string
	for _, c := range f.Changes {
		out = append(out, fmt.Sprintf("%s from %g to %g", c.Title, c.From, c.To))
	}
	return "Better: " + strings.Join(out, ", ") + "."
}
