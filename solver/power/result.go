package power

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/bars"
)

// Result is the power side of the light bars. It is read-only once returned.
type Result struct {
	Strip  model.StripType
	Supply model.SupplyClass // the zero class when none is chosen

	Bars   []BarPower
	Cables []Cable
	Scenes []SceneLoad
	// Worst is the index in Scenes of the scene with the lowest volts among
	// those that the supply must carry, or -1.
	Worst int

	Load    SupplyLoad
	Data    DataPlan
	Budgets []Budget // of every controller class, the chosen one first

	Limit    float64 // volts that may be lost
	Findings []model.Finding
}

// BarPower is one bar in the worst scene for it.
type BarPower struct {
	Step   int
	Supply int       // which supply feeds it, from 0
	Volts  []float64 // at each pixel from left to right, the lowest of any scene to be carried
	Lowest float64
	Amps   float64 // the most of any scene to be carried
	Feed   model.FeedEnds
	Leads  []int // indices in Cables of what feeds it
}

// CableKind says what a cable does.
type CableKind string

// The kinds of cable.
const (
	Feeder  CableKind = "feeder"   // box to the bus
	BusRun  CableKind = "bus"      // from tap to tap along the cavity
	HomeRun CableKind = "home run" // box to a bar's tap
	Lead    CableKind = "lead"     // tap to a bar
	LinkRun CableKind = "link"     // a further pair between two taps
)

// Cable is one pair of wires. From and To name its ends, such as "box", "tap 7"
// and "B07 near end".
type Cable struct {
	Kind     CableKind
	From, To string
	Step     int // the bar it leads to; of a bus run the upper one
	Supply   int
	Wire     model.WireSize
	Path     []mgl64.Vec3 // where it runs; the slack is not in it
	Length   float64      // one way, with slack, mm
	Ohm      float64      // out and back, at the conductors' temperature

	Amps      float64 // the most of any scene to be carried
	Drop      float64 // volts lost in it then
	WattMetre float64 // heat per metre, both conductors
	Watts     float64
	Fuse      float64 // A, at its From end; 0 where the fuse before it guards it
	Guard     float64 // the fuse that guards it, its own or the one before; 0: none found
}

// Name returns what a finding calls the cable.
func (c *Cable) Name() string { return c.From + " to " + c.To }

// SceneLoad is the load of one scene.
type SceneLoad struct {
	Scene  model.Scene
	Amps   float64   // of all supplies, at the supply's volts
	Watts  float64   // at the bars
	Each   []float64 // by supply
	Lowest float64   // volts at the worst pixel
	Step   int       // its bar
	Drop   float64   // from the supply's volts
	Shift  bool      // below the volts at which the colour holds
	Dim    bool      // below the volts at which pixels give full light
}

// SupplyLoad compares the supply with what it may be asked for.
type SupplyLoad struct {
	Count  int
	Margin float64 // share used for long loads
	Rated  float64 // A of one supply
	Usable float64 // A of one supply for long loads
	// Full and Idle are of the supply that has most of the bars.
	Full, Idle         float64
	FullAll, IdleAll   float64 // of all bars
	Over               float64 // by how much Full exceeds Rated; below 0 it does not
	Cap                float64 // brightness that keeps Full within Usable, 0 to 1
	Needed             int     // supplies of the class that carry full white with the margin
	IdleWatts          float64 // taken from the mains with nothing lit
	IdleKWh, YearlyKWh float64 // a year: idle alone, and with the scenes' hours
}

// DataPlan is how data reaches every bar.
type DataPlan struct {
	Way     model.DataWay
	Bars    []BarData // in the order of the data
	Longest float64   // pixel to pixel or box to pixel, mm
	At      int       // the index in Bars of the bar it leads to
	// Shift says that the controller's level is too low for the strip, so that
	// a level shifter goes in front of it.
	Shift     bool
	Resistor  model.Rated // ohm, in each line at the controller's end
	Capacitor model.Rated // µF, across the supply at each feed
	Lines     int
}

// BarData is the data of one bar.
type BarData struct {
	Step    int
	From    string  // "box" or a bar's name
	Jump    float64 // how far the data comes, mm
	InLeft  bool    // data enters at the left end
	OutLeft bool    // and leaves at the left end
}

// Side returns "left" or "right".
func side(left bool) string {
	if left {
		return "left"
	}
	return "right"
}

// Arrow returns the direction of data along a bar as seen walking up.
func (d *BarData) Arrow() string {
	if d.InLeft {
		return "left to right"
	}
	return "right to left"
}

// solver holds what the parts of a solve share.
type solver struct {
	job *model.Job
	l   *model.Lighting
	t   *model.LightTables
	in  *bars.Result
	out *Result
	f   model.Format

	net     Network
	cableAt []int // by cable: its run in net, or -1
	groups  int
	group   []int   // by bar
	pixels  [][]int // by bar: indices in net.Loads from left to right
	tapped  []bool  // by bar: it has a tap
}

func (s *solver) find(sev model.Severity, rule, field, title, detail, remedy string, st model.Standing) {
	s.out.Findings = append(s.out.Findings, model.Finding{Rule: rule, Severity: sev, Where: model.Place{Field: "lighting." + field},
		Title: title, Detail: detail, Remedy: remedy, Standing: st})
}

func (s *solver) at(step int) {
	s.out.Findings[len(s.out.Findings)-1].Where.Step = step
}

func (s *solver) mm(v float64) string { return s.f.Length(model.Length(v)) }

// weakest returns the standing that a figure made of several has.
func weakest(values ...model.Rated) model.Standing {
	rank := map[model.Standing]int{model.Yours: 1, model.Seen: 1, model.Transcription: 2, model.Secondary: 3, model.Memory: 4}
	out := model.Seen
	for _, v := range values {
		if rank[v.Standing] > rank[out] {
			out = v.Standing
		}
	}
	return out
}

// Solve computes the power side of the bars in.
func Solve(job model.Job, l model.Lighting, t model.LightTables, in *bars.Result) *Result {
	t = t.With(l.Own)
	s := &solver{job: &job, l: &l, t: &t, in: in, out: &Result{Worst: -1}, f: job.Format()}
	if !l.On() || in == nil {
		return s.out
	}
	s.out.Strip = in.Strip
	s.supply()
	s.wire()
	s.volts()
	s.load()
	s.fuses()
	s.data()
	s.budget()
	return s.out
}

// pixelAmps returns what a pixel draws when its channels that are on are at a
// level.
func (s *solver) pixelAmps(sc model.Scene) float64 {
	full, idle := s.out.Strip.FullAmps(), math.Min(s.out.Strip.IdleMA.Value/1000, s.out.Strip.FullAmps())
	return idle + s.share(sc)*(full-idle)
}

// share returns the brightness of a scene as a share of full white, with the
// firmware's cap.
func (s *solver) share(sc model.Scene) float64 {
	b := math.Min(1, math.Max(0, sc.Level))
	b *= sc.Share(s.out.Strip.Channels)
	if s.l.Cap > 0 {
		b = math.Min(b, s.l.Cap)
	}
	if math.IsNaN(b) {
		return 0
	}
	return b
}

func (s *solver) idleAmps() float64 {
	return math.Min(s.out.Strip.IdleMA.Value/1000, s.out.Strip.FullAmps())
}
