package solver_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/power"
	"risewright/solver/stock"
)

// What is asked for is what the wiring says, added up here by itself: metres of
// each gauge, fuses of each size, feeds, taps, strip and sensors. No price is
// made up, and the sums of the list stay what they are.
func TestElectricGoodsFollowTheWiring(t *testing.T) {
	tab := published(t)
	for name, one := range map[string]float64{"well-behaved": 1000, "tapering": 304.8} {
		job := load(t, name)
		job.Sensing.Sensors[1].Removed = true
		a := solver.Solve(job, tab)
		w := solver.Plan(a, tab)
		rows := map[string]stock.Row{}
		for _, r := range w.Buy.Electric {
			if !r.Missing || r.Cost != 0 || r.Price != 0 || r.Good != "" || r.Why == "" || r.Count < 1 || r.Use != model.UseElectric {
				t.Errorf("%s: row %+v", name, r)
			}
			if _, ok := rows[r.Name]; ok {
				t.Errorf("%s: %s twice", name, r.Name)
			}
			rows[r.Name] = r
		}
		find := func(begin string) stock.Row {
			t.Helper()
			for n, r := range rows {
				if strings.HasPrefix(n, begin) {
					return r
				}
			}
			t.Fatalf("%s: nothing begins %q in %v", name, begin, rows)
			return stock.Row{}
		}
		wires, fuses, feeds, taps := map[string]float64{}, map[string]int{}, 0, map[int]bool{}
		all := 0
		for i := range a.Power.Cables {
			c := &a.Power.Cables[i]
			wires["wire, a pair of "+c.Wire.Title] += c.Length
			if c.Fuse > 0 {
				fuses["fuse, "+amount(c.Fuse)+" A, for 24 V DC or more"]++
				all++
			}
			if c.Kind == power.Lead {
				feeds++
				taps[c.Step] = true
			}
		}
		if len(wires) < 2 || all < 2 || feeds < 10 {
			t.Fatalf("%s: %d gauges, %d fuses and %d feeds show nothing", name, len(wires), all, feeds)
		}
		for n, mm := range wires {
			r := rows[n+map[bool]string{true: ", by the metre", false: ", by the foot"}[one == 1000]]
			if math.Abs(r.Need-mm/one) > 1e-9 || float64(r.Count) < 1.1*r.Need-1e-6 || float64(r.Count) >= 1.1*r.Need+1 || math.Abs(r.Need+r.Extra-float64(r.Count)) > 1e-9 {
				t.Errorf("%s: %s, %g mm: %+v", name, n, mm, r)
			}
			if want := map[bool]string{true: "m", false: "ft"}[one == 1000]; r.Unit != want {
				t.Errorf("%s: wire in %q", name, r.Unit)
			}
		}
		for n, k := range fuses {
			if r := rows[n]; r.Count != k+1 || r.Need != float64(k) {
				t.Errorf("%s: %d of %s: %+v", name, k, n, r)
			}
		}
		if r := rows["fuse holder"]; r.Count != all+1 {
			t.Errorf("%s: holders for %d fuses: %+v", name, all, r)
		}
		if r := find("joint"); r.Count != len(taps)+1 {
			t.Errorf("%s: %d taps: %+v", name, len(taps), r)
		}
		if r := find("capacitor, 1000 µF"); r.Count != feeds+1 {
			t.Errorf("%s: %d feeds: %+v", name, feeds, r)
		}
		strip, longest := 0.0, 0.0
		for i := range a.Bars.Bars {
			strip, longest = strip+a.Bars.Bars[i].Strip, max(longest, a.Bars.Bars[i].Strip)
		}
		r := find("LED strip, ")
		if math.Abs(r.Need-strip/one) > 1e-9 || float64(r.Count)*5000 < strip+longest || float64(r.Count-1)*5000 >= 1.5*(strip+longest) {
			t.Errorf("%s: %g mm of strip: %+v", name, strip, r)
		}
		if r := find("supply, "); r.Count != max(1, a.Power.Load.Count) || !strings.Contains(r.Why, "licensed electrician") {
			t.Errorf("%s: supply %+v", name, r)
		}
		find("controller, ")
		sensors := 0
		for n, r := range rows {
			if strings.HasPrefix(n, "motion sensor, ") {
				sensors += r.Count
			}
		}
		if want := len(job.Sensing.Sensors) - 1; sensors != want || find("cable for a sensor").Count != want {
			t.Errorf("%s: %d sensors, want %d", name, sensors, want)
		}
		sum := 0.0
		for _, r := range w.Buy.Rows {
			sum += r.Cost
		}
		if math.Abs(sum-w.Buy.Total) > 1e-6 {
			t.Errorf("%s: the total is %g, the yard's rows come to %g", name, w.Buy.Total, sum)
		}
		text := string(w.Buy.CSV())
		for _, want := range []string{"not listed: one at the start of each branch; 1 to spare (common practice, no source)", "A licensed electrician does the mains side", "fuse holder"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the file does not say %q", name, want)
			}
		}
	}
}

func amount(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Without lighting and sensors nothing is asked for; with sensors alone they are.
func TestElectricGoodsWithoutBars(t *testing.T) {
	tab := published(t)
	job := load(t, "well-behaved")
	job.Lighting = model.Lighting{}
	w := solver.Plan(solver.Solve(job, tab), tab)
	for _, r := range w.Buy.Electric {
		if !strings.Contains(r.Name, "sensor") {
			t.Errorf("no bars, but %s", r.Name)
		}
	}
	if len(w.Buy.Electric) < 2 {
		t.Error("the sensors are not asked for")
	}
	job.Sensing = model.Sensing{}
	if w := solver.Plan(solver.Solve(job, tab), tab); len(w.Buy.Electric) > 0 || strings.Contains(string(w.Buy.CSV()), "caution") {
		t.Errorf("nothing electric, but %+v", w.Buy.Electric)
	}
}
