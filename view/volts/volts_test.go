package volts_test

import (
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/power"
	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/volts"
)

// lit is the answer to a demo job with light bars.
func lit(t *testing.T, change func(*model.Job)) *solver.Answer {
	t.Helper()
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	ds, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		if d.Name == "tapering" {
			j := d.Job
			j.Lighting = model.FirstLighting(j, tb.Lights)
			if change != nil {
				change(&j)
			}
			return solver.Solve(j, tb)
		}
	}
	t.Fatal("no such demo job")
	return nil
}

var size = volts.Options{Width: 150, Height: 48, Chosen: 5}

func drawn(r *power.Result, o volts.Options) *drawing.List {
	var l drawing.List
	volts.Draw(&l, r, o)
	return &l
}

func words(l *drawing.List) string {
	var out []string
	for _, it := range l.Items() {
		if it.Kind == drawing.KindText {
			out = append(out, it.Text.String)
		}
	}
	return strings.Join(out, "|")
}

// TestEveryBarHasItsLine counts the lines of the bars, holds every place of
// them within the frame, and the figure at the worst pixel against the result.
func TestEveryBarHasItsLine(t *testing.T) {
	for _, n := range []float64{40, 150, 600} {
		a := lit(t, nil)
		o := size
		o.Width = n
		l := drawn(a.Power, o)
		if err := l.Check(); err != nil {
			t.Fatal(err)
		}
		lines := 0
		for _, it := range l.Items() {
			if it.Stroke.Ink == drawing.Good || it.Stroke.Ink == drawing.Bad && len(it.Stroke.Dash) == 0 {
				lines++
			}
		}
		if lines != len(a.Power.Bars) {
			t.Errorf("width %g: %d lines for %d bars", n, lines, len(a.Power.Bars))
		}
		lo, hi := l.Bounds()
		if lo.X < 0 || lo.Y < 0 || hi.X > o.Width || hi.Y > o.Height {
			t.Errorf("width %g: drawn outside the frame: %v to %v", n, lo, hi)
		}
		worst := math.Inf(1)
		for _, b := range a.Power.Bars {
			for _, v := range b.Volts {
				worst = math.Min(worst, v)
			}
		}
		if want := fmt.Sprintf("%.2f V", worst); !strings.Contains(words(l), want) {
			t.Errorf("width %g: %s is not named in %s", n, want, words(l))
		}
	}
}

// TestClickFindsTheBar asks for the bar at the middle of every slot.
func TestClickFindsTheBar(t *testing.T) {
	a := lit(t, nil)
	found := map[int]bool{}
	for x := 0.0; x < size.Width; x += 0.5 {
		found[volts.At(a.Power, size, drawing.Point{X: x, Y: 20})] = true
	}
	for _, b := range a.Power.Bars {
		if !found[b.Step] {
			t.Errorf("no place leads to the bar of step %d", b.Step)
		}
	}
	if volts.At(a.Power, size, drawing.Point{X: -5}) != 0 {
		t.Error("a place outside leads to a bar")
	}
}

// TestOddResults draws what can go wrong without a panic, and says so.
func TestOddResults(t *testing.T) {
	for name, r := range map[string]*power.Result{
		"nil": nil, "empty": {},
		"no pixels": {Bars: []power.BarPower{{Step: 1}}},
		"not a number": {Bars: []power.BarPower{{Step: 1, Volts: []float64{math.NaN(), 5}}},
			Supply: model.SupplyClass{Volts: model.Rated{Value: math.NaN()}}},
	} {
		for _, o := range []volts.Options{size, {}, {Width: 1, Height: 1}} {
			l := drawn(r, o)
			if err := l.Check(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if volts.At(r, o, drawing.Point{X: 50}) != 0 {
				t.Errorf("%s: a click finds a bar", name)
			}
		}
	}
	one := &power.Result{Bars: []power.BarPower{{Step: 3, Volts: []float64{4.9}, Lowest: 4.9}}, Supply: model.SupplyClass{Volts: model.Rated{Value: 5}}, Limit: 0.2}
	if l := drawn(one, size); !strings.Contains(words(l), "B03") || l.Check() != nil {
		t.Error("a bar of one pixel is not drawn")
	}
}

// TestLook writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	for name, o := range map[string]volts.Options{"volts": size, "volts-narrow": {Width: 70, Height: 40}} {
		const paper = 6
		w, h := int(o.Width*paper), int(o.Height*paper)
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		var r screen.Renderer
		r.Draw(img, drawn(lit(t, nil).Power, o), drawing.Viewport{Scale: paper, Paper: paper, Origin: drawing.Point{Y: float64(h)}}, drawing.Light())
		f, err := os.Create(filepath.Join(dir, name+".png"))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, img); err != nil {
			t.Error(err)
		}
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}
}
