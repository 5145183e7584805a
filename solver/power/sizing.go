package power

import (
	"context"
	"math"
	"sort"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/pieces"
)

// Choice is one way of feeding the bars with the smallest wires that do it.
type Choice struct {
	Feed   model.FeedEnds
	Enters []model.ID // steps where the feeders join the bus
	Points int        // soldered feed points at the bars, and feeders
	Wires  model.WirePick
	Copper float64 // kg, both conductors
	Drop   float64 // volts lost to the worst pixel
	OK     bool    // within the drop, every wire guarded by its fuse
}

// copperDensity in kg per metre and mm²: 8.96 g/cm³. From memory.
const copperDensity = 8.96e-3

// Sizes looks for the smallest wires for each way of feeding the bars, in the
// order of how many feeds it takes, the bar's ends first. The first that is OK
// has the fewest feeds. Feeders and bus take one size, since the feeder's fuse
// guards both.
//
// Drop and fuses only get better with copper. So for each bus the leads are
// searched from where the last bus left them, thinner as the bus gets thicker,
// which tries each size once or twice and none in vain; and where the thickest
// do not, none do.
func Sizes(job model.Job, l model.Lighting, t model.LightTables, in *bars.Result) []Choice {
	return sizes(context.Background(), job, l, t, in, false)
}

// sizes is Sizes; with first it stops at the first that is OK, and at the end of
// the context in any case, with what it has.
func sizes(ctx context.Context, job model.Job, l model.Lighting, t model.LightTables, in *bars.Result, first bool) []Choice {
	if !l.On() || in == nil || len(in.Bars) == 0 {
		return nil
	}
	all := t.With(l.Own)
	system := "mm2"
	if job.Units == model.Imperial {
		system = "awg"
	}
	var wires []model.WireSize
	for _, w := range all.Wires {
		if w.System == system {
			wires = append(wires, w)
		}
	}
	sort.SliceStable(wires, func(i, k int) bool { return wires[i].AreaMM2.Value < wires[k].AreaMM2.Value })
	if len(wires) == 0 {
		return nil
	}
	var ways []way
	for _, feed := range []model.FeedEnds{model.FeedOne, model.FeedMiddle, model.FeedBoth} {
		for _, enters := range entries(job, l, in) {
			ways = append(ways, way{feed, enters, pointsOf(l, in, feed, enters)})
		}
	}
	sort.SliceStable(ways, func(i, k int) bool { return ways[i].points < ways[k].points })
	var out []Choice
	for _, w := range ways {
		c := smallest(ctx, job, l, t, in, wires, w)
		if ctx.Err() != nil {
			break
		}
		out = append(out, c)
		if first && c.OK {
			break
		}
	}
	return out
}

// way is one of feeding the bars, and how many points it takes.
type way struct {
	feed   model.FeedEnds
	enters []model.ID
	points int
}

// pointsOf returns the soldered points of feeding so: those at the bars, and the
// feeders.
func pointsOf(l model.Lighting, in *bars.Result, feed model.FeedEnds, enters []model.ID) int {
	lit := 0
	for i := range in.Bars {
		if in.Bars[i].Pixels > 0 {
			lit++
		}
	}
	if l.Trunk == model.HomeRuns {
		return lit * (feed.Points() + 1)
	}
	return lit*feed.Points() + max(1, len(enters))*max(1, l.Supplies)
}

// entries returns the feed points of the bus to be tried: the nearest, and two
// or three spread along the flight. Home runs have none.
func entries(job model.Job, l model.Lighting, in *bars.Result) [][]model.ID {
	out := [][]model.ID{nil}
	if l.Trunk == model.HomeRuns || l.Supplies > 1 {
		return out
	}
	n := min(len(in.Bars), len(job.Flight.Steps))
	at := func(share float64) model.ID { return job.Flight.Steps[int(share*float64(n-1)+0.5)].ID }
	if n >= 4 {
		out = append(out, []model.ID{at(0.25), at(0.75)})
	}
	if n >= 6 {
		out = append(out, []model.ID{at(1.0 / 6), at(0.5), at(5.0 / 6)})
	}
	return out
}

