package model

import "fmt"

// Wishes are what the user asks of the order of fitting. The zero value asks
// for nothing: every buildable order is then weighed.
type Wishes struct {
	Left  SideWish `json:"left,omitzero"`
	Right SideWish `json:"right,omitzero"`

	// SameSides asks for the same treatment of both sides; otherwise left and
	// right may differ. It does not bind where one side is open.
	SameSides bool `json:"same_sides,omitempty"`
	// Usable asks that every evening every step can be walked on.
	Usable bool `json:"usable_every_evening,omitempty"`
	// LightBars says that a light bar goes under every nose.
	LightBars bool `json:"light_bars,omitempty"`
	// Coves says that a cove goes under every nose. A cove and a light bar
	// cannot share an overhang.
	Coves bool `json:"coves,omitempty"`
	// FirstTimer says that nobody on the job has scribed a skirt before.
	FirstTimer bool `json:"first_timer,omitempty"`
	// Back asks for one way in which treads meet the risers behind them; empty
	// leaves it to the solver.
	Back BackJoint `json:"back,omitempty"`
	// Order asks for one piece before another.
	Order []OrderHint `json:"order,omitempty"`

	// EveningHours are the working hours of an evening; 0 means 3.
	EveningHours float64 `json:"evening_hours,omitempty"`
	// SleepBelow says that the household sleeps at the foot of the stair.
	SleepBelow bool `json:"sleep_below,omitempty"`
}

// SideWish is what is asked of one side.
type SideWish struct {
	Keep     bool `json:"keep,omitempty"`     // the old skirt stays on the wall
	Battered bool `json:"battered,omitempty"` // the old skirt's face must not be seen
	Wiring   bool `json:"wiring,omitempty"`   // wires run here and must stay reachable
	NoFalse  bool `json:"no_false,omitempty"` // no board over the old one: the clear width counts
	// OldThickness of the skirt that is there, 0 when unknown.
	OldThickness Length `json:"old_thickness,omitempty"`
	// MarginFirst and MarginLast are how far the old skirt's top edge stands
	// above the old nose, square to the pitch, at the first and at the last
	// step; 0 when not measured.
	MarginFirst Length `json:"margin_first,omitempty"`
	MarginLast  Length `json:"margin_last,omitempty"`
	// Balusters on each tread of an open side.
	Balusters int `json:"balusters,omitempty"`
}

// OrderHint asks that First be in place before Then. Each is the name of a
// piece, such as "T05" or "skirt left", or of a group: "skirts", "risers",
// "treads", "bars", "wires", "coves", "beads", "caps", "balusters" or "returns".
type OrderHint struct {
	First string `json:"first"`
	Then  string `json:"then"`
}

// maxBalusters is the most balusters one tread can hold: at 100 mm apart and 30
// mm wide ten would fill 1300 mm, more than any tread.
const maxBalusters = 10

// Validate returns what is wrong with the wishes, each finding with its field
// below "wishes". That a wish cannot be met is not wrong; package
// solver/fitting says so and why.
func (w Wishes) Validate() []Finding {
	var out []Finding
	block := func(field, title, remedy string) {
		out = append(out, Finding{Rule: "job.wishes", Severity: Block, Where: Place{Field: "wishes." + field}, Title: title, Remedy: remedy})
	}
	if w.Back != "" && w.Back != BackUnderRiser && w.Back != BackAgainstRiser {
		block("back", fmt.Sprintf("the wish for the back of the treads is %q", shorten(string(w.Back))), `write "under riser" or "against riser", or leave it out`)
	}
	if !(w.EveningHours >= 0 && w.EveningHours <= 24) {
		block("evening_hours", fmt.Sprintf("an evening has %g hours", w.EveningHours), "give 0 to 24; 0 means 3")
	}
	if n := len(w.Order); n > MaxRows {
		block("order", fmt.Sprintf("there are %d wishes for the order", n), fmt.Sprintf("at most %d are kept", MaxRows))
	} else {
		for i, h := range w.Order {
			field := fmt.Sprintf("order.%d", i)
			if h.First == "" || h.Then == "" || h.First == h.Then {
				block(field, "a wish for the order does not name two different pieces", `name two, such as "T05" and "skirt left"`)
			}
			if len(h.First)+len(h.Then) > MaxText {
				block(field, "the names in a wish for the order are too long", "shorten them")
			}
		}
	}
	for _, s := range []struct {
		name string
		w    SideWish
	}{{"left", w.Left}, {"right", w.Right}} {
		if s.w.Balusters < 0 || s.w.Balusters > maxBalusters {
			block(s.name+".balusters", fmt.Sprintf("a tread has %d balusters on the %s", s.w.Balusters, s.name), fmt.Sprintf("give 0 to %d", maxBalusters))
		}
		for _, l := range []struct {
			field string
			v     Length
		}{{"old_thickness", s.w.OldThickness}, {"margin_first", s.w.MarginFirst}, {"margin_last", s.w.MarginLast}} {
			if bad(l.v) || l.v < 0 {
				block(s.name+"."+l.field, fmt.Sprintf("the %s skirt's %s is %g mm", s.name, l.field, float64(l.v)), "give 0 or more; 0 means not measured")
			}
		}
	}
	return out
}
