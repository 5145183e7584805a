package buildup

import (
	"math"

	"risewright/model"
)

// RiseLimits are what a code asks of the rises of a flight, in mm. An end that
// the code does not set is infinite.
type RiseLimits struct {
	Least, Most float64
	Spread      float64 // largest minus smallest in the flight
	Adjacent    float64 // between neighbours
	Rules       []string
	// Memory says that at least one of the limits is from memory.
	Memory bool
}

// ClassOf returns the class of stair that counts: the one asked for if the
// table has it, else the table's first, else none.
func ClassOf(table model.RuleTable, class string) string {
	for _, c := range table.Classes {
		if c.ID == class {
			return class
		}
	}
	if len(table.Classes) > 0 {
		return table.Classes[0].ID
	}
	return ""
}

// RiseLimitsOf returns the limits that the table sets on rises for the class
// of stair (see ClassOf), the strictest where rows overlap.
func RiseLimitsOf(table model.RuleTable, class string) RiseLimits {
	out := RiseLimits{Least: math.Inf(-1), Most: math.Inf(1), Spread: math.Inf(1), Adjacent: math.Inf(1)}
	class = ClassOf(table, class)
	for _, l := range table.Limits {
		if !l.AppliesTo(class) {
			continue
		}
		unit := 1.0
		switch l.Unit {
		case "mm":
		case "in":
			unit = float64(model.Inch)
		default:
			continue
		}
		lo, hi := math.Inf(-1), math.Inf(1)
		switch l.Op {
		case "max":
			hi = l.Hi * unit
		case "min":
			lo = l.Lo * unit
		case "range", "eq":
			lo, hi = l.Lo*unit, l.Hi*unit
		default:
			continue
		}
		switch l.Measure {
		case "rise":
			out.Least, out.Most = math.Max(out.Least, lo), math.Min(out.Most, hi)
		case "rise_spread":
			out.Spread = math.Min(out.Spread, hi)
		case "rise_adjacent":
			out.Adjacent = math.Min(out.Adjacent, hi)
		default:
			continue
		}
		out.Rules = append(out.Rules, l.ID)
		out.Memory = out.Memory || l.Standing == model.Memory
	}
	return out
}

// limitSlack keeps rounding from breaking a limit that is met exactly: heights
// reach 1e4 mm, spaced 2e-12, and a rise takes a few operations.
const limitSlack = 1e-6

// Within says whether the new rises of r keep the limits.
func (l RiseLimits) Within(r *Result) bool {
	for i := range r.Runs {
		if !l.hold(&r.Runs[i].RiseAfter) {
			return false
		}
	}
	return len(r.Runs) > 0 || l.hold(&r.RiseAfter)
}

func (l RiseLimits) hold(u *Uniformity) bool {
	return u.Smallest.Value.At >= l.Least-limitSlack && u.Largest.Value.At <= l.Most+limitSlack &&
		u.Spread.At <= l.Spread+limitSlack && u.Adjacent.At <= l.Adjacent+limitSlack
}
