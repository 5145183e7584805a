package model

import (
	"errors"
	"slices"
)

// ErrNoSuchSensor is returned by edits that name a sensor the job does not
// have.
var ErrNoSuchSensor = errors.New("the job has no such sensor; it may have been removed by another edit")

// sensorEdit is an edit of one sensor, which LabelOf calls by its name.
type sensorEdit interface {
	Edit
	sensor() ID
	label(what string) string
}

var (
	_ sensorEdit = AddSensor{}
	_ sensorEdit = SetSensor{}
	_ sensorEdit = MoveSensor{}
	_ sensorEdit = AimSensor{}
	_ sensorEdit = RemoveSensor{}
	_ sensorEdit = DeleteSensor{}
)

// labelOfSensor returns what an edit did to the sensor that it names.
func labelOfSensor(e sensorEdit, before, after Job) string {
	for _, j := range []Job{before, after} {
		if i := j.Sensing.Sensor(e.sensor()); i >= 0 && j.Sensing.Sensors[i].Name != "" {
			return e.label("sensor " + shorten(j.Sensing.Sensors[i].Name))
		}
	}
	return e.Label()
}

// SetSensing replaces all that is chosen of the sensors.
type SetSensing struct{ Sensing Sensing }

// Apply implements Edit.
func (e SetSensing) Apply(j Job) (Job, error) {
	out := j
	out.Sensing = e.Sensing.clone()
	return kept(j, out)
}

// Label implements Edit.
func (e SetSensing) Label() string { return "change the sensors" }

// changeSensing returns the job with its sensing changed in a copy.
func changeSensing(j Job, change func(*Sensing) error) (Job, error) {
	out := j
	out.Sensing = j.Sensing.clone()
	if err := change(&out.Sensing); err != nil {
		return j, err
	}
	return kept(j, out)
}

// changeSensor returns the job with one sensor changed in a copy.
func changeSensor(j Job, id ID, change func(*Sensor)) (Job, error) {
	return changeSensing(j, func(s *Sensing) error {
		i := s.Sensor(id)
		if i < 0 {
			return ErrNoSuchSensor
		}
		change(&s.Sensors[i])
		return nil
	})
}

// AddSensor adds a sensor.
type AddSensor struct{ Sensor Sensor }

// Apply implements Edit.
func (e AddSensor) Apply(j Job) (Job, error) {
	return changeSensing(j, func(s *Sensing) error {
		if s.Sensor(e.Sensor.ID) >= 0 {
			return errors.New("the job has that sensor already; give the new one an id of its own")
		}
		s.Sensors = append(s.Sensors, e.Sensor)
		return nil
	})
}

// Label implements Edit.
func (e AddSensor) Label() string { return e.label("a sensor") }

func (e AddSensor) sensor() ID { return e.Sensor.ID }

func (e AddSensor) label(what string) string { return "add " + what }

// SetSensor replaces the sensor of the same id.
type SetSensor struct{ Sensor Sensor }

// Apply implements Edit.
func (e SetSensor) Apply(j Job) (Job, error) {
	return changeSensor(j, e.Sensor.ID, func(s *Sensor) { *s = e.Sensor })
}

// Label implements Edit.
func (e SetSensor) Label() string { return e.label("a sensor") }

func (e SetSensor) sensor() ID { return e.Sensor.ID }

func (e SetSensor) label(what string) string { return "change " + what }

// MoveSensor puts a sensor elsewhere: Along and Below count for one at a rail
// or on a wall, At for any other.
type MoveSensor struct {
	ID    ID
	Mount Mount // empty: as it is
	Along float64
	Below Length
	At    Point
}

// MoveOf returns the edit that leaves s where it is; change what you want.
func MoveOf(s Sensor) MoveSensor {
	return MoveSensor{ID: s.ID, Mount: s.Mount, Along: s.Along, Below: s.Below, At: s.At}
}

