package model

// Finding is something the user should know, with the place it belongs to.
type Finding struct {
	Rule     string   `json:"rule"` // stable id, such as "survey.conflict" or "irc.riser.max"
	Severity Severity `json:"severity"`
	Where    Place    `json:"where"`
	Title    string   `json:"title"`              // one line: what and where
	Detail   string   `json:"detail,omitempty"`   // the arithmetic or the reason
	Remedy   string   `json:"remedy,omitempty"`   // what to do
	Section  string   `json:"section,omitempty"`  // section of the publication, if any
	Standing Standing `json:"standing,omitempty"` // how far the limit behind it can be trusted
	// Unsure says that the figure's band reaches back within the limit, so that
	// it may be met after all.
	Unsure bool `json:"unsure,omitempty"`
}

// Heading is the word over a finding: its severity, but no limit is said to be
// passed that only may be.
func (f Finding) Heading() string {
	if f.Severity == Outside && f.Unsure {
		return "may be outside"
	}
	return f.Severity.String()
}

// Severity orders findings. Only Block stops a cut.
type Severity int

const (
	// Note is worth knowing.
	Note Severity = iota
	// Advice rests on practice or on a value from memory.
	Advice
	// Outside is a published limit exceeded. The local official decides.
	Outside
	// Block stops a cut: the readings conflict, or a card failed its proof.
	Block
)

// String returns the word shown for s.
func (s Severity) String() string {
	switch s {
	case Note:
		return "note"
	case Advice:
		return "advice"
	case Outside:
		return "outside limit"
	case Block:
		return "stop"
	}
	return "unknown"
}

// FindingCount is how many findings stand under one heading.
type FindingCount struct {
	Severity Severity
	Heading  string
	Count    int
}

// CountFindings counts findings by their headings, the worst first.
func CountFindings(fs []Finding) []FindingCount {
	n := map[string]int{}
	for _, f := range fs {
		n[f.Heading()]++
	}
	var out []FindingCount
	for s := Block; s >= Note; s-- {
		for _, unsure := range []bool{false, true} {
			word := Finding{Severity: s, Unsure: unsure}.Heading()
			if n[word] > 0 {
				out = append(out, FindingCount{s, word, n[word]})
				n[word] = 0
			}
		}
	}
	return out
}

// Place says where a finding belongs. Step is counted from 1 at the bottom; 0
// is the flight as a whole.
type Place struct {
	Step    int    `json:"step"`
	Kind    Kind   `json:"kind,omitempty"`   // the reading it concerns
	Reading ID     `json:"reading,omitzero"` // that reading's id
	Piece   string `json:"piece,omitempty"`  // such as "T07"
	Field   string `json:"field,omitempty"`  // a field of the job, such as "overlay.tread"
}
