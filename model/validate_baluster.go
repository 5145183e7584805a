package model

import "fmt"

// MaxBalusters is the most balusters a step may have. A tread carries two or
// three; a landing may carry a row.
const MaxBalusters = 200

// validateBalusters judges the balusters of every step.
func (j Job) validateBalusters() []Finding {
	var out []Finding
	seen := map[ID]bool{}
	for i, s := range j.Flight.Steps {
		if len(s.Balusters) == 0 {
			continue
		}
		block := func(rule, title, remedy string) {
			out = append(out, Finding{Rule: rule, Severity: Block, Where: Place{Step: i + 1, Field: "steps.balusters"},
				Title: fmt.Sprintf("step %d: %s", i+1, title), Remedy: remedy})
		}
		if n := len(s.Balusters); n > MaxBalusters {
			block("job.balusters", fmt.Sprintf("it has %d balusters", n), fmt.Sprintf("at most %d are kept", MaxBalusters))
			continue
		}
		for k, b := range s.Balusters {
			switch {
			case b.ID == (ID{}) || seen[b.ID]:
				block("job.id", fmt.Sprintf("baluster %d has no id, or another has the same", k+1), "give each its own UUID")
			case b.Side != Left && b.Side != Right:
				block("job.balusters", fmt.Sprintf("baluster %d stands at %q", k+1, b.Side), `write "left" or "right"`)
			case bad(b.Behind) || b.Behind < 0 || bad(b.Length) || b.Length < 0:
				block("job.balusters", fmt.Sprintf("baluster %d stands %g mm behind the nose and is %g mm long", k+1, float64(b.Behind), float64(b.Length)), "both are 0 or more")
			}
			seen[b.ID] = true
		}
	}
	return out
}
