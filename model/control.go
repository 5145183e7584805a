package model

import (
	"fmt"
	"math"
)

// Control is how the controller lights the steps for those who walk on them:
// what a person chooses. The zero value stands for FirstControl. Steps are
// counted as positions, see Sensor; times are in seconds.
type Control struct {
	AheadUp   int `json:"ahead_up"`   // steps lit ahead of somebody going up
	AheadDown int `json:"ahead_down"` // steps lit ahead of somebody going down
	Behind    int `json:"behind"`     // steps lit behind
	EndFirst  int `json:"end_first"`  // first places that the sensor of an end lights
	FarEnd    int `json:"far_end"`    // steps that it lights dimly at the other end

	// Level is the brightness of steps in somebody's window and Dim that of any
	// other step where somebody may be, 0 to 1. Less than Dim counts as dark.
	Level float64 `json:"level"`
	Dim   float64 `json:"dim"`
	// Most is the sum of the brightness of all bars that is never passed, in
	// bars at full; 0 takes the most that a scene of the job asks for.
	Most float64 `json:"most"`

	Latency float64 `json:"latency"` // from a movement to the sensor's output; what the rules count on, if the class has no longer one
	Rise    float64 `json:"rise"`    // of a fade, from Dim to Level
	Fall    float64 `json:"fall"`    // of a fade, from Level to dark
	Hold    float64 `json:"hold"`    // window stays lit after its sensor has gone off

	Still float64 `json:"still"`  // after so long without movement the whole flight is dimmed, or goes off when the last one seen was at an end
	Stuck float64 `json:"stuck"`  // a sensor on for longer is left out and reported
	AllOn float64 `json:"all_on"` // the whole flight stays lit after triggers in an order that nobody can walk

	Runner  float64 `json:"runner"`  // steps a second from which somebody counts as running
	Fastest float64 `json:"fastest"` // steps a second that nobody passes

	// Hall makes the sensor of an end light only dimly until the next one along
	// the flight is on within HallWithin: most who pass it stay in the hall.
	Hall       bool    `json:"hall"`
	HallWithin float64 `json:"hall_within"`

	Daylight bool    `json:"daylight"` // an input says that daylight is enough, and nobody needs a light
	Revert   float64 `json:"revert"`   // a seasonal scene goes back to the walk-through after so long; 0: never
	TickMS   float64 `json:"tick_ms"`  // from one step of the rules to the next, milliseconds
}

// FirstControl returns the settings that a job starts with. Every one is common
// practice, no source: try them on the stair.
func FirstControl() Control {
	return Control{
		AheadUp: 2, AheadDown: 3, Behind: 1, EndFirst: 4, FarEnd: 2,
		Level: 0.3, Dim: 0.04,
		Latency: 0.3, Rise: 0.3, Fall: 1.2, Hold: 2,
		Still: 25, Stuck: 300, AllOn: 20,
		Runner: 3, Fastest: 4,
		HallWithin: 2, Daylight: true, Revert: 6 * 3600, TickMS: 20,
	}
}

// Rules returns the settings of the controller: those of the job, or the first
// ones.
func (s Sensing) Rules() Control {
	if s.Control == (Control{}) {
		return FirstControl()
	}
	return s.Control
}

// ControlFact is one setting with its bounds, for those who list or search them.
type ControlFact struct {
	ID          string // as in the file
	Title, Unit string
	Standing    Standing // of its first value
	Least, Most float64
	Whole       bool // only whole numbers
	Get         func(*Control) float64
	Set         func(*Control, float64)
}

