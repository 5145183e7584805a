package power

import (
	"fmt"
	"math"

	"risewright/model"
)

// Budget is what the bars ask of one controller class.
type Budget struct {
	Class  model.ControllerClass
	Limits []Limit
	First  int  // index in Limits of the one that breaks first as the job grows
	Fits   bool // none is broken
	Modes  []Mode
}

// Limit is one thing that a controller has only so much of.
type Limit struct {
	Name       string
	Unit       string
	Used, Most float64
	Standing   model.Standing
	Words      string // the arithmetic
}

// Title names the limit so that nobody takes it for something else: pins hold
// boards as well, and values come from memory.
func (l *Limit) Title() string {
	switch l.Name {
	case "memory":
		return "working memory"
	case "pins":
		return "controller pins"
	}
	return l.Name
}

// Share returns how much of the limit is used; 1 is all of it.
func (l *Limit) Share() float64 {
	if l.Most > 0 {
		return l.Used / l.Most
	}
	if l.Used > 0 {
		return math.Inf(1)
	}
	return 0
}

// Mode is a way of driving the bars and what it takes.
type Mode struct {
	Name    string
	Bytes   int     // of buffer
	FrameUS float64 // microseconds a frame
	Lines   int     // outputs
	Chosen  bool
}

// The ways of driving the bars.
const (
	ModeWhole  = "a buffer for all pixels"
	ModeColour = "one colour a bar, one bar's buffer used again"
	ModeInTurn = "one bar after another, each on its own line"
)

// FrameUS returns how long it takes to send so many pixels of st on one line, in
// microseconds: bits times the bit time, and the latch.
func FrameUS(st model.StripType, pixels int) float64 {
	return float64(pixels*st.Channels*8)*st.BitUS.Value + st.LatchUS.Value
}

// BufferBytes returns the bytes of a buffer: one for each channel of a pixel.
func BufferBytes(st model.StripType, pixels int) int { return pixels * st.Channels }

// modes returns the three ways of driving the bars on a class that sends so
// many lines at once.
func (s *solver) modes(c model.ControllerClass) []Mode {
	st := s.out.Strip
	all, most, n := 0, 0, 0
	longest := 0.0 // sum over the turns of the longest bar in each
	together := max(1, int(c.Lines.Value))
	turn := 0
	inTurn := 0.0
	for i := range s.in.Bars {
		p := len(s.pixels[i])
		if p == 0 {
			continue
		}
		if n%together == 0 && n > 0 {
			longest += FrameUS(st, turn)
			turn = 0
		}
		turn = max(turn, p)
		inTurn += FrameUS(st, p)
		all, most = all+p, max(most, p)
		n++
	}
	if turn > 0 {
		longest += FrameUS(st, turn)
	}
	lines, frame := 1, FrameUS(st, all)
	if s.out.Data.Way == model.DataLines {
		lines, frame = n, longest
	}
	one := Mode{Name: ModeColour, Bytes: BufferBytes(st, most) + BufferBytes(st, n), FrameUS: frame, Lines: lines}
	out := []Mode{
		{Name: ModeWhole, Bytes: BufferBytes(st, all), FrameUS: frame, Lines: lines},
		one,
		{Name: ModeInTurn, Bytes: BufferBytes(st, most), FrameUS: inTurn, Lines: n},
	}
	switch {
	case s.l.BarAtATime:
		out[2].Chosen = true
	case s.l.OneColour:
		out[1].Chosen = true
	default:
		out[0].Chosen = true
	}
	return out
}

// budget holds every class against the bars, the chosen one first.
func (s *solver) budget() {
	if !s.out.Strip.Addressed {
		return
	}
	chosen, ok := s.t.Controller(s.l.Controller)
	if !ok {
		s.find(model.Advice, "light.controller.none", "controller", "no controller is chosen", fmt.Sprintf("%q is not in the table", s.l.Controller), "choose a class", "")
	} else {
		s.out.Budgets = append(s.out.Budgets, s.budgetOf(chosen))
	}
	for _, c := range s.t.Controllers {
		if !ok || c.ID != chosen.ID {
			s.out.Budgets = append(s.out.Budgets, s.budgetOf(c))
		}
	}
	if ok && s.in.Pixels() > 0 {
		s.judgeBudget(&s.out.Budgets[0])
	}
}

