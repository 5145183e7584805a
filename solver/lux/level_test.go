package lux_test

import (
	"math"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/lux"
)

// even returns a result in which every place of two treads and a floor gets e.
func even(e float64) lux.Result {
	r := lux.Result{LitBars: 1}
	for i, k := range []lux.Kind{lux.Floor, lux.Tread, lux.Landing} {
		r.Surfaces = append(r.Surfaces, lux.Lit{
			Surface: lux.Surface{Step: i, Kind: k}, Min: e, Mean: e, Max: e, Centre: e, Middle: []float64{e, e},
		})
	}
	return r
}

// Every published level of rows 6.15 to 6.18 on results just below and just
// above it; the values are written out again here.
func TestPublishedLevels(t *testing.T) {
	want := map[string]float64{
		"irc.light.centre": 10.763910, "ibc.light.least": 10.763910, "nfpa.light.least": 107.63910,
		"en12464.2011.mean": 100, "en12464.2021.mean": 150, "hsg38.mean": 20, "hsg38.least": 5, "en1838.centre": 1,
	}
	ratios := map[string]float64{"en12464.2021.even": 0.40, "en1838.diversity": 40}
	for _, l := range lux.Published() {
		if l.Standing == "" || l.Standing == model.Seen {
			t.Errorf("%s: standing %q; none of these was read in the publication itself", l.ID, l.Standing)
		}
		if v, ok := ratios[l.ID]; ok {
			within(t, l.ID, l.Value, v, 0)
			delete(ratios, l.ID)
			continue
		}
		v := want[l.ID]
		delete(want, l.ID)
		within(t, l.ID, l.Value, v, 1e-5)
		for _, c := range []struct {
			at  float64
			met bool
		}{{v * 0.999, false}, {v * 1.001, true}, {l.Value, true}} {
			r := even(c.at)
			got := r.Compare([]lux.Level{l})
			if len(got) != 1 || got[0].Met != c.met || math.Abs(got[0].Got-c.at) > 1e-9 {
				t.Errorf("%s at %g lx: %+v", l.ID, c.at, got)
			}
		}
	}
	if len(want)+len(ratios) > 0 {
		t.Errorf("levels missing: %v %v", want, ratios)
	}
}

func TestRatios(t *testing.T) {
	for _, c := range []struct {
		id       string
		min, top float64
		met      bool
	}{
		{"en12464.2021.even", 41, 0, true}, {"en12464.2021.even", 39, 0, false},
		{"en1838.diversity", 1, 39.9, true}, {"en1838.diversity", 1, 40.1, false}, {"en1838.diversity", 0, 5, false},
	} {
		r := even(100)
		r.Surfaces[1].Min = c.min
		r.Surfaces[1].Middle, r.Surfaces[2].Middle, r.Surfaces[0].Middle = []float64{c.min, c.top}, []float64{c.top}, []float64{c.top}
		for _, got := range r.Compare(lux.Published()) {
			if got.ID == c.id && got.Met != c.met {
				t.Errorf("%s at %g and %g: %+v", c.id, c.min, c.top, got)
			}
		}
	}
}

// No level stops work, whatever the light; a level for homes is Advice, others
// are Notes; each names its place, its figure, its standing and the switched
// light.
func TestFindings(t *testing.T) {
	r := even(0.5)
	r.Surfaces[1].Centre = 0.2
	found := r.Judge(lux.Published())
	seen := map[string]model.Finding{}
	for _, f := range found {
		seen[f.Rule] = f
		want := model.Note
		if f.Rule == "irc.light.centre" {
			want = model.Advice
		}
		if f.Severity != want || f.Standing == "" || !strings.Contains(f.Detail, lux.Supplement) || f.Remedy == "" {
			t.Errorf("%+v", f)
		}
	}
	if len(found) != 8 { // an even light passes both ratios
		t.Errorf("%d findings", len(found))
	}
	f := seen["irc.light.centre"]
	if f.Where.Step != 1 || f.Title != "tread 1 gets 0.2 lx at its centre from the bars; IRC, interior stairway illumination asks 10.8 lx (and 1 more)" ||
		!strings.Contains(f.Detail, "read in a copy of the text, not in the publication") {
		t.Errorf("%+v", f)
	}
	r = even(500)
	if f := r.Judge(lux.Published()); len(f) != 0 {
		t.Errorf("in full light: %v", f)
	}
	r = even(0)
	r.LitBars = 0
	if f := r.Judge(lux.Published()); len(f) != 1 || f[0].Rule != "lux.dark" {
		t.Errorf("in the dark: %v", f)
	}
	// An edited level keeps that it is yours.
	r = even(5)
	own := []lux.Level{{ID: "mine", Title: "your level", Measure: lux.Average, Value: 10, Dwelling: true, Standing: model.Yours}}
	if f := r.Judge(own); len(f) != 1 || f[0].Standing != model.Yours || !strings.Contains(f[0].Detail, "set by you") {
		t.Errorf("%v", f)
	}
}

// The words of the ratios, and of a level that has not been checked.
func TestRatioWords(t *testing.T) {
	r := even(100)
	r.Surfaces[1].Min = 10
	r.Surfaces[1].Middle = []float64{2, 120}
	titles := map[string]string{}
	for _, f := range r.Judge(lux.Published()) {
		titles[f.Rule] = f.Title
	}
	for id, want := range map[string]string{
		"en12464.2021.even": "tread 1 is lit unevenly: minimum over mean is 0.10; EN 12464-1:2021, stairs asks 0.40",
		"en1838.diversity":  "the centre line goes from bright to dark by 60 to 1; EN 1838:2013, escape routes asks at most 40 to 1",
	} {
		if titles[id] != want {
			t.Errorf("%s: %q", id, titles[id])
		}
	}
	r.Surfaces[0].Middle = []float64{0}
	own := []lux.Level{{ID: "x", Title: "a level", Measure: lux.Diversity, Value: 40, Standing: model.Memory}}
	f := r.Judge(own)
	if len(f) != 1 || f[0].Title != "the centre line has a place with no light from the bars; a level asks at most 40 to 1" ||
		!strings.Contains(f[0].Detail, "from memory, not checked") {
		t.Errorf("%+v", f)
	}
	if (&lux.Lit{}).Uniformity() != 0 {
		t.Error("darkness is even")
	}
}
