package lightmap_test

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"risewright/solver/lux"
	"risewright/view/drawing"
	"risewright/view/lightmap"
)

func bright(k int) float64 { return 40 * float64(k) }

func TestGolden(t *testing.T) {
	for name, c := range map[string]struct {
		p lux.Problem
		o lightmap.Options
	}{
		"flight":  {flight(3, 0, bright), lightmap.Options{}},
		"upright": {flight(2, 80, bright), lightmap.Options{Upright: true, Scale: 0.08}},
	} {
		t.Run(name, func(t *testing.T) {
			c.o.Bars = c.p.Bars
			golden(t, name, drawn(solved(c.p, 6, 4), c.o).Dump())
		})
	}
}

// linear returns a result on one surface, whose light is a + b·x + c·y lux with
// x and y in mm.
func linear(outline []vec, across, deep int, a, b, c float64) *lux.Result {
	r := lux.Solve(lux.Problem{Stair: lux.Stair{Surfaces: []lux.Surface{{Step: 1, Kind: lux.Tread, Outline: outline}}}}, lux.Settings{Across: across, Deep: deep})
	g := &r.Surfaces[0].Grid
	for j := range deep {
		for i := range across {
			p := g.Corner.Add(g.U.Mul(float64(i) + 0.5)).Add(g.V.Mul(float64(j) + 0.5))
			if k := g.Index(i, j); g.Area[k] > 0 {
				g.Lux[k] = a + b*p[0] + c*p[1]
			}
		}
	}
	return &r
}

// bandInk is the ink of each band and its lower level, written out again.
var bandInk = []struct {
	ink   drawing.Ink
	level float64
}{
	{drawing.Existing, math.Inf(-1)}, {drawing.BadWash, 1}, {drawing.HoldWash, 2}, {drawing.SelectWash, 5}, {drawing.GoodWash, 10},
	{drawing.CautionWash, 20}, {drawing.WoodDark, 50}, {drawing.Wood, 100}, {drawing.Painted, 200},
}

// area returns the area of a polygon, whichever way it runs.
func area(v []point) float64 {
	sum := 0.0
	for i, a := range v {
		b := v[(i+1)%len(v)]
		sum += a.X*b.Y - a.Y*b.X
	}
	return math.Abs(sum) / 2
}

// ofSurface says whether an item is part of a surface: the legend lies below.
func ofSurface(it *drawing.Item, floor float64) bool {
	for _, p := range it.Points {
		if p.Y < floor-1e-6 {
			return false
		}
	}
	return true
}

// On light that is linear over a tread the pieces of every band have exactly
// the area that half-planes cut from the outline, and every contour is the
// straight line where the light is at its level. By hand for the rectangle:
// light from 0 to 180 lx over 900 mm passes 10 lx at x = 50.
func TestLinearLight(t *testing.T) {
	for name, c := range map[string]struct {
		outline []vec
		a, b, c float64
	}{
		"rectangle": {[]vec{{0, 0, 0}, {900, 0, 0}, {900, 260, 0}, {0, 260, 0}}, 0, 0.2, 0},
		"slanting":  {[]vec{{0, 0, 0}, {900, 0, 0}, {900, 260, 0}, {0, 260, 0}}, 3, 0.1, 0.45},
		"tapered":   {[]vec{{0, 0, 0}, {900, 0, 0}, {840, 300, 0}, {90, 200, 0}}, 3, 0.1, 0.45},
		"five":      {[]vec{{0, 0, 0}, {900, 0, 0}, {900, 400, 0}, {500, 700, 0}, {0, 500, 0}}, 40, 0.1, -0.06},
		"inward":    {[]vec{{0, 0, 0}, {900, 0, 0}, {900, 600, 0}, {450, 200, 0}, {0, 600, 0}}, 2, 0.05, 0.2},
	} {
		r := linear(c.outline, 12, 9, c.a, c.b, c.c)
		l := drawn(r, lightmap.Options{Upright: true})
		for _, band := range bandInk[1:] {
			got := 0.0
			for i := range l.Items() {
				if it := &l.Items()[i]; it.Kind == drawing.KindPolygon && it.Fill.Ink == band.ink && ofSurface(it, 0) {
					got += area(it.Points)
					for _, p := range it.Points {
						if e := c.a + c.b*p.X + c.c*p.Y; e < band.level-1e-9 {
							t.Errorf("%s: band from %g lx holds a place with %g", name, band.level, e)
						}
					}
				}
			}
			within(t, fmt.Sprintf("%s: area over %g lx", name, band.level), got, area(above(c.outline, c.a-band.level, c.b, c.c)), 1e-6)
		}
		lines := 0
		for i := range l.Items() {
			it := &l.Items()[i]
			if it.Kind != drawing.KindPolyline || it.Closed {
				continue
			}
			lines++
			level := c.a + c.b*it.Points[0].X + c.c*it.Points[0].Y
			known := false
			for _, band := range bandInk[1:] {
				known = known || math.Abs(level-band.level) < 1e-9
			}
			if !known {
				t.Errorf("%s: a contour at %g lx", name, level)
			}
			for _, p := range it.Points {
				within(t, name+": contour", c.a+c.b*p.X+c.c*p.Y, level, 1e-9)
			}
			if heavy := it.Stroke.Width > drawing.Fine; heavy != (math.Abs(level-10) < 1e-9 || math.Abs(level-100) < 1e-9) {
				t.Errorf("%s: the contour at %g lx is %g thick", name, level, it.Stroke.Width)
			}
		}
		if lines < 3 {
			t.Errorf("%s: %d contours", name, lines)
		}
	}
}

