package fitting

import (
	"sort"
	"testing"

	"risewright/app/demo"
	"risewright/model"
	"risewright/solver/survey"
)

// TestOrderOfTrying holds the combinations that run keeps, which weighs most of
// them in part, to those that come first when all are weighed in full.
func TestOrderOfTrying(t *testing.T) {
	jobs, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range jobs {
		p := Problem{Job: d.Job, Survey: survey.Solve(d.Job)}
		for i, w := range []model.Wishes{{}, {LightBars: true, Left: model.SideWish{Wiring: true}}, {FirstTimer: true, Right: model.SideWish{Battered: true}}} {
			s := newSearch(&p)
			if s.broken != "" {
				t.Fatal(s.broken)
			}
			var got Result
			s.run(&w, &got, wantCandidates, toldRefusals)
			type full struct {
				choice
				Cost
			}
			var all []full
			for _, c := range s.choices() {
				if c.meets(&w, s.kinds) != "" {
					continue
				}
				b := buildOf(c, &w, &s.ends)
				s.model[w.FirstTimer].fill(b, c, false)
				all = append(all, full{c, s.weights.weigh(b, c, s.kinds, w.FirstTimer)})
			}
			sort.SliceStable(all, func(a, b int) bool { return all[a].Total() < all[b].Total() })
			k := 0
			for _, x := range all {
				if k == len(got.Candidates) {
					break
				}
				if !s.buildable(buildOf(x.choice, &w, &s.ends), x.choice) {
					continue
				}
				if c := &got.Candidates[k]; c.choice != x.choice || c.Cost != x.Cost {
					t.Fatalf("%s, wishes %d, candidate %d: %s, %.3f; weighed in full %s, %.3f", d.Name, i, k, c.choice.words(), c.Cost.Total(), x.choice.words(), x.Cost.Total())
				}
				k++
			}
			if k == 0 || k != len(got.Candidates) {
				t.Errorf("%s, wishes %d: %d candidates, %d found in full", d.Name, i, len(got.Candidates), k)
			}
		}
	}
}
