package model

// SketchSpec is a straight flight in a few numbers.
type SketchSpec struct {
	Risers int
	Width  Length // between the sides
	Rise   Length // existing rise of every step
	Going  Length
	// Unit carries the default overlay, tables and units; its flight is replaced.
	Base Job
	// IDs returns the id of step i (from 0); nil gives random ids.
	IDs func(i int) ID
}

// Sketch returns the job Base with a straight, square, level flight in it. The
// left side lies on x = 0 and the first new nose line on y = 0.
func Sketch(spec SketchSpec) Job {
	j := spec.Base
	j.Flight.Steps = make([]Step, spec.Risers)
	for i := range j.Flight.Steps {
		id := NewID
		if spec.IDs != nil {
			id = func() ID { return spec.IDs(i) }
		}
		y := Length(i) * spec.Going
		depth := OpeningDepth(j, spec.Going)
		if i == spec.Risers-1 {
			depth = j.Overlay.LandingDepth
		}
		h := Length(i+1) * spec.Rise
		j.Flight.Steps[i] = Step{
			ID:      id(),
			Corners: []Corner{{0, y}, {spec.Width, y}, {spec.Width, y + depth}, {0, y + depth}},
			Edges:   StraightEdges(),
			TopLeft: h, TopRight: h,
			Left: Side{Kind: Skirt}, Right: Side{Kind: Skirt},
			Nosing: NosingCut,
		}
	}
	return j
}

// OpeningDepth returns the depth of a tread opening of the given going: from
// the new nose line back to the face of the existing riser behind, which the
// new riser will cover.
func OpeningDepth(j Job, going Length) Length {
	return going + NoseSetForward(j)
}

// NoseSetForward returns how far the new nose line lies in front of the
// existing riser face below it: the new riser's thickness and the overhang.
func NoseSetForward(j Job) Length { return j.Overlay.Riser + j.Overlay.Overhang }