// above returns the part of an outline where a + b·x + c·y >= 0.
func above(outline []vec, a, b, c float64) []point {
	var out []point
	h := func(v vec) float64 { return a + b*v[0] + c*v[1] }
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if h(p) >= 0 {
			out = append(out, point{X: p[0], Y: p[1]})
		}
		if (h(p) >= 0) != (h(q) >= 0) {
			t := h(p) / (h(p) - h(q))
			out = append(out, point{X: p[0] + t*(q[0]-p[0]), Y: p[1] + t*(q[1]-p[1])})
		}
	}
	return out
}

// Law: the map of a flight elsewhere is the same map, moved.
func TestTranslate(t *testing.T) {
	p := flight(4, 90, bright)
	far := p
	far.Surfaces, far.Screens, far.Bars = nil, nil, slices.Clone(p.Bars)
	by := vec{-3100, 777, 50}
	for i, s := range p.Surfaces {
		o := make([]vec, len(s.Outline))
		for k := range o {
			o[k] = s.Outline[k].Add(by)
		}
		s.Outline = o
		far.Surfaces = append(far.Surfaces, s)
		far.Screens = append(far.Screens, lux.Screen{Outline: o, BothSides: p.Screens[i].BothSides})
	}
	for i := range far.Bars {
		far.Bars[i].Corner = far.Bars[i].Corner.Add(by)
	}
	a := drawn(solved(p, 10, 6), lightmap.Options{Bars: p.Bars})
	b := drawn(solved(far, 10, 6), lightmap.Options{Bars: far.Bars})
	// Rounding may give a piece one corner more, so pieces are compared by
	// their area and contours by their length.
	shift := point{X: 777, Y: 3100}
	sums := func(l *drawing.List) (areas map[drawing.Ink]float64, length float64, texts []drawing.Text) {
		areas = map[drawing.Ink]float64{}
		for _, it := range l.Items() {
			switch it.Kind {
			case drawing.KindPolygon:
				areas[it.Fill.Ink] += area(it.Points)
			case drawing.KindPolyline:
				for i := 1; i < len(it.Points); i++ {
					length += it.Points[i].Sub(it.Points[i-1]).Len()
				}
			case drawing.KindText:
				texts = append(texts, it.Text)
			}
		}
		return areas, length, texts
	}
	aa, la, ta := sums(a)
	ab, lb, tb := sums(b)
	if len(aa) < 6 || len(ta) != len(tb) {
		t.Fatalf("%d inks, %d texts, moved %d", len(aa), len(ta), len(tb))
	}
	for ink := range aa {
		within(t, ink.String(), ab[ink], aa[ink], 1)
	}
	within(t, "contours", lb, la, 0.1)
	for i, x := range ta {
		if x.String != tb[i].String || tb[i].At.Sub(x.At).Sub(shift).Len() > 1e-3 {
			t.Errorf("%q at %v became %q at %v", x.String, x.At, tb[i].String, tb[i].At)
		}
	}
}

