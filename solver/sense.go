package solver

import (
	"slices"

	"risewright/model"
	"risewright/solver/sensing"
	"risewright/solver/walk"
)

// Sense works out what the sensors of an answer's job see. It takes a few
// milliseconds a sensor and so is not part of Solve; zones of before, an earlier
// result or nil, that still hold are taken over, so that while one sensor is
// dragged only its own is worked out. An answer that could not be solved, or a
// job without sensors, gives a result without zones.
func Sense(a *Answer, t model.Tables, before *sensing.Result) sensing.Result {
	if a.Survey == nil || !a.Job.Sensing.On() {
		return sensing.Result{}
	}
	return sensing.Solve(&a.Job, StairOf(a, t), before)
}

// StairOf returns the stair of an answer as sensors see it, or nil when it has
// none.
func StairOf(a *Answer, t model.Tables) *sensing.Stair {
	if a.Survey == nil {
		return nil
	}
	tables := t.Senses.With(a.Job.Sensing.Own)
	return sensing.From(&a.Job, a.Survey, a.Pieces, a.Balusters, &tables)
}

// Found returns the findings of an answer with those of its sensors and of the
// controller's rules on them, in the same order: the worst first, then from the
// bottom up; and how much of the flight lights for who walks it, nil when the
// controller cannot hold the stair. sense is what Sense says of the answer.
// Without sensors they are the answer's own.
func Found(a *Answer, t model.Tables, sense *sensing.Result) ([]model.Finding, *Lit) {
	if a.Survey == nil || !a.Job.Sensing.On() {
		return a.Findings, nil
	}
	own, lit := SensorFindings(a, t, sense)
	return Joined(a.Findings, own), lit
}

// SensorFindings returns what Found adds to those of the answer: nothing while
// there is no stair to look at.
func SensorFindings(a *Answer, t model.Tables, sense *sensing.Result) ([]model.Finding, *Lit) {
	if sense.Stair == nil {
		return nil, nil
	}
	out := slices.Clone(sense.Findings)
	setup := WalkOn(a, t, sense)
	tables, err := setup.Tables()
	if err != nil {
		remedy := "change the sensors or the controller's settings"
		switch {
		case setup.Light.Bars > walk.MaxBars:
			remedy = "divide the stair, at a landing if it has one, and give each part a controller and sensors of its own"
		case len(setup.Zones) > walk.MaxSensors:
			remedy = "delete sensors, or divide the stair and give each part a controller of its own"
		}
		return append(out, model.Finding{Rule: "walk.tables", Severity: model.Advice, Where: model.Place{Field: "sensing.control"},
			Title: "the controller cannot hold this stair: " + err.Error(), Remedy: remedy}), nil
	}
	// What the sensors and the rules both find is said once, with both reasons.
	same := map[string]string{"walk.blind": "sensing.blind", "walk.lockout": "sensing.block"}
	for _, f := range walk.Findings(setup.Zones, tables) {
		of := same[f.Rule]
		i := slices.IndexFunc(out, func(o model.Finding) bool { return o.Rule == of })
		if i < 0 {
			out = append(out, f)
			continue
		}
		out[i].Detail += "; " + f.Detail
	}
	lit := litOn(a, t, setup)
	if f, ok := lit.finding(setup, len(tables.Sensors)); ok {
		out = append(out, f)
	}
	return out, lit
}

// Joined returns findings of two kinds in one order.
func Joined(a, b []model.Finding) []model.Finding {
	out := slices.Concat(a, b)
	sortFindings(out)
	return out
}
