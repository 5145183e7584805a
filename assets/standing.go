package assets

import "slices"

// Standing says how a published value was read. A value that is only memory is
// advice, never a failure. The zero value is not a standing.
type Standing string

// The standings, from strongest to weakest.
const (
	// Seen means the publication's text was read, in a stored copy or quoted in full.
	Seen Standing = "seen"
	// Transcription means the text was read in somebody else's transcription.
	Transcription Standing = "transcription"
	// Secondary means a page that restates the publication was read.
	Secondary Standing = "secondary"
	// Memory means from memory, not read.
	Memory Standing = "memory"
)

// Standings lists the standings from strongest to weakest.
func Standings() []Standing { return []Standing{Seen, Transcription, Secondary, Memory} }

// known says whether s is one of the standings.
func (s Standing) known() bool { return slices.Contains(Standings(), s) }
