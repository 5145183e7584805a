package walk

import (
	"fmt"
	"math"
	"sort"

	"risewright/model"
)

// Figures of the rules that nobody sets: common practice, no source.
const (
	orderS   = 4.0 // seconds from one sensor to its neighbour that are still one walk
	runHoldS = 5.0 // seconds the whole flight stays lit for a runner
	slowPace = 1.0 // steps a second of somebody slow, who leaves a zone
	noScenes = 5   // bars at full that may be lit together, where no scene says how many
)

// most16 is the longest time in ticks that the tables hold.
const most16 = 60000

// Make makes the tables from the zones of the sensors, in the order of the
// controller's inputs, and what is chosen of rules and bars. Settings that are
// all zero are the first ones. The error says what cannot be put into tables.
func Make(zones []Zone, c model.Control, light Light) (*Tables, error) {
	if c == (model.Control{}) {
		c = model.FirstControl()
	}
	if light.Bars < 2 || light.Bars > MaxBars {
		return nil, fmt.Errorf("the flight has %d light bars; the controller's tables hold 2 to %d", light.Bars, MaxBars)
	}
	if len(zones) > MaxSensors {
		return nil, fmt.Errorf("there are %d sensors; the controller has inputs for %d", len(zones), MaxSensors)
	}
	for _, f := range model.ControlFacts() {
		if v := f.Get(&c); !(v >= f.Least && v <= f.Most) {
			return nil, fmt.Errorf("the controller's setting %q is %g; give %g to %g", f.Title, v, f.Least, f.Most)
		}
	}
	m := &maker{zones: zones, c: c, n: light.Bars, light: light}
	t := &Tables{Bars: uint8(light.Bars), TickMS: uint16(math.Round(c.TickMS)), TwoTriggers: c.Hall, Daylight: c.Daylight,
		EndFirst: uint8(min(c.EndFirst, light.Bars)), FarEnd: uint8(min(c.FarEnd, light.Bars))}
	m.t, m.tick = t, math.Round(c.TickMS)/1000
	latency, warm := c.Latency, 0.0
	short, long := math.Inf(1), 0.0 // holds
	for i := range zones {
		if !zones[i].Removed {
			latency, warm = max(latency, zones[i].Latency), max(warm, zones[i].WarmUp)
			short, long = min(short, zones[i].Hold), max(long, zones[i].Hold)
		}
	}
	t.Dwell = uint8(min(255, max(2, math.Floor(1/c.Fastest/m.tick))))
	t.Reach = uint8(min(float64(light.Bars), 2+math.Floor((latency+2*m.tick)*c.Fastest)))
	for _, x := range []struct {
		to   *uint16
		s    float64
		what string
	}{
		{&t.Warm, warm, "the sensors' warming up"}, {&t.Still, c.Still, "the standing-still time"}, {&t.Stuck, c.Stuck, "the time of a stuck sensor"},
		{&t.AllOn, c.AllOn, "the time the whole flight stays lit"}, {&t.Keep, c.Hold, "the hold"}, {&t.Order, orderS, "the order of triggers"},
		{&t.Run, runHoldS, "the light for a runner"}, {&t.Hall, c.HallWithin, "the time between two triggers"}, {&t.Late, latency + 2*m.tick, "the latency"},
		{&t.Part, latency + 2*m.tick + max(0, long-short), "the hold of the sensors"},
	} {
		v, err := m.ticks(x.s, x.what)
		if err != nil {
			return nil, err
		}
		*x.to = v
	}
	t.Keep = max(t.Keep, 1) // so that a sensor that is on has its window
	t.Revert = uint32(math.Ceil(c.Revert / m.tick))
	if err := m.levels(); err != nil {
		return nil, err
	}
	if err := m.scenes(); err != nil {
		return nil, err
	}
	return t, m.sensors(latency)
}

// maker makes tables.
type maker struct {
	zones []Zone
	c     model.Control
	n     int
	light Light
	tick  float64 // seconds
	t     *Tables
}

// ticks returns a time in whole ticks, rounded up.
func (m *maker) ticks(s float64, what string) (uint16, error) {
	v := math.Ceil(s/m.tick - 1e-9)
	if !(v >= 0) || v > most16 {
		return 0, fmt.Errorf("%s, %g s, does not fit the tables at %g ms a tick; choose a shorter time or a longer tick", what, s, m.tick*1000)
	}
	return uint16(v), nil
}

