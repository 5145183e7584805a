package sheets

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/estimate"
	"risewright/view/card"
	"risewright/view/drawing"
	"risewright/view/words"
)

// Shot is a picture of the stair with what it shows.
type Shot struct {
	Title   string // such as "evening, someone half way up"
	Picture *drawing.Picture
	Note    string // a sentence on how it was made, or none
}

// Client returns the proposal for whoever lives with the stair: what it will
// look like, what changes under the foot, what can be chosen, what it may cost,
// when the stair is out of use, and what is not in it. Without shots it says
// that there are no pictures.
func Client(w *solver.Work, m Meta, shots []Shot) Paper {
	k := &worker{book: newBook("Proposal", m, w.Answer.Job.Format()), w: w, job: &w.Answer.Job}
	k.page()
	if k.solved() {
		k.proposal(shots)
	}
	return Paper{Name: "proposal.pdf", Title: "Proposal", Pages: k.finish(len(k.pages))}
}

func (k *worker) proposal(shots []Shot) {
	k.unmeasured(k.job)
	k.woodMissing()
	k.shots(shots)
	k.work()
	k.together(k.underFoot)
	k.together(k.options)
	k.together(k.price)
	k.together(k.disruption)
	k.together(func() {
		k.exclusions()
		k.cautioned()
	})
}

// shots sets the first picture across the page and the others in rows.
func (k *worker) shots(shots []Shot) {
	if len(shots) == 0 {
		why := "there are no pictures of the finished stair"
		if k.meta.NoShots != "" {
			why += ": " + k.meta.NoShots
		}
		k.missing(why, "write the papers from the program, which makes them, or render one and pin it here")
		k.y += gap
		return
	}
	k.shot(shots[0], k.left(), k.inner())
	rest, across := shots[1:], 2
	if len(rest)%3 == 0 {
		across = 3
	}
	const between = 4.0
	width := (k.inner() - between*float64(across-1)) / float64(across)
	for len(rest) > 0 {
		n := min(across, len(rest))
		tall := 0.0
		for _, s := range rest[:n] {
			tall = max(tall, shotTall(s, width))
		}
		k.room(tall + shotTitle)
		top, end := k.y, k.y
		for i, s := range rest[:n] {
			k.y = top
			k.shot(s, k.left()+float64(i)*(width+between), width)
			end = max(end, k.y)
		}
		k.y, rest = end, rest[n:]
	}
	k.y += 1
	k.paragraph("Pictures are worked out from the survey. Grain, colour and light on the day will differ: agree on samples of the wood, the paint and the light, seen at night.", letter{size: 3.2})
	said := ""
	for _, s := range shots {
		if s.Note != "" && s.Note != said {
			k.paragraph(s.Note, letter{size: 3.2})
			said = s.Note
		}
	}
	k.y += gap
}

const shotTitle = 5.0 // below a picture

func shotTall(s Shot, width float64) float64 {
	return width * float64(s.Picture.Height) / float64(s.Picture.Width)
}

func (k *worker) shot(s Shot, x, width float64) {
	tall := shotTall(s, width)
	if most := k.floor() - margin - headTall - shotTitle; tall > most {
		width, tall = width*most/tall, most
	}
	k.room(tall + shotTitle)
	k.list().Picture(k.at(x, k.y+tall), k.at(x+width, k.y), s.Picture)
	k.rect(x, k.y, width, tall, drawing.Fill{}, drawing.Thin)
	k.text(x, k.y+tall+3.8, width, model.Capital(s.Title), letter{size: 3.2, bold: true})
	k.y += tall + shotTitle + 1
}

