package fitting

import (
	"fmt"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
)

// Kind is what a piece or job of work is.
type Kind string

// The kinds.
const (
	Skirt    Kind = "skirt"
	Riser    Kind = "riser"
	Tread    Kind = "tread"
	Landing  Kind = "landing nosing"
	Floor    Kind = "landing floor"
	BeadRun  Kind = "bead"
	WireCap  Kind = "cap"
	Wires    Kind = "wires"
	Notch    Kind = "notch"
	Bar      Kind = "light bar"
	Cove     Kind = "cove"
	Return   Kind = "return nosing"
	Baluster Kind = "balusters"
	Hold     Kind = "hold point"
	hint     Kind = "" // between two groups that a wish orders
)

// Item is a piece, a run of small pieces or a hold point, with its place.
type Item struct {
	ID   string // such as "T05", "skirt left", "bar 03" or "hold: soak"
	Kind Kind
	Step int // from 1; 0: along the flight
	Side pieces.Side
	// Sided says that Side counts.
	Sided bool
	// InPlace says that it was there before the work began.
	InPlace bool
	// Outer says that it is the outer skirt of an open side.
	Outer bool
}

// Scope says how far an error in a joint spreads.
type Scope string

// The scopes.
const (
	Local Scope = "local" // it stays where it is
	Chain Scope = "chain" // it moves every step above
	Rigid Scope = "rigid" // one board couples all its joints
)

// Joint is where two pieces meet.
type Joint struct {
	A, B string // ids
	// RunsPast is the one of the two that the other butts against.
	RunsPast string
	// Scribed is the one whose edge is scribed to the other; empty when none
	// is: the cut is square or loose.
	Scribed string
	Visible bool
	// Limit is the gap, mm, that is good enough, and Reject the one that is
	// not; of a hidden joint both are how far it may be off.
	Limit, Reject float64
	Hider         string // what hides the gap; empty when nothing does
	Scope         Scope
	Gap           Gap // to be expected; the zero Gap for a hidden joint

	step int // from 0
	kind jointKind
}

type jointKind int

const (
	hiddenJoint jointKind = iota
	treadEnd
	riserEnd
	skirtLevel // a skirt scribed down to a tread, with its nose
	skirtPlumb
	treadBack
	riserFoot
	mitreJoint
	beadEnds
	caulkedEnd
)

// Gap limits, mm: good and reject. Common practice, no source, as the trade
// notes mark them.
const (
	clearGood, clearReject   = 0.5, 0.8 // clear wood to painted
	mitreGood, mitreReject   = 0.3, 0.5
	backGood, backReject     = 0.5, 0.8
	paintGood, paintReject   = 2.0, 3.0
	hiddenGood, hiddenReject = 3.0, 3.0
)

// build is a choice worked out: its items, what must come before what, and its
// joints.
type build struct {
	items  []Item
	ids    map[string]node
	rank   []float64
	joints []Joint
	arrows []rawArrow
	made   *graph // of the arrows; see graph
	bad    string // a wish that names nothing
	of     *sides
}

type rawArrow struct {
	a, b node
	why  string
}

func (b *build) add(rank float64, it Item) node {
	if n, ok := b.ids[it.ID]; ok && it.Kind != hint {
		return n
	}
	n := len(b.items)
	b.items = append(b.items, it)
	b.rank = append(b.rank, rank)
	b.ids[it.ID] = n
	return n
}

func (b *build) before(x, y node, why string) { b.arrows = append(b.arrows, rawArrow{x, y, why}) }

// Ranks: of the pieces that are free, the one of least rank goes first. Steps
// come from the bottom up, a step's pieces within stepRank.
const (
	rankFirst = 0.0
	stepRank  = 10.0
	rankLater = 1e6 // after all steps
	rankLast  = 2e6
	rankCaps  = 3e6
)

