// Package demo builds the four demo jobs that ship with the program: an
// invented stair each, read by an invented carpenter whose tools stray and
// round as the table of instruments says. Names, places and sizes are our own.
//
// It refuses to know the solver: the readings come from the true stair alone,
// so that what the solver makes of them can be held against the truth.
//
// The jobs are also stored in testdata/jobs and embedded in assets/demo. Run
//
//	go test ./app/demo -update
//
// after a change here; a test holds all of them to the same bytes. The stored
// files are what ships: they do not depend on a machine's sine.
package demo

import (
	"fmt"
	"math/rand/v2"
	"time"

	"risewright/app/tables"
	"risewright/model"
)

// Demo is one demo job.
type Demo struct {
	Name string // of its file, without .risewright.json
	Job  model.Job
	// stair is the truth behind the readings, step by step.
	stair []opening
}

// Names lists the demo jobs. The second is the one a new window opens with.
func Names() []string { return []string{"well-behaved", "tapering", "unfinished", "winding"} }

// Jobs builds the demo jobs, in the order of Names.
func Jobs() ([]Demo, error) {
	var out []Demo
	for i, build := range []func() (Demo, error){wellBehaved, tapering, unfinished, winding} {
		d, err := build()
		if err != nil {
			return nil, err
		}
		d.Name = Names()[i]
		out = append(out, d)
	}
	return out, nil
}

// begin makes a job of the given units with ids that always are the same.
func begin(name string, units model.Units) (model.Job, func(string) model.ID, error) {
	root := model.NamedID(model.ID{}, "risewright demo "+name)
	newID := func(n string) model.ID { return model.NamedID(root, n) }
	j, err := tables.NewJob(units, newID)
	j.Name = name
	return j, newID, err
}

// send puts a sketch of p into j and returns somebody to read it.
func send(j *model.Job, p plan, began time.Time, newID func(string) model.ID) *carpenter {
	stair := p.truth(*j)
	j.Flight.Steps = make([]model.Step, len(stair))
	for i := range stair {
		j.Flight.Steps[i] = model.Step{ID: stepID(newID, i), Edges: stair[i].edges,
			Left: model.Side{Kind: model.Skirt}, Right: model.Side{Kind: model.Skirt}, Nosing: model.NosingCut}
	}
	return sendTo(j, stair, p.seed, began, newID)
}

// sendTo draws the sketch of a stair into the steps of j and returns somebody to
// read it.
func sendTo(j *model.Job, stair []opening, seed uint64, began time.Time, newID func(string) model.ID) *carpenter {
	sketch(j, stair, seed)
	return &carpenter{job: j, stair: stair, rng: rand.New(rand.NewPCG(seed, 3)), clock: began, newID: newID}
}

// stepID is the id of the step at index i.
func stepID(newID func(string) model.ID, i int) model.ID { return newID(fmt.Sprintf("step %d", i+1)) }

// everything is every kind read at a step, in walking order.
var everything = model.StepKinds()

const degree = float64(model.Degree)

// wellBehaved is a near-square flight, fully read on bare wood, whose floors
// rise with the treads, so that all is ready to cut and within limits.
func wellBehaved() (Demo, error) {
	j, newID, err := begin("Quarry Lane, well behaved", model.Metric)
	if err != nil {
		return Demo{}, err
	}
	j.Place = "a house on Quarry Lane (invented)"
	j.Notes = "Carpet, grippers and staples are off, noses are cut, squeaks are screwed. Both floors get 20 mm of new finish, so every rise stays what it was."
	j.Code, j.CodeClass = "irc", "dwelling"
	j.Overlay.Riser, j.Overlay.Overhang = 9, 22 // openings 291 deep, so that 300 mm stock will do
	j.Overlay.FloorBottom, j.Overlay.FloorTop = 20, 20
	c := send(&j, plan{
		risers: 13, rise: 186, going: 260, width: 938,
		taper: [2]float64{0.1 * degree, -0.05 * degree}, lean: [2]float64{0.15 * degree, 0.1 * degree}, bow: [2]float64{1.5, -1},
		rough: rough{rise: 0.8, going: 0.8, skew: 0.08 * degree, tilt: 0.0005, fall: 0.001, lean: 0.04 * degree},
		seed:  1302,
	}, time.Date(2026, 11, 2, 8, 30, 0, 0, time.UTC), newID)
	c.flight(model.Bare, model.FlightKinds()...)
	for i := range j.Flight.Steps {
		c.step(i, model.Bare, false, everything...)
	}
	j.Flight.Rail = []model.Height{c.height("rail", 0, "925"), c.height("rail", 6, "930"), c.height("rail", 12, "928")}
	j.Flight.Headroom = []model.Height{c.height("headroom", 2, "2240"), c.height("headroom", 4, "2155")}
	j.Flight.Doors = []model.Door{{ID: newID("door"), Name: "front door", Gap: 28, Clearance: 5}}
	if err := light(&j, 34*model.Degree); err != nil {
		return Demo{}, err
	}
	settled(&j)
	return Demo{Job: j, stair: c.stair}, c.err
}

