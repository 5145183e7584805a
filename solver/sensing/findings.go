package sensing

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
)

func placeOf(list string, i int) string { return fmt.Sprintf("sensing.%s.%d", list, i) }

// PositionWords returns what a position is called: "the bottom floor", "step 4"
// or "the top floor".
func (st *Stair) PositionWords(k int) string {
	switch {
	case k <= 0:
		return "the bottom floor"
	case k >= st.Risers:
		return "the top floor"
	}
	return fmt.Sprintf("step %d", k)
}

// Listed returns positions as words, runs drawn together: "steps 3 to 5 and 9".
func (st *Stair) Listed(ks []int) string {
	var parts, steps []string
	top := false
	for i := 0; i < len(ks); {
		switch k := ks[i]; {
		case k <= 0:
			parts = append(parts, "the bottom floor")
		case k >= st.Risers:
			top = true
		default:
			end := i
			for end+1 < len(ks) && ks[end+1] == ks[end]+1 && ks[end+1] < st.Risers {
				end++
			}
			if end == i {
				steps = append(steps, fmt.Sprint(k))
			} else {
				steps = append(steps, fmt.Sprintf("%d to %d", k, ks[end]))
			}
			i = end
		}
		i++
	}
	if len(steps) > 0 {
		word := "steps "
		if len(steps) == 1 && !strings.Contains(steps[0], " ") {
			word = "step "
		}
		parts = append(parts, word+model.Listed(steps))
	}
	if top {
		parts = append(parts, "the top floor")
	}
	return model.Listed(parts)
}

// findings says what should be known of the zones.
func (r *Result) findings(job *model.Job) []model.Finding {
	var out []model.Finding
	add := func(rule string, sev model.Severity, step int, fld, title, detail, remedy string, standing model.Standing) {
		out = append(out, model.Finding{Rule: "sensing." + rule, Severity: sev, Where: model.Place{Step: step, Field: fld}, Title: title, Detail: detail, Remedy: remedy, Standing: standing})
	}
	if !job.Sensing.On() {
		return nil
	}
	st := r.Stair
	n := st.Risers
	seen := st.t.Practised("seen")
	r.blind(add, seen)
	r.early(add)
	for i := range r.Zones {
		z := &r.Zones[i]
		fld := placeOf("sensors", i)
		switch {
		case z.Err != "":
			add("class", model.Outside, 0, fld+".class", fmt.Sprintf("sensor %s sees nothing: %s", z.Name, z.Err), "", "choose a class of the table", "")
			continue
		case z.Removed:
			continue
		case z.Sure.Len() == 0:
			add("nothing", model.Advice, 0, fld, fmt.Sprintf("sensor %s is sure of no step", z.Name), "no body shows enough of itself to it, on every line that is walked", "turn it to the stair, tilt it down, or open its hood and mask", seen.Standing)
			continue
		}
		step := min(n, max(1, z.Sure.First))
		c, _ := st.t.Class(z.From.Class)
		if going := st.stepLength(); c.Block.Value > 0.3 {
			p, _ := st.t.Pace("adult")
			took := c.Block.Value * p.Down.Value * 1000 / going
			add("block", model.Advice, step, fld+".class", fmt.Sprintf("sensor %s is blind for %g s after each pulse", z.Name, c.Block.Value),
				fmt.Sprintf("in that time somebody goes down about %.0f steps", took), "choose a class with a block of 0.3 s or less, or let the neighbours bridge it", c.Block.Standing)
		}
		if z.Crossing < 0.5 {
			a := st.t.Practised("approach")
			add("approach", model.Note, step, fld+".yaw", fmt.Sprintf("people walk towards sensor %s more than across its view", z.Name),
				"such a sensor sees crossing best and approach worst", "aim it across the stair", a.Standing)
		}
		if len(z.Stray) > 0 {
			add("stray", model.Note, step, fld, fmt.Sprintf("sensor %s also glimpses %s", z.Name, st.Listed(z.Stray)), "that is outside its zone", "mask that part of its lens", seen.Standing)
		}
	}
	for _, t := range r.Triggers {
		z := &r.Zones[t.Sensor]
		title := fmt.Sprintf("sensor %s sees %s pass", z.Name, t.Name)
		detail := fmt.Sprintf("on %.0f %% of the way, at most %.0f %% of it", 100*t.Part, 100*t.Most)
		remedy := "mask that side, deepen the hood, or ask for two triggers in order before lighting"
		if t.Warm {
			title = fmt.Sprintf("sensor %s has %s in its field", z.Name, t.Name)
			detail = fmt.Sprintf("it sees %.0f %% of it; what warms and cools fast may trigger it", 100*t.Most)
			remedy = "mask that part, or turn the sensor away"
		}
		add("trigger", model.Advice, 0, t.Field, title, detail, remedy, model.Memory)
	}
	r.wished(job, add)
	if st.RailStanding != "" && hangs(job) {
		add("rail", model.Note, 0, "flight.rail", fmt.Sprintf("no rail height was measured; sensors hang under a rail %s high", job.Format().Length(model.Length(st.RailHeight[0]))), "", "measure the rail over one nose", st.RailStanding)
	}
	add("standing", model.Note, 0, "sensing", "what a sensor sees here is geometry",
		fmt.Sprintf("a step counts as seen at %.0f %% of a body; that share is common practice, no source", 100*seen.Value), "try every place with tape for a week before fixing", seen.Standing)
	return out
}

