package card_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/view/card"
	"risewright/view/drawing"
	"risewright/view/drawing/pdf"
)

// TestLook writes cards for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write cards for eyes")
	}
	var pages []drawing.Page
	for _, make := range []func() (pieces.Piece, saw.Card){tread7, riser5, held, refused} {
		for _, f := range []model.Format{{}, imperial} {
			p, c := make()
			pages = append(pages, page(p, c, card.Options{Format: f, Width: 190, Height: 132, Stamp: stamp}))
		}
	}
	p, c := tread7()
	pages = append(pages, page(p, c, card.Options{Format: imperial, Width: 110, Height: 180, Stamp: stamp}))
	f, err := os.Create(filepath.Join(dir, "cards.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := pdf.Write(f, pages, pdf.Meta{Title: "cards", Date: time.Unix(1.8e9, 0)}); err != nil {
		t.Fatal(err)
	}
}

const stamp = "Mill Lane · survey revision 12 · 2 November 2026"
