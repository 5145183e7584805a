package drawing_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"risewright/view/drawing"
)

func TestViewportUndoesItselfAndHoldsThePointUnderTheCursor(t *testing.T) {
	v := drawing.Fit(point{X: -100, Y: 20}, point{X: 900, Y: 420}, 1200, 800, 40, drawing.PaperScale(1))
	if got := v.Pixel(point{X: -100, Y: 220}); got.Sub(point{X: 40, Y: 400}).Len() > 1e-9 {
		t.Errorf("left edge falls at %v, want 40,400", got)
	}
	at := point{X: 333, Y: 444}
	under := v.Scene(at)
	z := v.Zoom(at, 3.7).Pan(10, -5)
	if got := z.Pixel(under); got.Sub(point{X: 343, Y: 439}).Len() > 1e-9 {
		t.Errorf("after zoom and pan the point is at %v", got)
	}
	p := point{X: 12.3, Y: -4.5}
	paper := z.Transform().Apply(p)
	if got := (point{X: paper.X * z.Paper, Y: -paper.Y * z.Paper}); got.Sub(z.Pixel(p)).Len() > 1e-9 {
		t.Errorf("Transform says %v, Pixel says %v", got, z.Pixel(p))
	}
	if v := drawing.Fit(point{}, point{}, 100, 100, 10, 1); v.Scale != 1 || v.Pixel(point{}) != (point{X: 50, Y: 50}) {
		t.Errorf("a box without size gives %+v", v)
	}
}

func TestTransformOrder(t *testing.T) {
	// First turn (1,0) to (0,1), then shift to (10,1).
	m := drawing.Turn(math.Pi / 2).Then(drawing.Shift(10, 0))
	if got := m.Apply(point{X: 1}); got.Sub(point{X: 10, Y: 1}).Len() > 1e-12 {
		t.Errorf("got %v, want 10,1", got)
	}
}

// TestDimensionReadsFromBelowOrTheRight turns one dimension round the clock.
func TestDimensionReadsFromBelowOrTheRight(t *testing.T) {
	for deg := -180; deg <= 180; deg++ {
		a := float64(deg) * math.Pi / 180
		var l drawing.List
		l.Dimension(point{}, point{X: 100 * math.Cos(a), Y: 100 * math.Sin(a)}, 10, "36", drawing.Stroke{Ink: drawing.Soft})
		var r recorder
		var w drawing.Lowering
		w.Run(&l, drawing.Identity(), &r)
		if len(r.texts) != 1 {
			t.Fatalf("%d°: %d labels", deg, len(r.texts))
		}
		label := r.texts[0]
		got := label.Angle * 180 / math.Pi
		if got < -70-1e-9 || got > 110+1e-9 {
			t.Errorf("%d°: label at %.1f°", deg, got)
		}
		if d := math.Abs(math.Remainder(label.Angle-a, math.Pi)); d > 1e-9 {
			t.Errorf("%d°: label is not along the line", deg)
		}
		// The dimension line is 10 to the left; the label's middle stands just
		// above it as read, so 10 ± 2.5 to the left and half way along.
		sin, cos := math.Sincos(label.Angle)
		half := drawing.TextWidth("36", label.Size, false, false) / 2
		mid := label.At.Add(point{X: cos * half, Y: sin * half})
		left := -mid.X*math.Sin(a) + mid.Y*math.Cos(a)
		along := mid.X*math.Cos(a) + mid.Y*math.Sin(a)
		if math.Abs(left-10) > 2.5 || math.Abs(along-50) > 1e-9 {
			t.Errorf("%d°: label %v to the left and %v along, want about 10 and 50", deg, left, along)
		}
	}
}

func TestShortDimensionHasItsLabelOutside(t *testing.T) {
	var l drawing.List
	l.Dimension(point{}, point{X: 3}, 5, "3⁄16″ fit", drawing.Stroke{Ink: drawing.Soft})
	var r recorder
	var w drawing.Lowering
	w.Run(&l, drawing.Identity(), &r)
	if got := r.texts[0].At.X; got < 3 {
		t.Errorf("label begins at %v, within the 3 mm it measures", got)
	}
}

// TestHatchAgainstSampling compares the hatch with an obvious twin: walk along
// each line in small steps and ask of each step whether it is inside.
func TestHatchAgainstSampling(t *testing.T) {
	seed := uint64(7)
	rng := rand.New(rand.NewPCG(seed, 2))
	shapes := 20
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		shapes = 400
	}
	for n := range shapes {
		pts := make([]point, 3+rng.IntN(5))
		for i := range pts {
			pts[i] = point{X: rng.Float64() * 40, Y: rng.Float64() * 40}
		}
		var l drawing.List
		l.Polygon(pts, drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 3}}, drawing.Stroke{})
		var r lengths
		w := drawing.Lowering{Max: point{X: 40, Y: 40}}
		w.Run(&l, drawing.Identity(), &r)
		want := 0.0
		const step = 0.02
		for k := -20; k <= 20; k++ {
			for u := 0.0; u < 60; u += step {
				// along (1,1)/√2, across (-1,1)/√2
				v := 3 * float64(k)
				p := point{X: (u - v) / math.Sqrt2, Y: (u + v) / math.Sqrt2}
				if turns(pts, p) != 0 {
					want += step
				}
			}
		}
		// Each piece's two ends are known to a step.
		if math.Abs(r.total-want) > 2*step*float64(r.n)+1e-6 {
			t.Fatalf("seed %d, shape %d %v: hatch %v mm long, sampling says %v", seed, n, pts, r.total, want)
		}
	}
}

