package sheets

import (
	"fmt"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
	"risewright/view/card"
	"risewright/view/drawing"
)

// Survey returns the survey sheet: what to know before starting, the readings
// of the whole flight, then a block for each step from the bottom up with a box
// for every reading in walking order. Readings already taken are printed with
// their state.
func Survey(a *solver.Answer, m Meta) []drawing.Page {
	s := surveyor{book: newBook("Survey sheet", m, a.Job.Format()), a: a, job: &a.Job, retake: map[model.ID]survey.Suspect{}}
	if a.Survey != nil {
		for _, c := range a.Survey.Conflicts {
			for _, x := range c.Suspects {
				s.retake[x.Reading] = x
			}
		}
	}
	s.page()
	s.howTo()
	s.cautions()
	s.page()
	s.flight()
	s.heights()
	s.tools()
	s.remarks()
	s.steps()
	s.remarks()
	return s.finish(len(s.pages))
}

type surveyor struct {
	*book
	a      *solver.Answer
	job    *model.Job
	retake map[model.ID]survey.Suspect
	// toolsAt is the page that lists the tools.
	toolsAt int
}

func (s *surveyor) howTo() {
	j := s.job
	lead := fmt.Sprintf("%d risers · lengths in %s, angles in degrees · a cut is released when its widths are known to %s, its depths and diagonals to %s (95 %% band)",
		len(j.Flight.Steps), unitWord(j), card.PlusMinus(s.f, float64(j.Tolerance)), card.PlusMinus(s.f, 2*float64(j.Tolerance)))
	if j.Place != "" {
		lead = j.Place + " · " + lead
	}
	s.paragraph(lead, letter{size: 4, bold: true})
	s.y += 1.5
	s.heading("How to take the readings", 20)
	two := card.Length(s.f, 2)
	for i, t := range []string{
		"Walk up. Riser 1 is the lowest, tread 1 lies above it; the landing nosing is the last tread. Left and right are always as you walk UP, also when you kneel facing down.",
		"On bare wood, with squeaks fixed and the old nosing dealt with. A reading over carpet or guessed is worth writing down, but it releases no cut.",
		"Measure at the height of the NEW tread top: stand gauge and rods on a block as thick as the new tread. Take the front width at the new nose line, not at the old edge.",
		"Write what the instrument shows. A gauge shows the inside angle of the opening: 90 is square, more than 90 opens out towards the nose (back corners). A lean is positive when the side opens outwards going up; a tilt is positive when the right, or the back, is higher.",
		"Tick how it was taken, and write another tool's letter over the one printed if you used it. Never copy one tread's width to the next.",
		fmt.Sprintf("When readings of a step disagree: about %s accept; about %s accept, cut long and creep; more, take the named reading again. If it still stands, the side is bowed: make a hardboard template (common practice, no source).", card.Length(s.f, 1), two),
		fmt.Sprintf("The rises of one side must add up to the total rise: question a difference beyond %s, stop beyond %s (common practice, no source).", card.Length(s.f, 4), card.Length(s.f, 8)),
	} {
		t := wrap(t, s.inner()-7, letter{size: 3.6})
		tall := float64(len(t)) * 3.6 * leading
		s.room(tall + 1)
		s.text(s.left(), s.y+3.3, 0, fmt.Sprint(i+1), letter{size: 3.8, bold: true})
		s.y = s.lines(s.left()+7, s.y, t, letter{size: 3.6}) + 1
	}
	s.y += 1
}

func unitWord(j *model.Job) string {
	if j.Units == model.Imperial {
		return fmt.Sprintf("inches and fractions to 1/%d", max(16, j.Fraction))
	}
	return "millimetres"
}

func (s *surveyor) cautions() {
	s.heading("Before you start: what can hurt people", 24)
	const label = 35.0
	lines := func(body letter) (out [][]string, tall float64) {
		for _, c := range Cautions() {
			text := wrap(fmt.Sprintf("%s (%s; %s)", c.Text, standing(c.Standing), c.Source), s.inner()-label, body)
			out, tall = append(out, text), tall+float64(len(text))*body.size*leading+1.6
		}
		return out, tall
	}
	const last = 10.0 // what is said under them all, on two lines
	body := letter{size: 3.3}
	texts, tall := lines(body)
	for body.size > 2.8 && s.y+tall+last > s.floor() { // a language of long words: smaller, to stay on the page
		body.size -= 0.1
		texts, tall = lines(body)
	}
	for i, c := range Cautions() {
		text := texts[i]
		s.room(float64(len(text))*body.size*leading + 1.6)
		s.label(s.left(), s.y+3.3, label-2, c.Title, letter{size: 3.7, bold: true})
		s.y = s.lines(s.left()+label, s.y, text, body) + 1.6
	}
	s.paragraph("Local code, lead and asbestos rules and licensed people come before anything on this sheet.", letter{size: 3.6, bold: true})
}

