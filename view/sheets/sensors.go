package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
	"risewright/view/card"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/plan"
	"risewright/view/section"
	"risewright/view/zones"
)

// Sensors returns the papers of the motion sensors: where each goes and how it
// is aimed, with what it speaks for; and how they and the controller are tried
// before hand-over. A job without sensors has none; what cannot be said is named
// on the paper. r is what solver.Sense says of the answer.
func Sensors(a *solver.Answer, r *sensing.Result, t model.Tables, m Meta) []Paper {
	if a == nil || !a.Job.Sensing.On() {
		return nil
	}
	var out []Paper
	for _, p := range []struct {
		name, title string
		write       func(*senser)
	}{
		{"sensors.pdf", "Sensors", (*senser).placing},
		{"sensor-commissioning.pdf", "Trying the sensors", (*senser).commissioning},
	} {
		s := &senser{book: newBook(p.title, m, a.Job.Format()), a: a, r: named(r), t: t, senses: t.Senses.With(a.Job.Sensing.Own)}
		s.page()
		p.write(s)
		out = append(out, Paper{Name: p.name, Title: p.title, Pages: s.finish(len(s.pages))})
	}
	return out
}

// senser lays out one paper of the sensors.
type senser struct {
	*book
	a      *solver.Answer
	r      *sensing.Result
	t      model.Tables
	senses model.SensorTables // with the job's own
}

// solved reports whether there is a stair to look at; where not, the page says
// so.
func (s *senser) solved() bool {
	if s.r != nil && s.r.Stair != nil && len(s.r.Zones) == len(s.a.Job.Sensing.Sensors) {
		return !s.unmeasured(&s.a.Job)
	}
	s.missing("it is not known what the sensors see, because the stair could not be worked out", "mend the findings that stop work; they are on the build-up sheet")
	return false
}

// length writes a length as it is marked out with a tape, to a millimetre or a
// sixteenth of an inch: the place of a lens asks for no more.
func (s *senser) length(mm float64) string { return s.within(mm, 0, 16) }

// fine writes a small length, to a tenth of a millimetre or a 32nd of an inch.
func (s *senser) fine(mm float64) string { return s.within(mm, 1, 32) }

// within writes a length to so many decimals of a millimetre, or to such a part of
// an inch.
func (s *senser) within(mm float64, decimals int, part float64) string {
	if s.f.Units == model.Imperial {
		step := float64(model.Inch) / part
		return card.Length(s.f, math.Round(mm/step)*step)
	}
	return fmt.Sprintf("%.*f mm", decimals, mm)
}

// number names a sensor by its place in the job, as on the drawings.
func number(z *sensing.Zone) string { return fmt.Sprint(z.Sensor + 1) }

// longestName is the longest name of a sensor on paper, in characters: more does
// not fit beside the band.
const longestName = 20

// named returns r with names that can be printed beside a drawing, also for
// sensors that nobody named.
func named(r *sensing.Result) *sensing.Result {
	if r == nil {
		return nil
	}
	out := *r
	out.Zones = slices.Clone(r.Zones)
	for i := range out.Zones {
		z := &out.Zones[i]
		z.Name = strings.TrimSpace(printable(z.Name))
		if z.Name == "" {
			z.Name = "not named"
		}
		if n := []rune(z.Name); len(n) > longestName {
			z.Name = strings.TrimSpace(string(n[:longestName-1])) + "…"
		}
	}
	return &out
}

// sensorCautions are of the places of sensors; common practice, no source.
func sensorCautions() []string {
	return []string{
		"Sensors and bars help the eye. They never take the place of the stair's switched light.",
		"Work from the treads or from a ladder made for stairs. Do not lean over the rail, and keep tools and leads off the treads.",
		"Only low volts go to a sensor. Before you screw into a wall, post or rail, find what runs behind it. Mains is for a licensed electrician.",
		"A hand must slide along the rail without meeting a sensor, its wire or its screws.",
	}
}

// placing is where each sensor goes, how it is aimed and what it speaks for.
func (s *senser) placing() {
	s.cautions(sensorCautions()...)
	if !s.solved() {
		return
	}
	s.band()
	s.together(s.places)
	s.drawings()
	s.page()
	s.together(s.aims)
	s.together(s.spoken)
	s.together(s.fooled)
	s.together(s.sensorFindings)
	s.together(s.trial)
	s.together(s.classes)
}

// band draws which sensor speaks for which steps.
func (s *senser) band() {
	draw := func(on *drawing.List, scale float64) {
		zones.Band(on, s.r, zones.Options{Scale: scale, Chosen: -1})
	}
	s.picture("Who speaks for which steps", min(s.wanted(draw), s.height/2.6), draw)
	s.paragraph("Filled: the steps of which a sensor is sure. Dashed: where it may already see somebody. Hatched, with a number: steps that two are sure of. Cross-hatched: blind. Last row: which sensors are on together.", letter{size: 2.8})
	s.y += gap
}

