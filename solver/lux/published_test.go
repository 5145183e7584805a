package lux_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/lux"
)

type vec = mgl64.Vec3

func within(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.7g, want %.7g ± %g", name, got, want, tolerance)
	}
}

// Published and hand values of rows 6.02 and 6.03, by catalogue form and by the
// polygon sum that the program uses.
func TestElementToRectangle(t *testing.T) {
	for _, r := range []struct{ a, b, c, want float64 }{
		// Row 6.02, checks of the form; 0.25 is the limit of Siegel & Howell.
		{1, 1, 1, 0.138532}, {2, 2, 1, 0.207757}, {0.5, 0.5, 1, 0.059864}, {1e6, 1e6, 1, 0.25},
	} {
		within(t, "B-3", elementParallel(r.a, r.b, r.c), r.want, 1e-6)
		down := rect(vec{0, 0, r.c}, vec{0, r.b, 0}, vec{r.a, 0, 0})
		within(t, "polygon for B-3", lux.Factor(vec{}, vec{0, 0, 1}, down), r.want, 1e-6)
	}
	for _, r := range []struct{ a, b, c, want float64 }{
		// Row 6.03, brute-force integration.
		{1, 1, 1, 0.055734}, {0.5, 1, 0.5, 0.068697}, {1, 2, 0.5, 0.135488}, {0.02, 1, 0.1, 0.004853},
	} {
		within(t, "B-4", elementPerpendicular(r.a, r.b, r.c), r.want, 1e-6)
		// upright in the plane y = c, shining towards -y
		wall := rect(vec{0, r.c, 0}, vec{r.b, 0, 0}, vec{0, 0, r.a})
		within(t, "polygon for B-4", lux.Factor(vec{}, vec{0, 0, 1}, wall), r.want, 1e-6)
		if f := lux.Factor(vec{0, 2 * r.c, 0}, vec{0, 0, 1}, wall); f != 0 {
			t.Errorf("from behind the wall F is %g", f)
		}
	}
}

// Law: the polygon sum and the two element forms agree everywhere.
func TestElementFormsAgree(t *testing.T) {
	for i := range 200 {
		f := func(k int) float64 { return 0.02 + 3*math.Abs(math.Sin(float64(i*7+k)*1.7)) }
		a, b, c := f(1), f(2), f(3)
		within(t, "B-3", lux.Factor(vec{}, vec{0, 0, 1}, rect(vec{0, 0, c}, vec{0, b, 0}, vec{a, 0, 0})), elementParallel(a, b, c), 1e-12)
		within(t, "B-4", lux.Factor(vec{}, vec{0, 0, 1}, rect(vec{0, c, 0}, vec{b, 0, 0}, vec{0, 0, a})), elementPerpendicular(a, b, c), 1e-12)
		// Half of the wall below the horizon: only the upper half counts.
		within(t, "horizon", lux.Factor(vec{}, vec{0, 0, 1}, rect(vec{0, c, -a}, vec{b, 0, 0}, vec{0, 0, 2 * a})), elementPerpendicular(a, b, c), 1e-12)
	}
}

// Row 6.06: Siegel & Howell web appendix, table A-2 (Dunkle 1964): A F/b² of
// rectangles at right angles for a/b and c/b. T10 and T11 are among them.
func TestPerpendicularTable(t *testing.T) {
	for _, r := range []struct{ a, c, want float64 }{
		{1, 1, 0.20004}, {1, 2, 0.23285}, {0.2, 1, 0.07744}, {0.1, 1, 0.04325}, {2, 4, 0.33462},
	} {
		within(t, "C-14", r.a*perpendicularRectangles(r.a, r.c, 1), r.want, 6e-6)
		wall := rect(vec{0, 0, 0}, vec{0, 0, r.c}, vec{1, 0, 0}) // in y = 0, shining to +y
		within(t, "polygon for C-14", r.a*meanFactor(vec{}, vec{1, 0, 0}, vec{0, r.a, 0}, wall), r.want, 1.1e-5)
	}
}

// misprint is the cell (0.05, 0.05) of the same table as printed. The form
// gives 0.014369: two figures are exchanged in print or copy, so it is no check.
const misprint = 0.014269

func TestMisprintedCell(t *testing.T) {
	computed := 0.05 * perpendicularRectangles(0.05, 0.05, 1)
	within(t, "cell (0.05, 0.05) by C-14", computed, 0.014369, 5e-7)
	wall := rect(vec{0, 0, 0}, vec{0, 0, 0.05}, vec{1, 0, 0})
	within(t, "cell (0.05, 0.05) by polygons", 0.05*meanFactor(vec{}, vec{1, 0, 0}, vec{0, 0.05, 0}, wall), 0.014369, 5e-6) // the quadrature leaves 3e-6
	if math.Abs(computed-misprint) < 9e-5 {
		t.Errorf("the misprinted %g agrees with the computed %g, so it is no misprint", misprint, computed)
	}
}

// Row 6.07 (and T16): Howell catalogue C-16, plates at 120°, from B to A.
func TestPlatesAt120(t *testing.T) {
	sin, cos := math.Sincos(120 * math.Pi / 180)
	for _, r := range []struct{ a, b, want, tolerance float64 }{
		{1, 1, 0.086615, 1e-5}, {2, 1, 0.100808, 1e-5}, {0.4, 2, 0.030691, 1e-5}, {0.1, 0.1, 0.128098, 3e-5},
		{10, 0.2, 0.188801, 2e-5},
	} {
		// Plate B lies flat, y from 0; plate A rises from the same edge.
		plate := rect(vec{0, 0, 0}, vec{0, r.a * cos, r.a * sin}, vec{1, 0, 0})
		within(t, "120°", meanFactor(vec{}, vec{1, 0, 0}, vec{0, r.b, 0}, plate), r.want, r.tolerance)
	}
}

