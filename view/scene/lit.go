package scene

import (
	"math"
	"slices"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
	"risewright/solver/walk"
)

// LitBy says what told the light bars of a scene how bright to be. The zero value
// is a scene without light bars, or whose maker told them.
type LitBy int

// What tells the bars how bright to be.
const (
	_            LitBy = iota
	ByController       // the controller's rules, by what the sensors see
	ByThumb            // a rule of thumb, because the job has no sensors
	ByThumbStill       // the same, because the controller cannot hold the stair
)

// String says it in a sentence, or not at all.
func (l LitBy) String() string {
	switch l {
	case ByController:
		return "The bars are as bright as the controller makes them, by what its sensors see."
	case ByThumb:
		return "The job has no sensors, so the bars are lit by a rule of thumb."
	case ByThumbStill:
		return "The controller cannot hold this stair, so the bars are lit by a rule of thumb."
	}
	return ""
}

// Lit returns the share of its full light that each bar gives, counted from the
// bottom, and what says so. Where the job has sensors that is the controller: for
// somebody who has come from the hall, or from above, to the step of o at an
// ordinary pace; with nobody there for the job's steady scene in the evening and
// its night light later, as it rests in them. By day there is no light, unless
// the controller has no input that tells it so and somebody walks.
//
// Where the job has none it is the same by a rule of thumb.
func Lit(a *solver.Answer, t model.Tables, o Options) (level func(bar int) float64, by LitBy) {
	job := &a.Job
	if !slices.ContainsFunc(job.Sensing.Sensors, func(s model.Sensor) bool { return !s.Removed }) {
		return byThumb(job, o), ByThumb
	}
	sense := o.Sense
	if sense == nil {
		s := solver.Sense(a, t, nil)
		sense = &s
	}
	bars, err := byController(a, t, sense, o)
	if err != nil {
		return byThumb(job, o), ByThumbStill
	}
	return func(bar int) float64 {
		if bar < 1 || bar > len(bars) {
			return 0
		}
		return float64(bars[bar-1].Level) / 255
	}, ByController
}

// byController returns what the controller gives the bars, none when it is told
// that daylight is enough.
func byController(a *solver.Answer, t model.Tables, sense *sensing.Result, o Options) ([]walk.Bar, error) {
	live, err := walk.NewLive(solver.WalkOn(a, t, sense))
	if err != nil {
		return nil, err
	}
	day := o.Time == Day || o.Time == ""
	if day && live.Tables().Daylight {
		return nil, nil
	}
	n := float64(len(a.Job.Flight.Steps))
	// Before the bottom floor's last step, or as far behind the top's first.
	from := -1.5
	if o.Down {
		from = n + 0.5
	}
	bars := live.At(from, 0)
	if !(o.Walker > 0) {
		if kind := sceneOf(o); !day {
			bars, _ = live.Show(walk.KindOf(kind)) // as it is, where the job has no such scene
		}
		return bars, nil
	}
	// The middle of tread k is half a step behind its nose, which is at k-1.
	to := math.Min(o.Walker, n) - 0.5
	return live.At(to, math.Abs(to-from)/walk.UsualPace), nil
}

// sceneOf returns the kind of scene that a house has on, but by day.
func sceneOf(o Options) model.SceneKind {
	switch {
	case o.Walker > 0:
		return model.WalkThrough
	case o.Time == Evening:
		return model.Steady
	}
	return model.NightLight
}

// ahead is how many treads in front of a walker are lit, going up and going
// down: starting values of trade practice, no source.
const (
	aheadUp   = 2
	aheadDown = 3
)

// byThumb is Lit without a controller: by day no light; else the job's scene
// for the moment, of which a walk-through lights some treads about the walker.
// Bar k+1 lights tread k, so that a foot going to tread k needs bar k+1.
func byThumb(job *model.Job, o Options) func(bar int) float64 {
	if o.Time == Day || o.Time == "" {
		return func(int) float64 { return 0 }
	}
	kind := sceneOf(o)
	var scene model.Scene
	found := false
	for _, s := range job.Lighting.Scenes {
		if s.Kind.Of() == kind && !s.Shown {
			scene, found = s, true
			break
		}
	}
	if !found {
		return func(int) float64 { return 0 }
	}
	level := scene.Level
	if c := job.Lighting.Cap; c > 0 {
		level = math.Min(level, c)
	}
	if kind != model.WalkThrough {
		return func(int) float64 { return level }
	}
	number := scene.Bars
	if number <= 0 {
		return func(int) float64 { return level }
	}
	// The treads lit run from the last behind to the first ahead.
	tread := o.Walker
	first, last := 0.0, 0.0
	if o.Down {
		first = tread - aheadDown
		last = first + float64(number) - 1
	} else {
		last = tread + aheadUp
		first = last - float64(number) + 1
	}
	return func(bar int) float64 {
		lights := float64(bar - 1)
		// The outermost come and go with the walker, as they fade.
		k := math.Min(1, math.Min(lights-first+1, last-lights+1))
		return level * math.Max(0, k)
	}
}
