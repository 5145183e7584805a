package lights

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
)

// LumensID is the id of the figure of practice, among a job's own, that says
// how much light a metre of its strip gives at full brightness.
const LumensID = "lumens_metre"

// LumensPerMetre returns the lumens that a metre of the job's strip gives at
// full brightness, before any diffuser: the job's own figure, or that of a
// common pixel of the strip's channels for every LED (package lux, derived from
// data sheets).
func LumensPerMetre(a *solver.Answer) model.Rated {
	if own := a.Job.Lighting.Own.Practised(LumensID); own.Value > 0 {
		return own
	}
	st := &a.Bars.Strip
	led := lumens(lamps(a, model.Colour{Red: 255, Green: 255, Blue: 255, White: 255}))
	return model.Rated{Value: led * st.PixelsPerMetre.Value * float64(st.LEDsPerPixel), Standing: model.Memory, From: "a common LED, derived from data sheets; measure yours"}
}

// InScene returns the share of its full light that the strip of a step's bar
// gives in a scene: the brightness, under the firmware's cap, of the channels
// that are on, or of the bar's colour.
func InScene(a *solver.Answer, s model.Scene, step int) float64 {
	level := s.Level
	if c := a.Job.Lighting.Cap; c > 0 {
		level = min(level, c)
	}
	if len(s.Colours) == 0 || s.Kind == model.SceneOff {
		return level * s.Share(a.Bars.Strip.Channels)
	}
	all := lumens(lamps(a, model.Colour{Red: 255, Green: 255, Blue: 255, White: 255}))
	if !(all > 0) {
		return 0
	}
	return level * lumens(lamps(a, s.Colours[Turn(s, step)])) / all
}

// Problem returns the stair of a with its bars, each giving the lumens of its
// step.
func Problem(a *solver.Answer, lumens func(step int) float64) lux.Problem {
	p := lux.Problem{Stair: lux.FromPieces(a.Pieces, lux.Finish{})}
	for i := range a.Bars.Bars {
		b := &a.Bars.Bars[i]
		along := b.Right.Sub(b.Left)
		if b.Pixels == 0 || along.Len() == 0 {
			continue
		}
		along = along.Normalize()
		// The bar hangs plumb: packers take up what the tread falls.
		down := mgl64.Vec3{0, 0, -1}
		down = down.Sub(along.Mul(down.Dot(along))).Normalize()
		// Light comes from the LED strip, not from the spare ends.
		left, right := b.Left.Add(along.Mul(b.Spare)), b.Right.Sub(along.Mul(b.Spare))
		p.Bars = append(p.Bars, lux.Hung(b.Step, left, right, down, lux.Mount{
			Width: float64(a.Job.Lighting.BarWidth), Drop: b.Hang, Lip: float64(a.Job.Lighting.Lip), Lumens: lumens(b.Step),
		}))
	}
	return p
}

// LumensOf returns the lumens of the bar of a step when its strip gives a share
// of its full light; 0 where there is no bar.
func LumensOf(a *solver.Answer, step int, share float64) float64 {
	for i := range a.Bars.Bars {
		if b := &a.Bars.Bars[i]; b.Step == step {
			return LumensPerMetre(a).Value * b.Strip / 1000 * share
		}
	}
	return 0
}
