package tables

import (
	"encoding/hex"
	"fmt"
	"strings"

	"risewright/assets"
	"risewright/model"
)

// Finishes returns the table of finishes.
func Finishes() (model.FinishTable, error) {
	t, err := assets.Finishes()
	if err != nil {
		return model.FinishTable{}, err
	}
	var out model.FinishTable
	colour := func(text string) (c model.RGB) {
		if b, e := hex.DecodeString(strings.TrimPrefix(text, "#")); e == nil && len(b) == len(c) {
			copy(c[:], b)
		} else {
			err = fmt.Errorf("tables: %q is no colour", text)
		}
		return c
	}
	for _, r := range t.Woods {
		out.Woods = append(out.Woods, model.WoodLook{Species: r.Species, Figure: model.WoodFigure(r.Figure), Early: colour(r.Early), Late: colour(r.Late), Pore: colour(r.Pore),
			Ring: r.Ring, Contrast: r.Contrast, Rays: r.Rays, Vary: r.Vary, Standing: model.Standing(r.Standing)})
	}
	cover := func(rows []assets.CoverRow) (out []model.Finish) {
		for _, r := range rows {
			out = append(out, model.Finish{ID: r.ID, Name: r.Name, Colour: colour(r.Colour), Cover: r.Cover, Standing: model.Standing(r.Standing)})
		}
		return out
	}
	out.Stains, out.Carpets = cover(t.Stains), cover(t.Carpets)
	for _, r := range t.Sheens {
		out.Sheens = append(out.Sheens, model.Sheen{ID: r.ID, Name: r.Name, Gloss: r.Gloss, Rough: r.Rough, Standing: model.Standing(r.Standing)})
	}
	for _, r := range t.Paints {
		p := model.Paint{ID: r.ID, Name: r.Name, Colour: colour(r.Colour), Standing: model.Standing(r.Standing)}
		for _, f := range r.For {
			p.For = append(p.For, model.LookPart(f))
		}
		out.Paints = append(out.Paints, p)
	}
	for _, r := range t.Lights {
		out.Lights = append(out.Lights, model.LightColour{ID: r.ID, Name: r.Name, Kelvin: r.Kelvin, Colour: colour(r.Colour), Standing: model.Standing(r.Standing)})
	}
	return out, err
}