// buildOf works out the choice for a flight with such sides.
func buildOf(c choice, w *model.Wishes, f *sides) *build {
	n := f.steps
	b := &build{ids: make(map[string]node, 6*n), of: f, items: make([]Item, 0, 6*n), rank: make([]float64, 0, 6*n),
		joints: make([]Joint, 0, 7*n), arrows: make([]rawArrow, 0, 16*n)}
	risers, treads := make([]node, n), make([]node, n)
	for i := range n {
		k := pieces.Tread
		kind := Tread
		if i == n-1 || f.landing[i] {
			k, kind = pieces.LandingNosing, Landing
		}
		r, t := stepRank*float64(i+1)+1, stepRank*float64(i+1)+2
		if c.back == model.BackAgainstRiser {
			t += rankLater / 2
		}
		risers[i] = b.add(r, Item{ID: f.label(pieces.Riser, i), Kind: Riser, Step: i + 1})
		treads[i] = b.add(t, Item{ID: f.label(k, i), Kind: kind, Step: i + 1})
	}
	for i := range n {
		b.before(risers[i], treads[i], "the tread runs over the riser")
		b.join(Joint{A: b.id(risers[i]), B: b.id(treads[i]), RunsPast: b.id(treads[i]), Limit: hiddenGood, Reject: hiddenReject, Hider: "the overhang", Scope: Local, step: i})
		if i == n-1 {
			continue
		}
		if f.landing[i] {
			b.floor(c.back, i, risers[i+1], treads[i])
			continue
		}
		if c.back == model.BackAgainstRiser {
			b.before(risers[i+1], treads[i], "the tread butts against the riser behind it")
			b.join(Joint{A: b.id(treads[i]), B: b.id(risers[i+1]), RunsPast: b.id(risers[i+1]), Scribed: b.id(treads[i]), Visible: true, Limit: backGood, Reject: backReject, Scope: Local, step: i, kind: treadBack})
		} else {
			b.before(treads[i], risers[i+1], "the riser stands on the tread")
			b.join(Joint{A: b.id(treads[i]), B: b.id(risers[i+1]), RunsPast: b.id(treads[i]), Visible: true, Limit: backGood, Reject: backReject, Scope: Chain, step: i, kind: riserFoot})
		}
	}
	var boards [2]node
	for s := range c.side {
		boards[s] = b.side(pieces.Side(s), c.side[s], w, f, risers, treads)
	}
	b.lights(c, w, risers, treads, boards)
	if w.Coves {
		for i := range n {
			cove := b.add(rankLater+stepRank*float64(i+1), Item{ID: f.named("cove", i), Kind: Cove, Step: i + 1})
			b.before(risers[i], cove, "the cove sits in the corner under the nose")
			b.before(treads[i], cove, "the cove sits in the corner under the nose")
			for s := range c.side {
				if boards[s] >= 0 {
					b.before(boards[s], cove, "the cove's ends are scribed to the skirt")
				}
				if r, ok := b.ids[f.returnID(pieces.Side(s), i)]; ok {
					b.before(r, cove, "the cove follows the return nosing")
				}
			}
		}
	}
	b.hints(w)
	return b
}

// graph returns what must come before what. Most builds are only weighed, and
// never asked.
func (b *build) graph() *graph {
	if b.made == nil {
		b.made = newGraph(len(b.items))
		for _, a := range b.arrows {
			b.made.before(a.a, a.b, a.why)
		}
	}
	return b.made
}

// floor adds the floor of the landing of step i behind its nosing; riser is the
// first of the flight above it.
func (b *build) floor(back model.BackJoint, i int, riser, nosing node) {
	rank := b.rank[nosing] + 0.5
	floor := b.add(rank, Item{ID: pieces.Label(pieces.LandingFloor, i+1), Kind: Floor, Step: i + 1})
	b.before(nosing, floor, "the floor lies flush behind its nosing")
	b.join(Joint{A: b.id(floor), B: b.id(nosing), RunsPast: b.id(nosing), Scribed: b.id(floor), Visible: true, Limit: backGood, Reject: backReject, Scope: Local, step: i, kind: riserFoot})
	if back == model.BackAgainstRiser {
		b.before(riser, floor, "the floor butts against the riser of the next flight")
		b.join(Joint{A: b.id(floor), B: b.id(riser), RunsPast: b.id(riser), Scribed: b.id(floor), Visible: true, Limit: backGood, Reject: backReject, Scope: Local, step: i, kind: treadBack})
		return
	}
	b.before(floor, riser, "the riser of the next flight stands on the floor")
	b.join(Joint{A: b.id(floor), B: b.id(riser), RunsPast: b.id(floor), Visible: true, Limit: backGood, Reject: backReject, Scope: Chain, step: i, kind: riserFoot})
}

func (b *build) id(n node) string { return b.items[n].ID }
func (b *build) join(j Joint)     { b.joints = append(b.joints, j) }