// ControlFacts lists the settings that are numbers, in the order of Control.
func ControlFacts() []ControlFact {
	whole := func(id, title string, least, most float64, at func(*Control) *int) ControlFact {
		return ControlFact{id, title, "steps", Memory, least, most, true,
			func(c *Control) float64 { return float64(*at(c)) },
			func(c *Control, v float64) { *at(c) = int(math.Round(v)) }}
	}
	number := func(id, title, unit string, least, most float64, at func(*Control) *float64) ControlFact {
		return ControlFact{id, title, unit, Memory, least, most, false,
			func(c *Control) float64 { return *at(c) }, func(c *Control, v float64) { *at(c) = v }}
	}
	return []ControlFact{
		whole("ahead_up", "lit ahead, going up", 0, 20, func(c *Control) *int { return &c.AheadUp }),
		whole("ahead_down", "lit ahead, going down", 0, 20, func(c *Control) *int { return &c.AheadDown }),
		whole("behind", "lit behind", 0, 20, func(c *Control) *int { return &c.Behind }),
		whole("end_first", "first lit by the sensor of an end", 0, 20, func(c *Control) *int { return &c.EndFirst }),
		whole("far_end", "dimly lit at the other end", 0, 20, func(c *Control) *int { return &c.FarEnd }),
		number("level", "brightness of a lit step", "share", 0.01, 1, func(c *Control) *float64 { return &c.Level }),
		number("dim", "brightness of a dim step", "share", 0.005, 1, func(c *Control) *float64 { return &c.Dim }),
		number("most", "brightness of all bars together", "bars", 0, 1000, func(c *Control) *float64 { return &c.Most }),
		number("latency", "from movement to a sensor's output", "s", 0, 2, func(c *Control) *float64 { return &c.Latency }),
		number("rise", "fade up", "s", 0, 10, func(c *Control) *float64 { return &c.Rise }),
		number("fall", "fade down", "s", 0, 30, func(c *Control) *float64 { return &c.Fall }),
		number("hold", "lit after the sensor went off", "s", 0, 120, func(c *Control) *float64 { return &c.Hold }),
		number("still", "standing still", "s", 5, 300, func(c *Control) *float64 { return &c.Still }),
		number("stuck", "sensor that stays on", "s", 30, 600, func(c *Control) *float64 { return &c.Stuck }),
		number("all_on", "whole flight after an order nobody can walk", "s", 1, 120, func(c *Control) *float64 { return &c.AllOn }),
		number("runner", "somebody runs from", "steps/s", 0.5, 10, func(c *Control) *float64 { return &c.Runner }),
		number("fastest", "nobody is faster than", "steps/s", 1, 10, func(c *Control) *float64 { return &c.Fastest }),
		number("hall_within", "second trigger after the end's", "s", 0.1, 30, func(c *Control) *float64 { return &c.HallWithin }),
		number("revert", "end of a seasonal scene", "s", 0, 86400, func(c *Control) *float64 { return &c.Revert }),
		number("tick_ms", "one step of the rules", "ms", 5, 50, func(c *Control) *float64 { return &c.TickMS }),
	}
}

// validate judges the settings; none at all are the first ones.
func (c Control) validate(v *sensingCheck) {
	if c == (Control{}) {
		return
	}
	for _, f := range ControlFacts() {
		if x := f.Get(&c); !(x >= f.Least && x <= f.Most) {
			v.block("control."+f.ID, fmt.Sprintf("the controller's setting %q is %g %s", f.Title, x, f.Unit), fmt.Sprintf("give %g to %g", f.Least, f.Most))
		}
	}
	if c.Dim > c.Level {
		v.block("control.dim", fmt.Sprintf("a dim step is brighter, %g, than a lit one, %g", c.Dim, c.Level), "give less than the brightness of a lit step")
	}
	if c.Runner > c.Fastest {
		v.block("control.runner", fmt.Sprintf("running begins at %g steps a second, which nobody reaches", c.Runner), "give at most the speed that nobody passes")
	}
}

// SetControl replaces the settings of the controller.
type SetControl struct{ Control Control }

// Apply implements Edit.
func (e SetControl) Apply(j Job) (Job, error) {
	return changeSensing(j, func(s *Sensing) error {
		s.Control = e.Control
		return nil
	})
}

// Label implements Edit.
func (e SetControl) Label() string { return "change how the controller lights the steps" }
