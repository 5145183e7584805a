package panel

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
	"risewright/view/lights"
)

// colourKey shows how warm and cool whites and the strip's own lights look.
type colourKey struct {
	strip []*colourSample
	box   *fyne.Container
}

// colourSample is a colour with its name.
type colourSample struct {
	look *swatches
	name *label
	line *fyne.Container
}

func newColourSample(name string, c color.NRGBA) *colourSample {
	s := &colourSample{look: newSwatches(c), name: newLabel(name)}
	s.line = (&columns{least: []float32{26, 100}, share: []float32{0, 1}, gap: 6}).row(s.look, s.name)
	return s
}

func newColourKey() *colourKey {
	k := &colourKey{box: container.NewGridWithColumns(3)}
	for _, w := range []struct {
		name   string
		kelvin float64
	}{{"warm white", 2700}, {"neutral white", 4000}, {"cool white", 6500}} {
		xy, _ := lux.CCT(w.kelvin)
		k.box.Add(newColourSample(fmt.Sprintf("%s, %.0f K", w.name, w.kelvin), lux.Preview(xy)).line)
	}
	for range 3 {
		s := newColourSample("", color.NRGBA{A: 255})
		k.strip = append(k.strip, s)
		k.box.Add(s.line)
	}
	return k
}

func (k *colourKey) tell(a *solver.Answer) {
	n := a.Bars.Strip.Channels
	show := func(i int, name string, on bool, c model.Colour) {
		s := k.strip[i]
		if on != s.line.Visible() {
			if on {
				s.line.Show()
			} else {
				s.line.Hide()
			}
			k.box.Refresh()
		}
		s.name.set(name)
		s.look.show(lights.Previews(a, model.Scene{Colours: []model.Colour{c}}))
	}
	show(0, fmt.Sprintf("the strip's white, %.0f K", lights.WhiteOf(&a.Job.Lighting)), n > 0 && n != 3, model.Colour{White: 255})
	show(1, "its red, green and blue", n > 2, model.Colour{Red: 255, Green: 255, Blue: 255})
	show(2, "all channels on", n > 3, model.Colour{Red: 255, Green: 255, Blue: 255, White: 255})
}
