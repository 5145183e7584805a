package fitting

import (
	"risewright/model"
	"risewright/solver/pieces"
)

// Result is the order of fitting. It is read-only once returned.
type Result struct {
	Status Status
	// Why says in words why there is no order, unless Status is Solved.
	Why string
	// Left and Right are the decisions, Back that between the steps.
	Left, Right Decision
	Back        model.BackJoint

	Order  []Task
	Joints []Joint
	Cost   Cost
	Plan   Plan

	// Candidates are the two dozen best combinations that can be built and
	// meet the wishes, the best first.
	Candidates []Candidate
	// Refusals are the first dozen of the Refused combinations that meet the
	// wishes and rank before the last candidate, but cannot be built.
	Refusals []Refusal
	Refused  int
	Tried    int // combinations looked at

	Winner, RunnerUp string // one sentence each
	// Changes say what would change the choice.
	Changes  []Change
	Findings []model.Finding
	Weights  Weights
}

// Status says how the search ended.
type Status string

// The ways it can end.
const (
	Solved  Status = "solved"
	Refused Status = "refused"   // no buildable order meets the wishes
	NoShape Status = "no boards" // the survey leaves no boards to fit
)

// Candidate is a combination that can be built.
type Candidate struct {
	Left, Right Decision
	Back        model.BackJoint
	Cost        Cost
	// Scribed is the number of scribed edges and Seen of joints seen.
	Scribed, Seen int
	// Worst is the gap that one visible joint in twenty of the worst kind
	// exceeds, mm, and WorstAt a joint of that kind.
	Worst     float64
	WorstAt   string
	Removable [2]bool // which sides' wires stay within reach

	choice choice
}

// Words names the candidate as a carpenter would.
func (c *Candidate) Words() string { return c.choice.words() }

// Refusal is a combination that cannot be built.
type Refusal struct {
	Left, Right Decision
	Back        model.BackJoint
	// Cycle are the ids that wait for each other, first to last and round;
	// empty when the order was sound. Reasons[i] is why Cycle[i] comes before
	// the next.
	Cycle, Reasons []string
	// Trapped is the piece that cannot get in, Must how it would have to come,
	// and Blocked by what.
	Trapped string
	Must    Way
	Blocked []string
	Why     string // in a sentence
}

// Task is one piece in its turn.
type Task struct {
	Item
	Minutes float64
	// Stage is the stage of the table of labour that the piece belongs to; ""
	// for small work that the table does not list.
	Stage   string
	Evening int // from 1
	// Way is how it is brought to its place.
	Way Way
	// Scribe lists the edges of this piece to scribe, such as "to T03".
	Scribe []string
	// Reveal is what is left to be seen, in words, and by how much, mm.
	Reveal   string
	RevealBy float64
	Joints   []int // indices in Result.Joints
	// Shape is the piece as it lies in the stair, in convex parts; empty for
	// pieces that have no solid.
	Shape []pieces.Solid
	Note  string
}

// Change is what would change the choice.
type Change struct {
	If     string // such as "the left skirt were battered"
	Choice string
}
