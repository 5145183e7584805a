package assets

import (
	"math"
	"strings"
	"testing"
)

// An imperial size says itself how many millimetres it is.
func TestInchNamesMatchMillimetres(t *testing.T) {
	table, err := Stock()
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for list, sizes := range table.columns() {
		for _, s := range *sizes {
			want, ok := inches(s.Name)
			if !ok {
				want, ok = millimetres(s.Name)
			}
			if !ok {
				t.Errorf("%s: name %q gives no size", list, s.Name)
				continue
			}
			checked++
			if math.Abs(s.MM-want) > 1e-9 { // inch fractions in sixteenths are exact to far less
				t.Errorf("%s: %q is %v mm, want %v", list, s.Name, s.MM, want)
			}
			if strings.Contains(s.Name, " in") != (s.Units == "imperial") {
				t.Errorf("%s: %q is filed under %s", list, s.Name, s.Units)
			}
		}
	}
	if checked < 40 {
		t.Errorf("only %d sizes checked", checked)
	}
}

// Published stair-part sizes: treads 36, 42, 48 and 60 in by 11 1/2 in, 3/4 to
// 1 1/16 in thick (secondary); risers 7 1/2 to 8 in by 3/4 in, landing nosings
// 3 1/2 and 5 1/4 in (memory).
func TestStockValues(t *testing.T) {
	table, err := Stock()
	if err != nil {
		t.Fatal(err)
	}
	rows := []struct {
		list     []Size
		inches   float64
		standing Standing
	}{
		{table.TreadLengths, 36, Secondary}, {table.TreadLengths, 42, Secondary},
		{table.TreadLengths, 48, Secondary}, {table.TreadLengths, 60, Secondary},
		{table.TreadDepths, 11.5, Secondary},
		{table.TreadThicknesses, 0.75, Secondary}, {table.TreadThicknesses, 1.0625, Secondary},
		{table.RiserHeights, 7.5, Memory}, {table.RiserHeights, 8, Memory},
		{table.RiserThicknesses, 0.75, Memory}, {table.RiserThicknesses, 0.25, Memory},
		{table.LandingDepths, 3.5, Memory}, {table.LandingDepths, 5.25, Memory},
	}
	for _, r := range rows {
		found := false
		for _, s := range r.list {
			if s.Units == "imperial" && math.Abs(s.MM-25.4*r.inches) < 1e-9 {
				found = true
				if s.Standing != r.standing {
					t.Errorf("%s: standing %s, want %s", s.Name, s.Standing, r.standing)
				}
			}
		}
		if !found {
			t.Errorf("no size of %v in", r.inches)
		}
	}
	for list, sizes := range table.columns() {
		for _, s := range *sizes {
			if s.Units == "metric" && s.Standing != Memory {
				t.Errorf("%s: %s has standing %s; no metric size was read anywhere", list, s.Name, s.Standing)
			}
		}
	}
}

func TestStockFaultsAreFound(t *testing.T) {
	rows := []struct {
		name  string
		spoil func(*StockTable)
		want  string
	}{
		{"units", func(x *StockTable) { x.TreadDepths[0].Units = "cubits" }, `"cubits"`},
		{"order", func(x *StockTable) { x.TreadLengths[1].MM = 10 }, "does not go up"},
		{"standing", func(x *StockTable) { x.RiserHeights[0].Standing = "sure" }, "standing"},
		{"one system", func(x *StockTable) { x.LandingDepths = x.LandingDepths[:1] }, "both systems"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			table, err := Stock()
			if err != nil {
				t.Fatal(err)
			}
			r.spoil(&table)
			if err := table.Check(); err == nil || !strings.Contains(err.Error(), r.want) {
				t.Errorf("error %v does not name %s", err, r.want)
			}
		})
	}
	table, _ := Stock()
	if err := table.Check(); err != nil {
		t.Errorf("a caller changed the shipped table: %v", err)
	}
}

// inches reads names like "11 1/2 in" and returns millimetres. It is the
// test's own reader, apart from the model's.
func inches(name string) (float64, bool) {
	text, _, ok := strings.Cut(name, " in")
	if !ok {
		return 0, false
	}
	total := 0.0
	for _, word := range strings.Fields(text) {
		above, below, fraction := strings.Cut(word, "/")
		a, okA := whole(above)
		b := 1.0
		okB := true
		if fraction {
			b, okB = whole(below)
		}
		if !okA || !okB || b == 0 {
			return 0, false
		}
		total += a / b
	}
	return total * 25.4, true
}

func millimetres(name string) (float64, bool) {
	text, _, ok := strings.Cut(name, " mm")
	if !ok {
		return 0, false
	}
	return whole(text)
}

func whole(text string) (float64, bool) {
	if text == "" {
		return 0, false
	}
	n := 0.0
	for _, r := range text {
		if r < '0' || r > '9' {
			return 0, false
		}
		n = 10*n + float64(r-'0')
	}
	return n, true
}