// Apply implements Edit.
func (e MoveSensor) Apply(j Job) (Job, error) {
	return changeSensor(j, e.ID, func(s *Sensor) {
		if e.Mount != "" {
			s.Mount = e.Mount
		}
		if s.Mount.Beside() {
			s.Along, s.Below = e.Along, e.Below
		} else {
			s.At = e.At
		}
	})
}

// Label implements Edit.
func (e MoveSensor) Label() string { return e.label("a sensor") }

func (e MoveSensor) sensor() ID { return e.ID }

func (e MoveSensor) label(what string) string { return "move " + what }

// AimSensor turns a sensor and changes what is in front of its lens.
type AimSensor struct {
	ID   ID
	Yaw  Angle
	Tilt Angle
	Hood Hood
	Mask Mask
}

// AimOf returns the edit that leaves s aimed as it is; change what you want.
func AimOf(s Sensor) AimSensor {
	return AimSensor{ID: s.ID, Yaw: s.Yaw, Tilt: s.Tilt, Hood: s.Hood, Mask: s.Mask}
}

// Apply implements Edit.
func (e AimSensor) Apply(j Job) (Job, error) {
	return changeSensor(j, e.ID, func(s *Sensor) { s.Yaw, s.Tilt, s.Hood, s.Mask = e.Yaw, e.Tilt, e.Hood, e.Mask })
}

// Label implements Edit.
func (e AimSensor) Label() string { return e.label("a sensor") }

func (e AimSensor) sensor() ID { return e.ID }

func (e AimSensor) label(what string) string { return "aim " + what }

// RemoveSensor takes a sensor away and keeps its place, or, with Back, puts it
// back.
type RemoveSensor struct {
	ID   ID
	Back bool
}

// Apply implements Edit.
func (e RemoveSensor) Apply(j Job) (Job, error) {
	return changeSensor(j, e.ID, func(s *Sensor) { s.Removed = !e.Back })
}

// Label implements Edit.
func (e RemoveSensor) Label() string { return e.label("a sensor") }

func (e RemoveSensor) sensor() ID { return e.ID }

func (e RemoveSensor) label(what string) string {
	if e.Back {
		return "put " + what + " back"
	}
	return "take " + what + " away"
}

// DeleteSensor takes a sensor and its place out of the job.
type DeleteSensor struct{ ID ID }

// Apply implements Edit.
func (e DeleteSensor) Apply(j Job) (Job, error) {
	return changeSensing(j, func(s *Sensing) error {
		i := s.Sensor(e.ID)
		if i < 0 {
			return ErrNoSuchSensor
		}
		if s.Sensors = slices.Delete(s.Sensors, i, i+1); len(s.Sensors) == 0 {
			s.Sensors = nil
		}
		return nil
	})
}

// Label implements Edit.
func (e DeleteSensor) Label() string { return e.label("a sensor") }

func (e DeleteSensor) sensor() ID { return e.ID }

func (e DeleteSensor) label(what string) string { return "delete " + what }

// SetSensorWish replaces what is asked of the places of sensors.
type SetSensorWish struct{ Wish SensorWish }

// Apply implements Edit.
func (e SetSensorWish) Apply(j Job) (Job, error) {
	return changeSensing(j, func(s *Sensing) error {
		s.Wish = e.Wish
		s.Wish.Mounts = slices.Clone(e.Wish.Mounts)
		return nil
	})
}

// Label implements Edit.
func (e SetSensorWish) Label() string { return "change what sensors are to see" }

// SetTraffic replaces what moves and warms near the stair.
type SetTraffic struct {
	Passers []Passer
	Warm    []WarmThing
}

// Apply implements Edit.
func (e SetTraffic) Apply(j Job) (Job, error) {
	return changeSensing(j, func(s *Sensing) error {
		c := Sensing{Passers: e.Passers, Warm: e.Warm}.clone()
		s.Passers, s.Warm = c.Passers, c.Warm
		return nil
	})
}

// Label implements Edit.
func (e SetTraffic) Label() string { return "change what moves and warms near the stair" }