// levels fills in what has to do with brightness.
func (m *maker) levels() error {
	t := m.t
	most := 1.0
	if m.light.Cap > 0 {
		most = min(1, m.light.Cap)
	}
	full, budget := m.c.Level, m.c.Most
	peak := 0.0
	for _, s := range m.light.Scenes {
		if s.Shown || s.Kind == model.SceneOff {
			continue
		}
		bars := m.n
		if s.Bars > 0 {
			bars = min(s.Bars, m.n)
		}
		if m.c.Most == 0 {
			budget = max(budget, float64(bars)*min(s.Level, most))
		}
		if s.Kind == model.WalkThrough && s.Level > 0 {
			full = min(full, s.Level) // what the supply was reckoned for
		}
		peak = max(peak, s.Level)
	}
	if budget == 0 {
		budget = noScenes * full
	}
	full = min(full, most)
	peak = min(max(peak, full), most)
	top := uint32(max(1, math.Round(255*peak)))
	for i := range uint32(256) {
		t.Gamma[i] = uint8((top*i*i + 255*255 - 1) / (255 * 255)) // rounded up: no light above 0 is lost
	}
	t.Full = m.index(full)
	t.Dim = min(m.index(min(m.c.Dim, full)), t.Full)
	sum := uint32(math.Round(255 * budget))
	dim := uint32(t.Gamma[t.Dim])
	if uint32(m.n)*dim > sum {
		return fmt.Errorf("%d bars at the dim level of %g take more than the %g bars at full that may be lit together; lower the dim level, or let more be lit", m.n, m.c.Dim, budget)
	}
	for lit := range m.n + 1 {
		i := 255
		for i > int(t.Dim) && uint32(lit)*uint32(t.Gamma[i])+uint32(m.n-lit)*dim > sum {
			i--
		}
		t.Clip[lit] = uint8(i)
	}
	step := func(s float64) uint16 { // at least so much a tick that the fade is over in time
		span := float64(t.Full) * 256
		return uint16(min(65535, max(1, math.Ceil(span/max(1, math.Floor(s/m.tick))))))
	}
	t.Rise, t.Fall = step(m.c.Rise), step(m.c.Fall)
	return nil
}

// index returns the least index that gives a share of full.
func (m *maker) index(share float64) uint8 {
	want := uint8(min(255, max(1, math.Round(255*share))))
	return uint8(min(255, sort.Search(256, func(i int) bool { return m.t.Gamma[i] >= want })))
}

// scenes fills in the scenes: those of the job that are not only shown, with a
// walk-through first and off among them.
func (m *maker) scenes() error {
	t := m.t
	t.Walk = Colour{255, 255, 255, 255}
	var off, walk bool
	add := func(s model.Scene) {
		row := Scene{Kind: KindOf(s.Kind), Pattern: patternOf(s.Pattern), Period: uint32(math.Round(s.Period / m.tick))}
		if row.Kind != SceneOff {
			row.Index = m.index(s.Level)
		}
		for _, c := range s.Colours {
			if row.Colours = append(row.Colours, colourOf(c)); len(row.Colours) == model.MaxColours {
				break
			}
		}
		if len(row.Colours) == 0 {
			row.Colours = []Colour{whiteOf(s.Channels)}
		}
		if row.Kind == SceneWalk && !walk {
			walk, t.Walk = true, row.Colours[0]
		}
		off = off || row.Kind == SceneOff
		t.Scenes = append(t.Scenes, row)
	}
	for _, s := range m.light.Scenes {
		if !s.Shown {
			add(s)
		}
	}
	if !walk {
		rest := t.Scenes
		t.Scenes = nil
		add(model.Scene{Kind: model.WalkThrough, Level: m.c.Level})
		t.Scenes = append(t.Scenes, rest...)
	}
	if !off {
		add(model.Scene{Kind: model.SceneOff})
	}
	// The walk-through comes first: power comes on with it.
	sort.SliceStable(t.Scenes, func(i, k int) bool { return t.Scenes[i].Kind == SceneWalk && t.Scenes[k].Kind != SceneWalk })
	if len(t.Scenes) > MaxScenes {
		return fmt.Errorf("there are %d scenes with walk-through and off among them; the button steps through %d at most", len(t.Scenes), MaxScenes)
	}
	return nil
}

// colourOf returns a colour of the tables; one without light is white.
func colourOf(c model.Colour) Colour {
	out := Colour{uint8(c.Red), uint8(c.Green), uint8(c.Blue), uint8(c.White)}
	if out == (Colour{}) {
		return whiteOf(0)
	}
	return out
}

// whiteOf returns white from so many channels; 0 means all.
func whiteOf(channels int) Colour {
	switch channels {
	case 1:
		return Colour{W: 255}
	case 3:
		return Colour{255, 255, 255, 0}
	}
	return Colour{255, 255, 255, 255}
}