// smallest returns the least copper for one way of feeding.
func smallest(ctx context.Context, job model.Job, l model.Lighting, t model.LightTables, in *bars.Result, wires []model.WireSize, w way) Choice {
	l.Feed, l.Enters = w.feed, w.enters
	l.Bars = append([]model.BarOwn(nil), l.Bars...)
	for i := range l.Bars {
		l.Bars[i].Feed = ""
	}
	fed := *in
	fed.Bars = append([]bars.Bar(nil), in.Bars...)
	for i := range fed.Bars {
		fed.Bars[i].Feed = w.feed
	}
	best := Choice{Feed: w.feed, Enters: w.enters, Points: w.points, Copper: math.Inf(1), Drop: math.Inf(1)}
	try := func(bus, lead int) Choice {
		c := best
		l.Wires = model.WirePick{Feeder: wires[bus].ID, Bus: wires[bus].ID, Lead: wires[lead].ID}
		r := Solve(job, l, t, &fed)
		c.Wires = l.Wires
		c.OK, c.Drop, c.Copper = r.kept(), r.drop(), r.Copper()
		return c
	}
	lead := len(wires) - 1
	if c := try(lead, lead); !c.OK { // it shows how far off it is
		return c
	}
	for bus := range wires {
		for lead >= 0 && ctx.Err() == nil {
			c := try(bus, lead)
			if !c.OK {
				break
			}
			if !best.OK || c.Copper < best.Copper {
				best = c
			}
			lead--
		}
		if lead < 0 || ctx.Err() != nil {
			break
		}
	}
	return best
}

// Copper returns the weight of copper in all cables, kg.
func (r *Result) Copper() float64 {
	sum := 0.0
	for i := range r.Cables {
		c := &r.Cables[i]
		sum += 2 * c.Length / 1000 * c.Wire.AreaMM2.Value * copperDensity
	}
	return sum
}

// drop returns the volts lost in the worst scene to be carried.
func (r *Result) drop() float64 {
	if r.Worst < 0 {
		return math.Inf(1)
	}
	return r.Scenes[r.Worst].Drop
}

// kept says whether the wires keep the volts and have their fuses.
func (r *Result) kept() bool {
	if r.drop() > r.Limit+1e-9 {
		return false
	}
	for i := range r.Cables {
		c := &r.Cables[i]
		if c.Amps > 0 && (c.Guard == 0 || c.Guard > c.Wire.FuseMost.Value) {
			return false
		}
	}
	return true
}

// Side is the same flight at one voltage, to lie beside the others.
type Side struct {
	Volts     float64
	Strip     model.StripType
	Pixels    int
	FullAmps  float64
	FullWatts float64
	Supply    model.SupplyClass // of that voltage, the one of which fewest carry the bars
	Count     int               // how many carry full white with the margin
	Choice    Choice            // the fewest feeds that keep the volts; not OK when none does
}

// Voltages makes the bars at 5, 12 and 24 V and the wires for each. The strip
// is the job's where it has that voltage, else the first of the table that is
// addressed likewise and has as many channels, or at least is addressed likewise.
func Voltages(job model.Job, l model.Lighting, t model.LightTables, ps []pieces.Piece) []Side {
	sides, _ := VoltagesUntil(context.Background(), job, l, t, ps)
	return sides
}

// VoltagesUntil is Voltages that gives up when the context ends, within about the
// time of solving the wiring once; the error is then the context's, and the sides
// of no use.
func VoltagesUntil(ctx context.Context, job model.Job, l model.Lighting, t model.LightTables, ps []pieces.Piece) ([]Side, error) {
	if !l.On() {
		return nil, ctx.Err()
	}
	all := t.With(l.Own)
	mine, _ := all.Strip(l.Strip)
	var out []Side
	for _, v := range all.Volts {
		s := Side{Volts: v.Volts.Value}
		rank := 0
		for _, st := range all.Strips {
			if st.Volts.Value != s.Volts || st.Pitch() == 0 {
				continue
			}
			r := 1
			if st.Addressed == mine.Addressed {
				r = 2
				if st.Channels == mine.Channels {
					r = 3
				}
			}
			if st.ID == mine.ID {
				r = 4
			}
			if r > rank {
				rank, s.Strip = r, st
			}
		}
		if rank == 0 {
			continue
		}
		at := l
		at.Strip = s.Strip.ID
		in := bars.Make(job, at, t, ps)
		s.Pixels = in.Pixels()
		s.FullAmps = float64(s.Pixels) * s.Strip.FullAmps()
		s.FullWatts = s.FullAmps * s.Volts
		margin := all.Practised("continuous").Value
		for _, c := range all.Supplies {
			if c.Volts.Value != s.Volts || !(c.Amps.Value*margin > 0) {
				continue
			}
			n := max(1, int(math.Ceil(s.FullAmps/(c.Amps.Value*margin)-1e-9)))
			if s.Count == 0 || n < s.Count || n == s.Count && c.Amps.Value < s.Supply.Amps.Value {
				s.Supply, s.Count = c, n
			}
		}
		at.Supply = s.Supply.ID
		for _, c := range sizes(ctx, job, at, t, &in, true) {
			// Where nothing does it, the one that comes nearest.
			if s.Choice.Points == 0 || c.OK && !s.Choice.OK || !s.Choice.OK && c.Drop < s.Choice.Drop {
				s.Choice = c
			}
		}
		out = append(out, s)
		if ctx.Err() != nil {
			break
		}
	}
	return out, ctx.Err()
}
