package card_test

import (
	"math"
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

// The arm's way goes with the angle as printed: 0.0 has none, and an end that
// is square one way and not the other says which way even where the arm stays.
func TestTurnedSaysTheArmAsPrinted(t *testing.T) {
	line := func(wasSaw, nowSaw float64, was, now saw.Hand) string {
		p, c := tread7()
		c.Turned = c.Turned[1:]
		turn := &c.Turned[0]
		turn.Changes = nil
		turn.Ops = append([]saw.Op(nil), turn.Ops...)
		for i := range c.Ops {
			if c.Ops[i].Verb == saw.Crosscut && c.Ops[i].End == saw.Left {
				c.Ops[i].Saw, c.Ops[i].Gauge, c.Ops[i].Arm = wasSaw*deg, math.Pi/2+wasSaw*deg, was
				turn.Ops[i].Saw, turn.Ops[i].Gauge, turn.Ops[i].Arm = nowSaw*deg, math.Pi/2+nowSaw*deg, now
			}
		}
		if was != now {
			turn.Changes = append(turn.Changes, saw.Change{End: saw.Left, What: saw.FieldArm, Was: string(was), Now: string(now)})
		}
		return card.Turned(&p, &c)[0]
	}
	for _, c := range []struct {
		name     string
		was, now float64
		arm, to  saw.Hand
		want     string // "" for no word of the arm
	}{
		{"swung, and stays", 1, -1, saw.Left, saw.Left, ""},
		{"swung, and swaps", 1, 1, saw.Left, saw.Right, "arm RIGHT"},
		{"a hair from square both ways", 0.03, 0.03, saw.Left, saw.Right, ""},
		{"square in print, then not, the arm stays", 0.04, -0.2, saw.Left, saw.Left, "arm LEFT"},
		{"square in print, then not, the arm swaps", 0.04, 0.2, saw.Left, saw.Right, "arm RIGHT"},
		{"not, then square in print, the arm stays", 0.2, -0.04, saw.Left, saw.Left, "arm SQUARE"},
		{"not, then square in print, the arm swaps", 0.2, 0.04, saw.Left, saw.Right, "arm SQUARE"},
	} {
		got := line(c.was, c.now, c.arm, c.to)
		if c.want == "" && strings.Contains(got, "arm ") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
