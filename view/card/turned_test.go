package card_test

import (
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/saw"
	"risewright/view/card"
)

// Face down, a bevelled board shows its shorter side. A mark made there would
// leave a board of 19 mm with 2 degrees at both ends 1.3 mm long, so the card
// says where the marks are. Without a bevel both sides are alike.
func TestFaceDownSaysWhereTheMarksAre(t *testing.T) {
	const words = "The marks stay on the face, now below: the blade meets them at the table."
	p, c := tread7()
	for _, line := range card.Turned(&p, &c) {
		if down := strings.HasPrefix(line, "FACE DOWN"); strings.HasSuffix(line, words) != down {
			t.Errorf("%q", line)
		}
	}
	for i := range c.Turned[0].Ops {
		c.Turned[0].Ops[i].Bevel, c.Turned[0].Ops[i].Tilt = 0, saw.Square
	}
	if got := strings.Join(card.Turned(&p, &c), " "); strings.Contains(got, words) {
		t.Errorf("without a bevel: %q", got)
	}
	c.Turned[0].Ops[2].Bevel = float64(model.Degree)
	if got := strings.Join(card.Turned(&p, &c), " "); !strings.Contains(got, words) {
		t.Errorf("with one bevel: %q", got)
	}
}
