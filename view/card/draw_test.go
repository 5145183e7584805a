package card_test

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/view/card"
	"risewright/view/drawing"
)

type maker = func() (pieces.Piece, saw.Card)

var makers = map[string]maker{"tread": tread7, "riser": riser5, "held": held, "refused": refused, "template": byTemplate}

// byTemplate is a winder's board, which straight cuts cannot make.
func byTemplate() (pieces.Piece, saw.Card) {
	p, _ := tread7()
	p.Template, p.Released = "the opening has five corners", false
	p.Face = append(p.Face[:3:3], p.Face[2].Add(p.Face[3]).Mul(0.5), p.Face[3])
	p.FrontLeft = 4
	return p, saw.Card{Piece: p.ID, Proof: saw.Proof{Reason: p.Template}}
}

// lettering returns the text of a list in painting order.
func lettering(l *drawing.List) []string {
	var out []string
	for _, it := range l.Items() {
		if it.Kind == drawing.KindText {
			out = append(out, it.Text.String)
		}
	}
	return out
}

var update = flag.Bool("update", false, "write the golden texts again")

// TestCardText holds the words of a card against a golden file, line by line.
// -update writes the files anew; review reads the difference.
func TestCardText(t *testing.T) {
	for name, make := range makers {
		for unit, f := range map[string]model.Format{"metric": {}, "imperial": imperial} {
			p, c := make()
			pg := page(p, c, card.Options{Format: f, Width: 190, Height: 130, Stamp: stamp})
			got := strings.Join(lettering(&pg.List), "\n") + "\n"
			file := filepath.Join("testdata", name+"-"+unit+".txt")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(string(want), got); d != "" {
				t.Errorf("%s (-want +got):\n%s", file, d)
			}
		}
	}
}

// TestCardSaysTheTradeLine holds a card against the line of the worked example:
// back 914.0 short to short, front 921.5, left gauge 91.0, saw 1.0, arm left,
// right gauge 90.5, saw 0.5, arm right, undercut 2°, rip to 286 (common
// practice, no source).
func TestCardSaysTheTradeLine(t *testing.T) {
	p, c := tread7()
	pg := page(p, c, card.Options{Width: 190, Height: 130, Stamp: stamp})
	text := strings.Join(lettering(&pg.List), " ")
	for _, want := range []string{
		"T07", "tread of step 7", "RELEASED", "face UP · NOSE TO YOU · back to fence",
		"RIP the BACK edge: 286.0 mm", "LEFT end · saw 1.0° · arm LEFT", "RIGHT end · saw 0.5° · arm RIGHT",
		"gauge 91.0° → saw 1.0°", "gauge 90.5° → saw 0.5°", "bevel 2.0°, head leans LEFT",
		"mark 914.0 from the sawn LEFT end on BACK edge, short to short", "BACK 914.0", "NOSE 921.5", "taper drawn ×10",
		"worst 0.00 mm", "0.12 mm", "FACE DOWN, BACK to", "survey revision 12",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the card does not say %q; it says\n%s", want, text)
		}
	}
}

// TestRefusedShowsNoFigures looks for every figure of the card, in either
// system, among the words of a card that is refused or must be made by template.
func TestRefusedShowsNoFigures(t *testing.T) {
	number := regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	for _, make := range []maker{refused, byTemplate} {
		for _, f := range []model.Format{{}, imperial} {
			p, c := make()
			pg := page(p, c, card.Options{Format: f, Width: 190, Height: 130}) // no stamp, which has figures of its own
			for _, s := range lettering(&pg.List) {
				s = strings.NewReplacer("T07", "", "step 7", "").Replace(s)
				if n := number.FindString(s); n != "" {
					t.Errorf("%q on a refused card in %s shows the figure %s", s, f.Units, n)
				}
			}
			// The same search does find the figures of a card that is good.
			p, c = tread7()
			pg = page(p, c, card.Options{Format: f, Width: 190, Height: 130})
			if n := len(number.FindAllString(strings.Join(lettering(&pg.List), " "), -1)); n < 20 {
				t.Errorf("a released card shows only %d figures", n)
			}
		}
	}
}