// work says in a few lines what will be done.
func (k *worker) work() {
	j := k.job
	k.heading("What will be done", 24)
	n := len(j.Flight.Steps)
	k.item("–", fmt.Sprintf("The carpet is lifted, the old treads are made sound, and %s are covered with %s, %s thick; the %s risers are painted.",
		model.Plural(max(n-1, 0), "tread"), woodWords(k.w), k.length(float64(j.Overlay.Tread)), fmt.Sprint(n)))
	k.item("–", fmt.Sprintf("A landing nosing %s thick finishes the top edge.", k.length(float64(j.Overlay.Landing))))
	for i, d := range []struct{ side, board string }{{"left", string(k.w.Order.Left.Board)}, {"right", string(k.w.Order.Right.Board)}} {
		if d.board == "" {
			continue
		}
		removable := []bool{k.w.Order.Left.Cap, k.w.Order.Right.Cap}[i]
		s := fmt.Sprintf("At the %s: %s", d.side, d.board)
		if removable {
			s += ", with a cap that comes off so that the wires stay within reach"
		}
		k.item("–", s+".")
	}
	if j.Lighting.On() {
		s := fmt.Sprintf("A light bar under each of %s", model.Plural(len(k.w.Answer.Bars.Bars), "nosing"))
		if j.Sensing.On() {
			s += fmt.Sprintf(", and %s that light the steps round whoever walks and leave the others dark", model.Plural(present(j.Sensing), "motion sensor"))
		}
		k.item("–", s+". They are an addition to the switched light of the stair and never replace it.")
	}
	k.y += gap
}

// present counts the sensors that are not removed.
func present(s model.Sensing) int {
	n := 0
	for i := range s.Sensors {
		if !s.Sensors[i].Removed {
			n++
		}
	}
	return n
}

// underFoot says what becomes of the first and the last rise, of headroom,
// rail and doors.
func (k *worker) underFoot() {
	r := &k.w.Answer.Buildup
	k.heading("What changes under the foot", 30)
	if gapsOf(k.job).nothing {
		k.missing("no rise is measured, so it is not known what changes", "read the rises, headroom and rail; the figures then stand here")
		k.y += gap
		return
	}
	if len(r.Steps) == 0 {
		k.missing("the rises are not worked out", "mend the findings that stop work; they are on the build-up sheet")
		return
	}
	g := k.grid(3.6, column{title: "", width: 60}, figures("now", 28), figures("after", 28), figures("change", 28), column{title: "", width: 40})
	row := func(name string, before, after float64) {
		change := after - before
		s := k.length(math.Abs(change))
		switch {
		case math.Abs(change) < 0.05:
			s = "none"
		case change > 0:
			s = "+" + s
		default:
			s = "−" + s
		}
		g.row(name, k.length(before), k.length(after), s)
	}
	first, last := &r.Steps[0], &r.Steps[len(r.Steps)-1]
	row("first rise, from the bottom floor", first.RiseBefore.Mean(), first.RiseAfter.Mean())
	row("last rise, to the top floor", last.RiseBefore.Mean(), last.RiseAfter.Mean())
	row("largest and smallest rise differ by", r.RiseBefore.Spread.At, r.RiseAfter.Spread.At)
	row("floor to floor", r.FlightRiseBefore.At, r.FlightRise.At)
	for i := range r.Headroom {
		h := &r.Headroom[i]
		row(fmt.Sprintf("headroom above step %d", h.Step), h.Before.At, h.After.At)
	}
	for i := range r.Rail {
		h := &r.Rail[i]
		row(fmt.Sprintf("handrail above step %d", h.Step), h.Before.At, h.After.At)
	}
	k.y += 1
	if worst := k.worst(); worst != "" {
		k.paragraph("To settle before work begins: "+worst, letter{size: 3.4, bold: true})
	}
	k.paragraph("A stair whose rises differ trips people. The figures are finish to finish, from the survey named above; they are read again on bare wood before anything is cut.", letter{size: 3.2})
	k.y += gap
}

// worst names the gravest finding that concerns the household. What stops a cut
// is the surveyor's to mend and not theirs.
func (k *worker) worst() string {
	for i := range k.w.Answer.Findings {
		if f := &k.w.Answer.Findings[i]; f.Severity == model.Outside {
			return card.SetFractions(model.Sentence(f.Title))
		}
	}
	return ""
}

