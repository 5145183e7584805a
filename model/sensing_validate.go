package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Bounds of the sensing.
const (
	// MaxSensors is the most sensors of a job, far more than a controller has
	// inputs.
	MaxSensors = 64
	// MaxAlong bounds a place along the flight, in steps.
	MaxAlong = MaxSteps + 100
	maxPath  = 100 // corners of a passer's path
)

// Validate returns what no solver could read: values that are no numbers,
// words not known, ids twice, lists and texts without bound. What a sensor sees
// is for the solver to say.
func (s Sensing) Validate() []Finding {
	v := &sensingCheck{ids: map[ID]bool{}}
	for _, l := range []struct {
		field   string
		n, most int
	}{
		{"sensors", len(s.Sensors), MaxSensors}, {"passers", len(s.Passers), MaxRows}, {"warm", len(s.Warm), MaxRows},
		{"wish.mounts", len(s.Wish.Mounts), MaxRows}, {"own.classes", len(s.Own.Classes), MaxRows}, {"own.bodies", len(s.Own.Bodies), MaxRows},
		{"own.paces", len(s.Own.Paces), MaxRows}, {"own.practice", len(s.Own.Practice), MaxRows},
	} {
		if l.n > l.most {
			v.block(l.field, fmt.Sprintf("there are %d %s", l.n, l.field), fmt.Sprintf("at most %d are kept", l.most))
			return v.out
		}
	}
	for i := range s.Sensors {
		v.sensor(fmt.Sprintf("sensors.%d", i), &s.Sensors[i])
	}
	for i := range s.Passers {
		v.passer(fmt.Sprintf("passers.%d", i), &s.Passers[i])
	}
	for i := range s.Warm {
		w := &s.Warm[i]
		field := fmt.Sprintf("warm.%d", i)
		v.named(field, w.ID, w.Name, "a warm thing")
		word(v, field+".kind", w.Kind, WarmKinds())
		if badPoint(w.Low) || badPoint(w.High) || w.Low.X > w.High.X || w.Low.Y > w.High.Y || w.Low.Z > w.High.Z {
			v.block(field, fmt.Sprintf("the warm thing %q is no box", shorten(w.Name)), "give its lowest corner, then its highest")
		}
	}
	v.wish(s.Wish)
	s.Control.validate(v)
	return append(v.out, s.Own.validate()...)
}

type sensingCheck struct {
	out []Finding
	ids map[ID]bool
}

func (v *sensingCheck) block(field, title, remedy string) {
	v.out = append(v.out, Finding{Rule: "job.sensing", Severity: Block, Where: Place{Field: "sensing." + field}, Title: title, Remedy: remedy})
}

// word judges one of a list of words.
func word[T ~string](v *sensingCheck, field string, w T, known []T) {
	if !slices.Contains(known, w) {
		v.block(field, fmt.Sprintf("%s is %q", field, shorten(string(w))), "write one of: "+strings.Join(TextsOf(known), ", "))
	}
}

func (v *sensingCheck) named(field string, id ID, name, what string) {
	if id == (ID{}) || v.ids[id] {
		v.block(field+".id", what+" has no id, or another has the same", "give each its own UUID")
	}
	v.ids[id] = true
	if len(name) > MaxText {
		v.block(field+".name", "the name of "+what+" is too long", "shorten it")
	}
}