// side adds the board of a side, the joints along it, and what comes with it;
// it returns the board's node, or -1.
func (b *build) side(s pieces.Side, d Decision, w *model.Wishes, f *sides, risers, treads []node) node {
	name := s.String()
	bars := func(i int) bool { return f.hasBalusters(w, s, i) }
	last := len(risers) - 1
	var outer node = -1
	if d.Board == OpenSide || slices.Contains(f.open[s], true) {
		outer = b.outerSkirt(s, d)
	}
	if d.Board == OpenSide {
		for i := range risers {
			for _, piece := range [2]node{risers[i], treads[i]} {
				if f.open[s][f.meets(b.items[piece].Kind, i)] {
					b.openEnd(s, outer, piece, i, i == last, f.returned[s][i], bars(i))
				} else {
					b.ends(Decision{Board: BareWall, Ends: Tight}, -1, "the wall on the "+name, piece, i, false)
				}
			}
		}
		return outer
	}
	var board node = -1
	other := "the wall on the " + name
	if d.Board != BareWall {
		other = "skirt " + name
		if d.Board == FalseBoard {
			other = "false skirt " + name
		}
		rank := rankFirst
		if d.RiserPast {
			rank = rankLater/2 - 1
		}
		if d.TreadPast {
			rank = rankLast
		}
		board = b.add(rank, Item{ID: other, Kind: Skirt, Side: s, Sided: true, InPlace: d.Board == KeptSkirt})
	}
	for i := range risers {
		for _, piece := range [2]node{risers[i], treads[i]} {
			past := d.TreadPast
			if piece == risers[i] {
				past = d.RiserPast
			}
			if f.open[s][f.meets(b.items[piece].Kind, i)] {
				b.openEnd(s, outer, piece, i, i == last, f.returned[s][i], bars(i))
			} else {
				b.ends(d, board, other, piece, i, past)
			}
		}
		if d.Ends == Bead && !f.open[s][i] {
			bead := b.add(rankLater+stepRank*float64(i+1)+4, Item{ID: f.named("bead "+name, i), Kind: BeadRun, Step: i + 1, Side: s, Sided: true})
			b.before(risers[i], bead, "the bead covers the ends")
			b.before(treads[i], bead, "the bead covers the ends")
			b.join(Joint{A: b.id(bead), B: other, RunsPast: other, Visible: true, Limit: paintGood, Reject: paintReject, Scope: Local, step: i, kind: beadEnds})
		}
	}
	if d.Cap {
		cap := b.add(rankCaps, Item{ID: "cap " + name, Kind: WireCap, Side: s, Sided: true})
		b.before(board, cap, "the cap closes the channel behind the board")
		b.join(Joint{A: "cap " + name, B: other, RunsPast: other, Visible: true, Limit: paintGood, Reject: paintReject, Scope: Local, kind: beadEnds})
	}
	return board
}

// ends adds the joint between a riser or tread and the side.
func (b *build) ends(d Decision, board node, other string, piece node, i int, past bool) {
	it := b.items[piece]
	j := Joint{A: it.ID, B: other, RunsPast: other, Scribed: it.ID, Visible: true, Limit: clearGood, Reject: clearReject, Scope: Local, step: i, kind: treadEnd}
	if it.Kind == Riser {
		j.Limit, j.Reject, j.kind, j.Hider = paintGood, paintReject, riserEnd, "paint and filler"
	}
	switch {
	case past:
		j.RunsPast, j.Scribed, j.Scope = it.ID, other, Rigid
		j.kind = skirtLevel
		if it.Kind == Riser {
			j.kind = skirtPlumb
		}
		b.before(piece, board, "the skirt is cut to it")
	case d.Ends == Bead:
		j.Scribed, j.Visible, j.kind, j.Hider = "", false, hiddenJoint, "the bead"
		j.Limit, j.Reject = hiddenGood, hiddenReject
	case d.Ends == Caulk:
		j.Scribed, j.kind, j.Hider = "", caulkedEnd, "filler"
		j.Limit, j.Reject = paintGood, paintReject
	case d.Ends == Housed:
		j.Scribed, j.Visible, j.kind, j.Hider = "", false, hiddenJoint, "the groove"
		j.Limit, j.Reject = grooveDepth, grooveDepth
	}
	if board >= 0 && !past {
		b.before(board, piece, "its end butts against the skirt")
	}
	if board >= 0 && past && b.items[board].InPlace {
		b.before(board, piece, "the skirt is on the wall already")
	}
	b.join(j)
}

