package solver

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/sensing"
	"risewright/solver/walk"
)

// WalkOn returns an answer's stair to be walked on: its sensors as sense found
// them, its controller and its bars. Its Tables says whether the controller can
// hold it.
func WalkOn(a *Answer, t model.Tables, sense *sensing.Result) walk.Setup {
	s := walk.Setup{
		Name:    a.Job.Name,
		Zones:   walk.ZonesOf(&a.Job, sense.Zones, t.Senses),
		Control: a.Job.Sensing.Rules(),
		Light:   walk.LightOf(&a.Job),
	}
	senses := t.Senses.With(a.Job.Sensing.Own)
	for _, x := range a.Job.Sensing.Sensors {
		if c, ok := senses.Class(x.Class); ok && !c.Retriggers {
			s.Single = true
		}
	}
	if n := len(a.Bars.Bars); n > 0 {
		st := &a.Bars.Strip
		for i := range a.Bars.Bars {
			s.BarW += float64(a.Bars.Bars[i].Pixels*st.Channels) * st.ChannelMA.Value / 1000 * st.Volts.Value / float64(n)
		}
	}
	return s
}

// StepM returns the mean step of an answer's stair along the pitch line, in
// metres, or 0 when it has none: what paces in metres a second are divided by.
func StepM(a *Answer) float64 {
	if a.Survey == nil || len(a.Survey.Steps) < 2 {
		return 0
	}
	first, last := &a.Survey.Steps[0], &a.Survey.Steps[len(a.Survey.Steps)-1]
	sum := 0.0
	nose := func(i int) mgl64.Vec2 {
		st := &a.Survey.Steps[i]
		return st.Corners[st.FL].Add(st.Corners[st.FR]).Mul(0.5)
	}
	for i := range len(a.Survey.Steps) - 1 {
		sum += nose(i + 1).Sub(nose(i)).Len()
	}
	n := float64(len(a.Survey.Steps) - 1)
	return math.Hypot(sum/n, (last.TopLeft-first.TopLeft)/n) / 1000
}
