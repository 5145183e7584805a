package screen_test

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/internal/specimen"
	"risewright/view/drawing/screen"
)

type point = drawing.Point

// full multiplies how many random drawings are tried when RISEWRIGHT_FULL is
// set.
func full(n int) int {
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		return 10 * n
	}
	return n
}

// plain maps one scene and one paper millimetre to one pixel, with the scene's
// origin at the bottom left of a picture h pixels high.
func plain(h int) drawing.Viewport {
	return drawing.Viewport{Scale: 1, Origin: point{Y: float64(h)}, Paper: 1}
}

// blackOnWhite makes coverage readable: 255 minus a pixel's grey.
func blackOnWhite() drawing.Palette {
	p := drawing.Print()
	p[drawing.Wood] = color.NRGBA{A: 255}
	p[drawing.Letter] = color.NRGBA{A: 255}
	return p
}

var black = drawing.Stroke{Ink: drawing.Line, Width: 1}

func draw(w, h int, l *drawing.List, v drawing.Viewport, exact bool) *image.RGBA {
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	r := screen.Renderer{Exact: exact}
	r.Draw(dst, l, v, blackOnWhite())
	return dst
}

// cover returns how black pixel x, y is, 0 to 255; y up from the bottom.
func cover(m *image.RGBA, x, y int) int {
	return 255 - int(m.RGBAAt(x, m.Rect.Max.Y-1-y).R)
}

// text draws a picture as rows of characters: '.' white, '#' black, '+' between.
func text(m *image.RGBA) string {
	s := "\n"
	for y := m.Rect.Min.Y; y < m.Rect.Max.Y; y++ {
		for x := m.Rect.Min.X; x < m.Rect.Max.X; x++ {
			switch v := m.RGBAAt(x, y).R; {
			case v > 250:
				s += "."
			case v < 5:
				s += "#"
			default:
				s += "+"
			}
		}
		s += "\n"
	}
	return s
}

