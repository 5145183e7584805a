package solver

import (
	"fmt"
	"math"
	"slices"

	"risewright/model"
	"risewright/solver/power"
	"risewright/solver/stock"
)

// What is bought over the need. Common practice, no source.
const (
	wireExtra = 0.1 // of a wire's length, for stripping and what is cut wrong
	smallMore = 1   // of each kind of fuse, capacitor, resistor and joint
)

// electric returns what the light bars and sensors take beside wood: strip,
// supply, wires by gauge, fuses, joints, small parts, controller and sensors. No
// table has their prices, so each is to be asked for. Amounts are those of the
// wiring; nothing is bought for a bar that is not there.
func electric(a *Answer, t model.Tables) []stock.Row {
	b := electrician{a: a, job: &a.Job}
	if p := a.Power; p != nil && len(p.Bars) > 0 && len(p.Bars) == len(a.Bars.Bars) && a.Bars.Pixels() > 0 {
		b.p = p
		b.strip()
		b.supply()
		b.wires()
		b.fuses()
		b.joints()
		b.dataParts()
		b.controller(t.Lights.With(a.Job.Lighting.Own))
	}
	b.sensors(t.Senses.With(a.Job.Sensing.Own))
	return b.rows
}

type electrician struct {
	a    *Answer
	job  *model.Job
	p    *power.Result
	rows []stock.Row
}

func (b *electrician) row(name string, count int, need, extra float64, unit, why string) {
	b.rows = append(b.rows, stock.Row{Use: model.UseElectric, Name: name, Count: count, Missing: true, Need: need, Extra: extra, Unit: unit, Why: why})
}

// pieces asks for so many and a few to spare.
func (b *electrician) pieces(name string, need, more int, why string) {
	if need <= 0 {
		return
	}
	if more > 0 {
		why = fmt.Sprintf("%s; %d to spare (common practice, no source)", why, more)
	}
	b.row(name, need+more, float64(need), float64(more), "pieces", why)
}

// unit is what lengths are bought in, and how many mm that is.
func (b *electrician) unit() (name string, mm float64) {
	if b.job.Units == model.Imperial {
		return "ft", float64(model.Foot)
	}
	return "m", 1000
}

// run asks for a length in mm of something sold by the metre, or by the foot.
func (b *electrician) run(name string, mm float64, why string) {
	if !(mm > 0) {
		return
	}
	unit, one := b.unit()
	sold := "%s, by the metre"
	if unit == "ft" {
		sold = "%s, by the foot"
	}
	need := mm / one
	count := math.Ceil(need*(1+wireExtra) - 1e-9)
	b.row(fmt.Sprintf(sold, name), int(count), need, count-need, unit,
		fmt.Sprintf("%s; %.0f %% to spare (common practice, no source), rounded up", why, 100*wireExtra))
}

// strip asks for reels from which the strip of every bar is cut in one piece, and
// that of the longest bar once more, which is kept with the box.
func (b *electrician) strip() {
	c := stock.Cutting{Goal: stock.LeastLength}
	longest, sum := 0.0, 0.0
	for i := range b.a.Bars.Bars {
		x := &b.a.Bars.Bars[i]
		if x.Pixels == 0 {
			continue
		}
		c.Parts = append(c.Parts, stock.Part{Name: x.Name(), Length: x.Strip})
		sum, longest = sum+x.Strip, max(longest, x.Strip)
	}
	n := len(c.Parts)
	c.Parts = append(c.Parts, stock.Part{Name: "spare", Length: longest})
	title := b.p.Strip.Title
	why := fmt.Sprintf("strips: %d, cut at their cut points, and the longest once more to keep (common practice, no source)", n)
	reel := b.p.Strip.ReelMetre.Value * 1000
	if reel >= longest && reel > 0 {
		c.Boards = []stock.Board{{Name: "reel", Length: reel}}
		if r := c.Cut(); len(r.Layouts) > 0 {
			unit, one := b.unit()
			got := float64(len(r.Layouts)) * reel
			b.row(fmt.Sprintf("LED strip, %s, reel of %s", title, metres(reel)), len(r.Layouts), sum/one, (got-sum)/one, unit, fmt.Sprintf("%s; no strip is joined", why))
			return
		}
	}
	b.run(fmt.Sprintf("LED strip, %s", title), sum+longest, why)
}

// metres writes a length that is sold in metres everywhere.
func metres(mm float64) string { return fmt.Sprintf("%g m", math.Round(mm/10)/100) }

func (b *electrician) supply() {
	p, l := b.p, &b.p.Load
	if p.Supply.Title == "" {
		b.row("supply, not chosen yet", 1, 0, 0, "", "choose one under Lights")
		return
	}
	why := fmt.Sprintf("%.3g A at full white, %.3g A a supply for long loads", l.FullAll, l.Usable)
	if l.Full > l.Usable+1e-9 {
		why = fmt.Sprintf("%s: too few for full white, see the supply sheet for the cap", why)
	}
	b.row("supply, "+p.Supply.Title, max(1, l.Count), 0, 0, "", fmt.Sprintf("%s; a listed one, its mains side by a licensed electrician", why))
}