// The columns of a row of readings, in mm from its left edge, for a row of
// nominal width.
const (
	rowWidth  = 66.0
	atName    = 5.2
	atBox     = 32.0
	boxWidth  = 17.5
	atTool    = 51.2
	atStates  = 54.6
	stateStep = 2.9
	tick      = 2.4
)

// states in the order of their columns, with the letter that heads each.
var stateLetters = [...]struct {
	state  model.State
	letter string
}{{model.Guessed, "G"}, {model.OverCarpet, "C"}, {model.Bare, "B"}, {model.Checked, "K"}}

const stateLegend = "G guessed · C over carpet · B on bare wood · K checked: read again on bare wood, the same"

// rowHead letters the columns over rows that begin at x; scale stretches them.
func (s *surveyor) rowHead(x, y, scale float64) {
	small := letter{size: 2.4, ink: drawing.LetterSoft, align: drawing.AlignMiddle}
	// ends where the states begin: the word is long in some languages
	s.text(x+(atStates+0.3)*scale, y, 0, "tool", letter{size: small.size, ink: small.ink, align: drawing.AlignEnd})
	for i, c := range stateLetters {
		s.text(x+(atStates+stateStep*float64(i)+0.9)*scale+tick/2, y, 0, c.letter, small)
	}
}

// row writes one reading: its number, name, box, tool and state.
func (s *surveyor) row(x, y, tall, scale float64, number int, k model.Kind, rs []model.Reading) {
	base := y + tall/2 + 1.2
	r, others := latest(rs, k)
	bold := false
	name := shortKind(k)
	if r != nil {
		if _, bad := s.retake[r.ID]; bad {
			bold = true
		}
	}
	s.disc(x+2.2, y+tall/2, fmt.Sprint(number), bold)
	s.label(x+atName*scale, base, (atBox-atName)*scale-1, name, letter{size: 3.2, bold: bold})
	const inset = 0.5
	s.rect(x+atBox*scale, y+inset, boxWidth*scale, tall-2*inset, drawing.Fill{}, drawing.Thin)
	tool, known := s.job.DefaultInstrument(k)
	if r != nil {
		text := value(s.job, r)
		switch {
		case r.Aside:
			text += " aside"
		case others > 0:
			text += fmt.Sprintf(" (+%d)", others)
		}
		s.text(x+(atBox+boxWidth/2)*scale, base, boxWidth*scale-1, text, letter{size: 3.6, bold: true, align: drawing.AlignMiddle})
		tool, known = s.job.InstrumentByID(r.Instrument)
	}
	if known {
		s.text(x+(atTool+1)*scale, base, 0, s.code(tool.ID), letter{size: 3, align: drawing.AlignMiddle})
	}
	for i, c := range stateLetters {
		tx, ty := x+(atStates+stateStep*float64(i)+0.9)*scale, y+(tall-tick)/2
		s.rect(tx, ty, tick, tick, drawing.Fill{}, drawing.Fine)
		if r != nil && r.State == c.state {
			s.line(tx, ty, tx+tick, ty+tick, drawing.Thick)
			s.line(tx, ty+tick, tx+tick, ty, drawing.Thick)
		}
	}
}

// disc is a number in a ring: the mark that ties a row to its place in the
// sketch. A filled one asks for the reading again.
func (s *surveyor) disc(x, y float64, number string, filled bool) {
	fill, ink := drawing.Paper, drawing.Letter
	if filled {
		fill, ink = drawing.Line, drawing.Paper
	}
	s.list().Circle(s.at(x, y), 1.95, drawing.Fill{Ink: fill}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Fine})
	s.list().Text(drawing.Text{At: s.at(x, y), Size: 2.5, Bold: true, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Ink: ink, String: number})
}

// code is the letter by which the sheet calls an instrument: its place in the
// job's table.
func (s *surveyor) code(id string) string {
	for i := range s.job.Instruments {
		if s.job.Instruments[i].ID == id {
			return toolLetter(i)
		}
	}
	return "?"
}

