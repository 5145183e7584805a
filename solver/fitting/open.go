package fitting

import (
	"fmt"
	"slices"

	"risewright/model"
	"risewright/solver/pieces"
)

// sides is which ends of a flight's steps are open, which of those have their
// nosings returned, and where balusters stand: by side, then by step from 0. What
// is decided for a side counts for its closed steps; a riser at an open end
// always meets an outer skirt.
type sides struct {
	steps                int
	open, returned, bars [2][]bool
	landing              []bool // between two flights
	risers               []int  // the step, from 0, whose sides each riser meets
	wired                climb  // where the wires of laid-out light bars climb

	labels map[pieces.Kind][]string // of boards; see label
	names  map[string][]string      // of other pieces; see named
}

// climb is the side where the wires climb, where that is said.
type climb struct {
	at   pieces.Side
	said bool
}

// climbOf returns where the lighting of a job has its wires climb: under the
// stair is at neither side.
func climbOf(l *model.Lighting) climb {
	switch {
	case !l.On() || l.Cavity == model.CavityUnder:
		return climb{}
	case l.Cavity == model.CavityRight:
		return climb{at: pieces.Right, said: true}
	}
	return climb{at: pieces.Left, said: true}
}

// label is the name of the board of a kind of step i, from 0. It is kept, because
// hundreds of builds ask for it.
func (f *sides) label(k pieces.Kind, i int) string {
	if f.labels == nil {
		f.labels = map[pieces.Kind][]string{}
	}
	return kept(f.labels, k, f.steps, i, func() string { return pieces.Label(k, i+1) })
}

// named is the name of another piece of step i, from 0, such as "bar 03".
func (f *sides) named(what string, i int) string {
	if f.names == nil {
		f.names = map[string][]string{}
	}
	return kept(f.names, what, f.steps, i, func() string { return fmt.Sprintf("%s %02d", what, i+1) })
}

func kept[K comparable](in map[K][]string, key K, n, i int, text func() string) string {
	of := in[key]
	if of == nil {
		of = make([]string, n)
		in[key] = of
	}
	if of[i] == "" {
		of[i] = text()
	}
	return of[i]
}

// hasBalusters says whether balusters stand at a side of step i, from 0.
func (f *sides) hasBalusters(w *model.Wishes, s pieces.Side, i int) bool {
	wish := w.Left
	if s == pieces.Right {
		wish = w.Right
	}
	return wish.Balusters > 0 || i >= 0 && i < len(f.bars[s]) && f.bars[s][i]
}

// sidesOf returns those of a job whose boards are ps, a riser and a tread for each
// step.
func sidesOf(j *model.Job, ps []pieces.Piece) sides {
	n := len(j.Flight.Steps)
	out := sides{steps: n, landing: make([]bool, n), risers: make([]int, n), wired: climbOf(&j.Lighting)}
	for i := range j.Flight.Steps {
		out.landing[i], out.risers[i] = j.Flight.Steps[i].Landing, ps[2*i].Meets-1
	}
	for k := range out.open {
		out.open[k], out.returned[k], out.bars[k] = make([]bool, n), make([]bool, n), make([]bool, n)
		for i := range j.Flight.Steps {
			s := &j.Flight.Steps[i]
			side, edge, round := s.Left, model.Left, s.RoundLeft
			if k == int(pieces.Right) {
				side, edge, round = s.Right, model.Right, s.RoundRight
			}
			out.open[k][i], out.returned[k][i] = side.Kind == model.Open, side.MitredReturn() && round == 0
			out.bars[k][i] = slices.ContainsFunc(s.Balusters, func(b model.Baluster) bool { return b.Side == edge })
		}
	}
	return out
}

// meets returns the step whose sides a board of step i meets.
func (f *sides) meets(kind Kind, i int) int {
	if kind == Riser {
		return f.risers[i]
	}
	return i
}

// returnID is the name of the return nosing at a side of step i, as package pieces
// has it.
func (f *sides) returnID(s pieces.Side, i int) string {
	id := pieces.Label(pieces.ReturnNosing, i+1)
	if f.returned[0][i] && f.returned[1][i] {
		id += [2]string{"L", "R"}[s]
	}
	return id
}

// at returns the shapes of the two sides as they are at step i.
func (f *sides) at(i int, of [2]sideShape) [2]sideShape {
	for k := range of {
		if f.open[k][i] {
			of[k] = sideShape{open: true}
		}
	}
	return of
}

// openEnd adds what belongs to the open end of a riser or tread of step i: its
// joint with the outer skirt, and over a tread the return and the balusters.
func (b *build) openEnd(s pieces.Side, outer, piece node, i int, last, returned, bars bool) {
	it := b.items[piece]
	skirt := b.id(outer)
	if it.Kind == Riser {
		b.before(outer, piece, "the riser is mitred to the outer skirt")
		b.join(Joint{A: it.ID, B: skirt, RunsPast: skirt, Scribed: it.ID, Visible: true, Limit: mitreGood, Reject: mitreReject, Scope: Rigid, step: i, kind: mitreJoint})
		return
	}
	b.before(outer, piece, "the tread runs over the outer skirt")
	b.join(Joint{A: it.ID, B: skirt, RunsPast: it.ID, Limit: hiddenGood, Reject: hiddenReject, Hider: "the overhang", Scope: Local, step: i})
	if last || it.Kind == Landing {
		return
	}
	if !returned {
		if bars {
			bal := b.balusters(s, i)
			b.before(piece, bal, "balusters stand on the tread")
		}
		return
	}
	ret := b.add(rankLater+stepRank*float64(i+1)+3, Item{ID: b.of.returnID(s, i), Kind: Return, Step: i + 1, Side: s, Sided: true})
	b.before(piece, ret, "the return wraps the tread's end")
	b.join(Joint{A: it.ID, B: b.id(ret), RunsPast: it.ID, Scribed: b.id(ret), Visible: true, Limit: mitreGood, Reject: mitreReject, Scope: Local, step: i, kind: mitreJoint})
	if bars {
		bal := b.balusters(s, i)
		b.before(piece, bal, "balusters stand on the tread")
		b.before(bal, ret, "the return closes over the balusters' ends")
	}
}

// balusters adds those at a side of step i.
func (b *build) balusters(s pieces.Side, i int) node {
	return b.add(rankLater+stepRank*float64(i+1)+2, Item{ID: b.of.named("balusters "+s.String(), i), Kind: Baluster, Step: i + 1, Side: s, Sided: true})
}

// outerSkirt adds the outer skirt of a side that is open somewhere.
func (b *build) outerSkirt(s pieces.Side, d Decision) node {
	id := "skirt " + s.String()
	if d.Board != OpenSide { // the board of the closed steps has that name
		id = "outer " + id
	}
	return b.add(rankFirst, Item{ID: id, Kind: Skirt, Side: s, Sided: true, Outer: true})
}
