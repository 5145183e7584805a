package sheets

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/walk"
	"risewright/view/card"
	"risewright/view/drawing"
)

// commissioning is how sensors and controller are tried before hand-over: each
// in turn while somebody walks, then each covered in turn.
func (s *senser) commissioning() {
	s.cautions(
		"Test with the stair's switched light on, or with somebody at its switch. Nobody walks down into the dark to see whether it lights.",
		"One person walks, a hand on the rail. Children and pets stay away until the covered tests are done.",
		"Low volts only. The mains side of the supply is for a licensed electrician.")
	if !s.solved() {
		return
	}
	setup := solver.WalkOn(s.a, s.t, s.r)
	t, err := setup.Tables()
	if err != nil {
		s.missing("the controller cannot hold this stair: "+err.Error(), "change the sensors or the controller's settings, then write this paper again")
		s.y += gap
	} else {
		s.first(t)
		s.windows(t)
		s.covered(setup)
		s.rulesFound(setup, t)
	}
	s.fields("Tried by: date and name", "Checksum the controller prints", "What had to be changed", "")
	s.y += gap
	s.together(func() { s.inputs(&s.a.Job.Sensing) })
	s.together(func() { s.control(&s.a.Job.Sensing) })
}

// first is what is done before anybody walks.
func (s *senser) first(t *walk.Tables) {
	s.heading("First", 30)
	seconds := func(ticks uint16) string { return trim(float64(ticks)*float64(t.TickMS)/1000, 0) + " s" }
	for i, text := range []string{
		fmt.Sprintf("Put the power on. The whole flight is lit for %s, until the sensors have warmed up. If it is dark, stop: the data wire or the program is at fault.", seconds(t.Warm)),
		fmt.Sprintf("Keep still and out of the way for a minute. The flight goes dark within about %s; steps that no sensor is sure of stay dimly lit.", seconds(t.Still)),
		"Press the button as the hand-over sheet says, scene by scene, and come back to the walk-through.",
	} {
		s.tick(fmt.Sprint(i+1), text)
	}
	s.y += gap
}

// windows says which bars each sensor lights brightly.
func (s *senser) windows(t *walk.Tables) {
	s.heading("Walk up, then down: what each sensor lights", 30)
	const tick = "□"
	g := s.grid(3.4, column{title: "input", width: 12, bold: true}, column{title: "sensor", width: 44, bold: true}, column{title: "bars lit, going up", width: 46}, column{title: "", width: 10, align: drawing.AlignMiddle},
		column{title: "bars lit, going down", width: 46}, column{title: "", width: 10, align: drawing.AlignMiddle}, column{title: "what you saw", width: 22})
	for i := range t.Sensors {
		row := &t.Sensors[i]
		z := &s.r.Zones[row.Input]
		g.row(fmt.Sprint(row.Input), number(z)+" "+z.Name, barsLit(row.Window[walk.CameBelow]), tick, barsLit(row.Window[walk.CameAbove]), tick, "........")
	}
	s.y += 1
	s.paragraph("Bar 1 is under the first nose and lights the floor; bar 5 lights tread 4. More bars may be lit, dimly or from the sensor before; fewer may not. A sensor that is not in the table was taken away or sees nobody.", letter{size: 3})
	s.y += gap
}

// barsLit names the bars that light positions first to last.
func barsLit(w [2]uint8) string {
	if w[0] == w[1] {
		return fmt.Sprintf("bar %d", w[0]+1)
	}
	return fmt.Sprintf("bars %d to %d", w[0]+1, w[1]+1)
}