func toolLetter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return string(rune('a'+i/26-1)) + string(rune('a'+i%26))
}

func (s *surveyor) flight() {
	s.heading("The whole flight", 4*8)
	s.rowHead(s.left(), s.y+1.6, 1)
	s.y += 2.4
	for i, k := range model.FlightKinds() {
		const tall = 7.2
		s.row(s.left(), s.y, tall, 1, i+1, k, s.job.Flight.Readings)
		s.text(s.left()+rowWidth+5, s.y+tall/2+1.2, s.inner()-rowWidth-5, kindHelp(k), letter{size: 3.3})
		s.y += tall
	}
	s.y += 1
	s.paragraph(stateLegend, letter{size: 2.9})
	s.y += gap
}

// blanks are the empty rows offered for heights and doors not yet read.
const blanks = 3

func (s *surveyor) heights() {
	s.heading("Rail, headroom, doors", 40)
	third := (s.inner() - 8) / 3
	top := s.y
	low := top
	column := func(n int, title, how string, rows []string) {
		x := s.left() + float64(n)*(third+4)
		y := top
		s.text(x, y+3.6, third, title, letter{size: 4, bold: true})
		y = s.lines(x, y+4.8, wrap(how, third, letter{size: 2.8}), letter{size: 2.8}) + 0.8
		const tall = 7.0
		for _, r := range rows {
			s.rect(x, y, third, tall, drawing.Fill{}, drawing.Thin)
			s.text(x+1.5, y+tall/2+1.3, third-3, r, letter{size: 3.4})
			y += tall
		}
		low = max(low, y)
	}
	column(0, "Handrail", "plumb from the nose of a step to the top of the rail", s.heightRows(s.job.Flight.Rail))
	column(1, "Headroom", "plumb from the nose of a step to whatever hangs above; the least counts", s.heightRows(s.job.Flight.Headroom))
	var doors []string
	for _, d := range s.job.Flight.Doors {
		floor := "bottom"
		if d.Top {
			floor = "top"
		}
		doors = append(doors, fmt.Sprintf("%s, %s floor: gap %s", printable(d.Name), floor, card.Length(s.f, float64(d.Gap))))
	}
	for range max(1, blanks-len(doors)) {
		doors = append(doors, "door:                 gap:")
	}
	column(2, "Doors", "from the old floor finish to the door's lower edge", doors[:min(len(doors), most)])
	s.y = low + gap
}

// most is how many rows of heights or doors are listed; a stair has few.
const most = 8

func (s *surveyor) heightRows(hs []model.Height) []string {
	var rows []string
	for _, h := range hs {
		v := card.Length(s.f, float64(h.Value))
		rows = append(rows, fmt.Sprintf("step %d: %s", s.job.StepIndex(h.Step)+1, v))
	}
	for range max(1, blanks-len(rows)) {
		rows = append(rows, "step:          height:")
	}
	return rows[:min(len(rows), most)]
}

// tools lists the instruments with the letters that the rows call them by.
func (s *surveyor) tools() {
	n := len(s.job.Instruments)
	if n == 0 {
		return
	}
	half := (s.inner() - 6) / 2
	state := 0.0
	for i := range s.job.Instruments {
		state = max(state, drawing.TextWidth(standing(s.job.Instruments[i].Standing), 2.6, false, false))
	}
	state = min(state, 0.3*half)
	wide, tall := half-5-17-state-1, 4.3
	for i := range s.job.Instruments { // a long name takes two lines
		if drawing.TextWidth(printable(s.job.Instruments[i].Name), 2.7, false, false) > wide {
			tall = 6.4
		}
	}
	per := (n + 1) / 2
	s.heading("Tools, and how far a reading may be out, two times in three", min(float64(per)*tall, 60))
	s.toolsAt = len(s.pages)
	top := s.y
	for i := range s.job.Instruments {
		in := s.job.Instruments[i]
		x, y := s.left()+float64(i/per)*(half+6), top+float64(i%per)*tall
		if y+tall > s.floor() {
			break // a job with hundreds of tools; their letters still stand in the rows
		}
		s.text(x, y+3.2, 0, toolLetter(i), letter{size: 3.4, bold: true})
		s.label(x+5, y+3.2, wide, printable(in.Name), letter{size: 3})
		s.text(x+half-state-1, y+3.2, 17, spread(s.f, in), letter{size: 3, align: drawing.AlignEnd})
		s.text(x+half-state, y+3.2, state, standing(in.Standing), letter{size: 2.6, ink: drawing.LetterSoft})
		s.y = max(s.y, y+tall)
	}
	s.y += gap
}

