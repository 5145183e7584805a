package power_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"testing"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/power"
)

// good says whether a solve keeps the volts and the fuses, from its findings.
func good(p *power.Result) bool {
	for _, f := range p.Findings {
		switch f.Rule {
		case "light.drop", "light.fuse.wire", "light.fuse.bus":
			return false
		}
	}
	return true
}

// TestSizesSlowTwin tries every pair of sizes and compares the least copper.
func TestSizesSlowTwin(t *testing.T) {
	units, levels, steps := []model.Units{model.Metric}, []float64{0.5}, 2
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		units, levels, steps = append(units, model.Imperial), append(levels, 0.1, 0.3), 5
	}
	for _, units := range units {
		for _, level := range levels {
			r := newRig(t, steps, 910)
			r.job.Units = units
			r.light.Scenes = []model.Scene{{Name: "x", Level: level}}
			in := r.bars()
			for _, c := range power.Sizes(r.job, r.light, r.table, &in) {
				at := r.light
				at.Feed, at.Enters = c.Feed, c.Enters
				fed := in
				fed.Bars = append([]bars.Bar(nil), in.Bars...)
				for i := range fed.Bars {
					fed.Bars[i].Feed = c.Feed
				}
				least := math.Inf(1)
				for _, bus := range r.table.Wires {
					for _, lead := range r.table.Wires {
						if (bus.System == "awg") != (units == model.Imperial) || lead.System != bus.System {
							continue
						}
						at.Wires = model.WirePick{Feeder: bus.ID, Bus: bus.ID, Lead: lead.ID}
						if p := power.Solve(r.job, at, r.table, &fed); good(p) {
							least = math.Min(least, p.Copper())
						}
					}
				}
				what := fmt.Sprintf("%s, level %g, %s, %d feeders", units, level, c.Feed, max(1, len(c.Enters)))
				if c.OK != !math.IsInf(least, 1) {
					t.Errorf("%s: OK %v, but the least copper is %g kg", what, c.OK, least)
				} else if c.OK {
					near(t, what, c.Copper, least, 1e-12)
				}
			}
		}
	}
}

// TestSizes: the first that is OK has the fewest feeds, and it does what it
// says when it is set.
func TestSizes(t *testing.T) {
	r := newRig(t, 7, 910)
	in := r.bars()
	choices := power.Sizes(r.job, r.light, r.table, &in)
	if len(choices) != 9 {
		t.Fatalf("%d choices", len(choices))
	}
	found := false
	for i, c := range choices {
		if i > 0 && c.Points < choices[i-1].Points {
			t.Error("not in the order of feeds")
		}
		if !c.OK || found {
			continue
		}
		found = true
		r.light.Feed, r.light.Enters, r.light.Wires = c.Feed, c.Enters, c.Wires
		p := r.solve()
		if !good(p) {
			t.Errorf("the choice %+v gives%s", c, list(p.Findings))
		}
		near(t, "drop", p.Scenes[p.Worst].Drop, c.Drop, 1e-9)
		near(t, "copper", p.Copper(), c.Copper, 1e-9)
	}
	if !found {
		t.Errorf("nothing keeps the volts: %+v", choices)
	}
	// Far too little to lose: the thickest there is says so.
	r.light.Drop = 0.001
	for _, c := range power.Sizes(r.job, r.light, r.table, &in) {
		if c.OK || !(c.Drop > 0.005) || c.Wires.Lead == "" {
			t.Errorf("a thousandth of 5 V is kept by %+v", c)
		}
	}
	r.light.Trunk = model.HomeRuns
	if got := power.Sizes(r.job, r.light, r.table, &in); len(got) != 3 || got[0].Points != 14 {
		t.Errorf("home runs: %+v", got)
	}
	if power.Sizes(r.job, model.Lighting{}, r.table, &in) != nil {
		t.Error("no lighting has sizes")
	}
}

// TestVoltages puts 5, 12 and 24 V side by side: the same flight, fewer
// amperes, less copper.
func TestVoltages(t *testing.T) {
	r := newRig(t, 14, 910)
	r.light.Strip = "rgb-5v-60"
	r.light.Scenes = []model.Scene{{Name: "x", Level: 0.3}}
	sides := power.Voltages(r.job, r.light, r.table, r.pieces)
	if len(sides) != 3 {
		t.Fatalf("%d voltages", len(sides))
	}
	for i, s := range sides {
		t.Logf("%g V: %s, %d pixels, %.1f A %.0f W, %d of %s, %+v", s.Volts, s.Strip.ID, s.Pixels, s.FullAmps, s.FullWatts, s.Count, s.Supply.ID, s.Choice)
		if want := []float64{5, 12, 24}[i]; s.Volts != want || s.Strip.Volts.Value != want || s.Supply.Volts.Value != want {
			t.Errorf("side %d is %g V", i, s.Volts)
		}
		if !s.Strip.Addressed || s.Strip.Channels != 3 {
			t.Errorf("%g V: strip %s is not alike", s.Volts, s.Strip.ID)
		}
		if s.Count < 1 || float64(s.Count)*s.Supply.Amps.Value*0.8 < s.FullAmps-1e-9 {
			t.Errorf("%g V: %d of %s carry no %g A", s.Volts, s.Count, s.Supply.ID, s.FullAmps)
		}
		if i > 0 && !(s.FullAmps < sides[i-1].FullAmps) {
			t.Errorf("%g V takes %g A, no less than %g V", s.Volts, s.FullAmps, sides[i-1].Volts)
		}
	}
	if !(sides[2].Choice.Copper < sides[0].Choice.Copper) || !sides[2].Choice.OK {
		t.Errorf("24 V takes %+v, 5 V %+v", sides[2].Choice, sides[0].Choice)
	}
}

// patience is a context that ends once it has been asked so often.
type patience struct {
	context.Context
	left, asked int
}

func (p *patience) Err() error {
	p.asked++
	if p.asked > p.left {
		return context.Canceled
	}
	return nil
}

// Working out the voltages gives up when it is told to on its way, at once.
func TestVoltagesGiveUp(t *testing.T) {
	r := newRig(t, 14, 910)
	whole := &patience{context.Background(), math.MaxInt, 0}
	if sides, err := power.VoltagesUntil(whole, r.job, r.light, r.table, r.pieces); err != nil || len(sides) != 3 {
		t.Fatalf("%d voltages, %v", len(sides), err)
	}
	for _, stop := range []int{0, 1, whole.asked / 3, whole.asked / 2, whole.asked - 1} {
		p := &patience{context.Background(), stop, 0}
		_, err := power.VoltagesUntil(p, r.job, r.light, r.table, r.pieces)
		if !errors.Is(err, context.Canceled) || p.asked > stop+5 {
			t.Errorf("told to stop after %d of %d looks, it stopped after %d: %v", stop, whole.asked, p.asked, err)
		}
	}
}

func BenchmarkSizes(b *testing.B) {
	r := newRig(b, 14, 910)
	in := r.bars()
	for b.Loop() {
		power.Sizes(r.job, r.light, r.table, &in)
	}
}