// Law: the bands of a mirrored flight have the same areas.
func TestMirror(t *testing.T) {
	outline := []vec{{0, 0, 0}, {900, 0, 0}, {840, 300, 0}, {90, 200, 0}}
	mirrored := []vec{{-900, 0, 0}, {0, 0, 0}, {-90, 200, 0}, {-840, 300, 0}}
	a := drawn(linear(outline, 11, 7, 3, 0.1, 0.45), lightmap.Options{})
	b := drawn(linear(mirrored, 11, 7, 3, -0.1, 0.45), lightmap.Options{})
	for _, band := range bandInk {
		sum := func(l *drawing.List) (s float64) {
			for _, it := range l.Items() {
				if it.Kind == drawing.KindPolygon && it.Fill.Ink == band.ink {
					s += area(it.Points)
				}
			}
			return s
		}
		within(t, band.ink.String(), sum(b), sum(a), 1e-6)
	}
}

// Every tread's figures are printed, and the legend names every band.
func TestLettering(t *testing.T) {
	p := flight(9, 60, bright)
	r := solved(p, 20, 12)
	for _, size := range [][2]float64{{1200, 500}, {800, 400}, {600, 900}} {
		o := lightmap.Options{Bars: p.Bars, Upright: size[1] > size[0]}
		v := lightmap.Fit(r, o, size[0], size[1], drawing.PaperScale(1))
		o.Scale = v.Scale / v.Paper
		l := drawn(r, o)
		var all []string
		for _, it := range l.Items() {
			if it.Kind == drawing.KindText {
				all = append(all, it.Text.String)
			}
		}
		text := strings.Join(all, "\n")
		for i := range r.Surfaces {
			if want := lux.Print(r.Surfaces[i].Centre) + " lx"; !strings.Contains(text, want) {
				t.Errorf("%v: no %q of %s", size, want, r.Surfaces[i].Name())
			}
		}
		for _, want := range []string{"under 1", "1 to 2", "2 to 5", "5 to 10", "10 to 20", "20 to 50", "50 to 100", "100 to 200", "over 200", lux.Supplement, "9 lit bars"} {
			if !strings.Contains(text, want) {
				t.Errorf("%v: the legend does not say %q", size, want)
			}
		}
		// On the page nothing is cut off, nor written over anything else.
		var page drawing.List
		page.Append(l, v.Transform())
		for _, f := range drawing.TextFaults(&page, point{Y: -size[1] / v.Paper}, point{X: size[0] / v.Paper}) {
			t.Errorf("%v: %s", size, f)
		}
		lo, hi := l.Extent(v.Transform())
		if lo.X < 0 || hi.X*v.Paper > size[0] || hi.Y > 0 || lo.Y*v.Paper < -size[1] {
			t.Errorf("%v: drawn from %v to %v", size, lo, hi)
		}
		if err := page.Check(); err != nil {
			t.Error(err)
		}
	}
}

// The colours of the light are keyed below the legend, nothing lies over
// anything else, and every lit bar is drawn in its own.
func TestColoursAreKeyed(t *testing.T) {
	p := flight(9, 60, bright)
	r := solved(p, 20, 12)
	names := []string{"warm white, 2700 K", "blue", "255, 40, 3"}
	o := lightmap.Options{Bars: p.Bars, Colours: names}
	v := lightmap.Fit(r, o, 1200, 500, drawing.PaperScale(1))
	o.Scale = v.Scale / v.Paper
	l := drawn(r, o)
	fills, lines, texts := map[drawing.Ink]int{}, map[drawing.Ink]int{}, ""
	for _, it := range l.Items() {
		switch it.Kind {
		case drawing.KindText:
			texts += it.Text.String + "\n"
		case drawing.KindPolygon:
			fills[it.Fill.Ink]++
		case drawing.KindLine:
			lines[it.Stroke.Ink]++
		}
	}
	for i, name := range names {
		ink := drawing.Lamp + drawing.Ink(i)
		if fills[ink] != 1 || lines[ink] != 3 || !strings.Contains(texts, name) {
			t.Errorf("%s: %d fields in the key and %d of 3 bars, or no name", name, fills[ink], lines[ink])
		}
	}
	if fills[drawing.Lamp+3] != 0 {
		t.Error("a colour that is not there is keyed")
	}
	var page drawing.List
	page.Append(l, v.Transform())
	for _, f := range drawing.TextFaults(&page, point{Y: -500 / v.Paper}, point{X: 1200 / v.Paper}) {
		t.Error(f)
	}
}

