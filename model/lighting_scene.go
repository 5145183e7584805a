package model

import (
	"fmt"
	"slices"
	"strings"
)

// Scene is one way of lighting the stair, for the load it makes and for what
// the controller does.
type Scene struct {
	Name     string    `json:"name"`
	Kind     SceneKind `json:"kind,omitempty"`
	Level    float64   `json:"level"`              // brightness of the channels that are on, 0 to 1
	Channels int       `json:"channels,omitempty"` // how many channels of a pixel are on; 0 means all; not read when there are colours
	Bars     int       `json:"bars,omitempty"`     // how many neighbouring bars are lit; 0 means all
	Hours    float64   `json:"hours,omitempty"`    // a day, for the energy of a year

	// Colours are what the pixels show at full Level. None means white from
	// every channel that is on. The bars take them in turn, from the bottom.
	Colours []Colour     `json:"colours,omitempty"`
	Pattern ScenePattern `json:"pattern,omitempty"` // how they change
	Period  float64      `json:"period,omitempty"`  // seconds until the pattern begins anew; 0 means it stands still

	// Shown says that the scene is only for comparison: the supply need not
	// carry it.
	Shown bool `json:"shown,omitempty"`
}

// SceneKind says when the controller shows a scene. The zero value counts as
// Steady.
type SceneKind string

// The kinds of scene.
const (
	WalkThrough SceneKind = "walk-through" // while somebody is on the stair, round them
	Steady      SceneKind = "steady"       // all bars, for as long as it is switched on
	NightLight  SceneKind = "night light"  // dim, at night, while nobody is on the stair
	Seasonal    SceneKind = "seasonal"     // for show, with colours
	SceneOff    SceneKind = "off"          // nothing lit
)

// SceneKinds lists the kinds of scene.
func SceneKinds() []SceneKind {
	return []SceneKind{WalkThrough, Steady, NightLight, Seasonal, SceneOff}
}

// Of returns the kind that k counts as.
func (k SceneKind) Of() SceneKind {
	if k == "" {
		return Steady
	}
	return k
}

// ScenePattern says how the colours of a scene change. The zero value counts
// as Still.
type ScenePattern string

// The patterns.
const (
	Still     ScenePattern = "still"     // nothing changes
	Alternate ScenePattern = "alternate" // every bar takes the next colour, all at once, once for each colour in a period
	Chase     ScenePattern = "chase"     // the colours climb the flight, once round in a period
	Twinkle   ScenePattern = "twinkle"   // pixels dim and come back, each in its own time, about once in a period
)

// ScenePatterns lists the patterns.
func ScenePatterns() []ScenePattern { return []ScenePattern{Still, Alternate, Chase, Twinkle} }

// Of returns the pattern that p counts as.
func (p ScenePattern) Of() ScenePattern {
	if p == "" {
		return Still
	}
	return p
}

// Colour is what each channel of a pixel is given, 0 to 255. White is for
// strips of four channels; others do not have it.
type Colour struct {
	Red   int `json:"red"`
	Green int `json:"green"`
	Blue  int `json:"blue"`
	White int `json:"white,omitempty"`
}

// Share returns what the colour takes of a pixel's full current, of a strip of
// so many channels. Red, green and blue together stand for fewer than three.
func (c Colour) Share(channels int) float64 {
	switch {
	case channels <= 0:
		return 0
	case channels < 3:
		return float64(max(c.Red, c.Green, c.Blue, c.White)) / 255
	case channels == 3:
		return float64(c.Red+c.Green+c.Blue) / (3 * 255)
	}
	return float64(c.Red+c.Green+c.Blue+c.White) / (float64(channels) * 255)
}

// Share returns what the scene takes of a pixel's full current at full Level:
// that of the colour which takes most, since every bar may come to it.
func (s Scene) Share(channels int) float64 {
	if s.Kind == SceneOff {
		return 0
	}
	if len(s.Colours) == 0 {
		if s.Channels > 0 && channels > 0 {
			return min(1, float64(s.Channels)/float64(channels))
		}
		return 1
	}
	most := 0.0
	for _, c := range s.Colours {
		most = max(most, c.Share(channels))
	}
	return most
}

// Bounds of a scene.
const (
	MaxColours = 8    // of one scene
	MaxPeriod  = 3600 // seconds
)

// fault says what no solver could read in a scene, and in which of its fields,
// or returns nothing.
func (s Scene) fault() (field, title, remedy string) {
	between := func(v, least, most float64) bool { return v >= least && v <= most } // not a number is not
	word := func(what, w string, known []string) (string, string, string) {
		return what, fmt.Sprintf("its %s is %q", what, shorten(w)), "write one of: " + strings.Join(known, ", ")
	}
	switch {
	case len(s.Name) > MaxText:
		return "name", "its name is too long", "shorten it"
	case s.Kind != "" && !slices.Contains(SceneKinds(), s.Kind):
		return word("kind", string(s.Kind), TextsOf(SceneKinds()))
	case !between(s.Level, 0, 1):
		return "level", fmt.Sprintf("its level is %g", s.Level), "give 0 to 1"
	case s.Channels < 0 || s.Channels > MaxRows:
		return "channels", fmt.Sprintf("it has %d channels on", s.Channels), "give 0, for all, or more"
	case s.Bars < 0 || s.Bars > MaxRows:
		return "bars", fmt.Sprintf("it has %d bars lit", s.Bars), "give 0, for all, or more"
	case !between(s.Hours, 0, 24):
		return "hours", fmt.Sprintf("it is on for %g hours a day", s.Hours), "give 0 to 24"
	case s.Pattern != "" && !slices.Contains(ScenePatterns(), s.Pattern):
		return word("pattern", string(s.Pattern), TextsOf(ScenePatterns()))
	case !between(s.Period, 0, MaxPeriod):
		return "period", fmt.Sprintf("its period is %g s", s.Period), fmt.Sprintf("give 0 to %d s", MaxPeriod)
	case len(s.Colours) > MaxColours:
		return "colours", fmt.Sprintf("it has %d colours", len(s.Colours)), fmt.Sprintf("at most %d are kept", MaxColours)
	}
	for i, c := range s.Colours {
		for _, v := range []int{c.Red, c.Green, c.Blue, c.White} {
			if v < 0 || v > 255 {
				return "colours", fmt.Sprintf("its colour %d has a channel at %d", i+1, v), "give 0 to 255"
			}
		}
	}
	return "", "", ""
}

// TextsOf returns words of a kind as plain texts.
func TextsOf[T ~string](words []T) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return out
}

// firstScenes are the scenes a job is first given: common practice, no source.
func firstScenes() []Scene {
	return []Scene{
		{Name: "walk-through", Kind: WalkThrough, Level: 0.3, Bars: 5, Hours: 1},
		{Name: "steady", Kind: Steady, Level: 0.1, Hours: 2},
		{Name: "night", Kind: NightLight, Level: 0.05, Colours: []Colour{{Red: 255, Green: 90}}, Hours: 6}, // no blue by night
		{Name: "seasonal", Kind: Seasonal, Level: 0.2, Colours: []Colour{{Red: 255}, {Green: 255}}, Pattern: Alternate, Period: 4},
		{Name: "full white", Kind: Steady, Level: 1, Shown: true},
	}
}
