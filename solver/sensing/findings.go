package sensing

import (
	"fmt"
	"math"
	"slices"
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
	var g grouped
	for i := range r.Zones {
		z := &r.Zones[i]
		fld := placeOf("sensors", i)
		switch {
		case z.Err != "":
			g.add(model.ID{}, r.called(i), "sensor %s sees nothing: "+z.Err, "sensors %s see nothing: "+z.Err,
				model.Finding{Rule: "class", Severity: model.Outside, Where: model.Place{Field: fld + ".class"}, Remedy: "choose a class of the table"})
			continue
		case z.Removed:
			continue
		case z.Sure.Len() == 0:
			g.add(model.ID{}, r.called(i), "sensor %s is sure of no step", "sensors %s are sure of no step",
				model.Finding{Rule: "nothing", Severity: model.Advice, Where: model.Place{Field: fld}, Detail: "no body shows enough of itself to it, on every line that is walked",
					Remedy: "turn it to the stair, tilt it down, or open its hood and mask", Standing: seen.Standing})
			continue
		}
		step := min(n, max(1, z.Sure.First))
		c, _ := st.t.Class(z.From.Class)
		if going := st.stepLength(); c.Block.Value > 0.3 {
			p, _ := st.t.Pace("adult")
			took := c.Block.Value * p.Down.Value * 1000 / going
			secs := fmt.Sprintf("%g", c.Block.Value)
			g.add(model.ID{}, r.called(i), "sensor %s is blind for "+secs+" s after each pulse", "sensors %s are blind for "+secs+" s after each pulse",
				model.Finding{Rule: "block", Severity: model.Advice, Where: model.Place{Step: step, Field: fld + ".class"},
					Detail: fmt.Sprintf("in that time somebody goes down about %.0f steps", took), Remedy: "choose a class with a block of 0.3 s or less, or let the neighbours bridge it", Standing: c.Block.Standing})
		}
		if z.Crossing < 0.5 {
			a := st.t.Practised("approach")
			g.add(model.ID{}, r.called(i), "people walk towards sensor %s more than across its view", "people walk towards sensors %s more than across their view",
				model.Finding{Rule: "approach", Severity: model.Note, Where: model.Place{Step: step, Field: fld + ".yaw"},
					Detail: "such a sensor sees crossing best and approach worst", Remedy: "aim it across the stair", Standing: a.Standing})
		}
		if len(z.Stray) > 0 {
			where := st.Listed(z.Stray)
			g.add(model.ID{}, r.called(i), "sensor %s also glimpses "+where, "sensors %s also glimpse "+where,
				model.Finding{Rule: "stray", Severity: model.Note, Where: model.Place{Step: step, Field: fld}, Detail: "that is outside its zone", Remedy: "mask that part of its lens", Standing: seen.Standing})
		}
	}
	r.fooled(job, &g)
	for _, f := range g.findings() {
		add(f.Rule, f.Severity, f.Where.Step, f.Where.Field, f.Title, f.Detail, f.Remedy, f.Standing)
	}
	r.wished(job, add)
	if st.RailStanding != "" && hangs(job) {
		add("rail", model.Note, 0, "flight.rail", fmt.Sprintf("no rail height was measured; sensors hang under a rail %s high", job.Format().Length(model.Length(st.RailHeight[0]))), "", "measure the rail over one nose", st.RailStanding)
	}
	add("standing", model.Note, 0, "sensing", "what a sensor sees here is geometry",
		fmt.Sprintf("a step counts as seen at %.0f %% of a body; that share is common practice, no source", 100*seen.Value), "try every place with tape for a week before fixing", seen.Standing)
	return out
}

// grouped gathers what is said of sensors, so that what is true of many is said
// once.
type grouped struct{ all []group }

type group struct {
	of        model.ID // what they see, if anything
	one, many string   // titles, with a hole for the names
	names     []string
	model.Finding
}

// add says something of a sensor. What has the same rule and titles is said of
// all of them together, and leads to the first.
func (g *grouped) add(of model.ID, name, one, many string, f model.Finding) {
	for i := range g.all {
		if o := &g.all[i]; o.Rule == f.Rule && o.one == one && o.of == of {
			o.names = append(o.names, name)
			return
		}
	}
	g.all = append(g.all, group{of, one, many, []string{name}, f})
}

