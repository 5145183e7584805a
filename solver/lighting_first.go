package solver

import (
	"cmp"
	"math"
	"slices"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/power"
)

// leastCap is the lowest brightness, as a share of full white, that a first
// lighting is held to for the sake of a smaller supply: a walk-through asks for
// about that much. Common practice, no source.
const leastCap = 0.3

// FirstLighting returns the lighting that a job is first given: that of
// model.FirstLighting, with a strip, a supply, a brightness cap, a controller and
// wires that hold it, where the tables have such. Strips of more volts are tried
// first, since they lose less on the way, and supplies that are limited sources
// before others, since they need no further rules; of those that hold it alike the
// first is taken. a is the answer that the bars are made for.
func FirstLighting(a *Answer, t model.Tables) model.Lighting {
	first := model.FirstLighting(a.Job, t.Lights)
	first.Data = model.DataSerpentine // it needs no conductor back along the bar
	first.Lip = 5
	thin := model.WirePick{Feeder: "mm1.5", Bus: "mm1.5", Lead: "mm0.5"}
	if a.Job.Units == model.Imperial {
		first.Lip = 3 * model.Inch / 16
		thin = model.WirePick{Feeder: "awg16", Bus: "awg16", Lead: "awg20"}
	}
	wires := []model.WirePick{first.Wires}
	if hasWires(t.Lights, thin) {
		wires = []model.WirePick{thin, first.Wires}
	}
	best, least := first, math.MaxInt
	try := func(l model.Lighting, in *bars.Result) {
		r := power.Solve(a.Job, l, t.Lights, in)
		if share := r.Load.Cap; share < leastCap {
			return
		} else if share < 1 { // in steps that can be remembered
			l.Cap = math.Floor(share*20) / 20
			r = power.Solve(a.Job, l, t.Lights, in)
		}
		bad := 0
		for _, f := range slices.Concat(in.Findings, r.Findings) {
			if f.Severity >= model.Outside {
				bad++
			}
		}
		if bad < least {
			best, least = l, bad
		}
	}
	for _, strip := range stripsToTry(t.Lights) {
		l := first
		l.Strip = strip.ID
		in := bars.Make(a.Job, l, t.Lights, a.Pieces) // whatever feeds them
		for _, supply := range suppliesToTry(t.Lights, strip.Volts.Value) {
			for _, w := range wires {
				for _, c := range t.Lights.Controllers {
					l.Supply, l.Controller, l.Wires = supply.ID, c.ID, w
					if try(l, &in); least == 0 {
						return best
					}
				}
			}
		}
	}
	return best
}

func hasWires(t model.LightTables, w model.WirePick) bool {
	for _, id := range []string{w.Feeder, w.Bus, w.Lead} {
		if _, ok := t.Wire(id); !ok {
			return false
		}
	}
	return true
}

// stripsToTry returns the strips whose bars can be lit one by one and in colour,
// those of most volts first.
func stripsToTry(t model.LightTables) []model.StripType {
	var out []model.StripType
	for _, s := range t.Strips {
		if s.Addressed && s.Channels > 1 {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b model.StripType) int { return cmp.Compare(b.Volts.Value, a.Volts.Value) })
	return out
}

// suppliesToTry returns the supplies of some volts, limited sources first.
func suppliesToTry(t model.LightTables, volts float64) []model.SupplyClass {
	var limited, others []model.SupplyClass
	for _, s := range t.Supplies {
		switch {
		case s.Volts.Value != volts:
		case s.Limited:
			limited = append(limited, s)
		default:
			others = append(others, s)
		}
	}
	return append(limited, others...)
}