// remarks rules what is left of the page for writing.
func (s *surveyor) remarks() {
	const ruled = 8.0
	if s.y+8+2*ruled > s.floor() {
		return
	}
	s.heading("Remarks: squeaks, bowed sides, what must not be cut, who has been asked", 2*ruled)
	for s.y += ruled; s.y < s.floor(); s.y += ruled {
		s.faint(s.left(), s.y, s.right(), s.y)
	}
}

// blocksPerPage is how many steps share a page: rows stay tall enough to write
// in with a carpenter's pencil.
const blocksPerPage = 3

func (s *surveyor) steps() {
	for i := range s.job.Flight.Steps {
		if i%blocksPerPage == 0 {
			s.page()
			s.paragraph(fmt.Sprintf("%s · tools: page %d", stateLegend, s.toolsAt), letter{size: 2.8})
			s.y += 0.6
		}
		tall := (s.floor() - margin - headTall - 4.6) / blocksPerPage
		s.step(i, s.y, tall-2)
		s.y += tall
	}
}

// step is the block of one step in a box tall mm tall from y down.
func (s *surveyor) step(i int, y, tall float64) {
	st := &s.job.Flight.Steps[i]
	s.rect(s.left(), y, s.inner(), tall, drawing.Fill{}, drawing.Medium)
	const head = 8.4
	title := fmt.Sprintf("STEP %d", i+1)
	if i == len(s.job.Flight.Steps)-1 {
		title += ", landing nosing"
	}
	s.text(s.left()+2.5, y+6, 0, title, letter{size: 5.6, bold: true})
	x := s.left() + 5.5 + drawing.TextWidth(title, 5.6, true, false)
	ready := s.ready(i)
	readyWidth := min(drawing.TextWidth(ready, 3.2, true, false), s.inner()*0.42)
	s.label(x, y+5.8, s.right()-x-readyWidth-5, fmt.Sprintf("left: %s · right: %s · old nosing %s", sideWord(st.Left.Kind), sideWord(st.Right.Kind), nosingWord(st.Nosing)), letter{size: 3.2})
	s.text(s.right()-2.5, y+5.8, s.inner()*0.42, ready, letter{size: 3.2, bold: true, align: drawing.AlignEnd})
	s.line(s.left(), y+head, s.right(), y+head, drawing.Fine)

	const sketchWidth = 52.0
	s.sketch(i, s.left()+1, y+head, sketchWidth, tall-head)
	cols := s.left() + sketchWidth + 2
	colWidth := (s.right() - cols - 6) / 2
	scale := colWidth / rowWidth
	kinds := model.StepKinds()
	per := (len(kinds) + 1) / 2
	rowTall := (tall - head - 4.2) / float64(per)
	for c := range 2 {
		s.rowHead(cols+float64(c)*(colWidth+4), y+head+2.8, scale)
	}
	for n, k := range kinds {
		rx := cols + float64(n/per)*(colWidth+4)
		ry := y + head + 3.4 + float64(n%per)*rowTall
		if i == 0 && (k == model.GoingLeft || k == model.GoingRight) {
			s.disc(rx+2.2, ry+rowTall/2, fmt.Sprint(n+1), false)
			s.text(rx+atName*scale, ry+rowTall/2+1.2, 0, k.Words()+": none at step 1", letter{size: 3, ink: drawing.LetterSoft})
			continue
		}
		s.row(rx, ry, rowTall, scale, n+1, k, st.Readings)
	}
}

// ready says what the step is good for so far and what to read next.
func (s *surveyor) ready(i int) string {
	if s.a.Survey == nil || i >= len(s.a.Survey.Steps) {
		return ""
	}
	for _, r := range s.job.Flight.Steps[i].Readings {
		if _, bad := s.retake[r.ID]; bad {
			return fmt.Sprintf("RETAKE %d: %s", slices.Index(model.StepKinds(), r.Kind)+1, r.Kind.Words())
		}
	}
	st := &s.a.Survey.Steps[i]
	switch {
	case st.Readiness == survey.ReadyCut:
		return "ready to cut"
	case len(st.Next) > 0:
		return "read next: " + st.Next[0].Kind.Words()
	}
	return strings.TrimSpace("good for " + goodFor(st.Readiness))
}

func goodFor(r survey.Readiness) string {
	if r == survey.ReadyBuy {
		return "buying"
	}
	return "a sketch"
}