// covered says what a walk with one sensor covered must show, as the
// simulation has it.
func (s *senser) covered(setup walk.Setup) {
	s.heading("Cover each sensor in turn, and walk again", 40)
	s.paragraph("Cap the lens with something thick that comes off, wait until the flight is dark, and walk up and down at your usual pace, a hand on the rail. No tread may be darker under a foot than the table says. After that walk the lamp for a silent sensor may be lit. Take the cap off and walk once more before the next.", letter{size: 3.4})
	s.y += 1
	up, down := s.pace()
	unlit := false
	const tick = "□"
	g := s.grid(3.4, column{title: "covered", width: 26, bold: true}, column{title: "going up, under the foot", width: 78}, column{title: "", width: 8, align: drawing.AlignMiddle}, column{title: "going down, under the foot", width: 64}, column{title: "", width: 8, align: drawing.AlignMiddle})
	for i := range setup.Zones {
		if setup.Zones[i].Removed {
			continue
		}
		z := &s.r.Zones[i]
		one := setup
		one.Faults = make([]walk.Fault, len(setup.Zones))
		one.Faults[i] = walk.DeadOff
		going, coming := s.walked(one, up, true), s.walked(one, down, false)
		unlit = unlit || strings.Contains(going+coming, darkWord)
		g.row(number(z)+" "+z.Name, going, tick, coming, tick)
	}
	s.y += 1
	if unlit {
		s.framed("DARK", "While that sensor fails, nobody is seen before those steps. That is what the stair's switched light is for: whoever finds a step dark uses it, and has the sensor mended the same day.")
	}
	s.paragraph(card.SetFractions(fmt.Sprintf("Worked out by letting an adult walk in the simulation, %s steps a second up and %s down. Bright is more than the dim level.", trim(up, 2), trim(down, 2))), letter{size: 3, ink: drawing.LetterSoft})
	s.y += gap
}

// rulesFound lists what should be known about the rules on these sensors.
func (s *senser) rulesFound(setup walk.Setup, t *walk.Tables) {
	for i, f := range walk.Findings(setup.Zones, t) {
		if i == 0 {
			s.heading("What to know about the rules on this stair", 12)
		}
		s.finding(&f)
	}
	s.y += gap
}

// usualPace is how many steps a second an adult goes where no table or stair says
// so: common practice, no source.
const usualPace = 1.8

// pace returns an adult's steps a second, up and down.
func (s *senser) pace() (up, down float64) {
	p, ok := s.senses.Pace(string(model.Adult))
	step := solver.StepM(s.a)
	if !ok || !(step > 0) {
		return usualPace, usualPace
	}
	return p.Up.Value / step, p.Down.Value / step
}

// darkWord begins the list of steps that are dark under a foot.
const darkWord = "DARK: "

// The light under a foot.
type underFoot uint8

const (
	untrodden underFoot = iota
	dark
	dim
	bright
)

// walked lets somebody walk and says how the treads were lit when a foot came
// onto them.
func (s *senser) walked(setup walk.Setup, pace float64, up bool) string {
	n := setup.Light.Bars
	from, to := -2.5, float64(n)+1.5
	if !up {
		from, to = to, from
	}
	tl, err := walk.Record(setup, []walk.Walker{{Name: "tester", From: from, Legs: []walk.Leg{{To: to, Speed: pace}}}}, 1, max(setup.Control.TickMS, 1)/1000)
	if err != nil {
		return "not known: " + err.Error()
	}
	lit := make([]underFoot, n)
	for i := range tl.Frames {
		f := &tl.Frames[i]
		for _, p := range f.Walkers {
			if p.On < 1 || p.On >= n || lit[p.On] != untrodden {
				continue
			}
			b := &f.Bars[p.On]
			switch {
			case b.Index > tl.Tables.Dim:
				lit[p.On] = bright
			case tl.Tables.Lit(b.Index):
				lit[p.On] = dim
			default:
				lit[p.On] = dark
			}
		}
	}
	text := ""
	for _, k := range []struct {
		as   underFoot
		word string
	}{{dark, darkWord}, {dim, "dim: "}, {bright, "bright: "}} {
		var at []int
		for step, l := range lit {
			if l == k.as {
				at = append(at, step)
			}
		}
		if len(at) == 0 {
			continue
		}
		if text != "" {
			text += "; "
		}
		text += k.word + s.r.Stair.Listed(at)
	}
	return text
}
