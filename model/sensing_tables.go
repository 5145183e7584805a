package model

import (
	"fmt"
	"slices"
)

// SensorTables are the values behind sensors and those who walk past them. They
// ship with the program; a job may hold rows of its own.
type SensorTables struct {
	Classes  []SensorClass   `json:"classes,omitempty"`
	Bodies   []BodySize      `json:"bodies,omitempty"`
	Paces    []StairPace     `json:"paces,omitempty"`
	Practice []PracticeValue `json:"practice,omitempty"`
}

// SensorClass is a kind of passive infrared motion sensor, by what it does. A
// Rated of no value and no standing is not known.
type SensorClass struct {
	ID    string `json:"id"`
	Title string `json:"title"`

	H      Rated `json:"h_degrees"`          // field from side to side
	V      Rated `json:"v_degrees,omitzero"` // field from top to bottom; 0: a round cone of H
	RangeM Rated `json:"range_m"`
	LensMM Rated `json:"lens_mm"` // across the lens

	HoldLeast   Rated `json:"hold_least_s"` // how long its output stays on after a movement, seconds
	HoldMost    Rated `json:"hold_most_s"`  // the same, at its longest setting
	Block       Rated `json:"block_s"`      // blind after its output has gone off, seconds
	WarmUp      Rated `json:"warm_up_s"`    // not to be trusted after power comes on, seconds
	FalsePulses Rated `json:"false_pulses"` // most of them in that time
	Latency     Rated `json:"latency_s"`    // from movement to output, seconds
	// Retriggers says that a movement while the output is on keeps it on.
	Retriggers bool `json:"retriggers,omitempty"`

	VoltsLeast Rated `json:"volts_least,omitzero"` // supply
	VoltsMost  Rated `json:"volts_most,omitzero"`
	MicroAmps  Rated `json:"micro_amps,omitzero"` // it takes while waiting
	OutVolts   Rated `json:"out_volts,omitzero"`  // of its output when on
	Zones      Rated `json:"zones,omitzero"`      // that its lens is divided into
}

// BodySize is a walking body. Its solid is three upright elliptic cylinders on
// one another: legs to the crotch, trunk to the shoulder, head.
type BodySize struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Age   Age    `json:"age"`

	Stature   Rated `json:"stature"`     // mm, all of them
	Shoulder  Rated `json:"shoulder"`    // height of the shoulder
	Crotch    Rated `json:"crotch"`      // height of the crotch
	Breadth   Rated `json:"breadth"`     // across the shoulders
	Chest     Rated `json:"chest"`       // front to back
	Hip       Rated `json:"hip"`         // across the hips; the legs are as wide
	LegDeep   Rated `json:"leg_deep"`    // front to back, feet and knees together
	HeadWide  Rated `json:"head_wide"`   //
	HeadDeep  Rated `json:"head_deep"`   // front to back
	WallSpace Rated `json:"wall_space"`  // a shoulder's distance from a wall when hugging it
	KelvinOff Rated `json:"warmer_by_k"` // surface above a usual room
}

// Age is whose body or pace a row is.
type Age string

// The ages.
const (
	Child Age = "child"
	Adult Age = "adult"
	Older Age = "older"
)

// Ages lists the ages.
func Ages() []Age { return []Age{Child, Adult, Older} }

// StairPace is how fast somebody walks on stairs, in metres a second along the
// pitch line.
type StairPace struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Age    Age    `json:"age"`
	Up     Rated  `json:"up_mps"`
	Down   Rated  `json:"down_mps"`
	Spread Rated  `json:"spread_mps"` // one standard deviation
	Least  Rated  `json:"least_mps"`
	Most   Rated  `json:"most_mps"`
	Level  Rated  `json:"level_mps"` // on hall and landings
}

// Class returns the sensor class called id.
func (t SensorTables) Class(id string) (SensorClass, bool) {
	return row(t.Classes, id, func(r SensorClass) string { return r.ID })
}

// Body returns the body called id.
func (t SensorTables) Body(id string) (BodySize, bool) {
	return row(t.Bodies, id, func(r BodySize) string { return r.ID })
}

// Pace returns the pace called id.
func (t SensorTables) Pace(id string) (StairPace, bool) {
	return row(t.Paces, id, func(r StairPace) string { return r.ID })
}

// Practised returns the figure of practice called id, or the zero Rated.
func (t SensorTables) Practised(id string) Rated {
	r, _ := row(t.Practice, id, func(r PracticeValue) string { return r.ID })
	return r.Value
}