func TestStateOf(t *testing.T) {
	for name, want := range map[string]card.State{"tread": card.Released, "riser": card.Released, "held": card.Held, "refused": card.Refused, "template": card.ByTemplate} {
		p, c := makers[name]()
		if got := card.StateOf(&p, &c); got != want {
			t.Errorf("%s is %s, want %s", name, got.Banner(), want.Banner())
		}
		if why := card.Why(&p, &c); (why == "") != (want == card.Released) {
			t.Errorf("%s: why %q", name, why)
		}
		// Law: a released piece whose card failed its proof is refused.
		c.Proof.OK = false
		if got := card.StateOf(&p, &c); got.Figures() {
			t.Errorf("%s without proof is %s", name, got.Banner())
		}
	}
}

// TestLayout draws every card in both systems and several sizes and looks for
// lettering that is cut off, lies over other lettering or cannot be drawn.
func TestLayout(t *testing.T) {
	for name, make := range makers {
		for _, f := range []model.Format{{}, imperial} {
			for _, size := range [][2]float64{{190, 132}, {196, 124.5}, {110, 190}, {95, 160}, {400, 260}, {240, 120}} {
				p, c := make()
				for _, id := range []string{p.ID, "T107"} {
					p.ID = id
					pg := page(p, c, card.Options{Format: f, Width: size[0], Height: size[1], Stamp: stamp})
					if err := pg.Check(); err != nil {
						t.Fatal(err)
					}
					for _, fault := range drawing.TextFaults(&pg.List, drawing.Point{}, drawing.Point{X: size[0], Y: size[1]}) {
						t.Errorf("%s %s at %gx%g: %s", name, f.Units, size[0], size[1], fault)
					}
				}
			}
		}
	}
}

// TestExaggeration checks the factor on boards whose taper is known.
func TestExaggeration(t *testing.T) {
	for _, row := range []struct{ out, want float64 }{{0, 20}, {1, 20}, {5, 10}, {9, 10}, {12, 5}, {40, 2}, {80, 1}} {
		p, _ := tread7()
		p.Face = append(p.Face[:0:0], p.Face...)
		p.Face[3][0], p.Face[2][0] = -row.out, 914
		if got := card.Exaggeration(&p); got != row.want {
			t.Errorf("%g mm out over 914 is drawn ×%g, want ×%g", row.out, got, row.want)
		}
		// Law: the same whichever end is out.
		p.Face[3][0], p.Face[2][0] = 0, 914+row.out
		if got := card.Exaggeration(&p); got != row.want {
			t.Errorf("mirrored: ×%g, want ×%g", got, row.want)
		}
	}
}

// TestSawSwings finds the arm in the drawing and checks that it swings the way
// the words say, by its knob, and that the kept wood lies on the right side.
func TestSawSwings(t *testing.T) {
	for _, row := range []struct {
		arm saw.Hand
		saw float64
		way float64
	}{{saw.Left, 1, -1}, {saw.Right, -1, 1}, {saw.Square, 0, 0}} {
		p, c := tread7()
		c.Ops[1].Arm, c.Ops[1].Saw, c.Ops[1].Gauge = row.arm, row.saw*deg, (90+row.saw)*deg
		c.Ops = c.Ops[:2]
		pg := page(p, c, card.Options{Width: 190, Height: 130})
		var knob drawing.Item
		var arm drawing.Item
		items := pg.Items()
		for i, it := range items {
			if it.Kind == drawing.KindCircle {
				knob, arm = it, items[i-1]
			}
		}
		if knob.Kind != drawing.KindCircle || arm.Kind != drawing.KindLine {
			t.Fatal("no saw in the drawing")
		}
		pivot, hand := arm.Points[0], knob.Points[0]
		if hand.Y >= pivot.Y {
			t.Error("the arm points away from the user")
		}
		if got := hand.X - pivot.X; math.Abs(got) > 1 && got*row.way <= 0 || math.Abs(got) < 1 && row.way != 0 {
			t.Errorf("arm %s is drawn %g mm to the right", row.arm, got)
		}
	}
}

func TestDeterministic(t *testing.T) {
	p, c := tread7()
	o := card.Options{Format: imperial, Width: 190, Height: 130, Stamp: stamp}
	a, b := page(p, c, o), page(p, c, o)
	if a.Dump() != b.Dump() {
		t.Error("the same card twice gives two drawings")
	}
}
