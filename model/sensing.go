package model

import (
	"math"
	"slices"
)

// Sensing is the motion sensors of a stair, what moves and warms near it, and
// what is asked of where they sit. The zero value is no sensors. What they see
// is for package solver/sensing to say.
type Sensing struct {
	Sensors []Sensor     `json:"sensors,omitempty"`
	Wish    SensorWish   `json:"wish,omitzero"`
	Passers []Passer     `json:"passers,omitempty"`
	Warm    []WarmThing  `json:"warm,omitempty"`
	Own     SensorTables `json:"own,omitzero"` // this job's rows: one with the id of a shipped row stands in for it
	// Control is how the controller lights the steps; the zero value stands for
	// FirstControl.
	Control Control `json:"control,omitzero"`
}

// On says whether the job has sensors.
func (s Sensing) On() bool { return len(s.Sensors) > 0 }

// Sensor is one motion sensor: where its lens is and which way it looks.
//
// # Places along the flight
//
// Along counts steps: 0 at the nose line of riser 1, k at that of riser k+1, so
// that tread k lies between k-1 and k. Below 0 it runs on over the bottom floor
// and above N-1 over the top floor, a step being as long as the nearest going.
//
// # Aim
//
// With no yaw and no tilt a sensor at a rail or on a wall looks level across
// the stair, square to the walking line; any other looks level along y, up the
// flight. Yaw turns it about the vertical, anticlockwise seen from above; then
// Tilt turns it down, and 90° looks straight down.
type Sensor struct {
	ID    ID     `json:"id"`
	Name  string `json:"name"`
	Class string `json:"class"` // id of a sensor class
	Mount Mount  `json:"mount"`

	// Along and Below place a sensor at a rail or on a wall: Below is from the
	// rail's underside down to the lens; on a wall it is from the line of the
	// noses up to the lens.
	Along float64 `json:"along,omitempty"`
	Below Length  `json:"below,omitempty"`
	At    Point   `json:"at,omitzero"` // the lens of any other

	Yaw  Angle `json:"yaw,omitempty"`
	Tilt Angle `json:"tilt,omitempty"`
	Hood Hood  `json:"hood,omitzero"`
	Mask Mask  `json:"mask,omitzero"`

	// Removed says that the sensor was taken away. Its place is kept, so that
	// what is lost with it can be shown, and it be put back.
	Removed bool `json:"removed,omitempty"`
}

// Mount says what a sensor is fixed to.
type Mount string

// The mounts.
const (
	RailLeft  Mount = "rail left"  // under the handrail
	RailRight Mount = "rail right" //
	WallLeft  Mount = "wall left"  // on the wall or the outside of the flight, at a height of its own
	WallRight Mount = "wall right" //
	OnPost    Mount = "post"
	OnBox     Mount = "box"
	OnCeiling Mount = "ceiling"
)

// Mounts lists the mounts.
func Mounts() []Mount {
	return []Mount{RailLeft, RailRight, WallLeft, WallRight, OnPost, OnBox, OnCeiling}
}

// AtRail says whether the sensor hangs under a rail.
func (m Mount) AtRail() bool { return m == RailLeft || m == RailRight }

// OnWall says whether the sensor sits on a wall beside the flight.
func (m Mount) OnWall() bool { return m == WallLeft || m == WallRight }

// Beside says whether the sensor's place is given by Along and Below.
func (m Mount) Beside() bool { return m.AtRail() || m.OnWall() }

// Side returns Left or Right for a mount beside the flight, else "".
func (m Mount) Side() Edge {
	switch m {
	case RailLeft, WallLeft:
		return Left
	case RailRight, WallRight:
		return Right
	}
	return ""
}

// Hood is a round tube in front of the lens, square to it. The zero value is
// none.
type Hood struct {
	Bore  Length `json:"bore"`
	Depth Length `json:"depth"`
}

// Half returns half of the angle beyond which no part of a lens of so many
// millimetres is seen through the hood: atan((bore/2 + lens/2) / depth). It is
// 90° without a hood.
func (h Hood) Half(lens Length) Angle {
	if !(h.Depth > 0) {
		return 90 * Degree
	}
	return Angle(math.Atan(float64((h.Bore + lens) / 2 / h.Depth)))
}

