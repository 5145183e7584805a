package report

import (
	"fmt"
	"slices"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
)

// flights is the table of the flights between floors and landings, where there
// are several.
func (t *text) flights() {
	runs := t.a.Buildup.Runs
	if len(runs) < 2 {
		return
	}
	t.title("FLIGHTS BETWEEN LANDINGS", capital(t.unit())+"; a rise is compared with those of its own flight, before and after")
	tb := &table{groups: []group{{"", 2}, {"rises", 1}, {"", 1}, {"differ by", 2}, {"after", 2}, {"goings", 1}, {"", 1}}}
	tb.add("flight", "risers", "in all", "±", "before", "after", "smallest", "largest", "differ by", "pitch")
	for i := range runs {
		r := &runs[i]
		goings, pitch := "–", "–"
		if r.GoingAfter.Count > 1 {
			goings = t.number(r.GoingAfter.Spread.At)
		}
		if r.Pitch.At != 0 {
			pitch = degrees(r.Pitch.At)
		}
		tb.add(fmt.Sprint(i+1), fmt.Sprintf("%d to %d", r.First, r.Last), t.number(r.Rise.At), t.bare(r.Rise.Band()),
			t.number(r.RiseBefore.Spread.At), t.number(r.RiseAfter.Spread.At),
			t.number(r.RiseAfter.Smallest.Value.At), t.number(r.RiseAfter.Largest.Value.At), goings, pitch)
	}
	t.table(tb)
}

// turns is the table of winders, and that of landings.
func (t *text) turns() {
	r := &t.a.Buildup
	winders, landings := &table{left: map[int]bool{1: true}}, &table{}
	winders.add("tread", "narrow at", "width", "going, narrow end", "±", "going, middle", "±")
	landings.add("step", "depth", "±", "width", "of the flight")
	nw, nl := 0, 0
	for i := range r.Steps {
		if w := r.Steps[i].Winder; w != nil {
			narrow, middle := w.Narrow(), middleGoing(w)
			winders.add(fmt.Sprint(i+1), w.Inner.String(), t.number(w.Width()), t.number(narrow.At), t.bare(narrow.Band()), t.number(middle.At), t.bare(middle.Band()))
			nw++
		}
		if l := r.Steps[i].Landing; l != nil {
			landings.add(fmt.Sprint(i+1), t.number(l.Depth.At), t.bare(l.Depth.Band()), t.number(l.Width), t.number(l.Served))
			nl++
		}
	}
	if nw > 0 {
		t.title("WINDERS", capital(t.unit())+"; between the new nose lines. Where a code measures the going is said with its findings")
		t.table(winders)
	}
	if nl > 0 {
		t.title("LANDINGS", capital(t.unit())+"; depth is what is left to walk on, width and the flight's are where they suit least")
		t.table(landings)
	}
}

// balusters is the table of the bars on treads, by the number to write on each.
func (t *text) balusters() {
	bars := t.a.Balusters
	if len(bars) == 0 {
		return
	}
	t.title("BALUSTERS", capital(t.unit())+"; numbered from the bottom, by side. Each keeps its place and loses what its tread rises, from the bottom",
		"A bar is not cut before its tread lies and the rail stands where it will stay. Gaps in a guard are for the local code; keep the open side fenced while bars are off.")
	tb := &table{left: map[int]bool{0: true, 7: true}}
	tb.add("side", "number", "tread", "behind nose", "as it stands", "cut off", "then", "")
	for i := range bars {
		b := &bars[i]
		old, then, note := "–", "–", ""
		if b.Old > 0 {
			old, then = t.number(b.Old), t.number(b.New)
		}
		if b.Cut < 0 {
			note = "too short by that"
		}
		tb.add(string(b.Side), fmt.Sprint(b.Number), fmt.Sprint(b.Step), t.number(b.Behind), old, t.number(b.Cut), then, note)
	}
	t.table(tb)
	if rake := rakes(t.a.Buildup.Runs, bars); rake != "" {
		t.para(2, "A new bar under a sloping rail is cut at its upper end to the pitch, from square: "+rake+".")
	}
}

// rakes lists the pitches of the flights on which bars stand.
func rakes(runs []buildup.Run, bars []pieces.Baluster) string {
	out := ""
	for i := range runs {
		r := &runs[i]
		carries := slices.ContainsFunc(bars, func(b pieces.Baluster) bool { return b.Step >= r.First && b.Step <= r.Last })
		if r.Pitch.At == 0 || !carries {
			continue
		}
		if out != "" {
			out += ", "
		}
		out += model.FormatDegrees(model.Angle(r.Pitch.At), 1)
		if len(runs) > 1 {
			out += fmt.Sprintf(" in flight %d", i+1)
		}
	}
	return out
}
