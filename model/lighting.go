package model

import (
	"fmt"
	"slices"
	"strings"
)

// Lighting is the light bars under the noses and what feeds them: what the
// user chose. The zero value is no lighting. Everything in it is judged by
// packages solver/bars and solver/power; Validate refuses only what no solver
// could read.
type Lighting struct {
	Strip string `json:"strip,omitempty"` // id of a strip type; empty: no lighting

	// How a bar lies under its nose.
	Setback      Length `json:"setback,omitempty"`       // nose to the front of the bar
	EndClearance Length `json:"end_clearance,omitempty"` // left free at each end of a bar
	BarWidth     Length `json:"bar_width,omitempty"`     // of the base strip, fore and aft
	BarHeight    Length `json:"bar_height,omitempty"`    // base strip, LEDs and diffuser together
	Lip          Length `json:"lip,omitempty"`           // hangs below the bar in front of it, against glare
	Groove       Length `json:"groove,omitempty"`        // let into the tread's underside
	Cove         Length `json:"cove,omitempty"`          // moulding in the corner of nose and riser, fore and aft
	NotchWidth   Length `json:"notch_width,omitempty"`   // of the way out for the wires; the bore of a hole
	NotchHeight  Length `json:"notch_height,omitempty"`

	// Where the wires run.
	Cavity Cavity   `json:"cavity,omitempty"`
	Box    Point    `json:"box,omitzero"`      // supply and controller
	Slack  Length   `json:"slack,omitempty"`   // added to every run for its two ends
	Trunk  Trunk    `json:"trunk,omitempty"`   // bus or home runs
	Feed   FeedEnds `json:"feed,omitempty"`    // where a bar is fed
	Data   DataWay  `json:"data,omitempty"`    // how data goes from bar to bar
	Enters []ID     `json:"enters,omitempty"`  // steps where a cable from the box joins the bus; none: the nearest
	Links  []Link   `json:"links,omitempty"`   // further wires between the taps of two bars
	Order  []ID     `json:"order,omitempty"`   // steps in the order of the data chain; none: from the box
	Bars   []BarOwn `json:"bars,omitempty"`    // what is different on single bars
	Wires  WirePick `json:"wires,omitzero"`    // sizes, by id
	Warmth float64  `json:"celsius,omitempty"` // of the conductors, in degrees Celsius
	// Drop is the share of the supply's volts that may be lost on the way to
	// the worst pixel; 0 means the usual one of the table.
	Drop float64 `json:"drop,omitempty"`

	Scenes   []Scene `json:"scenes,omitempty"`
	Supply   string  `json:"supply,omitempty"`   // id of a supply class; empty: none chosen
	Supplies int     `json:"supplies,omitempty"` // how many share the bars; 0 means one
	// Cap is the brightness that firmware never exceeds, 0 to 1; 0 means none.
	Cap float64 `json:"cap,omitempty"`
	// White is the colour temperature of the strip's white, in kelvin; 0 means
	// UsualWhite. Only the colours shown on screen follow from it.
	White float64 `json:"white_kelvin,omitempty"`

	Controller string  `json:"controller,omitempty"` // id of a controller class
	FrameRate  float64 `json:"frame_rate,omitempty"` // wished frames a second
	SampleMS   float64 `json:"sample_ms,omitempty"`  // longest time between two looks at the sensors
	Sensors    int     `json:"sensors,omitempty"`    // inputs kept for them while none is placed
	// BarAtATime drives one bar after another, each on its own line, from one
	// bar's buffer. OneColour says every pixel of a bar shows the same.
	BarAtATime bool `json:"bar_at_a_time,omitempty"`
	OneColour  bool `json:"one_colour,omitempty"`

	EyeHeight   Length `json:"eye_height,omitempty"`   // above the new bottom floor
	EyeDistance Length `json:"eye_distance,omitempty"` // in front of the first nose

	// Own are this job's rows: one with the id of a shipped row stands in for it.
	Own LightTables `json:"own,omitzero"`
}

// Point is a place in the stair.
type Point struct {
	X Length `json:"x"`
	Y Length `json:"y"`
	Z Length `json:"z"`
}

// Cavity says where the wires climb. The zero value counts as CavityLeft.
type Cavity string

// The cavities.
const (
	CavityLeft  Cavity = "left"  // rebate behind a removable skirt or cap at the left
	CavityRight Cavity = "right" // the same at the right
	CavityUnder Cavity = "under" // the room under the stair, through the risers
)

// Trunk says how power reaches the bars. The zero value counts as Bus.
type Trunk string

// The ways of power.
const (
	Bus      Trunk = "bus"       // one pair along the cavity, tapped at every bar
	HomeRuns Trunk = "home runs" // a pair from the box to every bar
)

// FeedEnds says where a bar takes its power. The zero value counts as FeedOne.
type FeedEnds string

// The feeds of a bar. The first end is the one at the cavity.
const (
	FeedOne    FeedEnds = "one end"
	FeedBoth   FeedEnds = "both ends"
	FeedMiddle FeedEnds = "middle"
)

