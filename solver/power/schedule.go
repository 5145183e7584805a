package power

import (
	"fmt"
	"strconv"
	"strings"

	"risewright/model"
	"risewright/solver/bars"
)

// Table is rows of text ready for paper or a file. Every row has as many cells
// as the head.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
}

// Schedule returns the tables of the wiring: bars, cables, scenes and
// controllers, with lengths in f.
func (r *Result) Schedule(in *bars.Result, f model.Format) []Table {
	if in == nil || len(r.Bars) != len(in.Bars) {
		return nil
	}
	return []Table{r.barTable(in, f), r.cableTable(f), r.sceneTable(), r.controllerTable()}
}

func (r *Result) dataOf(step int) (BarData, bool) {
	for _, d := range r.Data.Bars {
		if d.Step == step {
			return d, true
		}
	}
	return BarData{}, false
}

func (r *Result) barTable(in *bars.Result, f model.Format) Table {
	t := Table{Title: "Light bars", Head: []string{"bar", "lights", "length", "pixels", "strip", "feed", "wire", "fuse", "data in", "data out", "way out", "amps", "worst volts"}}
	for i := range r.Bars {
		b, p := &in.Bars[i], &r.Bars[i]
		if b.Pixels == 0 {
			t.Rows = append(t.Rows, []string{b.Name(), b.LightsWords(), f.Length(model.Length(b.Length)), "0", "", "", "", "", "", "", b.Way.Words(f), "", ""})
			continue
		}
		wire, fuse := "none", "none"
		if len(p.Leads) > 0 {
			c := &r.Cables[p.Leads[0]]
			wire, fuse = c.Wire.Title, fuseWords(c.Fuse)
			if len(p.Leads) > 1 {
				fuse = fmt.Sprintf("%d × %s", len(p.Leads), fuse)
			}
		}
		dataIn, dataOut := "", ""
		if d, ok := r.dataOf(b.Step); ok {
			dataIn, dataOut = side(d.InLeft)+", from "+d.From, side(d.OutLeft)
			if r.Data.Way == model.DataLines {
				dataOut = "none"
			}
		}
		feed := string(b.Feed)
		if feed == "" {
			feed = string(model.FeedOne)
		}
		t.Rows = append(t.Rows, []string{b.Name(), b.LightsWords(), f.Length(model.Length(b.Length)), fmt.Sprint(b.Pixels), f.Length(model.Length(b.Strip)),
			feed, wire, fuse, dataIn, dataOut, b.Way.Words(f), fixed(p.Amps, 2), fixed(p.Lowest, 2)})
	}
	return t
}