// tapering is a flight whose sides converge and lean, with one gauge read as
// its supplement and floors left as they are, so that the first and the last
// rise go out of limits. Tread 5 is the worked example of a gauge read as its
// supplement: widths 912 and 917 mm over a depth of 286, gauges 90.8 and 90.2,
// the first written as 89.2. Common practice, no source.
func tapering() (Demo, error) {
	j, newID, err := begin("Mill Cottage, tapering", model.Imperial)
	if err != nil {
		return Demo{}, err
	}
	const in = model.Inch
	j.Place = "Mill Cottage, stair to the loft bedroom (invented)"
	j.Notes = "The walls run together going up and the left one leans out. The owner would rather leave both floors as they are."
	j.CodeClass = "dwelling"
	j.Overlay.Tread, j.Overlay.Landing = 20, 20
	j.Overlay.Overhang = in * 7 / 8
	c := send(&j, plan{
		risers: 14, rise: 190, going: float64(in * 81 / 8), width: 914.5,
		taper: [2]float64{0.8 * degree, 0.2 * degree}, lean: [2]float64{0.9 * degree, -0.3 * degree},
		rough: rough{rise: 1.2, going: 1, skew: 0.15 * degree, tilt: 0.0015, fall: 0.003, lean: 0.08 * degree, exactFaces: 5, exactOpening: float64(in * 45 / 4)},
		seed:  1403,
	}, time.Date(2026, 11, 4, 9, 10, 0, 0, time.UTC), newID)
	c.flight(model.Bare, model.TotalRise, model.TotalGoing, model.LongDiagonalLeft, model.LongDiagonalRight)
	kinds := []model.Kind{
		model.BackWidth, model.GaugeBackLeft, model.GaugeBackRight, model.FrontWidth,
		model.LeftDepth, model.RightDepth, model.DiagonalLeft, model.DiagonalRight,
		model.LeanLeft, model.LeanRight, model.RiseLeft, model.RiseRight, model.GoingLeft, model.GoingRight, model.TiltAcross, model.TiltFore,
	}
	const misread = 4 // tread 5
	for i := range j.Flight.Steps {
		c.step(i, model.Bare, i == misread, kinds...)
		j.Flight.Steps[i].Left.Kind = model.Wall
	}
	for k := range j.Flight.Steps[misread].Readings {
		r := &j.Flight.Steps[misread].Readings[k]
		if r.Kind != model.GaugeBackLeft {
			continue
		}
		r.Typed = c.written(r.Kind, straight-r.Value, model.Bare)
		if r.Value, err = c.read(r.Kind, r.Typed); err != nil {
			return Demo{}, err
		}
	}
	j.Flight.Rail = []model.Height{c.height("rail", 0, "34 1/2"), c.height("rail", 7, "34 3/4"), c.height("rail", 13, "34 5/8")}
	j.Flight.Headroom = []model.Height{c.height("headroom", 1, "6' 11 1/2"), c.height("headroom", 3, `6' 8 3/4"`)}
	j.Flight.Doors = []model.Door{{ID: newID("door"), Name: "loft door", Top: true, Gap: in * 3 / 8, Clearance: in / 8}}
	if err := light(&j, 38*model.Degree); err != nil {
		return Demo{}, err
	}
	settled(&j)
	return Demo{Job: j, stair: c.stair}, c.err
}

