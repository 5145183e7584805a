package fitting

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
)

// explain fills in a sentence each on the winner and the runner-up.
func (s *search) explain(r *Result, w *model.Wishes) {
	best := &r.Candidates[0]
	var why []string
	for k, name := range []string{"left", "right"} {
		why = append(why, reason(best.choice.side[k], sideWish(w, k), s.kinds[k], name, w))
	}
	if why[0] == strings.ReplaceAll(why[1], "right", "left") {
		why = []string{strings.ReplaceAll(why[0], "on the left ", "")}
	}
	// one sentence
	r.Winner = fmt.Sprintf("%s: %s; %d edges are scribed, and one joint in twenty like %s may gape %s.",
		model.Capital(best.Words()), strings.Join(why, "; "), best.Scribed, best.WorstAt, s.p.Job.Format().Gap(model.Length(best.Worst)))
	if len(r.Candidates) == 1 {
		r.RunnerUp = "Nothing else can be built that meets the wishes."
		return
	}
	next := &r.Candidates[1]
	d := diff(next.Cost, best.Cost)
	r.RunnerUp = fmt.Sprintf("Next comes %s: it would cost about %s more, %s.", next.Words(), hours(next.Cost.Total()-best.Cost.Total()), d)
}

func sideWish(w *model.Wishes, k int) model.SideWish {
	if k == 0 {
		return w.Left
	}
	return w.Right
}

// reason says why a side is treated so.
func reason(d Decision, wish model.SideWish, kind model.SideKind, name string, w *model.Wishes) string {
	at := "on the " + name + " "
	switch d.Scheme() {
	case "A":
		if d.Board == KeptSkirt {
			return at + "the kept skirt runs past and every board is scribed to it, so an error stays in its own joint"
		}
		if d.Board == BareWall {
			return at + "the boards butt against the wall, so an error stays in its own joint"
		}
		return at + "a new skirt goes in first and every board is scribed to it, so an error stays in its own joint"
	case "D1":
		s := at + "a false skirt goes over the old one first, so an error stays in its own joint"
		if wish.Battered {
			s += " and the battered face is covered"
		}
		if d.Cap {
			s += ", and a cap keeps the wires within reach"
		}
		return s
	case "C", "D2":
		s := at + "the skirt goes on last over finished steps, which couples its joints through one rigid board"
		if wish.Wiring {
			s += ", but comes off again for the wires"
		}
		return s
	case "B":
		return at + "the skirt is cut to the risers and the treads go on after, which buries the level cuts"
	case "F":
		return at + "beads cover the ends, so nothing is scribed"
	case "G":
		return at + "the ends are filled"
	case "H":
		return at + "the treads run past the open side with mitred returns"
	case "E":
		return at + "the ends are housed in the skirt"
	}
	return at + "the boards meet as listed"
}

// diff names what a dearer cost is made of.
func diff(a, b Cost) string {
	type part struct {
		words string
		v     float64
	}
	parts := []part{
		{"in boards", a.Boards - b.Boards}, {"in scribing", a.Scribing - b.Scribing},
		{"in gaps to be filled or made again", a.Gaps - b.Gaps}, {"in joints seen", a.Seen - b.Seen},
		{"in caps and tails", a.Access - b.Access},
	}
	most, least := parts[0], parts[0]
	for _, p := range parts {
		if p.v > most.v {
			most = p
		}
		if p.v < least.v {
			least = p
		}
	}
	s := fmt.Sprintf("most of it %s (%s)", most.words, hours(most.v))
	if least.v < -5 {
		s += fmt.Sprintf(", though it saves %s %s", hours(-least.v), least.words)
	}
	return s
}

// hours writes minutes as a carpenter would say them.
func hours(minutes float64) string {
	if math.Abs(minutes) < 90 {
		return fmt.Sprintf("%.0f minutes", math.Round(minutes))
	}
	return fmt.Sprintf("%.1f hours", minutes/60)
}

// changes asks what other wishes, or a better or worse survey, would have led
// to.
func (s *search) changes(r *Result, w *model.Wishes) {
	now := r.Candidates[0].Words()
	ask := func(question string, w model.Wishes) {
		var other Result
		s.run(&w, &other, 1, 1)
		switch {
		case other.Status != Solved:
			r.Changes = append(r.Changes, Change{question, "nothing could be built: " + other.Why})
		case other.Candidates[0].Words() != now:
			r.Changes = append(r.Changes, Change{question, other.Candidates[0].Words()})
		}
	}
	for k, name := range []string{"left", "right"} {
		if s.kinds[k] == model.Open {
			continue
		}
		with := func(f func(*model.SideWish)) model.Wishes {
			v := *w
			if k == 0 {
				f(&v.Left)
			} else {
				f(&v.Right)
			}
			return v
		}
		if s.kinds[k] == model.Skirt {
			if sideWish(w, k).Battered {
				ask("if the "+name+" skirt were sound", with(func(x *model.SideWish) { x.Battered = false }))
			} else {
				ask("if the "+name+" skirt were too battered to be seen", with(func(x *model.SideWish) { x.Battered = true }))
			}
		}
		if sideWish(w, k).Wiring {
			ask("if no wires had to be reached on the "+name, with(func(x *model.SideWish) { x.Wiring = false }))
		} else {
			ask("if wires had to be reached on the "+name, with(func(x *model.SideWish) { x.Wiring = true }))
		}
	}
	first := *w
	first.FirstTimer = !w.FirstTimer
	if first.FirstTimer {
		ask("if nobody had scribed a skirt before", first)
	} else {
		ask("if someone with practice did the skirts", first)
	}
	for _, k := range []float64{0.5, 2} {
		question := "if the survey were twice as sure"
		if k > 1 {
			question = "if the survey were half as sure"
		}
		t := *s
		g := *s.model[w.FirstTimer]
		g.scale, g.ends = k, map[endKey]Gap{}
		t.model = map[bool]*gapModel{w.FirstTimer: &g}
		var other Result
		t.run(w, &other, 1, 1)
		if other.Status == Solved && other.Candidates[0].Words() != now {
			r.Changes = append(r.Changes, Change{question, other.Candidates[0].Words()})
		}
	}
}