// Nothing to draw, darkness, one cell, and far too much light draw without
// panic and without what is not a number.
func TestSurvives(t *testing.T) {
	if l := drawn(&lux.Result{}, lightmap.Options{}); l.Len() != 0 {
		t.Errorf("%d items of nothing", l.Len())
	}
	for name, p := range map[string]lux.Problem{
		"dark": flight(3, 0, func(int) float64 { return 0 }), "glaring": flight(3, 200, func(int) float64 { return 1e7 }), "usual": flight(3, -150, bright),
	} {
		for _, n := range [][2]int{{1, 1}, {1, 5}, {5, 1}, {7, 6}} {
			for _, scale := range []float64{0, 1e-3, 0.3, 20} {
				l := drawn(solved(p, n[0], n[1]), lightmap.Options{Bars: p.Bars, Scale: scale})
				if err := l.Check(); err != nil {
					t.Errorf("%s %v: %v", name, n, err)
				}
				if l.Len() < 20 {
					t.Errorf("%s %v: %d items", name, n, l.Len())
				}
			}
		}
	}
}

// lightness returns L* of a colour seen through a matrix of linear sRGB.
func lightness(c color.NRGBA, m [3][3]float64) float64 {
	lin := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	rgb := [3]float64{lin(c.R), lin(c.G), lin(c.B)}
	y := 0.0
	for i, w := range [3]float64{0.2126, 0.7152, 0.0722} {
		for k := range 3 {
			y += w * m[i][k] * rgb[k]
		}
	}
	if y <= 0.008856 {
		return 903.3 * y
	}
	return 116*math.Cbrt(y) - 16
}

// Neighbouring bands differ in lightness by at least 5 (about 2 is just seen;
// both from memory) for usual colour vision and for the three kinds of colour
// blindness by the matrices of Machado, Oliveira and Fernandes 2009, severity 1
// (from memory), on every palette; so the bands always come in one order.
func TestBandsAreToldApart(t *testing.T) {
	eyes := map[string][3][3]float64{
		"usual":       {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"protanopia":  {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
		"deuteranopy": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
		"tritanopia":  {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	}
	for name, base := range map[string]drawing.Palette{"light": drawing.Light(), "dark": drawing.Dark(), "print": drawing.Print()} {
		p := lightmap.Palette(base)
		for eye, m := range eyes {
			for i := 1; i < len(bandInk); i++ {
				a, b := lightness(p[bandInk[i-1].ink], m), lightness(p[bandInk[i].ink], m)
				if b-a < 5 {
					t.Errorf("%s, %s: bands %d and %d have lightness %.1f and %.1f", name, eye, i-1, i, a, b)
				}
			}
		}
		for ink, c := range p {
			taken := slices.ContainsFunc(bandInk, func(b struct {
				ink   drawing.Ink
				level float64
			}) bool {
				return b.ink == drawing.Ink(ink)
			})
			if !taken && c != base[ink] {
				t.Errorf("%s: %s changed to %v", name, drawing.Ink(ink), c)
			}
			if name == "print" && (c.R != c.G || c.G != c.B) {
				t.Errorf("print: %s is %v", drawing.Ink(ink), c)
			}
		}
	}
}

// A pixel of the picture has the colour of its band: the middle of a tread lit
// evenly with 30 lx.
func TestPixel(t *testing.T) {
	r := linear([]vec{{0, 0, 0}, {900, 0, 0}, {900, 260, 0}, {0, 260, 0}}, 8, 6, 30, 0, 0)
	v := drawing.Viewport{Scale: 0.2, Origin: point{X: 10, Y: 10}, Paper: drawing.PaperScale(1)}
	p := lightmap.Palette(drawing.Light())
	img := picture(drawn(r, lightmap.Options{Scale: v.Scale / v.Paper}), 300, 300, v, p)
	at := v.Pixel(point{X: 200, Y: -100})
	got := img.RGBAAt(int(at.X), int(at.Y))
	want := p[drawing.CautionWash]
	if got.R != want.R || got.G != want.G || got.B != want.B {
		t.Errorf("30 lx is painted %v, want %v", got, want)
	}
}

func BenchmarkDraw(b *testing.B) {
	p := flight(14, 40, bright)
	r := solved(p, 40, 20)
	var l drawing.List
	for b.Loop() {
		l.Reset()
		lightmap.Draw(&l, r, lightmap.Options{Bars: p.Bars, Scale: 0.06})
	}
	b.ReportMetric(float64(l.Len()), "items")
}
