package sensing

import (
	"fmt"
	"math"

	"risewright/model"
)

// candidates returns the placings of the grid that are sure of some position and
// may be used, one for each run, how many were looked at, and why there are none
// when no sensor can be placed at all.
func (st *Stair) candidates(job *model.Job) (out []candidate, tried int, why string) {
	wish := job.Sensing.Wish
	class, ok := st.t.Class(wish.Class)
	switch {
	case !ok && wish.Class == "" && len(st.t.Classes) > 0:
		class = st.t.Classes[0]
	case !ok:
		return nil, 0, fmt.Sprintf("the class %q is not in the table", wish.Class)
	}
	if fault := class.Fault(); fault != "" {
		return nil, 0, "the class cannot be used: " + fault
	}
	w := st.watcher()
	var traffic []Solid
	for _, x := range things(job) {
		traffic = append(traffic, st.solids(&x)...)
	}
	for _, base := range st.mounts(wish, class.ID) {
		for _, s := range st.aims(base, wish, &class) {
			tried++
			e, err := st.Eye(&s)
			if err != nil {
				continue
			}
			if wish.NoHall && w.sawTraffic(&e, traffic) {
				continue
			}
			z := Zone{Eye: e}
			w.sees(&z)
			beyond := 0.0
			for k := range z.Sees {
				if z.Glimpses[k] && !z.Sees[k] {
					beyond++ // it does not tell these from those it is sure of
				}
			}
			for k := 0; k < len(z.Sees); k++ {
				if !z.Sees[k] {
					continue
				}
				run := runAbout(z.Sees, k)
				k = run.Last
				if wish.Longest > 0 && run.Len() > wish.Longest {
					continue
				}
				cost := beyond + approachCost*(1-w.crossing(&e, (Along(run.First)+Along(run.Last))/2)) + hoodCost*float64(s.Hood.Depth)
				if s.Mask != (model.Mask{}) {
					cost += maskCost
				}
				out = append(out, candidate{s, run, cost})
			}
		}
	}
	return undominated(out), tried, ""
}

// What counts against a placing beside each position that it glimpses but is not
// sure of: people who walk straight at it, a millimetre of hood, and tape.
// Common practice, no source.
const (
	approachCost = 3
	hoodCost     = 0.01
	maskCost     = 0.1
)

// undominated drops what another placing does at least as well and as cheaply,
// the first of equals staying; no answer gets worse by that.
func undominated(cs []candidate) []candidate {
	best := map[Span]int{}
	var order []Span
	for i := range cs {
		k, ok := best[cs[i].run]
		if !ok {
			order = append(order, cs[i].run)
		}
		if !ok || cs[i].cost < cs[k].cost {
			best[cs[i].run] = i
		}
	}
	var out []candidate
	for _, r := range order {
		out = append(out, cs[best[r]])
	}
	return out
}

// farOut is how many steps out over the floor from the first and last nose line
// nobody may be glimpsed when no traffic is to be seen: 0.75 m or so, past which
// people cross. Common practice, no source.
const farOut = 3

// sawTraffic says whether an eye sees traffic: what the job lists, or anybody
// far out over the floors.
func (w *watcher) sawTraffic(e *Eye, traffic []Solid) bool {
	for i := range traffic {
		if seen, whole := w.l.measure(w.st, e, &traffic[i]); whole > 0 && w.may(view{seen / whole, seen}) {
			return true
		}
	}
	for c := range w.combos() {
		if w.may(w.view(e, c, -farOut)) || w.may(w.view(e, c, float64(w.st.Risers-1)+farOut)) {
			return true
		}
	}
	return false
}