// options lists what can be chosen besides, best first.
func (k *worker) options() {
	k.heading("What can be chosen", 20)
	own := k.w.Order
	shown := 0
	seen := map[string]bool{string(own.Left.Board) + string(own.Right.Board): true}
	for i := range own.Candidates {
		c := &own.Candidates[i]
		key := string(c.Left.Board) + string(c.Right.Board)
		if seen[key] {
			continue
		}
		seen[key] = true
		k.item("☐", fmt.Sprintf("Skirts: %s at the left, %s at the right, instead of the above. %s", c.Left.Board, c.Right.Board, visible(c.Seen, c.Scribed)))
		if shown++; shown == 3 {
			break
		}
	}
	j := k.job
	switch {
	case !j.Lighting.On():
		k.item("☐", "Light bars under the nosings. Not in this price; the wires go in before the treads go down, so decide before work begins.")
	case !j.Sensing.On():
		k.item("☐", "Motion sensors that light only the steps round whoever walks. Not in this price.")
	default:
		k.item("☐", "Without the light bars and sensors. What they cost is left out, and the hours to fit and wire them.")
	}
	k.item("☐", "Another wood: treads are the dearest part, and the price goes with it.")
	k.item("☐", "Hinged or screwed cover over the wires, to be seen or hidden.")
	k.y += gap
}

func visible(seen, scribed int) string {
	return fmt.Sprintf("%s in view, %s.", model.Plural(seen, "joint"), model.Plural(scribed, "scribed edge"))
}

// price is a range, with where it comes from.
func (k *worker) price() {
	k.heading("What it may cost", 30)
	m := &k.w.Money
	if !k.priced() {
		k.unpriced()
		return
	}
	k.paragraph(fmt.Sprintf("Between %s and %s.", money(m.Currency, m.Total.Low), money(m.Currency, m.Total.High)), letter{size: 5.2, bold: true})
	g := k.grid(3.5, column{title: "", width: 60}, figures("from", 26), figures("to", 26), column{title: "", width: 62})
	row := func(name string, r estimate.Range, why string) {
		g.cells(cell{s: name}, cell{s: money("", r.Low)}, cell{s: money("", r.High)}, cell{s: why})
	}
	labour := fmt.Sprintf("%.0f to %.0f hours", k.w.Total.Low, k.w.Total.High)
	if k.job.Shop.Householder {
		labour += ", your own"
	}
	row("labour", m.Labour, labour)
	row("wood, paint and small parts", m.Materials, "as on the buying list")
	row("for what the carpet hides", m.Contingency, "spent only where it is needed, and shown")
	k.y += 1
	k.notInPrice()
	k.paragraph("A range and no offer: it becomes one when the carpet is up and the steps are measured bare. Prices that ship with the program are guesses from memory; only your own are prices.", letter{size: 3.2})
	k.y += gap
}

// notInPrice says what the price leaves out because nobody has given a price for
// it, so that a household does not take it for the whole.
func (k *worker) notInPrice() {
	var not []string
	for _, r := range k.w.Buy.Rows {
		if r.Missing {
			not = append(not, fmt.Sprintf("%d × %s, %s", r.Count, r.Use, r.Name))
		}
	}
	var texts []string
	if len(not) > 0 {
		texts = append(texts, "What the table of goods has no price for: "+strings.Join(not, "; ")+".")
	}
	if k.job.Lighting.On() {
		texts = append(texts, "The light bars' strips, supply, controller, wires, fuses and sensors: no table has their prices. Have them priced by the wiring schedule.")
	}
	if k.w.Money.Currency == "" {
		k.paragraph("The tables name no currency: write it in before anybody reads this.", letter{size: 3.4, bold: true})
	}
	if len(texts) > 0 {
		for i := range texts {
			texts[i] = card.SetFractions(texts[i])
		}
		k.framed("NOT IN IT", texts...)
	}
}