// numbers is the column of the sensors' numbers.
func (s *senser) numbers() column {
	return column{width: 5, bold: true, holds: []string{fmt.Sprint(len(s.r.Zones))}}
}

// places says where each lens is, to be measured with a tape.
func (s *senser) places() {
	s.heading("Where each goes", 30)
	g := s.grid(3.2, s.numbers(), column{title: "sensor", width: 16, bold: true}, column{title: "class", width: 28}, column{title: "hangs", width: 22},
		figures("along, steps", 13), column{title: "measured along", width: 46}, column{title: "height of the lens", width: 58})
	for i := range s.r.Zones {
		z := &s.r.Zones[i]
		along, at, height := s.place(z)
		if z.Removed {
			at = "taken away; its place is kept: " + at
		}
		g.row(number(z), z.Name, s.class(&z.From), mountWords(z.From.Mount), along, at, height)
	}
	s.y += 1
	s.paragraph("Along counts steps: 0 at the finished nose line of step 1, 1 at that of step 2. Lengths are level and to the middle of the lens; at a rail or wall they run beside it, from where a nose line meets it. Left and right are as seen walking up.", letter{size: 2.8})
	s.y += gap
}

// class is the title of a sensor's class.
func (s *senser) class(x *model.Sensor) string {
	if c, ok := s.senses.Class(x.Class); ok {
		return c.Title
	}
	return "not in the table: “" + x.Class + "”"
}

// aims says which way each looks and what is in front of its lens.
func (s *senser) aims() {
	s.heading("How each is aimed", 30)
	g := s.grid(3.4, s.numbers(), column{title: "sensor", width: 18, bold: true}, column{title: "turned, seen from above", width: 42}, column{title: "tilted", width: 22},
		column{title: "its middle points at", width: 54}, column{title: "hood", width: 24}, column{title: "tape on the lens", width: 24})
	for i := range s.r.Zones {
		z := &s.r.Zones[i]
		x := &z.From
		at := "–"
		if z.Settled() {
			at = s.aimedAt(&z.Eye)
		}
		g.row(number(z), z.Name, turnWords(x), tiltWords(x.Tilt), at, s.hoodWords(x), maskWords(x.Mask))
	}
	s.y += 1
	s.paragraph("Hold a straw or a small pointer along the sensor's middle line to find where it points; never look into a laser. Tape angles are from that line, as the sensor looks: what lies beyond is covered.", letter{size: 2.8})
	for _, text := range s.slits() {
		s.paragraph(text, letter{size: 2.8})
	}
	s.y += gap
}

