package sheets

import (
	"fmt"

	"risewright/model"
	"risewright/view/drawing"
)

// trial is the week with tape before anything is fixed; common practice, no
// source.
func (s *senser) trial() {
	s.heading("A week with tape, before anything is fixed", 40)
	for i, text := range []string{
		fmt.Sprintf("Fix sensors and hoods with tape that comes off, at the places above. Wires go where no foot does. Wait %s after the power comes on before you judge anything.", s.warmUp()),
		"Walk up and down in the middle, then hugging each side, then slowly, then fast. Let a child, an older person and whoever wears a thick coat do the same. Keep a hand on the rail and the stair's switched light within reach.",
		"Pass in the hall and on the landing without climbing. Open and shut every door beside the stair. Let the pet go where it goes.",
		"Keep one evening with the heating on, one hour with the sun in, and one night.",
		"Write down each time below. Change one thing at a time: tape on the lens, depth of the hood, tilt, place. Write it on this sheet and into the job.",
		"Two days without a line: fix it. A step that still lights late gets another sensor, not a longer hold.",
	} {
		s.tick(fmt.Sprint(i+1), text)
	}
	s.y += 1
	const dots = "................"
	g := s.grid(3.4, column{title: "day", width: 16, bold: true}, column{title: "step that lit late or not at all, and who it was", width: 62}, column{title: "lit with nobody there: when, and what moved", width: 58}, column{title: "changed: sensor, and what", width: 52})
	for day := 1; day <= 7; day++ {
		g.row(fmt.Sprint(day), dots+dots+dots, dots+dots+dots, dots+dots+dots)
		s.y += 2.4
	}
	s.paragraph("Common practice, no source.", letter{size: 3, ink: drawing.LetterSoft})
	s.y += gap
}

// warmUp is how long the slowest of the sensors in use takes to be trusted.
func (s *senser) warmUp() string {
	most := 0.0
	for i := range s.a.Job.Sensing.Sensors {
		if x := &s.a.Job.Sensing.Sensors[i]; !x.Removed {
			if c, ok := s.senses.Class(x.Class); ok {
				most = max(most, c.WarmUp.Value)
			}
		}
	}
	return trim(most, 0) + " s"
}

// classes lists what is known of the sensors in use, and how far it can be
// trusted.
func (s *senser) classes() {
	s.heading("What is known of these sensors", 24)
	for i, c := range s.inUse() {
		if i > 0 {
			s.y += gap
		}
		s.room(30)
		s.paragraph(model.Sentence(c.Title), letter{size: 3.6, bold: true})
		g := s.grid(3.2, column{title: "what", width: 54, bold: true}, figures("figure", 22), column{title: "it is", width: 28}, column{title: "from", width: 84})
		for _, v := range []struct {
			what, unit string
			r          model.Rated
		}{
			{"field from side to side", "°", c.H}, {"field from top to bottom", "°", c.V}, {"range", " m", c.RangeM}, {"lens, across", " mm", c.LensMM},
			{"output stays on, at least", " s", c.HoldLeast}, {"output stays on, at most", " s", c.HoldMost}, {"blind after a pulse", " s", c.Block},
			{"not to be trusted after power", " s", c.WarmUp}, {"from movement to output", " s", c.Latency},
			{"volts, at least", " V", c.VoltsLeast}, {"volts, at most", " V", c.VoltsMost}, {"output when on", " V", c.OutVolts},
		} {
			if v.r == (model.Rated{}) {
				continue
			}
			g.row(v.what, s.rated(v.r.Value, v.unit), standing(v.r.Standing), v.r.From)
		}
	}
	seen := s.senses.Practised("seen")
	s.y += 1
	s.paragraph(fmt.Sprintf("A sensor counts as sure of a step when it sees %s %% of every body of the table there, on every line people walk (%s: %s). What it does behind its lens is not reckoned: the trial tells.", trim(100*seen.Value, 0), standing(seen.Standing), seen.From), letter{size: 3})
	s.y += gap
}

// rated writes a figure of a data sheet, lengths as the job has them.
func (s *senser) rated(v float64, unit string) string {
	if s.f.Units == model.Imperial {
		switch unit {
		case " m":
			return trim(v*1000/float64(model.Foot), 0) + " ft"
		case " mm":
			return s.length(v)
		}
	}
	return trim(v, 2) + unit
}

// inUse are the classes of the job's sensors, each once, in their order.
func (s *senser) inUse() []model.SensorClass {
	var out []model.SensorClass
	has := map[string]bool{}
	for i := range s.a.Job.Sensing.Sensors {
		id := s.a.Job.Sensing.Sensors[i].Class
		if c, ok := s.senses.Class(id); ok && !has[id] {
			has[id] = true
			out = append(out, c)
		}
	}
	return out
}