// With returns the tables with own's rows in them: a row whose id is there
// stands in for it, others are added.
func (t SensorTables) With(own SensorTables) SensorTables {
	t.Classes = mixed(t.Classes, own.Classes, func(r SensorClass) string { return r.ID })
	t.Bodies = mixed(t.Bodies, own.Bodies, func(r BodySize) string { return r.ID })
	t.Paces = mixed(t.Paces, own.Paces, func(r StairPace) string { return r.ID })
	t.Practice = mixed(t.Practice, own.Practice, func(r PracticeValue) string { return r.ID })
	return t
}

func (t SensorTables) clone() SensorTables {
	t.Classes, t.Bodies = slices.Clone(t.Classes), slices.Clone(t.Bodies)
	t.Paces, t.Practice = slices.Clone(t.Paces), slices.Clone(t.Practice)
	return t
}

// values lists the figures of a row, for those that judge them all alike.
func (r SensorClass) values() []Rated {
	return []Rated{r.H, r.V, r.RangeM, r.LensMM, r.HoldLeast, r.HoldMost, r.Block, r.WarmUp, r.FalsePulses, r.Latency,
		r.VoltsLeast, r.VoltsMost, r.MicroAmps, r.OutVolts, r.Zones}
}

func (r BodySize) values() []Rated {
	return []Rated{r.Stature, r.Shoulder, r.Crotch, r.Breadth, r.Chest, r.Hip, r.LegDeep, r.HeadWide, r.HeadDeep, r.WallSpace, r.KelvinOff}
}

func (r StairPace) values() []Rated {
	return []Rated{r.Up, r.Down, r.Spread, r.Least, r.Most, r.Level}
}

// Fault says what no solver could use in the row, or returns nothing.
func (r SensorClass) Fault() string {
	switch h, v := r.H.Value, r.V.Value; {
	case !(h > 0 && h < 180) || !(v >= 0 && v < 180):
		return fmt.Sprintf("a field of %g° by %g°; it must be more than 0 and less than 180° wide", h, v)
	case !(r.RangeM.Value > 0):
		return "it has no range"
	case r.HoldMost.Value < r.HoldLeast.Value:
		return fmt.Sprintf("its longest hold, %g s, is less than its shortest, %g s", r.HoldMost.Value, r.HoldLeast.Value)
	}
	return ""
}

// Fault says what no solver could use in the row, or returns nothing.
func (r BodySize) Fault() string {
	for _, v := range []Rated{r.Breadth, r.Chest, r.Hip, r.LegDeep, r.HeadWide, r.HeadDeep} {
		if !(v.Value > 0) {
			return "one of its widths is 0"
		}
	}
	if !(r.Crotch.Value > 0 && r.Crotch.Value < r.Shoulder.Value && r.Shoulder.Value < r.Stature.Value) {
		return "crotch, shoulder and stature must go up"
	}
	if !slices.Contains(Ages(), r.Age) {
		return fmt.Sprintf("its age is %q", shorten(string(r.Age)))
	}
	return ""
}

// Fault says what no solver could use in the row, or returns nothing.
func (r StairPace) Fault() string {
	switch {
	case !(r.Up.Value > 0 && r.Down.Value > 0 && r.Level.Value > 0):
		return "its paces must be more than 0"
	case !(r.Least.Value > 0 && r.Least.Value <= min(r.Up.Value, r.Down.Value) && r.Most.Value >= max(r.Up.Value, r.Down.Value)):
		return "up and down must lie between its least and its most"
	case !slices.Contains(Ages(), r.Age):
		return fmt.Sprintf("its age is %q", shorten(string(r.Age)))
	}
	return ""
}

// validate returns what no solver could read in a job's own rows.
func (t SensorTables) validate() []Finding {
	var out []Finding
	block := func(where, title, remedy string) {
		out = append(out, Finding{Rule: "job.sensing", Severity: Block, Where: Place{Field: "sensing.own." + where}, Title: title, Remedy: remedy})
	}
	check := func(where, fault string, values []Rated) {
		for _, v := range values {
			if !(v.Value >= 0 && v.Value <= maxRated) { // NaN fails too
				block(where, fmt.Sprintf("a value of the row %s is %g", where, v.Value), "give 0 or more")
				return
			}
		}
		if fault != "" {
			block(where, fmt.Sprintf("the row %s cannot be: %s", where, fault), "put it right, or remove the row")
		}
	}
	for _, r := range t.Classes {
		check("classes."+shorten(r.ID), r.Fault(), r.values())
	}
	for _, r := range t.Bodies {
		check("bodies."+shorten(r.ID), r.Fault(), r.values())
	}
	for _, r := range t.Paces {
		check("paces."+shorten(r.ID), r.Fault(), r.values())
	}
	for _, r := range t.Practice {
		check("practice."+shorten(r.ID), "", []Rated{r.Value})
	}
	return out
}