// slits says how far apart two tapes stick on a lens that is half a ball: its
// width by the sine of the angle, once for each angle and lens.
func (s *senser) slits() []string {
	var out []string
	for i := range s.r.Zones {
		x := &s.r.Zones[i].From
		c, ok := s.senses.Class(x.Class)
		if a := x.Mask.Left; !ok || x.Removed || a <= 0 || x.Mask.Right != a || !(c.LensMM.Value > 0) {
			continue
		}
		slit := c.LensMM.Value * math.Sin(float64(x.Mask.Left))
		text := fmt.Sprintf("Tape at both sides, %.0f° each: on a lens that is half a ball and %s wide it leaves a slit of %s. Measure yours, and walk past it to see where it ends.",
			float64(x.Mask.Left/model.Degree), s.fine(c.LensMM.Value), s.fine(slit))
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

// spoken says what each sensor is sure of and what is lost without it, what
// neighbours share, and what nobody sees.
func (s *senser) spoken() {
	st := s.r.Stair
	s.heading("What each speaks for", 30)
	g := s.grid(3.4, s.numbers(), column{title: "sensor", width: 18, bold: true}, column{title: "sure of", width: 46}, column{title: "along, steps", width: 28},
		column{title: "may also see somebody at", width: 50}, column{title: "blind without it", width: 41})
	for i := range s.r.Zones {
		z := &s.r.Zones[i]
		if !z.Settled() {
			why := "taken away"
			if !z.Removed {
				why = "sees nothing: " + z.Err
			}
			g.row(number(z), z.Name, why, "–", "–", "–")
			continue
		}
		sure, at := "no step", "–"
		if z.Sure.Len() > 0 {
			sure, at = st.Listed(run(z.Sure)), card.SetFractions(fmt.Sprintf("%.2f to %.2f", z.SureAt.From, z.SureAt.To))
		}
		var may []int
		for k, ok := range z.Glimpses {
			if ok && !z.Sure.Has(k) {
				may = append(may, k)
			}
		}
		g.row(number(z), z.Name, sure, at, listedOr(st, may, "nowhere else"), listedOr(st, s.lost(i), "nothing: its neighbours see it all"))
	}
	s.y += 1
	for _, o := range s.r.Overlaps {
		a, b := &s.r.Zones[o.Low], &s.r.Zones[o.High]
		text := fmt.Sprintf("%s and %s (%s and %s) both see %s, %.2f steps.", a.Name, b.Name, number(a), number(b), listedOr(st, run(o.Positions), "no whole step"), o.Length)
		if o.Length < 0 {
			text = fmt.Sprintf("Between %s and %s (%s and %s) %.2f steps are seen by neither.", a.Name, b.Name, number(a), number(b), -o.Length)
		}
		s.item("–", model.Sentence(text))
	}
	if len(s.r.Blind) > 0 {
		s.framed("BLIND", model.Sentence("no sensor is sure of "+st.Listed(s.r.Blind))+" The controller remembers somebody there from the steps beside; try it with a child and with somebody slow.")
	} else {
		s.paragraph("Every step and both floors are seen.", letter{size: 3.5, bold: true})
	}
	s.y += gap
}

// lost are the positions that nobody sees once the sensor at place i fails.
func (s *senser) lost(i int) []int {
	was := map[int]bool{}
	for _, k := range s.r.Blind {
		was[k] = true
	}
	without := s.r.Without(i)
	var out []int
	for _, k := range without.Blind {
		if !was[k] {
			out = append(out, k)
		}
	}
	return out
}

func run(s sensing.Span) []int {
	var out []int
	for k := s.First; k <= s.Last; k++ {
		out = append(out, k)
	}
	return out
}

func listedOr(st *sensing.Stair, ks []int, none string) string {
	if len(ks) == 0 {
		return none
	}
	return st.Listed(ks)
}

// drawings shows the sensors on plan and section, both on one page.
func (s *senser) drawings() {
	o := handle.Options{Format: s.f}
	over := zones.Options{Chosen: -1}
	drawPlan := func(on *drawing.List, scale float64) {
		o.Scale, over.Scale = scale, scale
		layered(on, scale, func(l *drawing.List) { plan.Draw(l, s.a, o) }, func(l *drawing.List) { zones.Draw(l, s.r, lights.Plan(o), over) })
	}
	inSection := over
	inSection.Section = true
	drawSection := func(on *drawing.List, scale float64) {
		o.Scale, inSection.Scale = scale, scale
		layered(on, scale, func(l *drawing.List) { section.Draw(l, s.a, o) }, func(l *drawing.List) { zones.Draw(l, s.r, lights.Section(s.a, o), inSection) })
	}
	s.page()
	s.planAndSection(drawPlan, drawSection)
	s.paragraph("Disc: a lens, with the sensor's number. Arrow: the way it looks. Hatched: what it is sure of on the line people walk.", letter{size: 2.8})
	s.y += gap
}

// fooled lists what else may switch a sensor on.
func (s *senser) fooled() {
	s.heading("What may fool them", 14)
	sense := &s.a.Job.Sensing
	if len(sense.Passers) == 0 && len(sense.Warm) == 0 {
		s.missing("nothing is said of doors, pets, corridors, radiators, vents or sun near the stair", "enter them under Sensors; until then look for them during the trial below")
		s.y += gap
		return
	}
	if len(s.r.Triggers) == 0 {
		s.paragraph("Of what is entered near the stair, nothing comes into the view of a sensor.", letter{size: 3.5})
		s.y += gap
		return
	}
	g := s.grid(3.4, column{title: "sensor", width: 40, bold: true}, column{title: "sees", width: 50}, figures("at most, of it", 22), figures("on how much of its way", 30), column{title: "try", width: 46})
	for _, t := range s.r.Triggers {
		z := &s.r.Zones[t.Sensor]
		way, try := fmt.Sprintf("%.0f %%", 100*t.Part), "tape on that side, a deeper hood, or two triggers before full light"
		if t.Warm {
			way, try = "stands there", "tape over that part, or turn the sensor away"
		}
		g.row(number(z)+" "+z.Name, t.Name, fmt.Sprintf("%.0f %%", 100*t.Most), way, try)
	}
	s.y += gap
}

// sensorFindings lists what was found about the sensors, each with how far it
// can be trusted.
func (s *senser) sensorFindings() {
	type kind struct{ rule, detail, remedy string }
	alike := map[kind]int{}
	of := func(f *model.Finding) kind { return kind{f.Rule, f.Detail, f.Remedy} }
	for i := range s.r.Findings {
		alike[of(&s.r.Findings[i])]++
	}
	for i := range s.r.Findings {
		f := &s.r.Findings[i]
		if i == 0 {
			s.heading("What was found about them", 14)
		}
		n := alike[of(f)]
		if n == 0 {
			continue // said with the first of its kind
		}
		alike[of(f)] = 0
		s.finding(f)
		switch {
		case n == 2:
			s.item("", "The same is true once more; the sensors' tab names each.")
		case n > 2:
			s.item("", fmt.Sprintf("The same is true %d times more; the sensors' tab names each.", n-1))
		}
	}
	s.y += gap
}
