package bars

import (
	"fmt"
	"slices"
	"strings"

	"risewright/model"
)

// notes gathers what is found, so that what holds of many bars is said once.
type notes struct {
	whole  []model.Finding
	shared []shared
}

// shared is one thing found at several bars.
type shared struct {
	finding model.Finding
	says    string
	steps   []int
}

// add notes that the bar of a step does what says says, by a limit of the given
// standing, and which field of the lighting mends it; "" is none. The detail is
// that of the first bar noted.
func (n *notes) add(standing model.Standing, rule string, sev model.Severity, field string, step int, says, detail, remedy string) {
	for i := range n.shared {
		if s := &n.shared[i]; s.finding.Rule == rule {
			s.steps = append(s.steps, step)
			return
		}
	}
	where := model.Place{Step: step}
	if field != "" {
		where.Field = "lighting." + field
	}
	n.shared = append(n.shared, shared{
		finding: model.Finding{Rule: rule, Severity: sev, Where: where, Detail: detail, Remedy: remedy, Standing: standing}, says: says, steps: []int{step},
	})
}

// findings returns one finding for each thing noted.
func (n *notes) findings(bars int) []model.Finding {
	out := n.whole
	for _, s := range n.shared {
		f, first := s.finding, s.steps[0]
		slices.Sort(s.steps)
		f.Where.Step = s.steps[0]
		f.Title = Names(s.steps) + " " + s.says
		if len(s.steps) > 1 {
			f.Title = Names(s.steps) + ": each " + s.says
			f.Detail = Name(first) + ": " + f.Detail
		}
		if len(s.steps) == bars && bars > 1 {
			f.Where.Step = 0
			f.Title = fmt.Sprintf("all %d bars: each %s", bars, s.says)
		}
		out = append(out, f)
	}
	return out
}

// Names lists the bars of some steps, runs of three and more with a dash:
// "B01, B03–B07". Steps go up.
func Names(steps []int) string {
	var out []string
	for i := 0; i < len(steps); {
		k := i
		for k+1 < len(steps) && steps[k+1] == steps[k]+1 {
			k++
		}
		switch {
		case k-i >= 2:
			out = append(out, Name(steps[i])+"–"+Name(steps[k]))
		default:
			for j := i; j <= k; j++ {
				out = append(out, Name(steps[j]))
			}
		}
		i = k + 1
	}
	return strings.Join(out, ", ")
}

func words(field string) string { return strings.ReplaceAll(field, "_", " ") }
