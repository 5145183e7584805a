package report

import (
	"fmt"

	"risewright/solver/buildup"
)

// rises is the table of rises before and after, with what to pack.
func (t *text) rises() {
	r := &t.a.Buildup
	if len(r.Steps) == 0 {
		return
	}
	t.title("BUILD-UP", capital(t.unit())+"; riser N stands below tread N")
	tb := &table{groups: []group{{"", 1}, {"rise before", 2}, {"rise after", 2}, {"going", 1}, {"pack, in all", 2}, {"shim", 2}, {"", 1}}}
	tb.add("step", "left", "right", "left", "right", "after", "left", "right", "left", "right", "fits")
	for i := range r.Steps {
		s := &r.Steps[i]
		going, fits := "–", "yes"
		if s.HasGoing {
			going = t.number(s.GoingAfter.Mean())
		}
		if !s.Room {
			fits = "NO"
		}
		cells := []string{fmt.Sprint(s.Number)}
		for _, v := range [2]buildup.Sides{s.RiseBefore, s.RiseAfter} {
			cells = append(cells, t.number(v.Left.At), t.number(v.Right.At))
		}
		cells = append(cells, going)
		for _, v := range [2]buildup.Sides{s.Packing, s.Shim} {
			cells = append(cells, t.number(v.Left.At), t.number(v.Right.At))
		}
		tb.add(append(cells, fits)...)
	}
	t.table(tb)
	t.para(2, "Pack, in all: from the old tread top up to where the new one must be for every rise to be equal, tilt taken out. Shim: that less the board; minus is to be planed off, at the landing the depth of the rebate. Fits: whether board and bedding have room.")
	t.line("")
	b := &table{left: map[int]bool{0: true}}
	b.add("", "before", "after", "")
	b.add("floor to floor", t.number(r.FlightRiseBefore.At), t.number(r.FlightRise.At), t.plusMinus(r.FlightRise.Band()))
	b.add("largest rise", t.number(r.RiseBefore.Largest.Value.At), t.number(r.RiseAfter.Largest.Value.At), fmt.Sprintf("riser %d", r.RiseAfter.Largest.Step))
	b.add("smallest rise", t.number(r.RiseBefore.Smallest.Value.At), t.number(r.RiseAfter.Smallest.Value.At), fmt.Sprintf("riser %d", r.RiseAfter.Smallest.Step))
	b.add("difference", t.number(r.RiseBefore.Spread.At), t.number(r.RiseAfter.Spread.At), t.plusMinus(r.RiseAfter.Spread.Band()))
	b.left[3] = true
	t.table(b)
}

// clearances is what becomes of headroom, rail and doors.
func (t *text) clearances() {
	r := &t.a.Buildup
	if len(r.Headroom)+len(r.Rail)+len(r.Doors) == 0 {
		return
	}
	t.title("HEADROOM, HANDRAIL, DOORS", capital(t.unit()))
	tb := &table{left: map[int]bool{0: true, 5: true}}
	tb.add("", "step", "before", "after", "±", "")
	add := func(what string, hs []buildup.HeightChange) {
		for _, h := range hs {
			tb.add(what, fmt.Sprint(h.Step), t.number(h.Before.At), t.number(h.After.At), t.bare(h.After.Band()), "")
		}
	}
	add("headroom", r.Headroom)
	add("handrail", r.Rail)
	for _, d := range r.Doors {
		name, floor, todo := d.Name, "bottom", "clears"
		if name == "" {
			name = "door"
		}
		if d.Top {
			floor = "top"
		}
		if d.Undercut > 0 {
			todo = "undercut by " + t.length(d.Undercut)
		}
		const most = 40
		if n := []rune(name); len(n) > most {
			name = string(n[:most-1]) + "…"
		}
		tb.add(name+", gap", floor, t.number(d.Before), t.number(d.After), "", todo)
	}
	t.table(tb)
}