// Points returns how many places of a bar a feed solders to.
func (f FeedEnds) Points() int {
	if f == FeedBoth {
		return 2
	}
	return 1
}

// DataWay says how data goes from bar to bar. The zero value counts as
// DataReturn.
type DataWay string

// The ways of data.
const (
	// DataReturn enters every bar at the cavity and comes back along it.
	DataReturn DataWay = "chain with return"
	// DataSerpentine enters one bar at the cavity and the next at its far end.
	DataSerpentine DataWay = "serpentine"
	// DataLines gives every bar a line of its own from the box.
	DataLines DataWay = "line per bar"
)

// Link is a further pair of wires of the bus between the taps of two bars.
type Link struct {
	From ID `json:"from"` // steps
	To   ID `json:"to"`
}

// BarOwn is what is different on one bar. Nil values change nothing.
type BarOwn struct {
	Step   ID       `json:"step"`
	Length Length   `json:"length,omitempty"` // of the base strip
	Pixels int      `json:"pixels,omitempty"`
	Feed   FeedEnds `json:"feed,omitempty"`
}

// WirePick names wire sizes by id.
type WirePick struct {
	Feeder string `json:"feeder,omitempty"` // box to the bus
	Bus    string `json:"bus,omitempty"`    // along the cavity; also a home run
	Lead   string `json:"lead,omitempty"`   // from the bus into a bar
}

// On says whether the job has lighting.
func (l Lighting) On() bool { return l.Strip != "" }

// FirstLighting returns the lighting that a job is first given: bars of the
// first strip type in t, wires and box at the left, box at the foot of the
// flight. Sizes and scenes are common practice, no source; the user changes
// them.
func FirstLighting(j Job, t LightTables) Lighting {
	l := Lighting{
		Setback: 5, EndClearance: 15, BarWidth: 10, BarHeight: 15, NotchWidth: 8, NotchHeight: 12,
		Cavity: CavityLeft, Slack: 150, Trunk: Bus, Feed: FeedOne, Data: DataReturn, Warmth: 30,
		Scenes:    firstScenes(),
		FrameRate: 40, SampleMS: 50, Sensors: 4, EyeHeight: 1600, EyeDistance: 1500,
	}
	if len(t.Strips) > 0 {
		l.Strip = t.Strips[0].ID
	}
	if len(t.Supplies) > 0 {
		l.Supply = t.Supplies[0].ID
	}
	if len(t.Controllers) > 0 {
		l.Controller = t.Controllers[0].ID
	}
	pick := func(id string) string {
		if _, ok := t.Wire(id); ok {
			return id
		}
		return ""
	}
	if j.Units == Imperial {
		// The same to the nearest size on an inch rule.
		l.Setback, l.EndClearance, l.BarWidth, l.BarHeight = Inch/4, 5*Inch/8, 3*Inch/8, 5*Inch/8
		l.NotchWidth, l.NotchHeight, l.Slack, l.EyeHeight, l.EyeDistance = 5*Inch/16, Inch/2, 6*Inch, 63*Inch, 60*Inch
		l.Wires = WirePick{pick("awg12"), pick("awg12"), pick("awg18")}
	} else {
		l.Wires = WirePick{pick("mm2.5"), pick("mm2.5"), pick("mm0.75")}
	}
	if len(j.Flight.Steps) > 0 {
		s := &j.Flight.Steps[0]
		if i := s.FrontLeft(); i >= 0 && i < len(s.Corners) {
			l.Box = Point{s.Corners[i].X, s.Corners[i].Y - 500, 300}
			if j.Units == Imperial {
				l.Box = Point{s.Corners[i].X, s.Corners[i].Y - 20*Inch, 12 * Inch}
			}
		}
	}
	return l
}

