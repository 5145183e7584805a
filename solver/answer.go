package solver

import (
	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/power"
	"risewright/solver/saw"
	"risewright/solver/survey"
)

// Answer is everything computed from one job. It is read-only once returned
// and may be shared between goroutines.
type Answer struct {
	Job     model.Job // the job it answers
	Survey  *survey.Result
	Buildup buildup.Result
	// Pieces in the order of building up, R01 T01 R02 …, then the floors of
	// landings and the return nosings.
	Pieces []pieces.Piece
	Cards  []saw.Card // Cards[i] is the card of Pieces[i]
	// Balusters of the open sides, from the bottom up.
	Balusters []pieces.Baluster
	Findings  []model.Finding // worst first, then from the bottom up

	// Bars and Power are those of a job with lighting; Power is nil without.
	Bars  bars.Result
	Power *power.Result

	// Lit is how much of the flight lights for who walks it. Solve leaves it nil, as
	// it leaves out what the sensors see; Found returns it.
	Lit *Lit
}

// Piece returns the place in Pieces and Cards of the piece called id, or -1.
func (a *Answer) Piece(id string) int {
	for i := range a.Pieces {
		if a.Pieces[i].ID == id {
			return i
		}
	}
	return -1
}

// Blocked says whether a finding stops work.
func (a *Answer) Blocked() bool {
	return len(a.Findings) > 0 && a.Findings[0].Severity == model.Block
}

// Released counts the cards that may be taken to the saw.
func (a *Answer) Released() int {
	n := 0
	for i := range a.Cards {
		if a.Cards[i].Released && a.Cards[i].Proof.OK {
			n++
		}
	}
	return n
}