// DepthFor returns the depth of a hood of this bore that leaves half an angle
// free, the inverse of Half; 0 for 90° and more.
func (h Hood) DepthFor(half Angle, lens Length) Length {
	if half >= 90*Degree-1e-9 {
		return 0
	}
	return (h.Bore + lens) / 2 / Length(math.Tan(float64(half)))
}

// Mask is tape on the lens: what lies further than the angle from the axis, to
// that side, is not seen. Left and right are as the sensor looks. 0 is no tape;
// a negative angle tapes past the axis.
type Mask struct {
	Left  Angle `json:"left,omitempty"`
	Right Angle `json:"right,omitempty"`
	Up    Angle `json:"up,omitempty"`
	Down  Angle `json:"down,omitempty"`
}

// Passer is somebody or something that moves near the stair without climbing
// it: a false trigger.
type Passer struct {
	ID   ID         `json:"id"`
	Name string     `json:"name"`
	Kind PasserKind `json:"kind"`
	Top  bool       `json:"top,omitempty"` // on the top floor; otherwise on the bottom floor
	// Path is walked from end to end. That of a door leaf is its hinge, then its
	// free edge shut, and its free edge open.
	Path   []Corner `json:"path"`
	Height Length   `json:"height,omitempty"` // 0: as usual for its kind
}

// PasserKind says who or what passes.
type PasserKind string

// The kinds of passer.
const (
	AdultPasses PasserKind = "adult"
	ChildPasses PasserKind = "child"
	PetPasses   PasserKind = "pet"
	DoorSwings  PasserKind = "door"
)

// PasserKinds lists the kinds of passer.
func PasserKinds() []PasserKind {
	return []PasserKind{AdultPasses, ChildPasses, PetPasses, DoorSwings}
}

// WarmThing is a heat source that may trigger a sensor: a box with its faces
// along the axes.
type WarmThing struct {
	ID   ID       `json:"id"`
	Name string   `json:"name"`
	Kind WarmKind `json:"kind"`
	Low  Point    `json:"low"` // its corner of least x, y and z
	High Point    `json:"high"`
}

// WarmKind says what warms.
type WarmKind string

// The kinds of warm thing.
const (
	Radiator WarmKind = "radiator"
	Vent     WarmKind = "vent"
	SunPatch WarmKind = "sun patch"
)

// WarmKinds lists the kinds of warm thing.
func WarmKinds() []WarmKind { return []WarmKind{Radiator, Vent, SunPatch} }

// SensorWish is what is asked of the places of sensors. The zero value asks for
// nothing but as few as do.
type SensorWish struct {
	Every   bool    `json:"every,omitempty"`   // every step is seen
	Overlap int     `json:"overlap,omitempty"` // steps that neighbours both see
	NoHall  bool    `json:"no_hall,omitempty"` // no traffic of hall and landing
	Longest int     `json:"longest,omitempty"` // positions that one sensor may be sure of, so that it says where somebody is; 0: any
	Most    int     `json:"most,omitempty"`    // sensors; 0: as many as it takes
	Class   string  `json:"class,omitempty"`   // of the sensors to place; empty: the first of the table
	Mounts  []Mount `json:"mounts,omitempty"`  // where they may hang; none: under the rails
	// Bore is that of the hoods to be had; 0: hoods are not used.
	Bore Length `json:"bore,omitempty"`
}

// Sensor returns the place in Sensors of the sensor called id, or -1.
func (s Sensing) Sensor(id ID) int {
	return slices.IndexFunc(s.Sensors, func(x Sensor) bool { return x.ID == id })
}

// clone returns a copy whose lists may be changed freely.
func (s Sensing) clone() Sensing {
	s.Sensors, s.Warm = slices.Clone(s.Sensors), slices.Clone(s.Warm)
	s.Wish.Mounts = slices.Clone(s.Wish.Mounts)
	s.Passers = slices.Clone(s.Passers)
	for i := range s.Passers {
		s.Passers[i].Path = slices.Clone(s.Passers[i].Path)
	}
	s.Own = s.Own.clone()
	return s
}
