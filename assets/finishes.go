package assets

import (
	_ "embed"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"sync"
)

//go:embed finishes.json
var finishText []byte

// FinishTable is how woods, stains, paints, carpets and light look in pictures.
// Colours are sRGB as #rrggbb. Names and colours are our own, from memory.
type FinishTable struct {
	Note    string        `json:"note"`
	Woods   []WoodRow     `json:"woods"`
	Stains  []CoverRow    `json:"stains"`
	Sheens  []SheenRow    `json:"sheens"`
	Paints  []PaintRow    `json:"paints"`
	Carpets []CoverRow    `json:"carpets"`
	Lights  []LightingRow `json:"lights"`
}

// WoodRow is how a species looks, bare and sanded; Ring is the usual width of a
// year, mm; the shares go from 0 to 1.
type WoodRow struct {
	Species  string   `json:"species"`
	Figure   string   `json:"figure"`
	Early    string   `json:"early"`
	Late     string   `json:"late"`
	Pore     string   `json:"pore"`
	Ring     float64  `json:"ring"`
	Contrast float64  `json:"contrast"`
	Rays     float64  `json:"rays"`
	Vary     float64  `json:"vary"`
	Standing Standing `json:"standing"`
}

// CoverRow is a colour that hides a share of what lies below it.
type CoverRow struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Colour   string   `json:"colour"`
	Cover    float64  `json:"cover"`
	Standing Standing `json:"standing"`
}

// SheenRow is a clear coat.
type SheenRow struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Gloss    float64  `json:"gloss"`
	Rough    float64  `json:"rough"`
	Standing Standing `json:"standing"`
}

// PaintRow is a paint and what it is for.
type PaintRow struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Colour   string   `json:"colour"`
	For      []string `json:"for"`
	Standing Standing `json:"standing"`
}

// LightingRow is a colour of light: white of so many kelvin, or Colour where
// that is 0. The row called "strip" is whatever the strip gives.
type LightingRow struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Kelvin   float64  `json:"kelvin"`
	Colour   string   `json:"colour"`
	Standing Standing `json:"standing"`
}

var loadFinishes = sync.OnceValues(func() (FinishTable, error) {
	var t FinishTable
	if err := decode("finishes.json", finishText, &t); err != nil {
		return FinishTable{}, err
	}
	if err := t.Check(); err != nil {
		return FinishTable{}, fmt.Errorf("assets: finishes.json: %w", err)
	}
	return t, nil
})

// Finishes returns the table of finishes. Its lists are shared: read them only.
func Finishes() (FinishTable, error) { return loadFinishes() }

var colourText = regexp.MustCompile(`^#[0-9a-f]{6}$`)

// Check returns every fault in the table, joined, or nil.
func (t FinishTable) Check() error {
	var faults []error
	fault := func(format string, args ...any) { faults = append(faults, fmt.Errorf(format, args...)) }
	share := func(where string, vs ...float64) {
		for _, v := range vs {
			if !(v >= 0 && v <= 1) {
				fault("%s: %v is not from 0 to 1", where, v)
			}
		}
	}
	colours := func(where string, cs ...string) {
		for _, c := range cs {
			if !colourText.MatchString(c) {
				fault("%s: %q is no colour such as #c8a070", where, c)
			}
		}
	}
	seen := map[string]bool{}
	row := func(list, id, name string, s Standing) string {
		where := list + " " + id
		if id == "" || name == "" || seen[where] || !s.known() {
			fault("%s: an id of its own, a name and a known standing are needed", where)
		}
		seen[where] = true
		return where
	}
	for _, w := range t.Woods {
		where := row("woods", w.Species, w.Species, w.Standing)
		colours(where, w.Early, w.Late, w.Pore)
		share(where, w.Contrast, w.Rays, w.Vary)
		if !slices.Contains([]string{"ring-porous", "diffuse-porous", "semi-ring-porous", "softwood"}, w.Figure) {
			fault("%s: figure %q", where, w.Figure)
		}
		if !(w.Ring >= 0.5 && w.Ring <= 20) {
			fault("%s: a year of %v mm", where, w.Ring)
		}
	}
	for list, rows := range map[string][]CoverRow{"stains": t.Stains, "carpets": t.Carpets} {
		for _, r := range rows {
			where := row(list, r.ID, r.Name, r.Standing)
			colours(where, r.Colour)
			share(where, r.Cover)
		}
	}
	for _, r := range t.Sheens {
		share(row("sheens", r.ID, r.Name, r.Standing), r.Gloss, r.Rough)
	}
	for _, r := range t.Paints {
		where := row("paints", r.ID, r.Name, r.Standing)
		colours(where, r.Colour)
		if len(r.For) == 0 {
			fault("%s: it is for nothing", where)
		}
	}
	for _, r := range t.Lights {
		where := row("lights", r.ID, r.Name, r.Standing)
		colours(where, r.Colour)
		if r.Kelvin != 0 && !(r.Kelvin >= 1667 && r.Kelvin <= 25000) {
			fault("%s: %v K", where, r.Kelvin)
		}
	}
	for name, n := range map[string]int{"woods": len(t.Woods), "stains": len(t.Stains), "sheens": len(t.Sheens), "paints": len(t.Paints), "carpets": len(t.Carpets), "lights": len(t.Lights)} {
		if n == 0 {
			fault("%s: the list is empty", name)
		}
	}
	return errors.Join(faults...)
}
