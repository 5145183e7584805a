package sensing

import (
	"reflect"
	"slices"
	"sort"

	"risewright/model"
)

// Result is what the sensors of a job see. It is read-only once returned.
type Result struct {
	Stair *Stair // nil when the job has no stair to look at
	Zones []Zone // one for each sensor, in the job's order
	// Order lists the zones of working sensors that see somebody, from the bottom
	// up.
	Order    []int
	Overlaps []Overlap // of neighbours in Order
	Blind    []int     // positions that no sensor is sure of
	Gaps     []Stretch // between the first and the last floor
	States   []State
	Triggers []Trigger // what may fool a sensor
	Findings []model.Finding

	passers []model.Passer // that Triggers answer
	warm    []model.WarmThing
	known   *Zone // see Knowing
}

// Knowing returns the result with a zone on the same stair that is known besides
// its own, such as of DragEnd, to be handed to Solve as the one before.
func (r Result) Knowing(z Zone) *Result {
	r.known = &z
	return &r
}

// Overlap is what two neighbours both see; negative lengths are gaps.
type Overlap struct {
	Low, High int // places in Result.Zones
	Positions Span
	At        Stretch
	Length    float64 // steps; negative for a gap
}

// State is a set of sensors that are on for somebody on the stair, with the
// places where it is: what the sensors can report of one walker.
type State struct {
	On        []int // places in Result.Zones, rising; none: no sensor is on
	Positions []int
	At        []Stretch
}

// Solve works out the zones of a job's sensors on the stair, and what follows
// from them. Zones of before, an earlier result or nil, that still hold are
// taken over. A nil stair gives no zones.
func Solve(job *model.Job, st *Stair, before *Result) Result {
	r := Result{Stair: st}
	if st == nil {
		return r
	}
	var old, known []Zone
	if before != nil && before.Stair.same(st) {
		old = before.Zones
		known = old
		if z := before.known; z != nil && z.Sensor < len(old) {
			known = slices.Clone(old)
			known[z.Sensor] = *z
		}
	}
	r.Zones = st.Zones(job.Sensing.Sensors, known)
	r.settle()
	r.passers, r.warm = job.Sensing.Passers, job.Sensing.Warm
	all := things(job)
	had := make([]bool, len(all))
	for k := range all {
		had[k] = old != nil && before.has(&all[k])
	}
	var w *watcher
	solids := make([][]Solid, len(all)) // once they are needed
	for i := range r.Zones {
		kept := i < len(old) && old[i].From == r.Zones[i].From
		for k := range all {
			x := &all[k]
			if kept && had[k] {
				if t, ok := before.trigger(i, x.Thing); ok {
					t.Field = x.Field // it may stand elsewhere in the list
					r.Triggers = append(r.Triggers, t)
				}
				continue
			}
			if w == nil {
				w = st.watcher()
			}
			if solids[k] == nil {
				solids[k] = st.solids(x)
			}
			r.Triggers = append(r.Triggers, w.trigger(&r.Zones[i], x.Trigger, solids[k])...)
		}
	}
	r.Findings = r.findings(job)
	return r
}

// has says whether a result answers a thing as it is.
func (r *Result) has(x *thing) bool {
	if x.passer != nil {
		return slices.ContainsFunc(r.passers, func(p model.Passer) bool { return reflect.DeepEqual(p, *x.passer) })
	}
	return slices.Contains(r.warm, *x.warm)
}

// trigger returns what a sensor sees of a thing.
func (r *Result) trigger(sensor int, id model.ID) (Trigger, bool) {
	for _, t := range r.Triggers {
		if t.Sensor == sensor && t.Thing == id {
			return t, true
		}
	}
	return Trigger{}, false
}

// Without returns the same result as if the sensor at place i were not there:
// what is lost with it. Triggers and findings are not worked out.
func (r *Result) Without(i int) Result {
	out := Result{Stair: r.Stair, Zones: slices.Clone(r.Zones)}
	z := &out.Zones[i]
	*z = Zone{Sensor: z.Sensor, ID: z.ID, Name: z.Name, From: z.From, Removed: true, Sure: None, May: None}
	out.settle()
	return out
}

// settle fills in what follows from the zones alone.
func (r *Result) settle() {
	for i := range r.Zones {
		if z := &r.Zones[i]; z.Settled() && z.Sure.Len() > 0 {
			r.Order = append(r.Order, i)
		}
	}
	sort.SliceStable(r.Order, func(a, b int) bool {
		s, t := r.Zones[r.Order[a]].SureAt, r.Zones[r.Order[b]].SureAt
		return s.From+s.To < t.From+t.To
	})
	for k := 0; k+1 < len(r.Order); k++ {
		o := Overlap{Low: r.Order[k], High: r.Order[k+1]}
		a, b := &r.Zones[o.Low], &r.Zones[o.High]
		o.Positions = a.Sure.And(b.Sure)
		o.At = Stretch{max(a.SureAt.From, b.SureAt.From), min(a.SureAt.To, b.SureAt.To)}
		o.Length = o.At.To - o.At.From
		r.Overlaps = append(r.Overlaps, o)
	}
	n := r.Stair.Risers
	for k := range n + 1 {
		if !slices.ContainsFunc(r.Zones, func(z Zone) bool { return k < len(z.Sees) && z.Sees[k] }) {
			r.Blind = append(r.Blind, k)
		}
	}
	r.states()
}

// states walks the flight from end of zone to end of zone.
func (r *Result) states() {
	from, to := Along(0), Along(r.Stair.Risers)
	cuts := []float64{from, to}
	for _, i := range r.Order {
		for _, at := range [2]float64{r.Zones[i].SureAt.From, r.Zones[i].SureAt.To} {
			if at > from && at < to {
				cuts = append(cuts, at)
			}
		}
	}
	sort.Float64s(cuts)
	for k := 0; k+1 < len(cuts); k++ {
		s := Stretch{cuts[k], cuts[k+1]}
		if s.Len() <= along {
			continue
		}
		on := r.on((s.From + s.To) / 2)
		if len(on) == 0 {
			r.Gaps = append(r.Gaps, s)
		}
		st := r.state(on)
		st.At = append(st.At, s)
	}
	for k := range r.Stair.Risers + 1 {
		var on []int
		for _, i := range r.Order {
			if r.Zones[i].Sees[k] {
				on = append(on, i)
			}
		}
		slices.Sort(on)
		st := r.state(on)
		st.Positions = append(st.Positions, k)
	}
}

// on returns the sensors that are sure of a place along the flight.
func (r *Result) on(at float64) []int {
	var on []int
	for _, i := range r.Order {
		if s := r.Zones[i].SureAt; at >= s.From && at <= s.To {
			on = append(on, i)
		}
	}
	slices.Sort(on)
	return on
}

// state returns the state of these sensors, a new one when there is none.
func (r *Result) state(on []int) *State {
	for i := range r.States {
		if slices.Equal(r.States[i].On, on) {
			return &r.States[i]
		}
	}
	r.States = append(r.States, State{On: on})
	return &r.States[len(r.States)-1]
}