// Validate returns what no solver could read: values that are no numbers, and
// lists or texts without bound. Whether a bar fits or a supply carries it is
// for the solver to say.
func (l Lighting) Validate() []Finding {
	var out []Finding
	block := func(field, title, remedy string) {
		out = append(out, Finding{Rule: "job.lighting", Severity: Block, Where: Place{Field: "lighting." + field}, Title: title, Remedy: remedy})
	}
	for _, v := range []struct {
		field string
		v     Length
	}{
		{"setback", l.Setback}, {"end_clearance", l.EndClearance}, {"bar_width", l.BarWidth}, {"bar_height", l.BarHeight},
		{"lip", l.Lip}, {"groove", l.Groove}, {"cove", l.Cove}, {"notch_width", l.NotchWidth}, {"notch_height", l.NotchHeight},
		{"box.x", l.Box.X}, {"box.y", l.Box.Y}, {"box.z", l.Box.Z}, {"slack", l.Slack},
		{"eye_height", l.EyeHeight}, {"eye_distance", l.EyeDistance},
	} {
		if bad(v.v) {
			block(v.field, fmt.Sprintf("the lighting's %s is %g mm", v.field, float64(v.v)), "give a length")
		}
	}
	for _, v := range []struct {
		field       string
		v           float64
		least, most float64
	}{
		{"celsius", l.Warmth, -200, 200}, {"drop", l.Drop, 0, 1}, {"cap", l.Cap, 0, 1},
		{"frame_rate", l.FrameRate, 0, 10_000}, {"sample_ms", l.SampleMS, 0, 1e6},
		{"supplies", float64(l.Supplies), 0, MaxRows}, {"sensors", float64(l.Sensors), 0, MaxRows},
	} {
		if !(v.v >= v.least && v.v <= v.most) { // not a number fails too
			block(v.field, fmt.Sprintf("the lighting's %s is %g", v.field, v.v), fmt.Sprintf("give %g to %g", v.least, v.most))
		}
	}
	if l.White != 0 && !(l.White >= LeastWhite && l.White <= MostWhite) {
		block("white_kelvin", fmt.Sprintf("the strip's white is %g K", l.White), fmt.Sprintf("give %d to %d K, or nothing for %d", LeastWhite, MostWhite, UsualWhite))
	}
	for _, w := range []struct {
		field, word string
		known       []string
	}{
		{"cavity", string(l.Cavity), []string{"", string(CavityLeft), string(CavityRight), string(CavityUnder)}},
		{"trunk", string(l.Trunk), []string{"", string(Bus), string(HomeRuns)}},
		{"feed", string(l.Feed), feedWords()},
		{"data", string(l.Data), []string{"", string(DataReturn), string(DataSerpentine), string(DataLines)}},
	} {
		if !slices.Contains(w.known, w.word) {
			block(w.field, fmt.Sprintf("the lighting's %s is %q", w.field, shorten(w.word)), "write one of: "+strings.Join(w.known[1:], ", "))
		}
	}
	for i, s := range l.Scenes {
		if field, title, remedy := s.fault(); field != "" {
			block(fmt.Sprintf("scenes.%d.%s", i, field), fmt.Sprintf("scene %d cannot be: %s", i+1, title), remedy)
		}
	}
	for _, n := range []struct {
		field string
		n     int
	}{{"enters", len(l.Enters)}, {"links", len(l.Links)}, {"order", len(l.Order)}, {"bars", len(l.Bars)}, {"scenes", len(l.Scenes)}} {
		if n.n > MaxRows {
			block(n.field, fmt.Sprintf("the lighting has %d %s", n.n, n.field), fmt.Sprintf("at most %d are kept", MaxRows))
		}
	}
	for i, b := range l.Bars {
		if bad(b.Length) || b.Pixels < 0 || b.Pixels > MaxPixels || !slices.Contains(feedWords(), string(b.Feed)) {
			block(fmt.Sprintf("bars.%d", i), "a bar's own length, number of pixels or feed cannot be", fmt.Sprintf("give a length, 0 to %d pixels, and one of: %s", MaxPixels, strings.Join(feedWords()[1:], ", ")))
		}
	}
	for _, w := range []struct{ field, text string }{
		{"strip", l.Strip}, {"supply", l.Supply}, {"controller", l.Controller},
		{"wires.feeder", l.Wires.Feeder}, {"wires.bus", l.Wires.Bus}, {"wires.lead", l.Wires.Lead},
	} {
		if len(w.text) > MaxText {
			block(w.field, "the lighting's "+w.field+" is too long a name", "shorten it")
		}
	}
	return append(out, l.Own.validate()...)
}

// feedWords lists the words for a bar's feed, the empty one first.
func feedWords() []string {
	return []string{"", string(FeedOne), string(FeedBoth), string(FeedMiddle)}
}

// Kelvin of a strip's white: what is sold as warm white, and the range in which
// its colour can be worked out. Common practice, no source.
const (
	UsualWhite = 3000
	LeastWhite = 1667
	MostWhite  = 25000
)

// MaxPixels is the most pixels of one bar: 10 m at 200 to the metre, twice the
// longest reel.
const MaxPixels = 2000

// SetLighting replaces what is chosen of the light bars.
type SetLighting struct{ Lighting Lighting }

// Apply implements Edit.
func (e SetLighting) Apply(j Job) (Job, error) {
	out := j
	out.Lighting = e.Lighting.clone()
	return kept(j, out)
}

// Label implements Edit.
func (e SetLighting) Label() string { return "change the light bars" }

// clone returns a copy whose lists may be changed freely.
func (l Lighting) clone() Lighting {
	l.Enters, l.Order = slices.Clone(l.Enters), slices.Clone(l.Order)
	l.Links, l.Bars, l.Scenes = slices.Clone(l.Links), slices.Clone(l.Bars), slices.Clone(l.Scenes)
	for i := range l.Scenes {
		l.Scenes[i].Colours = slices.Clone(l.Scenes[i].Colours)
	}
	o := &l.Own
	o.Strips, o.Wires, o.Fuses, o.Supplies = slices.Clone(o.Strips), slices.Clone(o.Wires), slices.Clone(o.Fuses), slices.Clone(o.Supplies)
	o.Controllers, o.Volts, o.Limited, o.Practice = slices.Clone(o.Controllers), slices.Clone(o.Volts), slices.Clone(o.Limited), slices.Clone(o.Practice)
	return l
}
