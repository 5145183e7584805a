package model

// Labour is how long the work takes and what an hour costs. Every figure is a
// range and may be changed by the user.
type Labour struct {
	Rate        Range // money for an hour
	HoursPerDay float64
	Householder Range // how much longer a householder takes than a professional
	Contingency Range // part of the money kept back for what the carpet hides
	Stages      []Stage
	Waits       []Wait
}

// Range is a least, a likeliest and a greatest value.
type Range struct {
	Low, Likely, High float64
	Standing          Standing
}

// Stage is one stage of the work. Hours are for a professional, for each of Per.
type Stage struct {
	ID    string
	Name  string
	Per   StagePer
	Hours Range
	Note  string
}

// StagePer says what a stage's hours are multiplied by.
type StagePer string

// What hours may be given for.
const (
	PerJob          StagePer = "job"
	PerStep         StagePer = "step"          // risers, which is one for each step
	PerTread        StagePer = "tread"         // N-1 of them
	PerRiser        StagePer = "riser"         // N of them
	PerSkirtScribed StagePer = "scribed skirt" // for each side
	PerSkirtPlain   StagePer = "straight skirt"
	PerOpenStep     StagePer = "open step"
	PerLightBar     StagePer = "light bar"
	PerLightJob     StagePer = "lighting" // once, when there is any
)

// Wait is a time in which nobody works on the piece: acclimatising, drying,
// curing. Days are calendar days, weekends too.
type Wait struct {
	ID       string
	Name     string
	Days     Range
	StairOff bool // the stair cannot be walked on meanwhile
	Note     string
}

// Wait returns the wait called id; the zero Wait when there is none.
func (l Labour) Wait(id string) Wait {
	for _, w := range l.Waits {
		if w.ID == id {
			return w
		}
	}
	return Wait{}
}
