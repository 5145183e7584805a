package stock

import (
	"strings"
	"testing"

	"risewright/model"
)

// A tread that leaves less than the usual spare in the widest listed board is
// bought all the same, with a note; one that leaves nothing is not.
func TestATightBoardWillDo(t *testing.T) {
	goods := model.Goods{Boards: []model.GoodsBoard{{ID: "a", Use: model.UseTread, Name: "42 in tread", Length: 1067, Width: 292, Price: 40}}}
	for _, row := range []struct {
		name          string
		width         float64 // of the piece
		bought, noted bool
	}{
		{"roomy", 285, true, false},
		{"tight", 289, true, true},
		{"too wide", 291, false, false},
	} {
		b := buyer{job: &model.Job{Units: model.Metric}, goods: goods}
		x := &batch{use: model.UseTread, blanks: []Blank{{Piece: "T01", Length: 950, Width: row.width + 6, Least: row.width + tight}}, final: []bool{true}, to: []float64{row.width}}
		got, missing := b.fromBoards(x)
		noted := len(got.notes) == 1 && strings.HasPrefix(got.notes[0], "T01: the listed board has less than the usual spare")
		if (len(missing) == 0) != row.bought || noted != row.noted {
			t.Errorf("%s: missing %v, notes %q", row.name, missing, got.notes)
		}
	}
}
