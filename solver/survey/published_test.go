package survey

import (
	"math"
	"testing"
)

// free is a spread that leaves an unknown without any prior.
var free = math.Inf(1)

func frees(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = free
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, published %.10g (tolerance %g)", what, got, want, tolerance)
	}
}

// Trilateration of one station from three control points, in feet: Ghilani,
// Adjustment Computations, ch. 14 (inputs seen; solution computed independently
// in the project's list of published values, section 7 ls.tri).
func TestTrilaterationExample(t *testing.T) {
	control := [][3]float64{ // x, y, observed distance
		{865.4, 4527.15, 6049.0}, {2432.55, 2047.25, 4736.83}, {2865.22, 27.15, 5446.49},
	}
	sys := &system{n: 2, width: 1, prior: []float64{0, 0}, spread: frees(2)}
	sys.near = func(x []float64, r *row, put func(want, spread float64)) {
		for _, c := range control {
			dx, dy := x[0]-c[0], x[1]-c[1]
			d := math.Hypot(dx, dy)
			r.reset()
			r.predicted = d
			r.vector(0, dx/d, dy/d)
			put(c[2], 1)
		}
	}
	for _, start := range [][]float64{{6531.28, 1000}, {6500, 3000}} {
		sol := sys.adjust(start)
		if sol.status != Converged {
			t.Fatal(sol.status)
		}
		near(t, "x of U", sol.x[0], 6861.31678772, 1e-7)
		near(t, "y of U", sol.x[1], 3727.81856572, 1e-7)
		near(t, "sum of squares", sol.objective, 0.00953735312, 1e-10)
		s0 := math.Sqrt(sol.objective / 1) // one degree of freedom
		near(t, "s0", s0, 0.0976593729, 1e-9)
		near(t, "Qxx", sol.inverse.at(0, 0), 0.63018897, 1e-7)
		near(t, "Qxy", sol.inverse.at(0, 1), -0.72835387, 1e-7)
		near(t, "Qyy", sol.inverse.at(1, 1), 2.49468854, 1e-7)
		near(t, "sx", s0*math.Sqrt(sol.inverse.at(0, 0)), 0.07752635, 1e-7)
		near(t, "sy", s0*math.Sqrt(sol.inverse.at(1, 1)), 0.15424891, 1e-7)
		for i, v := range []float64{-0.03737265, 0.07679284, -0.04736557} {
			d := math.Hypot(sol.x[0]-control[i][0], sol.x[1]-control[i][1])
			near(t, "adjusted minus observed", d-control[i][2], v, 1e-7)
		}
	}
}

// Braced quadrilateral of six distances: XVIIth ISPRS Congress 1992, part B3,
// after Laurila, Moffitt and Mikhail (inputs seen; solution computed
// independently in the project's list of published values, section 7 ls.quad).
// It is the geometry of a tread opening with both diagonals.
func TestBracedQuadrilateralExample(t *testing.T) {
	// A at the origin and B on the x axis: x0 and x1 belong to A, x2 and x3 to
	// B, and so on. A tight prior on A and on B's y fixes them.
	observed := []struct {
		a, b int
		d, v float64
	}{
		{0, 1, 1341.785, -0.00351322}, {0, 2, 2775.364, 0.00618347}, {0, 3, 2167.437, -0.00412899},
		{1, 2, 1937.887, -0.00492506}, {1, 3, 2173.715, 0.00472361}, {2, 3, 1511.014, -0.002794},
	}
	const fixed = 1e-7
	sys := &system{n: 8, width: 7, prior: make([]float64, 8), spread: frees(8)}
	sys.spread[0], sys.spread[1], sys.spread[3] = fixed, fixed, fixed
	sys.near = func(x []float64, r *row, put func(want, spread float64)) {
		for _, o := range observed {
			r.reset()
			distance(r, x, 2*o.a, 2*o.b)
			put(o.d, 1)
		}
	}
	sol := sys.adjust([]float64{0, 0, 1342, 0, 2100, 1700, 700, 2000})
	if sol.status != Converged {
		t.Fatal(sol.status)
	}
	for i, want := range []float64{0, 0, 1341.78148678, 0, 2141.80562699, 1765.03493208, 660.72061258, 2064.2706999} {
		near(t, "coordinate", sol.x[i], want, 1e-6)
	}
	near(t, "sum of squares", sol.objective, 0.00012200166, 1e-10)
	for _, o := range observed {
		d := math.Hypot(sol.x[2*o.a]-sol.x[2*o.b], sol.x[2*o.a+1]-sol.x[2*o.b+1])
		near(t, "adjusted minus observed", d-o.d, o.v, 1e-7)
	}
}

// Levelling loop with fixed point 1a: published heights, deviations and pvv of
// the project's list of published values, section 7 ls.lev (seen and reproduced).
func TestLevellingLoopExample(t *testing.T) {
	at := map[string]int{"2": 0, "3": 1, "4": 2}
	loop := []struct {
		from, to string
		dh       float64
	}{
		{"1a", "4", -1.225}, {"4", "3", -0.848}, {"3", "2", 1.342}, {"2", "1a", 0.72},
		{"1a", "2", -0.724}, {"2", "3", -1.335}, {"3", "4", 0.842}, {"4", "1a", 1.231},
	}
	const sd = 5.0 // mm
	sys := &system{n: 3, width: 2, prior: make([]float64, 3), spread: frees(3)}
	sys.near = func(x []float64, r *row, put func(want, spread float64)) {
		for _, o := range loop {
			r.reset()
			r.predicted = 0
			for _, e := range []struct {
				name string
				sign float64
			}{{o.to, 1}, {o.from, -1}} {
				if e.name == "1a" {
					r.predicted += e.sign * 1000
					continue
				}
				r.predicted += e.sign * x[at[e.name]]
				r.term(at[e.name], e.sign)
			}
			put(o.dh, sd/1000)
		}
	}
	sol := sys.adjust([]float64{1000, 1000, 1000})
	near(t, "height of 2", sol.x[0], 999.274875, 1e-9)
	near(t, "height of 3", sol.x[1], 997.93325, 1e-9)
	near(t, "height of 4", sol.x[2], 998.775125, 1e-9)
	pvv := sol.objective * sd * sd
	near(t, "pvv, mm²", pvv, 146.625, 1e-6)
	m0 := math.Sqrt(pvv / 5) // five degrees of freedom
	near(t, "m0, mm", m0, 5.42, 0.005)
	for i, want := range []float64{3.1, 3.5, 3.1} { // published from the a-priori 5.0 mm
		near(t, "deviation, mm", math.Sqrt(sol.inverse.at(i, i))*1000, want, 0.05)
	}
}