// fixed writes a figure of a column with all its decimals, so that the points
// stand below each other.
func fixed(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if v <= 0 && !strings.ContainsAny(text, "123456789") {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

func fuseWords(a float64) string {
	if a == 0 {
		return "none"
	}
	return amps(a)
}

func (r *Result) cableTable(f model.Format) Table {
	heat, per := "mW per m", 1000.0
	if f.Units == model.Imperial {
		heat, per = "mW per ft", float64(model.Foot)
	}
	t := Table{Title: "Wires, each a pair", Head: []string{"kind", "from", "to", "length", "wire", "fuse", "guarded by", "amps", "volts lost", heat}}
	for i := range r.Cables {
		c := &r.Cables[i]
		t.Rows = append(t.Rows, []string{string(c.Kind), c.From, c.To, f.Length(model.Length(c.Length)), c.Wire.Title, fuseWords(c.Fuse), fuseWords(c.Guard),
			fixed(c.Amps, 2), fixed(c.Drop, 3), fixed(c.WattMetre*per, 1)})
	}
	return t
}

func (r *Result) sceneTable() Table {
	t := Table{Title: "Load by scene", Head: []string{"scene", "amps", "watts", "worst volts", "at", "volts lost", "remark"}}
	for _, s := range r.Scenes {
		at, remark := "", ""
		if s.Step > 0 {
			at = bars.Name(s.Step)
		}
		switch {
		case s.Dim:
			remark = "too few volts"
		case s.Shift:
			remark = "colour shifts"
		case s.Scene.Shown:
			remark = "to compare; as bright as the cap lets it"
		}
		t.Rows = append(t.Rows, []string{s.Scene.Name, fixed(s.Amps, 2), fixed(s.Watts, 1), fixed(s.Lowest, 2), at, fixed(s.Drop, 3), remark})
	}
	return t
}

func (r *Result) controllerTable() Table {
	t := Table{Title: "Controllers", Head: []string{"class", "fits", "breaks first", "used", "arithmetic"}}
	for i := range r.Budgets {
		b := &r.Budgets[i]
		if len(b.Limits) == 0 {
			continue
		}
		l := &b.Limits[b.First]
		fits := "yes"
		if !b.Fits {
			fits = "no"
		}
		t.Rows = append(t.Rows, []string{b.Class.Title, fits, l.Title(), trim(100*l.Share(), 0) + " %", l.Words})
	}
	return t
}

// Label is what is stuck on one bar or one end of a cable.
type Label struct {
	For   string // the thing it is stuck on
	Lines []string
}

// Labels returns a label for every bar and for both ends of every cable.
func (r *Result) Labels(in *bars.Result, f model.Format) []Label {
	if in == nil || len(r.Bars) != len(in.Bars) {
		return nil
	}
	var out []Label
	for i := range r.Bars {
		b := &in.Bars[i]
		if b.Pixels == 0 {
			continue
		}
		lines := []string{fmt.Sprintf("%s  lights %s", b.Name(), b.LightsWords()), fmt.Sprintf("%s, %d pixels", f.Length(model.Length(b.Length)), b.Pixels)}
		if d, ok := r.dataOf(b.Step); ok {
			lines = append(lines, "data "+d.Arrow())
		}
		out = append(out, Label{For: b.Name(), Lines: lines})
	}
	for i := range r.Cables {
		c := &r.Cables[i]
		text := []string{c.From + " → " + c.To, fmt.Sprintf("%s, %g V, fuse %s", c.Wire.Title, r.Supply.Volts.Value, fuseWords(c.Guard))}
		for _, end := range []string{c.From, c.To} {
			out = append(out, Label{For: fmt.Sprintf("%s %s, at %s", c.Kind, c.To, end), Lines: text})
		}
	}
	return out
}

// Commissioning returns what is done before anything is closed, in order. From
// common practice, no source.
func (r *Result) Commissioning() []string {
	out := []string{
		"Supply off and unplugged: check every pair for a short, and plus from minus at every tap.",
		"Fuses out. Switch the supply on and set it to its voltage at its own terminals.",
		"Fit one fuse at a time, from the box outwards; feel each wire and joint.",
	}
	if r.Strip.Addressed {
		out = append(out, "Send one colour after another to every bar, in the order of the data; a bar that answers wrong is at fault at its own data end or the one before.")
	}
	out = append(out, "Light the heaviest scene that the supply is to carry, and measure the volts at both ends of every bar against the schedule.")
	if r.Worst >= 0 {
		w := &r.Scenes[r.Worst]
		if w.Step > 0 {
			out = append(out, fmt.Sprintf("The lowest should be about %s V, at %s.", fixed(w.Lowest, 2), bars.Name(w.Step)))
		}
	}
	return append(out,
		"Soak it so for one hour before anything is closed; then feel supply, fuses, taps and bars. Nothing may be too hot to hold.",
		"Pull each fuse in turn and see that only its own branch goes dark.",
		"See that the switched stair light still works by itself, at both ends.",
		"Keep this schedule, the labels and a spare bar's strip with the box.")
}

// Cautions returns what the papers say wherever wiring is shown.
func Cautions() []string {
	return []string{
		"The mains side, and the connection of the supply to it, is for a licensed person and the local rules.",
		"The supply stands where air reaches it and a hand can; it is never buried in a wall or under a tread.",
		"Wires that pass through a wall or floor are of a type listed for that, apart from mains wires, and the hole is fire-stopped.",
		"Every branch has its fuse where it begins, no larger than its wire allows.",
		"Positives of separate supplies are never joined; their grounds are common where data passes.",
		"Low volts are no protection from fire: a short on a large supply heats a thin wire red.",
		"These bars never replace the switched stair light that the code asks for.",
		"Before boring a riser look behind it: no stringer, carriage, mains wire or pipe is bored.",
	}
}
