package walk

import (
	"fmt"
	"slices"

	"risewright/model"
)

// Rule is one line of the rules as people read them: with these sensors on, and
// that one on before, somebody may be here, goes that way, and these bars are lit.
type Rule struct {
	On     []int // rows of Tables.Sensors
	Before int   // row that was on before, or -1
	Where  Span  // positions where somebody moves; none: only by chance, as they come on
	Way    Came  // from where they came
	Full   Span  // bars lit at full, by the position they light
	Dim    Span  // and at least dimly
}

// Rules lists the rules of the tables: every sensor alone, by where somebody came
// from, and every two neighbours, by which was on first.
func (t *Tables) Rules() []Rule {
	var out []Rule
	n := int(t.Bars)
	span := func(p [2]uint8) Span { return Span{int(p[0]), int(p[1])} }
	add := func(on []int, before int, where Span, s int, way Came) {
		row := &t.Sensors[s]
		full := span(row.Window[way])
		if row.End != 0 && way == CameUnknown {
			full = Span{0, -1}
			if row.End&EndBottom != 0 {
				full = Span{0, max(int(t.EndFirst)-1, span(row.Sure).Last)}
			}
			if row.End&EndTop != 0 {
				low := n - int(t.EndFirst)
				if sure := span(row.Sure); sure.Len() > 0 {
					low = min(low, sure.First)
				}
				if full.Len() == 0 {
					full.Last = n - 1
					full.First = low
				}
				full = Span{min(full.First, low), n - 1}
			}
		}
		dim := Span{1, 0}
		if where.Len() > 0 {
			dim = Span{where.First - int(t.Reach), where.Last + int(t.Reach)}.within(0, n-1)
		}
		out = append(out, Rule{on, before, where, way, full.within(0, n-1), dim})
	}
	// where returns the positions where somebody moves if just these are on: that
	// all of them may see, and that no other sensor is sure of.
	where := func(on ...int) Span {
		out := Span{1, 0}
		for k := 0; k <= n; k++ {
			ok := true
			for s := range t.Sensors {
				if slices.Contains(on, s) {
					ok = ok && span(t.Sensors[s].May).Has(k)
				} else {
					ok = ok && !span(t.Sensors[s].Sure).Has(k)
				}
			}
			if ok && out.Len() == 0 {
				out.First = k
			}
			if ok {
				out.Last = k
			}
		}
		return out
	}
	for s := range t.Sensors {
		may := where(s)
		add([]int{s}, -1, may, s, CameUnknown)
		if s > 0 {
			add([]int{s}, s-1, may, s, CameBelow)
		}
		if s+1 < len(t.Sensors) {
			add([]int{s}, s+1, may, s, CameAbove)
			both := where(s, s+1)
			add([]int{s, s + 1}, s, both, s+1, CameBelow)
			add([]int{s, s + 1}, s+1, both, s, CameAbove)
		}
	}
	return out
}

// Blind returns the steps that no working sensor is sure of, and of those the
// ones that lie open to a floor and so stay dimly lit for ever.
func (t *Tables) Blind() (steps, open []int) {
	n := int(t.Bars)
	seen := make([]bool, n+1)
	for i := range t.Sensors {
		for k := int(t.Sensors[i].Sure[0]); k <= int(t.Sensors[i].Sure[1]); k++ {
			seen[k] = true
		}
	}
	for k := 1; k < n; k++ {
		if !seen[k] {
			steps = append(steps, k)
		}
	}
	// A border is watched when either side is seen.
	for k := 1; k < n && !seen[k-1] && !seen[k]; k++ {
		open = append(open, k)
	}
	for k := n - 1; k > 0 && !seen[k+1] && !seen[k]; k-- {
		if len(open) == 0 || open[0] > k || open[len(open)-1] < k {
			open = append(open, k)
		}
	}
	return steps, open
}

// longLockout is what a lockout is best kept below, seconds; common practice, no
// source.
const longLockout = 0.3

// Findings says what is worth knowing about the controller's rules on these
// sensors.
func Findings(zones []Zone, t *Tables) []model.Finding {
	var out []model.Finding
	add := func(rule string, sev model.Severity, title, detail, remedy string) {
		out = append(out, model.Finding{Rule: rule, Severity: sev, Where: model.Place{Field: "sensing.control"}, Title: title, Detail: detail, Remedy: remedy, Standing: model.Memory})
	}
	if len(t.Sensors) == 0 {
		add("walk.none", model.Advice, "no sensor works, so the whole flight is always on", "", "place a sensor, or choose a steady scene")
		return out
	}
	blind, open := t.Blind()
	if len(open) > 0 {
		add("walk.open", model.Advice, fmt.Sprintf("steps %s are always dimly lit", listed(open)),
			"no sensor sees somebody come onto them from the floor, so somebody may be there at any time", "aim a sensor at them")
	}
	if len(blind) > len(open) {
		add("walk.blind", model.Note, fmt.Sprintf("no sensor is sure of steps %s", listed(blind)),
			"the rules bridge them: they stay dimly lit for longer after somebody has passed", "let neighbouring zones overlap by a step")
	}
	for i := range zones {
		if z := &zones[i]; !z.Removed && z.Block > longLockout {
			add("walk.lockout", model.Note, fmt.Sprintf("sensor %s is blind for %g s after it has gone off", z.Name, z.Block),
				"the steps round it stay dimly lit for so long, because somebody may walk there unseen", fmt.Sprintf("choose one with %g s or less, if there is one", longLockout))
			break
		}
	}
	return out
}

// listed writes numbers as people do.
func listed(ks []int) string {
	parts := make([]string, len(ks))
	for i, k := range ks {
		parts[i] = fmt.Sprint(k)
	}
	return model.Listed(parts)
}