// Rows 6.08 to 6.12 (T12 to T15, T17): values that an engineering equation
// solver's library prints, after Siegel & Howell 4th ed. and Chapman 1987.
func TestLibraryValues(t *testing.T) {
	parallel := func(a, b, c float64) float64 {
		over := rect(vec{0, 0, c}, vec{0, b, 0}, vec{a, 0, 0})
		return meanFactor(vec{}, vec{a, 0, 0}, vec{0, b, 0}, over)
	}
	within(t, "6.08 C-11", parallelRectangles(1, 1.5, 0.5), 0.4756, 5e-5)
	within(t, "6.08 polygons", parallel(1, 1.5, 0.5), 0.4756, 5e-5)
	within(t, "6.04 unit squares (Incropera)", parallelRectangles(1, 1, 1), 0.1998, 5e-5)
	within(t, "6.09 C-11", parallelRectangles(0.1, 0.1, 0.05), 0.4153, 5e-5)
	within(t, "6.09 polygons", parallel(0.1, 0.1, 0.05), 0.4153, 5e-5)

	// A strip of no width, along b: parallel to and square to a rectangle.
	strip := func(length float64, f func(at float64) float64) float64 {
		sum := 0.0
		for i := range 40 {
			for _, g := range gauss5 {
				sum += g[1] * f(length*(float64(i)+g[0])/40) / 40
			}
		}
		return sum
	}
	facing := rect(vec{0, 0, 0.5}, vec{0, 2, 0}, vec{3, 0, 0})
	within(t, "6.10 polygons", strip(2, func(y float64) float64 { return lux.Factor(vec{0, y, 0}, vec{0, 0, 1}, facing) }), 0.3886, 5e-5)
	within(t, "6.10 B-3", strip(2, func(y float64) float64 { return elementParallel(3, y, 0.5) + elementParallel(3, 2-y, 0.5) }), 0.3886, 5e-5)
	wall := rect(vec{0, 0.5, 0}, vec{2, 0, 0}, vec{0, 0, 1})
	within(t, "6.11 polygons", strip(2, func(x float64) float64 { return lux.Factor(vec{x, 0, 0}, vec{0, 0, 1}, wall) }), 0.2153, 1e-4)
	within(t, "6.11 B-4", strip(2, func(x float64) float64 { return elementPerpendicular(1, x, 0.5) + elementPerpendicular(1, 2-x, 0.5) }), 0.2153, 1e-4)

	// A1 = a by c1 lies flat, A2 = b by c2 stands, side by side along the line.
	beside := rect(vec{0.2, 0, 0}, vec{0, 0, 0.5}, vec{0.3, 0, 0})
	within(t, "6.12 polygons", meanFactor(vec{}, vec{0.2, 0, 0}, vec{0, 0.1, 0}, beside), 0.0605, 5e-5)
}

// Row 6.13 (T18, derived): 100 lm over 0.8 m at 0.17 m. The program's bar is a
// rectangle; at 8 mm wide it gives 357.74 under the middle.
func TestLineSource(t *testing.T) {
	for _, r := range []struct{ y, want float64 }{{0, 357.842}, {0.1, 226.22}, {0.2, 92.11}, {0.28, 44.98}} {
		within(t, "line", line(100, 0.8, -0.4, 0.4, r.y, 0.17), r.want, 0.006)
	}
	within(t, "under an end", line(100, 0.8, 0, 0.8, 0, 0.17), 183.11, 0.006)
	within(t, "endless line", line(100, 0.8, -1e4, 1e4, 0, 0.17), 367.65, 0.006)

	bar := lux.Bar{Step: 2, Corner: vec{400, -4, 170}, Along: vec{-800, 0, 0}, Across: vec{0, 8, 0}}.WithLumens(100)
	if n := bar.Normal(); n.Sub(vec{0, 0, -1}).Len() > 1e-12 {
		t.Fatalf("the bar faces %v", n)
	}
	at := func(b lux.Bar, x, y float64) float64 {
		s := lux.Surface{Step: 1, Kind: lux.Tread, Outline: []vec{{x - 1, y - 1, 0}, {x + 1, y - 1, 0}, {x + 1, y + 1, 0}, {x - 1, y + 1, 0}}}
		r := lux.Solve(lux.Problem{Stair: lux.Stair{Surfaces: []lux.Surface{s}}, Bars: []lux.Bar{b}}, lux.Settings{Across: 1, Deep: 1})
		return r.Surfaces[0].Centre
	}
	within(t, "8 mm rectangle", at(bar, 0, 0), 357.74, 0.005)
	// The fast rectangle meets the slow line as the width goes: the difference
	// is of the order of (width/drop)², 3e-5 at 1 mm.
	thin := lux.Bar{Step: 2, Corner: vec{400, -0.5, 170}, Along: vec{-800, 0, 0}, Across: vec{0, 1, 0}}.WithLumens(100)
	for _, p := range [][2]float64{{0, 0}, {0, 100}, {250, 30}, {400, 0}, {-390, 280}, {600, 150}} {
		want := line(100, 0.8, -0.4-p[0]/1000, 0.4-p[0]/1000, p[1]/1000, 0.17)
		if got := at(thin, p[0], p[1]); math.Abs(got-want) > 5e-5*want {
			t.Errorf("1 mm bar at %v: %.5g lx, line %.5g", p, got, want)
		}
	}
}