// TestPictures holds small drawings pixel by pixel.
func TestPictures(t *testing.T) {
	stroke := func(w float64, dash ...float64) drawing.Stroke {
		return drawing.Stroke{Ink: drawing.Line, Width: w, Dash: dash}
	}
	for _, c := range []struct {
		name string
		draw func(l *drawing.List)
		want string
	}{
		{"level line lies on whole pixels", func(l *drawing.List) { l.Line(point{X: 2, Y: 2.3}, point{X: 8, Y: 2.3}, stroke(1)) }, `
..........
..........
..######..
..........
..........
`},
		{"line two wide lies on whole pixels", func(l *drawing.List) { l.Line(point{X: 2, Y: 2.7}, point{X: 8, Y: 2.7}, stroke(2)) }, `
..........
..######..
..######..
..........
..........
`},
		{"corners are square and closed", func(l *drawing.List) {
			l.Polyline([]point{{X: 1, Y: 1}, {X: 9, Y: 1}, {X: 9, Y: 4}, {X: 1, Y: 4}}, true, stroke(2))
		}, `
##########
##########
##......##
##########
##########
`},
		{"open ends are cut square", func(l *drawing.List) {
			l.Polyline([]point{{X: 1, Y: 4}, {X: 1, Y: 1}, {X: 8, Y: 1}}, false, stroke(2))
		}, `
..........
##........
##........
########..
########..
`},
		{"dashes begin at the start", func(l *drawing.List) { l.Line(point{X: 1, Y: 2.5}, point{X: 10, Y: 2.5}, stroke(1, 2, 1)) }, `
..........
..........
.##.##.##.
..........
..........
`},
		{"dashes run on round a corner", func(l *drawing.List) {
			l.Polyline([]point{{X: 1.5, Y: 1.5}, {X: 5.5, Y: 1.5}, {X: 5.5, Y: 4.5}}, false, stroke(1, 6, 9))
		}, `
..........
.....+....
.....#....
.+####....
..........
`},
		{"an odd number of dashes is doubled", func(l *drawing.List) { l.Line(point{X: 0, Y: 2.5}, point{X: 10, Y: 2.5}, stroke(1, 2)) }, `
..........
..........
##..##..##
..........
..........
`},
		{"fill without an outline has crisp edges", func(l *drawing.List) {
			l.Polygon([]point{{X: 1.2, Y: 0.9}, {X: 6.2, Y: 0.9}, {X: 6.2, Y: 4.1}, {X: 1.2, Y: 4.1}}, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
		}, `
..........
.#####....
.#####....
.#####....
..........
`},
		{"square handle", func(l *drawing.List) {
			l.Square(point{X: 5, Y: 3}, 2, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
		}, `
...####...
...####...
...####...
...####...
..........
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var l drawing.List
			c.draw(&l)
			if got := text(draw(10, 5, &l, plain(5), false)); got != c.want {
				t.Errorf("got%swant%s", got, c.want)
			}
		})
	}
}

// TestLinesAgainstSampling compares the coverage of single lines with an
// obvious twin: count which of 16 by 16 places in each pixel the line covers.
func TestLinesAgainstSampling(t *testing.T) {
	const (
		size = 24
		n    = 16
		// The turned-box rule is off by most on a line about a pixel wide at
		// 45°: it says 1 in the middle where a strip one wide covers
		// 1-2·(√½-½)² = 0.914. At ends it multiplies two such profiles.
		worst = 0.16
		// Near 45° the pixels across a line stand √½ apart, so a profile one
		// wide and less is read at three places only: for width 0.92 that is
		// 0.92 + 2·(0.96-0.707) = 1.426, times √½, so 1.008, a tenth too much.
		// The eye sees slanting lines as thinner, so this is no loss.
		mean = 0.12 // of the line's own area
	)
	seed := uint64(99)
	rng := rand.New(rand.NewPCG(seed, 3))
	for k := range full(30) {
		a := point{X: 4 + 16*rng.Float64(), Y: 4 + 16*rng.Float64()}
		b := point{X: 4 + 16*rng.Float64(), Y: 4 + 16*rng.Float64()}
		w := 0.7 + 3*rng.Float64()
		length := b.Sub(a).Len()
		if length < 2 {
			continue
		}
		var l drawing.List
		l.Line(a, b, drawing.Stroke{Ink: drawing.Line, Width: w})
		m := draw(size, size, &l, plain(size), true)
		u := b.Sub(a).Mul(1 / length)
		got, want := 0.0, 0.0
		for y := range size {
			for x := range size {
				in := 0
				for i := range n * n {
					p := point{X: float64(x) + (float64(i%n)+0.5)/n, Y: float64(y) + (float64(i/n)+0.5)/n}.Sub(a)
					along, across := p.X*u.X+p.Y*u.Y, p.Y*u.X-p.X*u.Y
					if along >= 0 && along <= length && math.Abs(across) <= w/2 {
						in++
					}
				}
				exact := float64(in) / (n * n)
				c := float64(cover(m, x, y)) / 255
				if math.Abs(c-exact) > worst {
					t.Fatalf("seed %d, line %d %v–%v width %.2f: pixel %d,%d covered %.3f, sampling says %.3f", seed, k, a, b, w, x, y, c, exact)
				}
				got += c
				want += exact
			}
		}
		if math.Abs(got-want) > mean*want+0.1 {
			t.Errorf("seed %d, line %d %v–%v width %.2f: area %.2f, sampling says %.2f", seed, k, a, b, w, got, want)
		}
	}
}

// TestFillsAgainstSampling does the same for triangles, many of them slivers
// and most reaching outside: 16 by 16 places in each pixel.
func TestFillsAgainstSampling(t *testing.T) {
	const (
		size = 32
		n    = 16
		// Sampling itself is out by up to a row of places on each of two edges
		// that are nearly level or upright, and the answer by half a level.
		worst = 2.0/n + 1.0/255
	)
	seed := uint64(31)
	rng := rand.New(rand.NewPCG(seed, 7))
	at := func() point { return point{X: rng.Float64()*80 - 24, Y: rng.Float64()*80 - 24} }
	for k := range full(12) {
		pts := []point{at(), at(), at()}
		switch k % 3 {
		case 1: // a sliver
			pts[2] = pts[0].Add(pts[1]).Mul(0.5).Add(point{X: rng.Float64(), Y: rng.Float64()})
		case 2: // a tread's nearly level edge
			pts = []point{{X: -40, Y: 10 + rng.Float64()}, {X: 80, Y: 10 + rng.Float64()*2}, {X: 80, Y: 60}}
		}
		var l drawing.List
		l.Polygon(pts, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
		m := draw(size, size, &l, plain(size), true)
		for y := range size {
			for x := range size {
				in := 0
				for i := range n * n {
					p := point{X: float64(x) + (float64(i%n)+0.5)/n, Y: float64(y) + (float64(i/n)+0.5)/n}
					left := 0
					for j, a := range pts {
						b := pts[(j+1)%3]
						if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) > 0 {
							left++
						}
					}
					if left == 0 || left == 3 {
						in++
					}
				}
				exact, c := float64(in)/(n*n), float64(cover(m, x, y))/255
				if math.Abs(c-exact) > worst {
					t.Fatalf("seed %d, triangle %d %v: pixel %d,%d covered %.3f, sampling says %.3f", seed, k, pts, x, y, c, exact)
				}
			}
		}
	}
}

func TestSelfCrossingShapesAreFilled(t *testing.T) {
	var l drawing.List
	// A bow-tie, as corners typed in the wrong order give.
	l.Polygon([]point{{X: 2, Y: 2}, {X: 38, Y: 38}, {X: 38, Y: 2}, {X: 2, Y: 38}}, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
	m := draw(40, 40, &l, plain(40), true)
	if cover(m, 5, 20) != 255 || cover(m, 35, 20) != 255 || cover(m, 20, 5) != 0 || cover(m, 20, 35) != 0 {
		t.Error("a bow-tie should be two filled triangles")
	}
	l.Reset()
	// A pentagram goes round its middle twice.
	star := make([]point, 5)
	for i := range star {
		s, c := math.Sincos(float64(i) * 4 * math.Pi / 5)
		star[i] = point{X: 20 + 18*c, Y: 20 + 18*s}
	}
	l.Polygon(star, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
	if m := draw(40, 40, &l, plain(40), true); cover(m, 20, 20) != 255 {
		t.Error("the middle of a star should be filled")
	}
}

// jumble fills a list with everything, most of it off a 64-pixel picture.
func jumble(l *drawing.List, rng *rand.Rand, letters bool) {
	at := func() point { return point{X: rng.Float64()*300 - 120, Y: rng.Float64()*300 - 120} }
	for range 6 {
		l.Polygon([]point{at(), at(), at(), at()}, drawing.Fill{Ink: drawing.Wall, Hatch: drawing.Hatch{Pattern: drawing.CrossHatch, Spacing: 9, Width: 1}}, drawing.Stroke{Ink: drawing.Line, Width: 0.5 + 2*rng.Float64()})
		l.Line(at(), at(), drawing.Stroke{Ink: drawing.Line, Width: 1, Dash: []float64{5, 2, 1, 2}})
		l.Polyline([]point{at(), at(), at()}, true, drawing.Stroke{Ink: drawing.Soft, Width: 3, Dash: []float64{7, 4}})
		l.Circle(at(), 20+100*rng.Float64(), drawing.Fill{}, drawing.Stroke{Ink: drawing.Line, Width: 1.5})
		l.Circle(at(), 20+60*rng.Float64(), drawing.Fill{Ink: drawing.Ground}, drawing.Stroke{})
		l.Arc(at(), 90, rng.Float64()*6, rng.Float64()*6, drawing.Stroke{Ink: drawing.Line, Width: 2})
		l.Dot(at(), 4, drawing.Fill{Ink: drawing.Wood}, black)
		l.Arrow(at(), at(), black)
		if letters {
			l.Text(drawing.Text{At: at(), Size: 14, Halo: true, Angle: rng.Float64() * 6, String: "36 5⁄16″"})
			l.Dimension(at(), at(), 12, "918", drawing.Stroke{Ink: drawing.Soft, Width: 1})
		}
	}
}

// differ returns the largest difference between two pictures of one size, and
// the mean.
func differ(a, b *image.RGBA) (worst int, mean float64) {
	n := 0
	for y := range a.Rect.Dy() {
		for x := range a.Rect.Dx() {
			p, q := a.RGBAAt(a.Rect.Min.X+x, a.Rect.Min.Y+y), b.RGBAAt(b.Rect.Min.X+x, b.Rect.Min.Y+y)
			for _, d := range []int{int(p.R) - int(q.R), int(p.G) - int(q.G), int(p.B) - int(q.B), int(p.A) - int(q.A)} {
				worst = max(worst, max(d, -d))
				mean += math.Abs(float64(d))
				n++
			}
		}
	}
	return worst, mean / float64(n)
}

// TestClippingAgainstCropping draws the same drawings into a small picture,
// where nearly everything is clipped, and into one so large that nothing is,
// and cuts the small picture out of it.
func TestClippingAgainstCropping(t *testing.T) {
	// Only rounding differs: one level for each thing painted over another.
	const levels = 3
	seed := uint64(4242)
	rng := rand.New(rand.NewPCG(seed, 4))
	for k := range full(6) {
		var l drawing.List
		jumble(&l, rng, true)
		big := draw(640, 640, &l, drawing.Viewport{Scale: 1, Origin: point{X: 300, Y: 364}, Paper: 1}, k%2 == 0)
		small := draw(64, 64, &l, drawing.Viewport{Scale: 1, Origin: point{X: 0, Y: 64}, Paper: 1}, k%2 == 0)
		crop := big.SubImage(image.Rect(300, 300, 364, 364)).(*image.RGBA)
		if worst, _ := differ(small, crop); worst > levels {
			t.Fatalf("seed %d, drawing %d: clipped and cropped differ by %d levels", seed, k, worst)
		}
		// A sub-image is painted like any other picture, and nothing beside it.
		part := image.NewRGBA(image.Rect(0, 0, 640, 640))
		r := screen.Renderer{Exact: k%2 == 0}
		r.Draw(part.SubImage(image.Rect(300, 300, 364, 364)).(*image.RGBA), &l, drawing.Viewport{Scale: 1, Origin: point{X: 300, Y: 364}, Paper: 1}, blackOnWhite())
		if worst, _ := differ(part.SubImage(crop.Rect).(*image.RGBA), crop); worst > levels {
			t.Fatalf("seed %d, drawing %d: sub-image differs by %d levels", seed, k, worst)
		}
		for _, p := range []image.Point{{X: 299, Y: 320}, {X: 364, Y: 320}, {X: 320, Y: 299}, {X: 320, Y: 364}} {
			if part.RGBAAt(p.X, p.Y) != (color.RGBA{}) {
				t.Fatalf("seed %d, drawing %d: painted outside at %v", seed, k, p)
			}
		}
	}
}

// TestQuarterTurn holds that turning the drawing turns the picture.
func TestQuarterTurn(t *testing.T) {
	const size = 200
	seed := uint64(11)
	rng := rand.New(rand.NewPCG(seed, 5))
	middle := drawing.Viewport{Scale: 1, Origin: point{X: size / 2, Y: size / 2}, Paper: 1}
	for k := range full(4) {
		var l, turned drawing.List
		jumble(&l, rng, false)
		l.Text(drawing.Text{At: point{X: -40, Y: 3}, Size: 30, Bold: true, String: "T7"})
		turned.Append(&l, drawing.Turn(math.Pi/2))
		a, b := draw(size, size, &l, middle, true), draw(size, size, &turned, middle, true)
		back := image.NewRGBA(a.Rect)
		for y := range size {
			for x := range size {
				// Anticlockwise on the page: what was to the right is on top.
				back.SetRGBA(x, y, b.RGBAAt(y, size-1-x))
			}
		}
		// Pixels that lie half way between two answers may fall either way;
		// they are few. Hatches count from the scene's origin, and the two
		// directions of a cross-hatch change places.
		if _, mean := differ(a, back); mean > 0.6 {
			t.Errorf("seed %d, drawing %d: turned picture differs by %.2f levels on average", seed, k, mean)
		}
		if _, mean := differ(a, b); mean < 5 {
			t.Errorf("seed %d, drawing %d: the picture did not turn at all (%.2f)", seed, k, mean)
		}
	}
}

// TestHugeCoordinates paints what a deep zoom makes of ordinary drawings.
func TestHugeCoordinates(t *testing.T) {
	const size = 40
	middle := func(l *drawing.List) *image.RGBA { return draw(size, size, l, plain(size), false) }
	for _, far := range []float64{1e4, 1e6, 1e9} {
		t.Run(fmt.Sprintf("%g", far), func(t *testing.T) {
			var l drawing.List
			l.Polygon([]point{{X: -far, Y: -far}, {X: far, Y: -far}, {X: far, Y: 20}, {X: -far, Y: 20}}, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
			m := middle(&l)
			if cover(m, 20, 19) != 255 || cover(m, 20, 20) != 0 || cover(m, 0, 0) != 255 || cover(m, 39, 39) != 0 {
				t.Error("half plane is not painted")
			}
			l.Reset()
			l.Line(point{X: -far, Y: -far}, point{X: far, Y: far}, drawing.Stroke{Ink: drawing.Line, Width: 3})
			m = middle(&l)
			for i := range size {
				if cover(m, i, i) != 255 || (i < size-4 && cover(m, i+4, i) != 0) {
					t.Fatalf("diagonal is wrong at %d", i)
				}
			}
			l.Reset()
			l.Circle(point{X: -far + 20, Y: 20}, far, drawing.Fill{Ink: drawing.Wood}, drawing.Stroke{})
			m = middle(&l)
			if cover(m, 18, 20) != 255 || cover(m, 21, 20) != 0 {
				t.Error("edge of a great circle is in the wrong place")
			}
			l.Reset()
			l.Circle(point{X: -far + 20, Y: 20}, far, drawing.Fill{}, drawing.Stroke{Ink: drawing.Line, Width: 4})
			m = middle(&l)
			if cover(m, 20, 20) != 255 || cover(m, 15, 20) != 0 || cover(m, 25, 20) != 0 {
				t.Error("outline of a great circle is in the wrong place")
			}
			l.Reset()
			l.Line(point{X: -far, Y: 20}, point{X: far, Y: 20}, drawing.Stroke{Ink: drawing.Line, Width: 2, Dash: []float64{2, 2}})
			m = middle(&l)
			on := 0
			for x := range size {
				on += cover(m, x, 20)
			}
			if on < 18*255 || on > 22*255 {
				t.Errorf("a dashed line is %v of %v on, want half", on, size*255)
			}
		})
	}
}

// TestNothingPanics paints what should never reach a drawing, but might.
func TestNothingPanics(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	values := []float64{0, -0.5, 1e-300, 20, -1e18, 1e200, math.MaxFloat64, inf, -inf, nan}
	seed := uint64(5)
	rng := rand.New(rand.NewPCG(seed, 6))
	pick := func() float64 { return values[rng.IntN(len(values))] }
	at := func() point { return point{X: pick(), Y: pick()} }
	var r screen.Renderer
	dst := image.NewRGBA(image.Rect(0, 0, 40, 40))
	var l drawing.List
	for range full(300) {
		l.Reset()
		s := drawing.Stroke{Ink: drawing.Line, Width: pick(), Dash: []float64{pick(), pick()}}
		f := drawing.Fill{Ink: drawing.Wood, Hatch: drawing.Hatch{Pattern: drawing.Pattern(rng.IntN(5)), Spacing: pick()}}
		l.Line(at(), at(), s)
		l.Polygon([]point{at(), at(), at()}, f, s)
		l.Polygon(nil, f, s)
		l.Polygon([]point{at()}, f, s)
		l.Circle(at(), pick(), f, s)
		l.Dot(at(), pick(), f, s)
		l.Arc(at(), pick(), pick(), pick(), s)
		l.Text(drawing.Text{At: at(), Size: pick(), Angle: pick(), Halo: true, String: "8"})
		l.Dimension(at(), at(), pick(), "8", s)
		l.Arrow(at(), at(), s)
		r.Draw(dst, &l, plain(40), drawing.Light())
	}
	r.Draw(image.NewRGBA(image.Rectangle{}), &l, plain(40), drawing.Light())
}

// TestTranslucentStrokeHasNoBlots paints a see-through polyline over itself:
// each pixel is tinted once.
func TestTranslucentStrokeHasNoBlots(t *testing.T) {
	p := drawing.Print()
	p[drawing.Select] = color.NRGBA{A: 128}
	var l drawing.List
	l.Polyline([]point{{X: 5, Y: 5}, {X: 35, Y: 5}, {X: 35, Y: 35}, {X: 20, Y: 35}, {X: 20, Y: 0}}, false, drawing.Stroke{Ink: drawing.Select, Width: 4})
	dst := image.NewRGBA(image.Rect(0, 0, 40, 40))
	var r screen.Renderer
	r.Draw(dst, &l, plain(40), p)
	tints := map[uint8]bool{}
	for i := 0; i < len(dst.Pix); i += 4 {
		tints[dst.Pix[i]] = true
	}
	if len(tints) != 2 || !tints[255] || !tints[127] {
		t.Errorf("tints %v, want white and one half grey", tints)
	}
}

func TestLetteringStandsOnItsBaseline(t *testing.T) {
	// H of 40 pixels: capitals 29.16 high. Its feet stand on row 10.
	for _, c := range []struct {
		base      drawing.Baseline
		low, high int // first and last dark row, from the bottom
	}{{drawing.BaseLine, 20, 48}, {drawing.BaseTop, -1, 19}, {drawing.BaseMiddle, 5, 34}} {
		var l drawing.List
		l.Text(drawing.Text{At: point{X: 10, Y: 20}, Size: 40, Baseline: c.base, Bold: true, String: "H"})
		m := draw(60, 60, &l, plain(60), false)
		low, high := -1, -1
		for y := range 60 {
			for x := range 60 {
				if cover(m, x, y) > 200 {
					if low < 0 {
						low = y
					}
					high = y
					break
				}
			}
		}
		if c.low < 0 {
			c.low = 0 // cut off by the edge of the picture
		}
		if max(low-c.low, c.low-low) > 1 || max(high-c.high, c.high-high) > 1 {
			t.Errorf("baseline %d: rows %d to %d, want %d to %d", c.base, low, high, c.low, c.high)
		}
	}
}

func TestHaloClearsTheLinesRoundLetters(t *testing.T) {
	lines := func(halo bool) *image.RGBA {
		var l drawing.List
		for x := range 20 {
			l.Line(point{X: float64(4 * x), Y: 0}, point{X: float64(4 * x), Y: 40}, black)
		}
		l.Text(drawing.Text{At: point{X: 40, Y: 20}, Size: 20, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Halo: halo, String: "I"})
		v := plain(40)
		v.Paper = 4
		v.Scale = 1
		l2 := l
		return draw(80, 40, &l2, v, false)
	}
	with, without := lines(true), lines(false)
	_, mean := differ(with, without)
	if mean < 0.5 {
		t.Errorf("halo changes next to nothing (%.2f levels)", mean)
	}
	brighter, darker := 0, 0
	for i := range with.Pix {
		if with.Pix[i] > without.Pix[i] {
			brighter++
		} else if with.Pix[i] < without.Pix[i] {
			darker++
		}
	}
	if darker > 0 || brighter == 0 {
		t.Errorf("halo made %d samples brighter and %d darker; it is made of paper", brighter, darker)
	}
}

// TestPaintingAgainAllocatesNothing covers writing the list and painting it.
func TestPaintingAgainAllocatesNothing(t *testing.T) {
	dst := image.NewRGBA(image.Rect(0, 0, 600, 400))
	var l drawing.List
	var r screen.Renderer
	specimen.Stair(&l, 3)
	lo, hi := l.Bounds()
	v := drawing.Fit(lo, hi, 600, 400, 20, drawing.PaperScale(1))
	p := drawing.Light()
	paint := func() { r.Draw(dst, &l, v, p) }
	paint()
	if n := testing.AllocsPerRun(10, paint); n != 0 {
		t.Errorf("painting again allocates %v times", n)
	}
}