func (v *sensingCheck) sensor(field string, s *Sensor) {
	v.named(field, s.ID, s.Name, "a sensor")
	name := shorten(s.Name)
	if len(s.Class) > MaxText {
		v.block(field+".class", fmt.Sprintf("the class of sensor %q is too long a name", name), "shorten it")
	}
	word(v, field+".mount", s.Mount, Mounts())
	if !(math.Abs(s.Along) <= MaxAlong) {
		v.block(field+".along", fmt.Sprintf("the sensor %q hangs %g steps along the flight", name, s.Along), fmt.Sprintf("give -%d to %d", MaxAlong, MaxAlong))
	}
	if bad(s.Below) || badPoint(s.At) {
		v.block(field+".at", fmt.Sprintf("the place of sensor %q is not a number within 500 m", name), "give a length")
	}
	if !(math.Abs(float64(s.Yaw)) <= 2*math.Pi) {
		v.block(field+".yaw", fmt.Sprintf("the sensor %q is turned by %g°", name, s.Yaw.Degrees()), "give -360° to 360°")
	}
	if !(math.Abs(float64(s.Tilt)) <= float64(90*Degree)+1e-9) {
		v.block(field+".tilt", fmt.Sprintf("the sensor %q is tilted by %g°", name, s.Tilt.Degrees()), "give -90° to 90°")
	}
	if h := s.Hood; !(h.Bore >= 0) || !(h.Depth >= 0) || bad(h.Bore) || bad(h.Depth) {
		v.block(field+".hood", fmt.Sprintf("the hood of sensor %q is %g mm wide and %g mm deep", name, float64(h.Bore), float64(h.Depth)), "give 0 for none, or two lengths")
	}
	for _, m := range []Angle{s.Mask.Left, s.Mask.Right, s.Mask.Up, s.Mask.Down} {
		if !(math.Abs(float64(m)) < float64(90*Degree)) {
			v.block(field+".mask", fmt.Sprintf("the mask of sensor %q begins at %g° from its axis", name, m.Degrees()), "give less than 90°, or 0 for no tape")
			break
		}
	}
}

func (v *sensingCheck) passer(field string, p *Passer) {
	v.named(field, p.ID, p.Name, "a passer")
	word(v, field+".kind", p.Kind, PasserKinds())
	least, most, need := 2, maxPath, "2 to 100 corners"
	if p.Kind == DoorSwings {
		least, most, need = 3, 3, "its hinge, its free edge shut, and its free edge open"
	}
	if n := len(p.Path); n < least || n > most {
		v.block(field+".path", fmt.Sprintf("the path of %q has %d corners", shorten(p.Name), n), "give "+need)
	}
	for _, c := range p.Path {
		if bad(c.X) || bad(c.Y) {
			v.block(field+".path", fmt.Sprintf("a corner of the path of %q is not a number within 500 m", shorten(p.Name)), "draw it again")
			break
		}
	}
	if !(p.Height >= 0) || bad(p.Height) {
		v.block(field+".height", fmt.Sprintf("%q is %g mm high", shorten(p.Name), float64(p.Height)), "give 0 for the usual height, or a length")
	}
}

func (v *sensingCheck) wish(w SensorWish) {
	for i, m := range w.Mounts {
		word(v, fmt.Sprintf("wish.mounts.%d", i), m, Mounts())
	}
	if w.Overlap < 0 || w.Overlap > MaxSteps {
		v.block("wish.overlap", fmt.Sprintf("neighbours are to overlap by %d steps", w.Overlap), "give 0 or more")
	}
	if w.Longest < 0 || w.Longest > MaxSteps {
		v.block("wish.longest", fmt.Sprintf("one sensor is to be sure of at most %d positions", w.Longest), "give 0, for any number, or more")
	}
	if w.Most < 0 || w.Most > MaxSensors {
		v.block("wish.most", fmt.Sprintf("at most %d sensors are wanted", w.Most), fmt.Sprintf("give 0, for as many as it takes, to %d", MaxSensors))
	}
	if len(w.Class) > MaxText {
		v.block("wish.class", "the class wanted is too long a name", "shorten it")
	}
	if !(w.Bore >= 0) || bad(w.Bore) {
		v.block("wish.bore", fmt.Sprintf("the hoods to be had have a bore of %g mm", float64(w.Bore)), "give 0 for no hoods, or a length")
	}
}

func badPoint(p Point) bool { return bad(p.X) || bad(p.Y) || bad(p.Z) }