// mounts returns unaimed sensors at every place of the grid.
func (st *Stair) mounts(wish model.SensorWish, class string) []model.Sensor {
	list := wish.Mounts
	if len(list) == 0 {
		list = []model.Mount{model.RailLeft, model.RailRight}
	}
	n := st.Risers
	var out []model.Sensor
	for _, m := range list {
		switch {
		case m.AtRail():
			for i := -placesPerStep; i <= (n)*placesPerStep; i++ {
				out = append(out, model.Sensor{Class: class, Mount: m, Along: float64(i) / placesPerStep, Below: 10})
			}
		case m.OnWall():
			for i := -placesPerStep; i <= n*placesPerStep; i++ {
				for _, h := range []model.Length{400, 900} {
					out = append(out, model.Sensor{Class: class, Mount: m, Along: float64(i) / placesPerStep, Below: h})
				}
			}
		case m == model.OnCeiling:
			for i := 0; i <= n; i++ {
				foot, _ := st.Foot(&Line{side: 0.5}, nil, Along(i))
				out = append(out, model.Sensor{Class: class, Mount: m, At: model.Point{X: model.Length(foot[0]), Y: model.Length(foot[1]), Z: model.Length(foot[2] + st.t.Practised("wall_high").Value)}, Tilt: 60 * model.Degree})
			}
		default: // posts and boxes stand at the ends of the flight
			for _, side := range []int{0, 1} {
				for _, at := range []float64{-0.5, float64(n - 1)} {
					for _, h := range []float64{500, 900} {
						p, _ := st.besideNoses(side, at, st.out)
						z := st.floor
						if at > 0 {
							z = p[2]
						}
						out = append(out, model.Sensor{Class: class, Mount: m, At: model.Point{X: model.Length(p[0]), Y: model.Length(p[1]), Z: model.Length(z + h)}})
					}
				}
			}
		}
	}
	return out
}

// aims returns a sensor with each aim, hood and tape of the grid.
func (st *Stair) aims(s model.Sensor, wish model.SensorWish, c *model.SensorClass) []model.Sensor {
	yaws, tilts := []model.Angle{0}, []model.Angle{15, 30, 45}
	switch {
	case s.Mount == model.OnCeiling:
		tilts = []model.Angle{60, 90}
	case !s.Mount.Beside():
		yaws = []model.Angle{0, 45, -45, 90, -90, 180}
		tilts = []model.Angle{0, 20}
	}
	hoods := []model.Hood{{}}
	if wish.Bore > 0 {
		for _, half := range []model.Angle{40, 30, 24} {
			if d := (model.Hood{Bore: wish.Bore}).DepthFor(half*model.Degree, model.Length(c.LensMM.Value)); half < model.Angle(c.H.Value/2) {
				hoods = append(hoods, model.Hood{Bore: wish.Bore, Depth: model.Length(math.Round(float64(d)))})
			}
		}
	}
	masks := []model.Mask{{}}
	if wish.Longest > 0 && s.Mount.Beside() {
		// Tape at both sides: a sensor that is to say where somebody is glimpses as
		// little as may be beyond what it is sure of.
		for _, a := range []model.Angle{42, 37, 34} {
			masks = append(masks, model.Mask{Left: a * model.Degree, Right: a * model.Degree})
		}
	}
	if wish.NoHall && (s.Mount.Beside() && (s.Along < 4 || s.Along > float64(st.Risers-5))) {
		// tape towards the floor: to the sensor's right at the foot of a left side
		for _, a := range []model.Angle{30, 15, 0.1} {
			down := s.Along < 4
			if (s.Mount.Side() == model.Left) == down {
				masks = append(masks, model.Mask{Right: a * model.Degree})
			} else {
				masks = append(masks, model.Mask{Left: a * model.Degree})
			}
		}
	}
	var out []model.Sensor
	for _, y := range yaws {
		for _, t := range tilts {
			for _, h := range hoods {
				for _, m := range masks {
					a := s
					a.Yaw, a.Tilt, a.Hood, a.Mask = y*model.Degree, t*model.Degree, h, m
					out = append(out, a)
				}
			}
		}
	}
	return out
}