type lengths struct {
	total float64
	n     int
}

func (l *lengths) Path(pts []drawing.Point, closed bool, fill drawing.Ink, s drawing.Stroke) {
	l.total += pts[1].Sub(pts[0]).Len()
	l.n++
}
func (l *lengths) Arc(drawing.Point, float64, float64, float64, drawing.Ink, drawing.Stroke) {}
func (l *lengths) Text(drawing.Text)                                                         {}

// turns counts how often pts goes round p, by summing angles.
func turns(pts []point, p point) int {
	sum := 0.0
	for i, a := range pts {
		a, b := a.Sub(p), pts[(i+1)%len(pts)].Sub(p)
		sum += math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

func TestSetFraction(t *testing.T) {
	f := drawing.FaceFor(false, false)
	var got []drawing.Placed
	f.Set("6 5⁄16″", func(p drawing.Placed) { got = append(got, p) })
	want := []struct {
		r      rune
		small  bool
		raised bool
	}{{'6', false, false}, {' ', false, false}, {'5', true, true}, {'⁄', false, false}, {'1', true, false}, {'6', true, false}, {'″', false, false}}
	if len(got) != len(want) {
		t.Fatalf("%d characters, want %d", len(got), len(want))
	}
	for i, w := range want {
		g := got[i]
		if g.Rune != w.r || (g.Scale < 1) != w.small || (g.Y > 0) != w.raised {
			t.Errorf("character %d: %q scale %v raised %v", i, g.Rune, g.Scale, g.Y)
		}
		if i > 0 && g.X <= got[i-1].X {
			t.Errorf("character %d does not follow the one before", i)
		}
	}
	// In the fixed-width face figures keep their columns.
	if w := drawing.TextWidth("36 5⁄16", 10, false, true); math.Abs(w-7*drawing.TextWidth("0", 10, false, true)) > 1e-9 {
		t.Errorf("fixed-width fraction is %v wide", w)
	}
	if a, b := drawing.TextWidth("5⁄", 10, false, false), drawing.TextWidth("5/", 10, false, false); a != b {
		t.Errorf("a slash outside a fraction is %v wide, want that of a solidus, %v", a, b)
	}
}

// contrast is the ratio of WCAG 2.1, "contrast ratio" and "relative luminance"
// (from memory).
func contrast(p drawing.Palette, a, b drawing.Ink) float64 {
	lum := func(i drawing.Ink) float64 {
		ch := func(v uint8) float64 {
			c := float64(v) / 255
			if c <= 0.04045 {
				return c / 12.92
			}
			return math.Pow((c+0.055)/1.055, 2.4)
		}
		return 0.2126*ch(p[i].R) + 0.7152*ch(p[i].G) + 0.0722*ch(p[i].B)
	}
	x, y := lum(a), lum(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func TestLetteringCanBeReadOnEveryFill(t *testing.T) {
	grounds := []drawing.Ink{drawing.Paper, drawing.Wood, drawing.WoodDark, drawing.Painted, drawing.Existing, drawing.Wall, drawing.Ground,
		drawing.SelectWash, drawing.HoldWash, drawing.GoodWash, drawing.CautionWash, drawing.BadWash}
	for name, p := range map[string]drawing.Palette{"Light": drawing.Light(), "Dark": drawing.Dark(), "Print": drawing.Print()} {
		for _, g := range grounds {
			for _, ink := range []drawing.Ink{drawing.Letter, drawing.LetterSoft, drawing.Line} {
				if c := contrast(p, ink, g); c < 4.5 {
					t.Errorf("%s: %s on %s has contrast %.2f, below 4.5", name, ink, g, c)
				}
			}
		}
		for _, pair := range [][2]drawing.Ink{{drawing.Select, drawing.SelectWash}, {drawing.Hold, drawing.HoldWash}, {drawing.Good, drawing.GoodWash},
			{drawing.Caution, drawing.CautionWash}, {drawing.Bad, drawing.BadWash}} {
			for _, g := range []drawing.Ink{pair[1], drawing.Paper} {
				if c := contrast(p, pair[0], g); c < 4.5 {
					t.Errorf("%s: %s on %s has contrast %.2f, below 4.5", name, pair[0], g, c)
				}
			}
		}
		if c := contrast(p, drawing.Soft, drawing.Paper); c < 3 {
			t.Errorf("%s: Soft on Paper has contrast %.2f, below 3", name, c)
		}
	}
	for i, c := range drawing.Print() {
		if c.R != c.G || c.G != c.B {
			t.Errorf("Print: %s is not grey", drawing.Ink(i))
		}
	}
	for _, p := range []drawing.Palette{drawing.Light(), drawing.Dark(), drawing.Print()} {
		for i := drawing.Paper; int(i) < len(p); i++ {
			if p[i].A == 0 {
				t.Errorf("%s has no colour", i)
			}
		}
	}
}
