package panel_test

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"testing"

	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/panel"
)

// contrast is that of WCAG 2.2: (lighter + 0.05) / (darker + 0.05) of relative
// luminances, 0.2126 R + 0.7152 G + 0.0722 B of the linear parts, which are v/12.92
// up to 0.04045 and ((v+0.055)/1.055)^2.4 above. The figure 0.04045 was read in
// w3c.github.io/wcag/understanding/relative-luminance.html, the rest in pages that
// restate the text. The limits, 4.5 for words (success criterion 1.4.3) and 3 for
// what is not words (1.4.11), are from memory and from the same pages.
func contrast(a, b color.NRGBA) float64 {
	lum := func(c color.NRGBA) float64 {
		lin := func(b uint8) float64 {
			if v := float64(b) / 255; v > 0.04045 {
				return math.Pow((v+0.055)/1.055, 2.4)
			} else {
				return v / 12.92
			}
		}
		return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
	}
	x, y := lum(a), lum(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// TestWhatIsDrawnStandsOut holds every word that the drawings of a demo job show
// to 4.5 to 1 against what it lies on, and every line and handle but those of the
// grid to 3 to 1 against the ground, light and dark, in the tabs that change them.
func TestWhatIsDrawnStandsOut(t *testing.T) {
	rigs := map[string]*rig{}
	for _, name := range []string{"readings", "lights", "sensors"} {
		job := litJob(t, "tapering")
		r := newRig(t, job)
		if name == "sensors" {
			r = sensed(t)
			for _, b := range []string{"Somebody in the hall", "A door", "A radiator"} {
				r.tapText(b)
			}
			r.d.PutWalker(true)
			r.d.MoveWalker(4)
		}
		if name == "lights" {
			r.b.ShowTab(lightsTab)
		}
		r.settled()
		r.d.Choose(5)
		rigs[name] = r
	}
	words, lines := 0, 0
	for tab, r := range rigs {
		for name, s := range panel.Scenes(r.d) {
			for _, p := range []struct {
				name string
				inks drawing.Palette
			}{{"light", drawing.Light()}, {"dark", drawing.Dark()}} {
				inks := p.inks
				if own, ok := s.(canvas.Inked); ok {
					inks = own.Inks(inks)
				}
				v := s.Fit(900, 500, 4)
				var l drawing.List
				s.Draw(&l, v)
				w, n := standsOut(t, fmt.Sprintf("%s, %s, %s", tab, name, p.name), &l, v, inks)
				words, lines = words+w, lines+n
			}
		}
	}
	if words < 500 || lines < 1000 {
		t.Errorf("only %d words and %d lines were looked at", words, lines)
	}
}

// standsOut holds the words and lines of a list to their contrasts.
func standsOut(t *testing.T, where string, l *drawing.List, v drawing.Viewport, inks drawing.Palette) (words, lines int) {
	t.Helper()
	said := map[string]bool{}
	fault := func(format string, args ...any) {
		if s := fmt.Sprintf(format, args...); !said[s] {
			said[s] = true
			t.Errorf("%s: %s", where, s)
		}
	}
	items := l.Items()
	for i := range items {
		it := &items[i]
		if s := it.Stroke; s.Ink != drawing.None && s.Ink != drawing.Faint && s.Ink != drawing.Paper && it.Kind != drawing.KindText && it.Fill.Ink == drawing.None {
			lines++
			if s.Ink >= drawing.Lamp && i > 0 && slices.Equal(items[i-1].Points, it.Points) && items[i-1].Stroke.Width > s.Width {
				continue // the colour of a light, on the line that was held to this before
			}
			if c := contrast(inks[s.Ink], inks[drawing.Paper]); c < 3 {
				fault("a %s in %s stands %.2f to 1", it.Kind, s.Ink, c)
			}
		}
		if it.Kind != drawing.KindText && it.Kind != drawing.KindDimension || it.Text.String == "" {
			continue
		}
		words++
		ink := it.Text.Ink
		if ink == drawing.None {
			ink = drawing.Letter
		}
		ground := drawing.Paper // that of the halo, or of the drawing
		if !it.Text.Halo && it.Kind == drawing.KindText {
			ground = under(items[:i], it.Text.At, v)
		}
		if c := contrast(inks[ink], inks[ground]); c < 4.5 {
			fault("%q in %s on %s stands %.2f to 1", it.Text.String, ink, ground, c)
		}
	}
	return words, lines
}

// under returns the ink that was laid last over a point.
func under(items []drawing.Item, at drawing.Point, v drawing.Viewport) drawing.Ink {
	for i := len(items) - 1; i >= 0; i-- {
		it := &items[i]
		if it.Fill.Ink == drawing.None {
			continue
		}
		in := false
		switch it.Kind {
		case drawing.KindPolygon:
			in = drawing.Inside(it.Points, at)
		case drawing.KindCircle:
			in = it.Points[0].Sub(at).Len() <= it.R
		case drawing.KindDot:
			in = it.Points[0].Sub(at).Len()*v.Scale <= it.R*v.Paper
		case drawing.KindSquare:
			d := it.Points[0].Sub(at)
			in = math.Max(math.Abs(d.X), math.Abs(d.Y))*v.Scale <= it.R*v.Paper
		}
		if in {
			return it.Fill.Ink
		}
	}
	return drawing.Paper
}