// lights adds wires, notches, bars and their hold points.
func (b *build) lights(c choice, w *model.Wishes, risers, treads []node, boards [2]node) {
	n := len(risers)
	wired := [2]bool{w.Left.Wiring, w.Right.Wiring}
	if w.LightBars && !wired[0] && !wired[1] {
		// they must run somewhere: where they stay within reach, if there is
		// such a side, else behind the risers on the right
		side := 1
		if c.side[1].Board == OpenSide || c.side[0].Removable() && !c.side[1].Removable() {
			side = 0
		}
		// where the light bars are laid out, it is said where they climb
		if s := b.of.wired; s.said && c.side[s.at].Board != OpenSide {
			side = int(s.at)
		}
		wired[side] = c.side[side].Board != OpenSide
	}
	for s, on := range wired {
		if !on || c.side[s].Board == OpenSide {
			continue
		}
		side := pieces.Side(s)
		name := side.String()
		wires := b.add(rankFirst+1, Item{ID: "wires " + name, Kind: Wires, Side: side, Sided: true})
		photo := b.add(rankFirst+2, Item{ID: "hold: photograph the wires " + name, Kind: Hold, Side: side, Sided: true})
		soak := b.add(rankFirst+3, Item{ID: "hold: soak " + name, Kind: Hold, Side: side, Sided: true})
		b.before(wires, photo, "there must be wires to photograph")
		b.before(photo, soak, "photograph before anything is closed")
		var closing []node
		late := false
		switch d := c.side[s]; {
		case d.Cap:
			b.before(boards[s], wires, "the channel lies behind the board")
			closing, late = []node{b.ids["cap "+name]}, true
		case d.Removable():
			closing, late = []node{boards[s]}, true
		default:
			closing = risers
		}
		for _, x := range closing {
			b.before(soak, x, "run at full power for an hour before closing")
			b.before(wires, x, "it closes over the wires")
		}
		if late && w.LightBars { // the bars hang on the wires by then
			for i := range n {
				b.before(b.bar(i, risers, treads), soak, "the bars are tested before closing")
			}
		}
	}
	if !w.LightBars {
		return
	}
	for i := range n {
		bar := b.bar(i, risers, treads)
		notch := b.add(stepRank*float64(i+1), Item{ID: b.of.named("notch", i), Kind: Notch, Step: i + 1})
		b.before(notch, risers[i], "the hole for the bar's tail goes through the riser")
		b.before(notch, bar, "the bar's tail goes through it")
		for s, on := range wired {
			if on && boards[s] >= 0 && c.side[s].TreadPast && c.side[s].Removable() {
				b.before(bar, boards[s], "the bar's tail runs behind the skirt")
			}
		}
	}
}

// bar returns the node of the bar under nose i+1.
func (b *build) bar(i int, risers, treads []node) node {
	id := b.of.named("bar", i)
	if n, ok := b.ids[id]; ok {
		return n
	}
	bar := b.add(rankLater+stepRank*float64(i+1)+5, Item{ID: id, Kind: Bar, Step: i + 1})
	b.before(treads[i], bar, "the bar hangs under the nose")
	b.before(risers[i], bar, "the bar lies against the riser")
	return bar
}

// groups are the words for all pieces of a kind.
func group(name string) (Kind, bool) {
	switch name {
	case "skirts":
		return Skirt, true
	case "risers":
		return Riser, true
	case "treads":
		return Tread, true
	case "bars":
		return Bar, true
	case "wires":
		return Wires, true
	case "coves":
		return Cove, true
	case "beads":
		return BeadRun, true
	case "caps":
		return WireCap, true
	case "balusters":
		return Baluster, true
	case "returns":
		return Return, true
	}
	return "", false
}

// wished is why one piece comes before another that the user ordered so.
const wished = "as you wished"

// hints adds the order that was wished for.
func (b *build) hints(w *model.Wishes) {
	find := func(name string) []node {
		name = strings.TrimSpace(name)
		var out []node
		kind, all := group(strings.ToLower(name))
		for i, it := range b.items {
			if it.Kind == hint {
				continue
			}
			match := strings.EqualFold(it.ID, name) ||
				// the board of a side, whatever it turns out to be
				it.Kind == Skirt && strings.EqualFold("skirt "+it.Side.String(), name)
			if all && (it.Kind == kind || kind == Tread && it.Kind == Landing) {
				match = true
			}
			if match {
				out = append(out, i)
			}
		}
		return out
	}
	for i, h := range w.Order {
		first, then := find(h.First), find(h.Then)
		if len(first) == 0 || len(then) == 0 {
			missing := h.First
			if len(first) > 0 {
				missing = h.Then
			}
			b.bad = fmt.Sprintf("the wish for %q before %q: there is no %q here", h.First, h.Then, missing)
			continue
		}
		if len(first) == 1 && len(then) == 1 {
			b.before(first[0], then[0], wished)
			continue
		}
		gate := b.add(0, Item{ID: fmt.Sprintf("wish %d", i+1), Kind: hint})
		for _, x := range first {
			b.before(x, gate, wished)
		}
		for _, x := range then {
			b.before(gate, x, wished)
		}
	}
}