// disruption says how long, and the nights on which the stair is limited.
func (k *worker) disruption() {
	k.heading("Days of work, and nights without the stair", 20)
	c := &k.w.Calendar
	if len(c.Days) == 0 {
		if p := &k.w.Order.Plan; len(p.Evenings) > 0 {
			long := "one evening"
			if n := len(p.Evenings); n > 1 {
				long = fmt.Sprintf("%d evenings", n)
			}
			k.item("–", fmt.Sprintf("Fitting takes %s; %s.", long, shutWords(p)))
		}
		k.missing("there are no dates, because the job names no first day of work", "give the job its first day; nights without the stair follow from it")
		k.y += gap
		return
	}
	work, off, over := 0, 0, 0
	var nights []string
	for i := range c.Days {
		d := &c.Days[i]
		if len(d.Work) > 0 {
			work++
		}
		switch d.Night {
		case estimate.NightOff:
			off++
			nights = append(nights, d.Date.Format("Mon 2 Jan")+" (nobody on it)")
		case estimate.NightStepOver:
			over++
			nights = append(nights, d.Date.Format("Mon 2 Jan")+" (every other step)")
		}
	}
	first, last := c.Days[0].Date, c.Days[len(c.Days)-1].Date
	k.item("–", fmt.Sprintf("%s of work between %s and, likely, %s. Drying and curing stand between them.", model.Plural(work, "day"), dateWords(first), dateWords(last)))
	switch {
	case len(nights) == 0:
		k.item("–", "The stair can be walked on every night, with care.")
	default:
		var limits []string
		if off > 0 {
			limits = append(limits, nightsWords("nobody may walk on it on one night", "nobody may walk on it on %d nights", off))
		}
		if over > 0 {
			limits = append(limits, nightsWords("only every other step may be trodden on one night", "only every other step may be trodden on %d nights", over))
		}
		for i := range limits {
			limits[i] = words.Say(limits[i])
		}
		k.item("–", words.Done(model.Sentence(strings.Join(limits, "; ")+": "+words.Say(strings.Join(nights, ", ")))))
	}
	k.item("–", "Noise and dust while the carpet, its grippers and staples come off and while wood is cut; smell while finish and paint dry. Keep children and animals off, and plan another way to bed and out in a fire.")
	k.y += gap
}

// nightsWords is one when there is one night, else many with their number.
func nightsWords(one, many string, n int) string {
	if n == 1 {
		return one
	}
	return fmt.Sprintf(many, n)
}

// exclusions is what the price does not hold; common practice, no source.
func (k *worker) exclusions() {
	k.heading("Not in this proposal", 24)
	for _, s := range []string{
		"Testing for and removal of lead paint and asbestos, and whatever they delay.",
		"Mends to the structure: carriages, strings, newels, or floors that turn out unsound. They are shown to you and priced before they are done.",
		"Mains electricity: a licensed electrician's work, with a bill of its own.",
		"Making the stair comply with today's code where the old one never did. What the figures say of it is in the build-up sheet.",
		"Decoration beyond the risers and skirts, floors beyond the landing nosing, and moving furniture.",
		"Repairs to lights and controller after hand-over, except what the hand-over sheet promises.",
	} {
		k.item("–", s)
	}
	k.paragraph("Common practice, no source; strike out and add as agreed.", letter{size: 3})
	k.y += gap
}

// cautioned sets the cautions a household has to know, and room for names.
func (k *worker) cautioned() {
	k.heading("Please read", 24)
	for _, c := range Cautions() {
		switch c.Title {
		case "Lead paint", "Asbestos", "A stair out of use", "Finishes", "Electricity":
			k.item("▲", c.Title+": "+c.Text)
		}
	}
	k.signatures("agreed, for the household: name and date", "for the work: name and date")
}

// signatures leaves a line for each of two people.
func (k *worker) signatures(names ...string) {
	const tall = 17.0
	k.room(tall)
	half := (k.inner() - 10) / 2
	for i, s := range names {
		x := k.left() + float64(i)*(half+10)
		k.line(x, k.y+12, x+half, k.y+12, drawing.Thin)
		k.text(x, k.y+15.6, half, s, letter{size: 3})
	}
	k.y += tall
}
