package fitting

import (
	"slices"
	"strings"
	"testing"

	"risewright/model"
)

// A side that is open for some steps only: those ends meet an outer skirt, with
// a return where the nosing is returned, and the closed ones the board that is
// decided on; nothing of the open part stands in the way of a board.
func TestASideOpenInPart(t *testing.T) {
	f := &sides{steps: 4, landing: make([]bool, 4), risers: []int{0, 0, 1, 2}}
	for k := range f.open {
		f.open[k], f.returned[k], f.bars[k] = make([]bool, 4), make([]bool, 4), make([]bool, 4)
	}
	f.open[1] = []bool{true, true, false, false}
	f.returned[1] = []bool{true, false, false, false}
	f.bars[1] = []bool{false, true, false, false}
	kept := Decision{Board: KeptSkirt, Ends: Tight}
	c := choice{side: [2]Decision{kept, kept}, back: model.BackUnderRiser}
	b := buildOf(c, &model.Wishes{}, f)
	var ids []string
	for _, it := range b.items {
		ids = append(ids, it.ID)
	}
	for id, want := range map[string]bool{
		"outer skirt right": true, "skirt right": true, "N01": true, "N02": false,
		"balusters right 01": false, "balusters right 02": true, "outer skirt left": false,
	} {
		if slices.Contains(ids, id) != want {
			t.Errorf("%s among the pieces: %v, want %v", id, !want, want)
		}
	}
	meets := map[string]string{}
	for _, j := range b.joints {
		if strings.HasSuffix(j.B, "skirt right") {
			meets[j.A] = j.B
		}
	}
	for piece, want := range map[string]string{ // a riser meets the side of the step below it
		"R01": "outer skirt right", "T01": "outer skirt right", "R02": "outer skirt right", "T02": "outer skirt right",
		"R03": "outer skirt right", "T03": "skirt right", "R04": "skirt right", "L04": "skirt right",
	} {
		if meets[piece] != want {
			t.Errorf("%s meets %q at the right, want %q", piece, meets[piece], want)
		}
	}
	shapes := f.at(1, [2]sideShape{{face: 3}, {face: 5}})
	if shapes[0].face != 3 || shapes[0].open || !shapes[1].open {
		t.Errorf("at step 2: %+v", shapes)
	}
}

// A landing between flights takes a nosing and a floor behind it, and the next
// flight's riser stands on the floor or in front of it.
func TestALandingTakesAFloor(t *testing.T) {
	f := &sides{steps: 4, landing: []bool{false, true, false, false}, risers: []int{0, 0, 2, 2}}
	for k := range f.open {
		f.open[k], f.returned[k], f.bars[k] = make([]bool, 4), make([]bool, 4), make([]bool, 4)
	}
	wall := Decision{Board: BareWall, Ends: Tight}
	for _, back := range backs {
		b := buildOf(choice{side: [2]Decision{wall, wall}, back: back}, &model.Wishes{}, f)
		order, ok := b.graph().order(b.rank)
		if !ok {
			t.Fatalf("%s: a cycle", back)
		}
		at := map[string]int{}
		for i, n := range order {
			at[b.items[n].ID] = i
		}
		if _, ok := at["T02"]; ok {
			t.Errorf("%s: the landing has a tread", back)
		}
		floor, has := at["F02"]
		if !has || floor < at["L02"] {
			t.Errorf("%s: the floor comes at %d of %d, its nosing at %d", back, floor, len(order), at["L02"])
		}
		if (back == model.BackUnderRiser) != (floor < at["R03"]) {
			t.Errorf("%s: the floor comes at %d, the riser above at %d", back, floor, at["R03"])
		}
	}
}