// straight is a straight angle: a gauge held the wrong way round shows what is
// missing to it.
const straight = 180 * degree

// unfinished is a flight with the carpet half off: the lower steps read on
// bare wood, the middle over carpet, the upper guessed or not at all.
func unfinished() (Demo, error) {
	j, newID, err := begin("Harbour Street, unfinished", model.Metric)
	if err != nil {
		return Demo{}, err
	}
	j.Place = "Harbour Street, second floor (invented)"
	j.Notes = "Carpet is off the four lowest steps. Come back for the rest before ordering."
	j.CodeClass = "private"
	c := send(&j, plan{
		risers: 12, rise: 194, going: 246, width: 872,
		taper: [2]float64{0.25 * degree, -0.15 * degree}, lean: [2]float64{0.3 * degree, -0.2 * degree}, bow: [2]float64{2, 1},
		rough: rough{rise: 1.5, going: 1.5, skew: 0.2 * degree, tilt: 0.002, fall: 0.003, lean: 0.1 * degree},
		seed:  1204,
	}, time.Date(2026, 11, 6, 13, 45, 0, 0, time.UTC), newID)
	c.flight(model.OverCarpet, model.TotalRise)
	// the lowest four on bare wood, two of them with something left out
	c.step(0, model.Bare, false, everything...)
	c.step(1, model.Bare, false, everything...)
	c.step(2, model.Bare, false, model.BackWidth, model.GaugeBackLeft, model.GaugeBackRight, model.LeftDepth, model.RightDepth, model.RiseLeft, model.RiseRight)
	c.step(3, model.Bare, false, model.BackWidth, model.FrontWidth, model.LeftDepth, model.RiseLeft, model.GoingLeft)
	for i := 4; i < 8; i++ {
		c.step(i, model.OverCarpet, false, model.BackWidth, model.FrontWidth, model.LeftDepth, model.RiseLeft)
	}
	c.step(8, model.OverCarpet, false, model.FrontWidth, model.RiseLeft)
	c.step(9, model.Guessed, false, model.FrontWidth, model.LeftDepth)
	c.step(10, model.Guessed, false, model.FrontWidth)
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		if i >= 4 {
			s.Nosing = model.NosingKept
		}
		s.Right.Kind = model.Wall
	}
	j.Flight.Rail = []model.Height{c.height("rail", 0, "935")}
	return Demo{Job: j, stair: c.stair}, c.err
}

// settled puts in what has been talked over with the household: the wood.
func settled(j *model.Job) { j.Shop.Species = "red-oak" }

// light puts in light bars and the sensors that wake them: what the window first
// gives, and then what a carpenter would choose for this flight. Strips of 24 V
// lose little on the way; a limited supply with the brightness capped in the
// firmware needs no further rules; a lip hides the bars from the hall; sensors
// that look again at once hang under the rail at the right, between the ends with
// so much tape as leaves no step unseen; 0 leaves what is first given. Common
// practice, no source.
func light(j *model.Job, tape model.Angle) error {
	t, err := tables.Published()
	if err != nil {
		return err
	}
	l := model.FirstLighting(*j, t.Lights)
	l.Strip, l.Supply, l.Cap, l.Data = "rgb-24v-60-groups", "24v-4a", 0.4, model.DataSerpentine
	l.Lip, l.Wires = 3, model.WirePick{Feeder: "mm1.5", Bus: "mm1.5", Lead: "mm0.5"}
	if j.Units == model.Imperial {
		l.Lip, l.Wires = model.Inch/8, model.WirePick{Feeder: "awg16", Bus: "awg16", Lead: "awg20"}
	}
	s := model.FirstSensing(*j, t.Senses)
	for i := range s.Sensors {
		x := &s.Sensors[i]
		x.Class, x.Mount = "small-digital-low", model.RailRight
		if tape > 0 && i > 0 && i < len(s.Sensors)-1 {
			x.Mask = model.Mask{Left: tape, Right: tape}
		}
	}
	for _, e := range []model.Edit{model.SetLighting{Lighting: l}, model.SetSensing{Sensing: s}} {
		if *j, err = e.Apply(*j); err != nil {
			return err
		}
	}
	return nil
}
