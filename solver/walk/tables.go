package walk

import "risewright/model"

// Limits of the tables. A controller's core keeps its state in arrays of these
// sizes or smaller ones.
const (
	MaxBars    = 64
	MaxSensors = 16
	MaxScenes  = 8
)

// Tables is all that the controller knows of a stair: the rules for its sensors
// and bars, in whole numbers. Times are in ticks. Taking a sensor away gives
// other tables and the same code.
type Tables struct {
	Bars    uint8
	Sensors []Sensor // those that work, from the bottom up
	Scenes  []Scene

	TickMS uint16
	Dwell  uint8 // the fastest walker is on a position for at least so long
	Reach  uint8 // steps lit round a position where somebody may be

	Warm  uint16 // after power comes on, until sensors are trusted
	Still uint16
	Stuck uint16
	AllOn uint16
	Keep  uint16 // a window stays after its sensor went off
	Order uint16 // a sensor that was on within this time was the one before
	Run   uint16 // the whole flight stays lit for somebody who runs
	Hall  uint16 // two triggers of hall traffic lie further apart
	Late  uint16 // a movement is known after this time at the latest
	Part  uint16 // sensors that saw the same movement go off within this time

	TwoTriggers bool // the sensor of an end alone lights only dimly
	Daylight    bool // there is an input for it
	EndFirst    uint8
	FarEnd      uint8

	// Brightness goes by index into Gamma, which gives the share of full, of 255.
	Gamma      [256]uint8
	Dim, Full  uint8              // indices
	Rise, Fall uint16             // of an index a tick, of 256
	Clip       [MaxBars + 1]uint8 // highest index while so many bars are more than dim
	Walk       Colour             // of light for those who walk
	Revert     uint32             // seasonal scenes end after; 0: never
}

// Sensor is the row of a sensor in the tables.
type Sensor struct {
	Input   uint8
	Sure    [2]uint8 // first and last position; none: 1, 0
	May     [2]uint8
	End     uint8       // EndBottom, EndTop or both
	Window  [3][2]uint8 // first and last position lit, by Came
	Quiet   uint16      // off for so long means that nobody moved, the latency ago
	Trail   uint16      // after the next one came on, this one lights nothing for so long
	RunUp   uint16      // somebody who comes from the one below in less than this runs
	RunDown uint16      // the same, from the one above
}

// The ends of a flight that a sensor looks at.
const (
	EndBottom = 1
	EndTop    = 2
)

// Came says from where somebody came into the zone of a sensor, by the sensor
// that was on before.
type Came uint8

// From where somebody came.
const (
	CameUnknown Came = iota
	CameBelow        // they go up
	CameAbove        // they go down
)

// String returns the word for where somebody came from.
func (c Came) String() string { return [...]string{"not known", "from below", "from above"}[c] }

// Colour is what the channels of a bar are given, 0 to 255.
type Colour struct{ R, G, B, W uint8 }

// Scene is the row of a scene in the tables.
type Scene struct {
	Kind    SceneKind
	Index   uint8 // brightness
	Pattern Pattern
	Period  uint32   // ticks; 0 stands still
	Colours []Colour // one to model.MaxColours
}

// SceneKind is what a scene does.
type SceneKind uint8

// The kinds of scene.
const (
	SceneWalk SceneKind = iota
	SceneSteady
	SceneNight
	SceneSeasonal
	SceneOff
)

// Pattern is how the colours of a seasonal scene change.
type Pattern uint8

// The patterns.
const (
	PatternStill Pattern = iota
	PatternAlternate
	PatternChase
	PatternTwinkle
)

// KindOf returns the table's kind for the job's.
func KindOf(k model.SceneKind) SceneKind {
	switch k.Of() {
	case model.WalkThrough:
		return SceneWalk
	case model.NightLight:
		return SceneNight
	case model.Seasonal:
		return SceneSeasonal
	case model.SceneOff:
		return SceneOff
	}
	return SceneSteady
}

func patternOf(p model.ScenePattern) Pattern {
	switch p.Of() {
	case model.Alternate:
		return PatternAlternate
	case model.Chase:
		return PatternChase
	case model.Twinkle:
		return PatternTwinkle
	}
	return PatternStill
}

// EntryLatency is how long after somebody first moves in a position that a
// sensor is sure of the steps round them are lit, in seconds, at the latest: its
// latency, and two ticks to read the inputs and to set the bars.
func (t *Tables) EntryLatency() float64 { return t.Seconds(uint32(t.Late)) }

// Seconds returns a time in ticks as seconds.
func (t *Tables) Seconds(ticks uint32) float64 { return float64(ticks) * float64(t.TickMS) / 1000 }

// Lit says whether an index is light enough to count as lit.
func (t *Tables) Lit(index uint8) bool { return index >= t.Dim }