// wires asks for pairs by gauge, and for the data's wire.
func (b *electrician) wires() {
	type gauge struct {
		wire  model.WireSize
		sum   float64
		pairs int
	}
	var all []*gauge
	for i := range b.p.Cables {
		c := &b.p.Cables[i]
		at := slices.IndexFunc(all, func(g *gauge) bool { return g.wire.ID == c.Wire.ID })
		if at < 0 {
			at = len(all)
			all = append(all, &gauge{wire: c.Wire})
		}
		all[at].sum += c.Length
		all[at].pairs++
	}
	for _, g := range all {
		b.run("wire, a pair of "+g.wire.Title, g.sum, fmt.Sprintf("runs of the wiring schedule: %d, slack included", g.pairs))
	}
	sum := 0.0
	for i := range b.p.Data.Bars {
		sum += b.p.Data.Bars[i].Jump
	}
	why := fmt.Sprintf("bars reached: %d", len(b.p.Data.Bars))
	if b.p.Data.Way == model.DataReturn {
		why += ", the way back along each bar included"
	}
	b.run("wire for data, with a ground wire beside it", sum, why)
}

func (b *electrician) fuses() {
	count := map[float64]int{}
	var sizes []float64
	all := 0
	for i := range b.p.Cables {
		if f := b.p.Cables[i].Fuse; f > 0 {
			if count[f] == 0 {
				sizes = append(sizes, f)
			}
			count[f]++
			all++
		}
	}
	slices.Sort(sizes)
	for _, f := range sizes {
		b.pieces(fmt.Sprintf("fuse, %g A, for %g V DC or more", f, b.p.Supply.Volts.Value), count[f], smallMore, "one at the start of each branch")
	}
	b.pieces("fuse holder", all, smallMore, "one for each fuse")
}

// joints asks for what joins a lead to the bus or its home run at each tap.
func (b *electrician) joints() {
	taps := map[string]bool{}
	feeds := 0
	for i := range b.p.Cables {
		if c := &b.p.Cables[i]; c.Kind == power.Lead {
			taps[c.From] = true
			feeds++
		}
	}
	b.pieces("joint for a pair of wires, insulated", len(taps), smallMore, "one at each tap; of a size for both wires")
	if v := b.p.Data.Capacitor.Value; v > 0 {
		b.pieces(fmt.Sprintf("capacitor, %g µF, for more than %g V", v, b.p.Supply.Volts.Value), feeds, smallMore, "one across the supply at each feed of a bar")
	}
}

func (b *electrician) dataParts() {
	d := &b.p.Data
	if v := d.Resistor.Value; v > 0 {
		b.pieces(fmt.Sprintf("resistor, %g ohm", v), d.Lines, smallMore, "one in each data line at the controller's end")
	}
	if d.Shift {
		b.pieces("level shifter with TTL inputs, a channel", d.Lines, 0, "the controller's level is too low for the strip")
	}
}

func (b *electrician) controller(t model.LightTables) {
	if !b.p.Strip.Addressed {
		b.row("dimmer or switch for the bars", 1, 0, 0, "", fmt.Sprintf("for %g V DC and %.3g A or more; these strips take no data", b.p.Supply.Volts.Value, b.p.Load.FullAll))
		return
	}
	c, ok := t.Controller(b.job.Lighting.Controller)
	if !ok {
		b.row("controller, not chosen yet", 1, 0, 0, "", "choose one under Lights")
		return
	}
	why := "it drives the bars"
	if len(b.p.Budgets) > 0 && b.p.Budgets[0].Class.ID == c.ID && !b.p.Budgets[0].Fits {
		why = "IT DOES NOT HOLD THE BARS: see the supply sheet before buying"
	}
	b.row("controller, "+c.Title, 1, 0, 0, "", why)
}

// sensors asks for those that are placed, class by class.
func (b *electrician) sensors(t model.SensorTables) {
	count := map[string]int{}
	var ids []string
	all := 0
	for i := range b.job.Sensing.Sensors {
		s := &b.job.Sensing.Sensors[i]
		if s.Removed {
			continue
		}
		if count[s.Class] == 0 {
			ids = append(ids, s.Class)
		}
		count[s.Class]++
		all++
	}
	for _, id := range ids {
		name := "motion sensor, of a class that no table has"
		if c, ok := t.Class(id); ok {
			name = "motion sensor, " + c.Title
		}
		b.pieces(name, count[id], 0, "those that are placed under Sensors")
	}
	if all > 0 {
		b.row("cable for a sensor, three wires", all, 0, 0, "", "one to each sensor; the ways are not laid out here: measure from the box")
	}
}
