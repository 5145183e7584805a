package sheets

import (
	"fmt"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver/fitting"
)

// short names what is decided about a side in a few words.
func short(d fitting.Decision) string {
	s := d.Scheme()
	if s == "" {
		s = "no scheme"
	}
	return s + " (" + string(d.Board) + ")"
}

// listed joins at most most names.
func listed(names []string, most int) string {
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// past says what the ends of risers or treads do at a board.
func past(runs bool, b fitting.Board) string {
	switch {
	case b == fitting.OpenSide && runs:
		return "run over the outer board"
	case b == fitting.OpenSide:
		return "mitred to the outer board"
	case b == fitting.BareWall:
		return "butt against the wall"
	case runs:
		return "run past; the board is cut to them"
	}
	return "butt against the board"
}

// endsWords says how those ends are finished.
func endsWords(d fitting.Decision) string {
	switch {
	case d.Board == fitting.OpenSide:
		return "mitred returns"
	case d.Ends == fitting.Bead:
		return "a bead over every end"
	case d.Ends == fitting.Caulk:
		return "left open and filled"
	case d.Ends == fitting.Housed:
		return "let into grooves in the board"
	case d.RiserPast && d.TreadPast:
		return "hidden; the board is scribed over them"
	case d.RiserPast:
		return "risers hidden; treads scribed to the board"
	}
	return "scribed tight"
}

// HoldWords is what a hold point says, as it stands in an evening's list.
func HoldWords(t *fitting.Task) string { return t.HoldWords() }

// Turn is the turn of a task, from 1, among those that are work.
func Turn(o *fitting.Result, task int) int {
	n := 0
	for i := range task + 1 {
		if !o.Order[i].InPlace {
			n++
		}
	}
	return n
}

// WayIn says how a piece is brought to its place, or what is done with one that
// has no solid and so no way in.
func WayIn(t *fitting.Task) string {
	if t.Way.Words != "" {
		return t.Way.Words
	}
	switch t.Kind {
	case fitting.Skirt:
		return "onto the outer face"
	case fitting.Wires:
		return "lead them; low voltage only"
	case fitting.Notch:
		return "cut it in the riser, on the bench"
	case fitting.Bar:
		return "under the nose, against the riser"
	case fitting.Cove:
		return "into the corner under the nose"
	case fitting.Return:
		return "mitred, along the tread's end"
	case fitting.Baluster:
		return "onto the tread"
	case fitting.BeadRun:
		return "over the ends"
	case fitting.WireCap:
		return "over the wires, so that it comes off again"
	}
	return ""
}

// Meetings lists what a piece runs past and what it butts against, of what is
// there before it or comes after.
func Meetings(o *fitting.Result, t *fitting.Task) (over, butts string) {
	var past, against []string
	for _, i := range t.Joints {
		j := &o.Joints[i]
		other := j.A
		if other == t.ID {
			other = j.B
		}
		if j.RunsPast == t.ID {
			past = append(past, other)
		} else {
			against = append(against, other)
		}
	}
	return gathered(o, past), gathered(o, against)
}

// gathered lists pieces; a board along the flight meets every step, and then one
// word says it.
func gathered(o *fitting.Result, names []string) string {
	const most = 4
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	kinds := map[string]fitting.Kind{}
	count := map[fitting.Kind]int{}
	for i := range o.Order {
		t := &o.Order[i]
		kind := t.Kind
		if kind == fitting.Landing {
			kind = fitting.Tread
		}
		kinds[t.ID] = kind
		count[kind]++
	}
	met := map[fitting.Kind]int{}
	for _, n := range names {
		met[kinds[n]]++
	}
	var out []string
	for _, kind := range []fitting.Kind{fitting.Riser, fitting.Tread} {
		if met[kind] == count[kind] && met[kind] > 1 {
			out = append(out, "every "+string(kind))
			names = slices.DeleteFunc(names, func(n string) bool { return kinds[n] == kind })
		}
	}
	if len(names) > 0 {
		out = append(out, listed(names, most))
	}
	return strings.Join(out, ", ")
}

// Steps writes rising step numbers with runs drawn together.
func Steps(ks []int) string {
	var parts []string
	for i := 0; i < len(ks); {
		j := i
		for j+1 < len(ks) && ks[j+1] == ks[j]+1 {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, fmt.Sprint(ks[i]))
		case j == i+1:
			parts = append(parts, fmt.Sprint(ks[i]), fmt.Sprint(ks[j]))
		default:
			parts = append(parts, fmt.Sprintf("%d to %d", ks[i], ks[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// Trap is a piece that cannot be brought in, and what that stops.
type Trap struct {
	What string   // such as "R01 is trapped; in the way: skirt right"
	Why  string   // of the best combination that it stops
	Also []string // the others, in a few words each
}

// Trapped gathers the refusals: one trapped piece often stops many combinations.
func Trapped(o *fitting.Result) []Trap {
	var out []Trap
	at := map[string]int{}
	for i := range o.Refusals {
		r := &o.Refusals[i]
		what := "its order runs in a circle"
		if r.Trapped != "" {
			what = r.Trapped + " is trapped"
			if len(r.Blocked) > 0 {
				what += "; in the way: " + listed(r.Blocked, 8)
			}
		}
		n, ok := at[what]
		if !ok {
			at[what] = len(out)
			out = append(out, Trap{What: what, Why: r.Why})
			continue
		}
		out[n].Also = append(out[n].Also, fmt.Sprintf("left %s, right %s, backs %s", short(r.Left), short(r.Right), r.Back))
	}
	return out
}

// Sides says what is decided about the left and the right side and between the
// steps, a line each.
func Sides(o *fitting.Result) []string {
	side := func(name string, d fitting.Decision) string {
		board := string(d.Board)
		if d.Cap {
			board += " with a cap over the wires"
		}
		scheme := d.Scheme()
		if scheme != "" {
			scheme = " (scheme " + scheme + ")"
		}
		return fmt.Sprintf("%s: %s; risers %s, treads %s; ends %s%s", name, board, past(d.RiserPast, d.Board), past(d.TreadPast, d.Board), endsWords(d), scheme)
	}
	return []string{side("left", o.Left), side("right", o.Right), "between the steps: " + backWords(o.Back)}
}

func backWords(b model.BackJoint) string {
	if b == model.BackAgainstRiser {
		return "the tread butts against the riser behind it"
	}
	return "the riser above stands on the tread's back edge"
}