func (s *solver) budgetOf(c model.ControllerClass) Budget {
	b := Budget{Class: c, Modes: s.modes(c), Fits: true}
	var m Mode
	for _, k := range b.Modes {
		if k.Chosen {
			m = k
		}
	}
	st := &s.out.Strip
	add := func(l Limit) { b.Limits = append(b.Limits, l) }
	free := math.Max(0, c.Memory.Value-c.Kept.Value)
	words := fmt.Sprintf("%s buffer bytes in %s", grouped(m.Bytes), grouped(int(c.Memory.Value)))
	if float64(m.Bytes) > c.Memory.Value {
		words = fmt.Sprintf("%s buffer bytes do not fit in %s", grouped(m.Bytes), grouped(int(c.Memory.Value)))
	} else if float64(m.Bytes) > free {
		words = fmt.Sprintf("%s buffer bytes do not fit in %s beside the program's own %s", grouped(m.Bytes), grouped(int(c.Memory.Value)), grouped(int(c.Kept.Value)))
	}
	add(Limit{Name: "memory", Unit: "bytes", Used: float64(m.Bytes), Most: free, Standing: weakest(c.Memory, c.Kept),
		Words: words + fmt.Sprintf(" (%s of them kept for variables)", grouped(int(c.Kept.Value)))})
	if s.l.FrameRate > 0 {
		add(Limit{Name: "frame rate", Unit: "µs", Used: m.FrameUS, Most: 1e6 / s.l.FrameRate, Standing: weakest(st.BitUS, st.LatchUS),
			Words: fmt.Sprintf("a frame takes %s ms, so %s a second; wished are %s", trim(m.FrameUS/1000, 2), trim(1e6/m.FrameUS, 1), trim(s.l.FrameRate, 1))})
	}
	if s.l.SampleMS > 0 && c.Blocks {
		// Within a turn of several bars the program may look between two of them.
		blind := m.FrameUS
		if m.Name == ModeInTurn && m.Lines > 0 {
			blind = m.FrameUS / float64(m.Lines)
		}
		add(Limit{Name: "looking at the sensors", Unit: "µs", Used: blind, Most: s.l.SampleMS * 1000, Standing: weakest(st.BitUS, st.LatchUS),
			Words: fmt.Sprintf("nothing else runs for %s ms while it sends; the sensors are to be looked at every %s ms", trim(blind/1000, 2), trim(s.l.SampleMS, 1))})
	}
	pins := m.Lines + s.inputs() + 1
	add(Limit{Name: "pins", Unit: "pins", Used: float64(pins), Most: c.Pins.Value, Standing: weakest(c.Pins),
		Words: fmt.Sprintf("%d data, %d sensors and 1 for switching the supply are %d of %s pins", m.Lines, s.inputs(), pins, trim(c.Pins.Value, 0))})
	if r := s.t.Practised("resistor"); r.Value > 0 {
		// The most a line can take is with its far end shorted.
		ma := c.Logic.Value / r.Value * 1000
		add(Limit{Name: "current of one output", Unit: "mA", Used: ma, Most: c.PinMA.Value, Standing: weakest(c.PinMA, r),
			Words: fmt.Sprintf("%g V across the series resistor of %s ohm is %s mA at most; an output gives %s", c.Logic.Value, trim(r.Value, 0), trim(ma, 1), trim(c.PinMA.Value, 1))})
		add(Limit{Name: "current of all outputs", Unit: "mA", Used: ma * float64(m.Lines), Most: c.AllMA.Value, Standing: weakest(c.AllMA, r),
			Words: fmt.Sprintf("data lines: %d, of %s mA; all outputs together give %s", m.Lines, trim(ma, 1), trim(c.AllMA.Value, 1))})
	}
	for i := range b.Limits {
		if b.Limits[i].Share() > b.Limits[b.First].Share() {
			b.First = i
		}
		b.Fits = b.Fits && b.Limits[i].Share() <= 1
	}
	return b
}

// inputs returns how many pins the sensors take: one for each that is placed,
// since one that was taken away keeps its input; without any, as many as the job
// keeps for them.
func (s *solver) inputs() int {
	if n := len(s.job.Sensing.Sensors); n > 0 {
		return n
	}
	return max(0, s.l.Sensors)
}

// judgeBudget says which limits of the chosen class are broken, the one that
// breaks first to begin with, and the ways out.
func (s *solver) judgeBudget(b *Budget) {
	first := b.Limits[b.First]
	if b.Fits {
		s.find(model.Note, "light.budget", "controller", fmt.Sprintf("the controller holds the bars; the %s would break first", first.Title()),
			fmt.Sprintf("%s: %s %% used", first.Words, trim(100*first.Share(), 0)), "", first.Standing)
		return
	}
	for i := range b.Limits {
		l := &b.Limits[i]
		if l.Share() <= 1 {
			continue
		}
		when := ""
		if i == b.First {
			when = "; this limit breaks first"
		}
		remedy := "another class of controller"
		switch l.Name {
		case "memory":
			remedy = s.waysOut(b)
		case "frame rate", "looking at the sensors":
			remedy = "a line per bar on a controller that sends several at once, fewer pixels, or fewer frames a second"
		case "pins":
			remedy = "a chain instead of a line per bar, or a class with more pins"
		}
		s.find(model.Outside, "light.budget."+words(l.Name), "controller", fmt.Sprintf("%s: %s", b.Class.Title, l.Words),
			fmt.Sprintf("%s: %s %% of what there is%s", l.Title(), trim(100*l.Share(), 0), when), remedy, l.Standing)
	}
}

// words makes a rule's id of a limit's name.
func words(name string) string {
	switch name {
	case "frame rate":
		return "frame"
	case "looking at the sensors":
		return "sensors"
	case "current of one output":
		return "pin_current"
	case "current of all outputs":
		return "all_current"
	}
	return name
}

// waysOut says how the bars get by with less memory, and which classes hold
// the whole buffer.
func (s *solver) waysOut(b *Budget) string {
	free := b.Class.Memory.Value - b.Class.Kept.Value
	say := func(m Mode) string {
		if float64(m.Bytes) > free {
			return fmt.Sprintf("%s bytes, still too many", grouped(m.Bytes))
		}
		return fmt.Sprintf("%s bytes", grouped(m.Bytes))
	}
	lines := fmt.Sprintf("%d outputs", b.Modes[2].Lines)
	if b.Modes[2].Lines+s.inputs()+1 > int(b.Class.Pins.Value) {
		lines += fmt.Sprintf(", which with sensors and switch are more than its %s pins", trim(b.Class.Pins.Value, 0))
	}
	out := fmt.Sprintf("two ways out: show one colour on every pixel of a bar and use one bar's buffer again (%s); or drive one bar after another, each on its own line (%s, %s)",
		say(b.Modes[1]), say(b.Modes[2]), lines)
	for _, c := range s.t.Controllers {
		if float64(b.Modes[0].Bytes) <= c.Memory.Value-c.Kept.Value {
			return out + fmt.Sprintf(". A class that holds them all: %s", c.Title)
		}
	}
	return out
}
