package model

import (
	"fmt"
	"reflect"
	"strings"
)

// LabelOf says what an edit did to a job, for the undo menu: of an edit that
// replaces many fields at once the few that it changed, otherwise its own
// label. Steps are named by their number.
func LabelOf(e Edit, before, after Job) string {
	of := func(a, b any, names map[string]string) string {
		if what, ok := changed(reflect.ValueOf(a), reflect.ValueOf(b), names); ok {
			return "change " + what
		}
		return e.Label()
	}
	at := func(id ID) string {
		if i := before.StepIndex(id); i >= 0 {
			return fmt.Sprintf(" of step %d", i+1)
		}
		return ""
	}
	switch e := e.(type) {
	case SetDetails:
		return of(DetailsOf(before), DetailsOf(after), detailNames)
	case SetOverlay:
		return of(before.Overlay, after.Overlay, overlayNames)
	case SetExisting:
		return of(before.Existing, after.Existing, existingNames)
	case SetShop:
		return of(before.Shop, after.Shop, shopNames)
	case SetWishes:
		return of(before.Wishes, after.Wishes, wishNames)
	case SetLighting:
		return of(before.Lighting, after.Lighting, lightNames)
	case SetReading:
		return e.Label() + at(e.Step)
	case sensorEdit:
		return labelOfSensor(e, before, after)
	case SetStep:
		i := before.StepIndex(e.Step)
		if i < 0 || after.StepIndex(e.Step) != i {
			return e.Label()
		}
		if what, ok := changed(reflect.ValueOf(StepOf(before.Flight.Steps[i])), reflect.ValueOf(StepOf(after.Flight.Steps[i])), stepNames); ok {
			return "change " + what + at(e.Step)
		}
		return e.Label() + fmt.Sprintf(" %d", i+1)
	}
	return e.Label()
}

// mostNamed is how many changed fields a label names: more do not fit a menu.
const mostNamed = 2

// changed names the fields in which two structs of one kind differ, and false
// if there are none, too many, or one without a name.
func changed(a, b reflect.Value, names map[string]string) (string, bool) {
	var parts []string
	for i := range a.NumField() {
		if reflect.DeepEqual(a.Field(i).Interface(), b.Field(i).Interface()) {
			continue
		}
		name := names[a.Type().Field(i).Name]
		if name == "" || len(parts) == mostNamed {
			return "", false
		}
		parts = append(parts, name)
	}
	return strings.Join(parts, " and "), len(parts) > 0
}

// The names of fields as the user knows them.
var (
	detailNames = map[string]string{
		"Name": "the job's name", "Place": "the place", "Notes": "the notes", "Units": "the units", "Fraction": "the inch fraction",
		"Code": "the code", "CodeClass": "the class of stair", "Tolerance": "the tolerance", "SketchSpread": "the spread of the sketch",
	}
	existingNames = map[string]string{"Tread": "the old treads' thickness", "Riser": "the old risers' thickness", "Overhang": "the old overhang"}
	overlayNames  = map[string]string{
		"Tread": "the new treads' thickness", "Riser": "the new risers' thickness", "Landing": "the landing nosing's thickness",
		"LandingDepth": "the landing nosing's depth", "Overhang": "the overhang", "Fit": "the fit at each end", "Undercut": "the undercut",
		"RiserGap": "the gap above a riser", "Back": "the back of the treads", "FloorBottom": "the bottom floor's finish",
		"FloorTop": "the top floor's finish", "Return": "the return nosings' width",
	}
	shopNames = map[string]string{
		"Species": "the wood", "QuarterSawn": "the cut of the wood", "WinterHumidity": "the driest air", "SummerHumidity": "the dampest air",
		"Moisture": "the boards' moisture", "Householder": "who does the work", "HoursPerDay": "the hours a day", "Start": "the first day",
		"Rate": "what an hour costs", "Currency": "the currency", "Prices": "a price", "Hand": "the boards in hand",
	}
	wishNames = map[string]string{
		"Left": "the wishes for the left side", "Right": "the wishes for the right side", "SameSides": "the wish for like sides",
		"Usable": "the wish for usable evenings", "LightBars": "the wish for light bars", "Coves": "the wish for coves",
		"FirstTimer": "who scribes", "Back": "the wish for the back of the treads", "Order": "what is to go in first",
		"EveningHours": "the hours of an evening", "SleepBelow": "where the household sleeps",
	}
	lightNames = map[string]string{
		"Strip": "the strip", "Setback": "the setback of the bars", "EndClearance": "the bars' end clearance", "BarWidth": "the bars' width",
		"BarHeight": "the bars' height", "Lip": "the lip before the bars", "Groove": "the groove for the bars", "Cove": "the cove behind the bars",
		"NotchWidth": "the wires' notch", "NotchHeight": "the height of the wires' notch", "Cavity": "where the wires climb", "Box": "where the supply stands",
		"Slack": "the slack of the wires", "Trunk": "how power reaches the bars", "Feed": "where a bar is fed", "Data": "how data goes from bar to bar",
		"Enters": "where the cable from the box enters", "Links": "the further wires", "Order": "the order of the data chain", "Bars": "single bars",
		"Wires": "the wire sizes", "Warmth": "the warmth of the wires", "Drop": "the volts that may be lost", "Scenes": "the scenes",
		"Supply": "the supply", "Supplies": "how many supplies there are", "Cap": "the brightness cap", "White": "the white of the strip",
		"Controller": "the controller", "FrameRate": "the frames a second", "SampleMS": "how often sensors are looked at", "Sensors": "the sensors' inputs",
		"BarAtATime": "how bars are driven", "OneColour": "how bars are coloured", "EyeHeight": "the height of the eye", "EyeDistance": "the distance of the eye",
		"Own": "the job's own electrical rows",
	}
	stepNames = map[string]string{
		"Left": "the left side", "Right": "the right side", "Nosing": "the nosing", "Thickness": "the board's thickness", "PackLeft": "the packing at the left", "PackRight": "the packing at the right",
	}
)
