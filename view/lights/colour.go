package lights

import (
	"fmt"
	"image/color"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
)

// WhiteOf returns the colour temperature of the white of a job's strip, K.
func WhiteOf(l *model.Lighting) float64 {
	if l.White > 0 {
		return l.White
	}
	return model.UsualWhite
}

// lamps returns what one LED of the strip gives when its channels are at c. Of
// fewer than three channels all are white.
func lamps(a *solver.Answer, c model.Colour) []lux.Lamp {
	channels, kelvin := a.Bars.Strip.Channels, WhiteOf(&a.Job.Lighting)
	if channels < 3 {
		return []lux.Lamp{lux.White(kelvin, c.Share(channels))}
	}
	out := lux.Pixel(float64(c.Red)/255, float64(c.Green)/255, float64(c.Blue)/255)
	if channels > 3 {
		out = append(out, lux.White(kelvin, float64(c.White)/255))
	}
	return out
}

func lumens(ls []lux.Lamp) float64 {
	sum := 0.0
	for _, l := range ls {
		sum += l.Lumens
	}
	return sum
}

// Preview returns a colour as the job's strip shows it, as bright as a screen
// can; black for one that gives no light.
func Preview(a *solver.Answer, c model.Colour) color.NRGBA {
	if xy, ok := lux.Mix(lamps(a, c)...); ok {
		return lux.Preview(xy)
	}
	return color.NRGBA{A: 255}
}

// Previews returns the colours of a scene as Preview does, one at least: without
// colours of its own that of all channels together.
func Previews(a *solver.Answer, s model.Scene) []color.NRGBA {
	switch {
	case s.Kind == model.SceneOff:
		return []color.NRGBA{{A: 255}}
	case len(s.Colours) == 0:
		return []color.NRGBA{Preview(a, model.Colour{Red: 255, Green: 255, Blue: 255, White: 255})}
	}
	out := make([]color.NRGBA, len(s.Colours))
	for i, c := range s.Colours {
		out[i] = Preview(a, c)
	}
	return out
}

// Turn returns which of a scene's colours the bar of a step takes while the
// pattern begins.
func Turn(s model.Scene, step int) int {
	if n := len(s.Colours); n > 0 && step > 0 {
		return (step - 1) % n
	}
	return 0
}

// Named is a colour by its name.
type Named struct {
	Name   string
	Colour model.Colour
}

// Colours lists colours to choose from: whites mixed of red, green and blue, the
// strip's own white, and plain ones.
func Colours(a *solver.Answer) []Named {
	var out []Named
	for _, w := range []struct {
		name   string
		kelvin float64
	}{{"warm white, 2700 K", 2700}, {"neutral white, 4000 K", 4000}, {"cool white, 6500 K", 6500}} {
		xy, _ := lux.CCT(w.kelvin)
		if v, ok := lux.Levels(xy); ok {
			at := func(i int) int { return int(255*v[i] + 0.5) }
			out = append(out, Named{w.name, model.Colour{Red: at(0), Green: at(1), Blue: at(2)}})
		}
	}
	if a.Bars.Strip.Channels > 3 {
		out = append(out, Named{"the strip's white alone", model.Colour{White: 255}})
	}
	return append(out,
		Named{"amber", model.Colour{Red: 255, Green: 90}},
		Named{"red", model.Colour{Red: 255}},
		Named{"green", model.Colour{Green: 255}},
		Named{"blue", model.Colour{Blue: 255}})
}

// Name returns what a colour is called: by its name, or by its channels.
func Name(a *solver.Answer, c model.Colour) string {
	for _, n := range Colours(a) {
		if n.Colour == c {
			return n.Name
		}
	}
	if a.Bars.Strip.Channels > 3 {
		return fmt.Sprintf("%d, %d, %d, %d", c.Red, c.Green, c.Blue, c.White)
	}
	return fmt.Sprintf("%d, %d, %d", c.Red, c.Green, c.Blue)
}