// called returns the name of the sensor at place i, or its number.
func (r *Result) called(i int) string {
	if name := r.Zones[i].Name; name != "" {
		return name
	}
	return fmt.Sprint(i + 1)
}

// hole is the place of the names in a title.
const hole = "%s"

func (g *grouped) findings() []model.Finding {
	var out []model.Finding
	for i := range g.all {
		o := &g.all[i]
		title := o.one
		if len(o.names) > 1 {
			title = o.many
		}
		o.Title = strings.Replace(title, hole, model.Listed(o.names), 1)
		out = append(out, o.Finding)
	}
	return out
}

// fooled says what of the traffic is seen, each thing once: the sensors that see
// it, and how much the one that sees most of it does.
func (r *Result) fooled(job *model.Job, g *grouped) {
	var things []model.ID
	for _, t := range r.Triggers {
		if !slices.Contains(things, t.Thing) {
			things = append(things, t.Thing)
		}
	}
	for _, id := range things {
		var worst Trigger
		part := 0.0
		for _, t := range r.Triggers {
			if t.Thing != id {
				continue
			}
			part = max(part, t.Part)
			if t.Most > worst.Most {
				worst = t
			}
		}
		f := model.Finding{Rule: "trigger", Severity: model.Advice, Where: model.Place{Field: placeOf("sensors", worst.Sensor)},
			Detail: fmt.Sprintf("on %.0f %% of the way, at most %.0f %% of it", 100*part, 100*worst.Most),
			Remedy: "mask that side, deepen the hood, or ask for two triggers in order before lighting", Standing: model.Memory}
		one, many := "sensor %s sees "+worst.Name+" pass", "sensors %s see "+worst.Name+" pass"
		if slices.ContainsFunc(job.Sensing.Passers, func(p model.Passer) bool { return p.ID == id && p.Kind == model.DoorSwings }) {
			one, many = "sensor %s sees "+worst.Name+" swing", "sensors %s see "+worst.Name+" swing"
		}
		if worst.Warm {
			one, many = "sensor %s has "+worst.Name+" in its field", "sensors %s have "+worst.Name+" in their field"
			f.Detail = fmt.Sprintf("it sees %.0f %% of it; what warms and cools fast may trigger it", 100*worst.Most)
			f.Remedy = "mask that part, or turn the sensor away"
		}
		for _, t := range r.Triggers {
			if t.Thing == id {
				g.add(id, r.called(t.Sensor), one, many, f)
			}
		}
	}
}

// near returns the field of the working sensor whose zone lies nearest to a
// position, or of the first sensor.
func (r *Result) near(k int) string {
	best, at := math.Inf(1), 0
	for _, i := range r.Order {
		s := r.Zones[i].SureAt
		if d := math.Abs((s.From+s.To)/2 - Along(k)); d < best {
			best, at = d, i
		}
	}
	return placeOf("sensors", at)
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
			add("blind.bottom", model.Advice, 1, r.near(0), "nobody on the bottom floor is seen before the first step up", "", "put a sensor at the foot of the stair, facing the first step and not the hall", seen.Standing)
		case st.Risers:
			add("blind.top", model.Advice, st.Risers, r.near(st.Risers), "somebody on the top floor is not seen before the first step down",
				"this is where people fall in the dark", "put a sensor where it sees the floor behind the top nosing, hooded from the corridor", seen.Standing)
		default:
			steps = append(steps, k)
		}
	}
	if len(steps) > 0 {
		add("blind", model.Advice, steps[0], r.near(steps[0]), fmt.Sprintf("no sensor is sure of %s", st.Listed(steps)), "somebody standing there must be remembered from the steps before", "move or turn a neighbour, or add a sensor", seen.Standing)
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
			add("late", model.Advice, end.step, r.near(end.position), fmt.Sprintf("somebody is seen %.0f mm before %s; the sensor needs about %.0f mm", best, end.words, need),
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
