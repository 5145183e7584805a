package demo

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"time"

	"risewright/model"
)

// carpenter reads a true stair with the tools of a job, with their spreads and
// to the marks they show, and writes down what is seen.
type carpenter struct {
	job   *model.Job
	stair []opening
	rng   *rand.Rand
	clock time.Time
	newID func(name string) model.ID
	err   error // the first thing that went wrong; then nothing more is read
}

// perReading is the time from one reading to the next.
const perReading = 40 * time.Second

// reading returns what a tool shows for kind k at step i (from 0; -1 for the
// flight). steady leaves out the tool's spread, not the rounding to its marks.
func (c *carpenter) reading(i int, k model.Kind, state model.State, tool string, steady bool) (model.Reading, bool) {
	v, ok := measure(c.stair, max(i, 0), k)
	if !ok || c.err != nil {
		return model.Reading{}, false
	}
	if tool == "" {
		in, found := c.job.DefaultInstrument(k)
		if !found {
			c.err = fmt.Errorf("no instrument for %s", k.Words())
			return model.Reading{}, false
		}
		tool = in.ID
	}
	r := model.Reading{ID: c.newID(fmt.Sprintf("step %d %s", i+1, k)), Kind: k, Instrument: tool, State: state, Taken: c.clock}
	c.clock = c.clock.Add(perReading)
	spread := c.job.Spread(r)
	if in, ok := c.job.InstrumentByID(tool); !ok || in.Measures != k.Quantity() {
		c.err = fmt.Errorf("%s is not read with %q", k.Words(), tool)
		return model.Reading{}, false
	}
	stray := clipped(c.rng) // drawn even when steady, so that the other readings stay as they are
	if !steady {
		v += spread * stray
	}
	r.Typed = c.written(k, v, state)
	r.Value, c.err = c.read(k, r.Typed)
	return r, c.err == nil
}

// written is v as a carpenter writes it down: to the marks of the tools, or
// for a guess to a round number.
func (c *carpenter) written(k model.Kind, v float64, state model.State) string {
	switch k.Quantity() {
	case model.QuantityAngle, model.QuantityLean:
		return strconv.FormatFloat(math.Round(model.Angle(v).Degrees()*10)/10, 'f', 1, 64)
	case model.QuantitySlope:
		if c.job.Units == model.Imperial { // a digital level
			return model.FormatDegrees(model.Angle(v), 1)
		}
		return strconv.FormatFloat(math.Round(math.Tan(v)*2000)/2, 'f', 1, 64) + " mm/m"
	}
	f := model.Format{Units: c.job.Units, Fraction: 32, Step: 0.5}
	if state == model.Guessed {
		f.Fraction, f.Step = 2, 5
	}
	return f.Number(model.Length(v))
}

// read is what the program makes of typed, so that value and text agree.
func (c *carpenter) read(k model.Kind, typed string) (float64, error) {
	switch k.Quantity() {
	case model.QuantityAngle:
		a, err := model.ParseAngle(typed)
		return float64(a), err
	case model.QuantityLean:
		a, err := model.ParseLean(typed)
		return float64(a), err
	case model.QuantitySlope:
		a, err := model.ParseSlope(typed)
		return float64(a), err
	}
	l, err := model.ParseLength(typed, c.job.Units)
	return float64(l), err
}

// step reads the kinds given at step i, in that order.
func (c *carpenter) step(i int, state model.State, steady bool, kinds ...model.Kind) {
	s := &c.job.Flight.Steps[i]
	for _, k := range kinds {
		tool := ""
		switch {
		case state == model.Guessed && k.Quantity() == model.QuantityLength:
			tool = "by-eye-length"
		case k.Quantity() == model.QuantitySlope && c.job.Units == model.Imperial:
			tool = "digital-level"
		case state == model.OverCarpet && k.Quantity() == model.QuantityLength:
			tool = "folding-rule"
		}
		if r, ok := c.reading(i, k, state, tool, steady); ok {
			if n := read(s, k); n > 0 { // taken again
				r.ID = c.newID(fmt.Sprintf("step %d %s %d", i+1, k, n+1))
			}
			s.Readings = append(s.Readings, r)
			c.job.Revision++
		}
	}
}

// read returns how often kind k was read at a step.
func read(s *model.Step, k model.Kind) int {
	n := 0
	for _, r := range s.Readings {
		if r.Kind == k {
			n++
		}
	}
	return n
}

// flight reads the kinds given for the flight as a whole.
func (c *carpenter) flight(state model.State, kinds ...model.Kind) {
	for _, k := range kinds {
		if r, ok := c.reading(-1, k, state, "", false); ok {
			c.job.Flight.Readings = append(c.job.Flight.Readings, r)
			c.job.Revision++
		}
	}
}

// height is a height read plumb above the existing nose of step i.
func (c *carpenter) height(name string, i int, typed string) model.Height {
	v, err := model.ParseLength(typed, c.job.Units)
	if err != nil && c.err == nil {
		c.err = err
	}
	return model.Height{ID: c.newID(fmt.Sprintf("%s %d", name, i+1)), Step: c.job.Flight.Steps[i].ID, Value: v, Typed: typed}
}

// Bounds of how far a sketched corner or height lies from the truth, in mm.
const (
	sketchLeast = 5.0
	sketchMost  = 15.0
)

// sketch draws the flight as somebody would who has only looked at it: every
// corner and height off by sketchLeast to sketchMost, sides plumb, treads level.
func sketch(j *model.Job, stair []opening, seed uint64) {
	rng := rand.New(rand.NewPCG(seed, 2))
	off := func() float64 { return sketchLeast + (sketchMost-sketchLeast)*rng.Float64() }
	for i, o := range stair {
		s := &j.Flight.Steps[i]
		s.Corners = nil
		for _, c := range o.corner {
			turn, r := 2*math.Pi*rng.Float64(), off()
			s.Corners = append(s.Corners, model.Corner{X: tenth(float64(c.X) + r*math.Cos(turn)), Y: tenth(float64(c.Y) + r*math.Sin(turn))})
		}
		up := off()
		if rng.IntN(2) == 0 {
			up = -up
		}
		s.TopLeft = tenth((o.left+o.right)/2 + up)
		s.TopRight = s.TopLeft
	}
}

// tenth rounds to 0.1 mm, so that the file shows no digits that mean nothing
// and is the same on machines whose sine differs in the last bit.
func tenth(v float64) model.Length { return model.Length(math.Round(v*10) / 10) }