// hangs says whether a sensor hangs under a rail.
func hangs(job *model.Job) bool {
	for _, s := range job.Sensing.Sensors {
		if s.Mount.AtRail() && !s.Removed {
			return true
		}
	}
	return false
}

// stepLength returns the length of a step along the pitch line, mm.
func (st *Stair) stepLength() float64 {
	n := st.Risers
	rise := (st.Nose[n-1][0][2] + st.Nose[n-1][1][2] - 2*st.floor) / 2 / float64(n)
	sum := 0.0
	for _, g := range st.Going {
		sum += g
	}
	return math.Hypot(rise, sum/float64(len(st.Going)))
}

type adder func(rule string, sev model.Severity, step int, fld, title, detail, remedy string, standing model.Standing)

// blind says which positions nobody sees, the first step down before all.
func (r *Result) blind(add adder, seen model.Rated) {
	st := r.Stair
	var steps []int
	for _, k := range r.Blind {
		switch k {
		case 0:
			add("blind.bottom", model.Advice, 1, "sensing.sensors", "nobody on the bottom floor is seen before the first step up", "", "put a sensor at the foot of the stair, facing the first step and not the hall", seen.Standing)
		case st.Risers:
			add("blind.top", model.Advice, st.Risers, "sensing.sensors", "somebody on the top floor is not seen before the first step down",
				"this is where people fall in the dark", "put a sensor where it sees the floor behind the top nosing, hooded from the corridor", seen.Standing)
		default:
			steps = append(steps, k)
		}
	}
	if len(steps) > 0 {
		add("blind", model.Advice, steps[0], "sensing.sensors", fmt.Sprintf("no sensor is sure of %s", st.Listed(steps)), "somebody standing there must be remembered from the steps before", "move or turn a neighbour, or add a sensor", seen.Standing)
	}
}

// early says whether the end sensors see somebody early enough: a sensor's
// latency before the nose, at a level walk.
func (r *Result) early(add adder) {
	st := r.Stair
	n := st.Risers
	pace, ok := st.t.Pace("adult")
	if !ok || len(r.Order) == 0 {
		return
	}
	for _, end := range []struct {
		position    int
		nose, going float64
		way         float64
		words       string
		step        int
	}{{0, 0, st.Going[0], -1, "the first nose", 1}, {n, float64(n - 1), st.Going[n-2], 1, "the top nose", n}} {
		best, need := math.Inf(-1), 0.0
		var standing model.Standing
		for _, i := range r.Order {
			z := &r.Zones[i]
			if !z.Sees[end.position] {
				continue
			}
			c, _ := st.t.Class(z.From.Class)
			out := z.SureAt.From
			if end.way > 0 {
				out = z.SureAt.To
			}
			lead := (out - end.nose) * end.way * end.going
			want := c.Latency.Value * pace.Level.Value * 1000
			if lead-want > best-need {
				best, need, standing = lead, want, c.Latency.Standing
			}
		}
		if !math.IsInf(best, -1) && best < need {
			add("late", model.Advice, end.step, "sensing.sensors", fmt.Sprintf("somebody is seen %.0f mm before %s; the sensor needs about %.0f mm", best, end.words, need),
				"its latency at a usual walk", "let it look further out over the floor", standing)
		}
	}
}

// wished says where the wish is not met.
func (r *Result) wished(job *model.Job, add adder) {
	w := job.Sensing.Wish
	working := 0
	for i := range r.Zones {
		if r.Zones[i].Settled() {
			working++
		}
	}
	if w.Most > 0 && working > w.Most {
		add("wish.most", model.Note, 0, "sensing.wish.most", fmt.Sprintf("there are %d sensors; at most %d are wished for", working, w.Most), "", "take one away, or wish for more", "")
	}
	for _, o := range r.Overlaps {
		if got := o.Positions.Len(); w.Overlap > 0 && got < w.Overlap {
			a, b := &r.Zones[o.Low], &r.Zones[o.High]
			add("wish.overlap", model.Note, min(r.Stair.Risers, max(1, a.Sure.Last)), "sensing.wish.overlap",
				fmt.Sprintf("%s and %s share %s; %d wished for", a.Name, b.Name, model.Plural(got, "step"), w.Overlap), "", "move them closer, or open their hoods", "")
		}
	}
}
