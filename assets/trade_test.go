package assets

import (
	"math"
	"strings"
	"testing"
)

// Wood Handbook, FPL-GTR-190, tables 13-5 and 4-3: a few rows read again, the
// last two values of which are memory as the table says.
func TestSpeciesValues(t *testing.T) {
	table, err := Species()
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Species) != 20 {
		t.Errorf("%d species, want 20", len(table.Species))
	}
	rows := []struct {
		id         string
		cr, ct     float64
		srad, stan Standing
		shrink     float64
	}{
		{"red-oak", 0.00158, 0.00369, Seen, Seen, 0},
		{"sugar-maple", 0.00165, 0.00353, Seen, Seen, 0},
		{"american-beech", 0.00190, 0.00431, Seen, Seen, 11.9},
		{"true-hickory", 0.00259, 0.00411, Memory, Seen, 11.0},
		{"eastern-white-pine", 0.00071, 0.00212, Memory, Memory, 0},
		{"white-fir", 0.00112, 0.00245, Seen, Memory, 7.0},
	}
	for _, r := range rows {
		found := false
		for _, s := range table.Species {
			if s.ID != r.id {
				continue
			}
			found = true
			if s.Radial != r.cr || s.Tangential != r.ct || s.RadialStanding != r.srad || s.TangentialStanding != r.stan || s.ShrinkTangential != r.shrink {
				t.Errorf("%s: %+v", r.id, s)
			}
		}
		if !found {
			t.Errorf("no %s", r.id)
		}
	}
}

// No price and no hour was read anywhere, so none may claim more than memory.
func TestPricesAndHoursAreMemory(t *testing.T) {
	p, err := Prices()
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range p.Boards {
		if g.Standing != Memory {
			t.Errorf("%s: standing %s", g.ID, g.Standing)
		}
	}
	for _, g := range p.Packs {
		if g.Standing != Memory {
			t.Errorf("%s: standing %s", g.ID, g.Standing)
		}
	}
	h, err := Hours()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range h.Stages {
		if s.Hours.Standing != Memory {
			t.Errorf("%s: standing %s", s.ID, s.Hours.Standing)
		}
	}
}

// Goods named in inches or feet are so many millimetres.
func TestGoodsAreTheSizeTheyAreNamed(t *testing.T) {
	p, err := Prices()
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, g := range p.Boards {
		words := strings.Fields(g.Name)
		for i, w := range words {
			want := 0.0
			switch {
			case i == 0:
				continue
			case w == "ft":
				n, ok := whole(words[i-1])
				if !ok {
					t.Errorf("%s: name %q", g.ID, g.Name)
				}
				want = 304.8 * n
			case w == "in" && i > 1 && words[i-2] != "×" && !strings.Contains(words[i-1], "/"):
				n, ok := whole(words[i-1])
				if !ok {
					t.Errorf("%s: name %q", g.ID, g.Name)
				}
				want = 25.4 * n
			default:
				continue
			}
			checked++
			if math.Abs(g.Length-want) > 1e-9 {
				t.Errorf("%s: %q is %v mm long, want %v", g.ID, g.Name, g.Length, want)
			}
			break
		}
		if g.Units == "imperial" && !strings.Contains(g.Name, " in") && !strings.Contains(g.Name, " ft") {
			t.Errorf("%s: %q names no inches", g.ID, g.Name)
		}
	}
	if checked < 25 {
		t.Errorf("only %d sizes checked", checked)
	}
}

func TestTradeFaultsAreFound(t *testing.T) {
	p, _ := Prices()
	p.Boards[0].Length = 0
	p.Packs[1].ID = p.Packs[0].ID
	p.Kerf.Standing = "sure"
	for _, want := range []string{p.Boards[0].ID + ": a size", "used twice", `"sure"`} {
		if err := p.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("prices: %v does not name %s", err, want)
		}
	}
	s, _ := Species()
	s.Species[0].Radial = 0.1
	s.Seasons[0].Humidity = 30
	for _, want := range []string{"red-oak", "winter"} {
		if err := s.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("species: %v does not name %s", err, want)
		}
	}
	h, _ := Hours()
	h.Rate.Low = 1000
	h.Stages[0].Per = "brick"
	for _, want := range []string{"rate", "brick"} {
		if err := h.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("hours: %v does not name %s", err, want)
		}
	}
	if again, err := Prices(); err != nil || again.Check() != nil {
		t.Error("a caller changed the shipped table")
	}
}
