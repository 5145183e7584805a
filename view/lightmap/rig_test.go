package lightmap_test

import (
	"flag"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/lux"
	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/lightmap"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

type (
	vec   = mgl64.Vec3
	point = drawing.Point
)

// flight returns n treads 900 wide going 260, rise 185, and a floor, each lit by
// a bar at its back that gives lumens(step) lm; skew moves the right end of
// every nose up the flight, so that treads taper.
func flight(n int, skew float64, lumens func(step int) float64) lux.Problem {
	var p lux.Problem
	for k := 0; k <= n; k++ {
		s := lux.Surface{Step: k, Kind: lux.Tread}
		y, deep, z := 260*float64(k-1), 285.0, 185*float64(k)
		a, b := 0.0, 0.0
		switch k {
		case 0:
			s.Kind, y, deep = lux.Floor, -600, 625
			b = skew / float64(n)
		case n:
			s.Kind, deep = lux.Landing, 90
			a, b = skew, skew
		default:
			a, b = skew*float64(k)/float64(n), skew*float64(k+1)/float64(n)
		}
		s.Outline = []vec{{0, y, z}, {900, y + a, z}, {900, y + deep + b, z}, {0, y + deep, z}}
		p.Surfaces = append(p.Surfaces, s)
		p.Screens = append(p.Screens, lux.Screen{Outline: s.Outline, BothSides: true})
		if k > 0 {
			bar := lux.Bar{Step: k, Corner: vec{880, y + 8 + a, z - 35}, Along: vec{-860, -a, 0}, Across: vec{0, 10, 0}}
			across := vec{0, 0, -1}.Cross(bar.Along).Normalize().Mul(10)
			bar.Across = across
			p.Bars = append(p.Bars, bar.WithLumens(lumens(k)))
		}
	}
	return p
}

func solved(p lux.Problem, across, deep int) *lux.Result {
	r := lux.Solve(p, lux.Settings{Across: across, Deep: deep})
	return &r
}

func drawn(r *lux.Result, o lightmap.Options) *drawing.List {
	var l drawing.List
	lightmap.Draw(&l, r, o)
	return &l
}

// golden compares text with testdata/name.txt, or writes it with -update.
func golden(t *testing.T, name, text string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run go test -update ./view/lightmap and look at the difference", err)
	}
	if string(want) == text {
		return
	}
	g, w := strings.Split(text, "\n"), strings.Split(string(want), "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Fatalf("%s line %d:\n got %s\nwant %s\n(-update writes it anew)", path, i+1, g[i], w[i])
		}
	}
	t.Fatalf("%s: %d lines, want %d", path, len(g), len(w))
}

// picture paints a map.
func picture(l *drawing.List, w, h int, v drawing.Viewport, p drawing.Palette) *image.RGBA {
	var r screen.Renderer
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	r.Draw(dst, l, v, p)
	return dst
}

// TestLook writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	some := func(k int) float64 {
		if k%3 == 0 {
			return 0
		}
		return 30 + 15*float64(k)
	}
	for name, c := range map[string]struct {
		p    lux.Problem
		w, h int
		o    lightmap.Options
		c    drawing.Palette
	}{
		"flight":  {flight(8, 0, some), 1200, 600, lightmap.Options{}, drawing.Light()},
		"print":   {flight(8, 120, some), 1200, 600, lightmap.Options{}, drawing.Print()},
		"dark":    {flight(8, 120, some), 1200, 600, lightmap.Options{}, drawing.Dark()},
		"upright": {flight(6, 60, some), 700, 1000, lightmap.Options{Upright: true}, drawing.Light()},
		"small":   {flight(14, 0, some), 800, 300, lightmap.Options{}, drawing.Light()},
	} {
		r := solved(c.p, 40, 20)
		c.o.Bars = c.p.Bars
		v := lightmap.Fit(r, c.o, float64(c.w), float64(c.h), drawing.PaperScale(1))
		c.o.Scale = v.Scale / v.Paper
		l := drawn(r, c.o)
		t.Logf("%s: %d items", name, l.Len())
		f, err := os.Create(filepath.Join(dir, "lightmap-"+name+".png"))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, picture(l, c.w, c.h, v, lightmap.Palette(c.c))); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
}

func within(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.7g, want %.7g ± %g", name, got, want, tolerance)
	}
}
