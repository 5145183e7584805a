package sheets

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver/stock"
	"risewright/view/card"
	"risewright/view/drawing"
)

// blanks is the blank map: every board and sheet to scale with its pieces.
func (k *worker) blanks() {
	if !k.solved() {
		return
	}
	if k.unmeasured(k.job) {
		return
	}
	p := &k.w.Buy
	if len(p.Cuts)+len(p.Sheets) == 0 {
		k.missing("there is nothing to cut: no board is bought", "see the buying list for what has to be asked for")
		return
	}
	k.early()
	k.paragraph("Every board to scale, from its left end. A piece's length is that of its blank, which its cut card takes; black lines are saw kerfs, hatched ends are left over.", letter{size: 3.5})
	k.y += 1.5
	for _, r := range p.Rows {
		if r.Missing {
			k.missing(fmt.Sprintf("not on this map: %d × %s, %s", r.Count, r.Use, r.Name), "ask for it as the buying list says")
		}
	}
	for i := range p.Cuts {
		k.boards(&p.Cuts[i])
	}
	for i := range p.Sheets {
		k.sheets(&p.Sheets[i])
	}
}

// proof says how good a cutting is.
func proof(status stock.Status, value, lower float64) string {
	switch status {
	case stock.Optimal:
		return fmt.Sprintf("costs %s; proved: nothing costs less", cents(value))
	case stock.Bounded:
		return fmt.Sprintf("costs %s; nothing costs less than %s, so it is within %.1f %% of the best", cents(value), cents(lower), (value/lower-1)*100)
	}
	return "cannot be cut from what is listed"
}

func (k *worker) boards(c *stock.CutPlan) {
	size := ""
	if c.Width > 0 {
		size = " · " + k.length(c.Width) + " wide"
	}
	if c.Thickness > 0 {
		size += " · " + k.length(c.Thickness) + " thick"
	}
	n := len(c.Result.Layouts)
	longest := 0.0
	for _, l := range c.Result.Layouts {
		longest = max(longest, c.Cutting.Boards[l.Board].Length)
	}
	f := k.fit(longest, c.Width)
	k.heading(fmt.Sprintf("%s: %s%s", model.Capital(string(c.Use)), counted(n, "board"), size), f.tall+18)
	done := proof(c.Result.Status, c.Result.Value, c.Result.Lower) + dearer(&c.Result)
	if c.Cutting.Trim > 0 {
		done = fmt.Sprintf("Kerf %s, trim %s at each end · %s", k.kerf(c.Cutting.Kerf), k.length(c.Cutting.Trim), done)
	} else {
		done = fmt.Sprintf("Kerf %s; the raw ends of the boards lie in the blanks' spare · %s", k.kerf(c.Cutting.Kerf), done)
	}
	k.paragraph(done, letter{size: 3.2})
	if c.Result.Why != "" {
		k.paragraph(model.Sentence(card.SetFractions(c.Result.Why)), letter{size: 3.2, bold: true})
	}
	if n == 0 {
		k.y += gap
		return
	}
	words := fmt.Sprintf("1:%.0f; dashed: the rip, for the blanks that are ripped", 1/f.scale)
	if f.narrow {
		words = fmt.Sprintf("1:%.0f; widths are drawn larger", 1/f.scale)
	}
	k.paragraph(words, letter{size: 2.8, ink: drawing.LetterSoft})
	k.y += 0.8
	to := map[string]float64{}
	for _, r := range k.w.Buy.Rips {
		to[r.Piece] = r.To
	}
	for i := range c.Result.Layouts {
		l := &c.Result.Layouts[i]
		b := &c.Cutting.Boards[l.Board]
		col := i % f.columns
		if col == 0 {
			k.room(f.tall + 5)
		}
		x := k.left() + float64(col)*f.pitch + mapLabel
		k.text(x-1.6, k.y+3.4+f.tall/2+1.3, mapLabel-2, fmt.Sprint(i+1), letter{size: 3.8, bold: true, align: drawing.AlignEnd})
		k.text(x, k.y+2.6, f.pitch-mapLabel-mapGap, card.SetFractions(printable(b.Name)), letter{size: 2.7, ink: drawing.LetterSoft})
		parts := make([]strip, len(l.Cuts))
		for n, q := range l.Cuts {
			parts[n] = strip{name: c.Cutting.Parts[q.Part].Name, at: q.At, length: q.Length}
			if w := to[parts[n].name]; !f.narrow && w > 0 && (c.Width-w)*f.scale > leastRip {
				parts[n].rip = w
			}
		}
		k.bar(x, k.y+3.4, f.tall, f.scale, b.Length, parts, c.Cutting.Kerf, c.Cutting.Trim, l.Offcut)
		if col == f.columns-1 || i == n-1 {
			k.y += f.tall + 5
		}
	}
	k.y += gap
}

// leastRip is how far a rip must lie from the edge to be drawn, mm on paper.
const leastRip = 0.5

// The room of a board's number, and between two boards side by side.
const (
	mapLabel = 7.0
	mapGap   = 4.0
)

// fit is how boards of a size go onto the page: in columns, to one scale.
type fit struct {
	columns     int
	pitch       float64 // from one column to the next
	scale, tall float64
	narrow      bool // too narrow to be seen at the scale
}

// fit chooses the fewest columns in which a board is no taller than a tenth of
// the page.
func (k *worker) fit(long, wide float64) fit {
	const most, least, columns = 26.0, 6.2, 3
	var f fit
	for f.columns = 1; ; f.columns++ {
		f.pitch = (k.inner() + mapGap) / float64(f.columns)
		f.scale = (f.pitch - mapGap - mapLabel) / max(long, 1)
		f.tall = wide * f.scale
		if f.tall <= most || f.columns == columns {
			break
		}
	}
	if f.tall < least {
		f.tall, f.narrow = least, true
	}
	return f
}

// counted writes a number of things.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// kerf writes a saw's cut: to a tenth of a millimetre, or as the inch rule has it.
func (k *worker) kerf(mm float64) string {
	if k.job.Units == model.Imperial {
		return k.length(mm)
	}
	return k.f.Fine(model.Length(mm))
}

// dearer compares a cutting with the one that takes pieces longest first.
func dearer(r *stock.Result) string {
	if r.FFD > r.Value+0.005 {
		return fmt.Sprintf("; longest first would cost %s", cents(r.FFD))
	}
	return ""
}

// strip is one piece along a board.
type strip struct {
	name       string
	at, length float64
	rip        float64 // the width it is ripped to; 0: not drawn
}

// bar draws one board with its pieces, kerfs and what is left over.
func (k *worker) bar(x, y, tall, scale, long float64, parts []strip, kerf, trim, offcut float64) {
	at := func(v float64) float64 { return x + v*scale }
	k.rect(x, y, long*scale, tall, drawing.Fill{}, drawing.Medium)
	for _, p := range parts {
		w := p.length * scale
		k.rect(at(p.at), y, w, tall, drawing.Fill{Ink: drawing.Wood}, drawing.Fine)
		if p.rip > 0 {
			k.list().Line(k.at(at(p.at), y+p.rip*scale), k.at(at(p.at+p.length), y+p.rip*scale), drawing.Hidden(drawing.Line, drawing.Fine))
		}
		k.inside(at(p.at), y, w, tall, p.name, k.length(p.length))
		// the kerfs before and after, at least as wide as can be seen
		kw := max(kerf*scale, 0.35)
		k.rect(at(p.at)-kw, y, kw, tall, drawing.Fill{Ink: drawing.Line}, 0)
		k.rect(at(p.at+p.length), y, kw, tall, drawing.Fill{Ink: drawing.Line}, 0)
	}
	if end := long - trim - offcut; offcut > 0 && offcut*scale > 0.8 {
		w := (offcut + trim) * scale
		k.rect(at(end), y, w, tall, drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 1.4}}, drawing.Fine)
		if s := k.length(offcut); w > drawing.TextWidth(s, 2.7, false, false)+2 {
			k.list().Text(drawing.Text{At: k.at(at(end)+w/2, y+tall/2), Size: 2.7, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Halo: true, String: s})
		}
	}
}

// inside letters a piece with its name and length, as far as there is room.
func (k *worker) inside(x, y, w, tall float64, name, length string) {
	const pad = 1.2
	middle := func(cx, cy, size float64, bold bool, s string) {
		k.list().Text(drawing.Text{At: k.at(cx, cy), Size: size, Bold: bold, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, String: s})
	}
	name = printable(name)
	both := name + "  " + length
	switch {
	case drawing.TextWidth(both, 3, true, false)+2*pad <= w:
		middle(x+w/2, y+tall/2, 3, true, both)
	case tall >= 6 && max(drawing.TextWidth(name, 2.6, true, false), drawing.TextWidth(length, least, false, false))+2*pad*0.5 <= w:
		middle(x+w/2, y+tall/2-1.5, 2.6, true, name)
		middle(x+w/2, y+tall/2+1.5, least, false, length)
	case drawing.TextWidth(name, least, true, false)+0.6 <= w:
		middle(x+w/2, y+tall/2, least, true, name)
	}
}

func (k *worker) sheets(c *stock.SheetPlan) {
	n, first := len(c.Result.Layouts), 0.0
	if n > 0 { // the head stays with the first sheet
		s := &c.Cutting.Sheets[c.Result.Layouts[0].Sheet]
		first = min(k.inner()/s.Length*s.Width, k.floor()-margin-headTall-16)
	}
	k.heading(fmt.Sprintf("%s: %s · %s thick", model.Capital(string(c.Use)), counted(n, "sheet"), k.length(c.Thickness)), 12+first)
	k.paragraph(fmt.Sprintf("Kerf %s, trim %s along every edge · %s", k.kerf(c.Cutting.Kerf), k.length(c.Cutting.Trim), proof(c.Result.Status, c.Result.Value, c.Result.Lower)), letter{size: 3.2})
	if c.Result.Why != "" {
		k.paragraph(model.Sentence(card.SetFractions(c.Result.Why)), letter{size: 3.2, bold: true})
	}
	for i, l := range c.Result.Layouts {
		s := &c.Cutting.Sheets[l.Sheet]
		scale := k.inner() / s.Length
		tall := s.Width * scale
		if fit := k.floor() - margin - headTall - 16; tall > fit {
			scale *= fit / tall
			tall = fit
		}
		k.room(tall + 7)
		k.text(k.left(), k.y+3.6, k.inner(), fmt.Sprintf("%d  %s · 1:%.0f · rip the strips from the trued edge, at the top, then crosscut each", i+1, card.SetFractions(printable(s.Name)), 1/scale), letter{size: 3})
		y := k.y + 4.6
		k.rect(k.left(), y, s.Length*scale, tall, drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 2.2}}, drawing.Medium)
		for _, t := range l.Strips {
			parts := make([]strip, len(t.Cuts))
			for n, q := range t.Cuts {
				parts[n] = strip{name: c.Cutting.Panels[q.Part].Name, at: q.At, length: q.Length}
			}
			top := y + t.At*scale
			k.rect(k.left(), top, s.Length*scale, t.Width*scale, drawing.Fill{Ink: drawing.Paper}, 0)
			k.bar(k.left(), top, t.Width*scale, scale, s.Length, parts, c.Cutting.Kerf, c.Cutting.Trim, t.Offcut)
		}
		k.y = y + tall + 2.4
		k.strips(c, &l)
	}
	k.y += gap
}

// strips lists the rips of a sheet.
func (k *worker) strips(c *stock.SheetPlan, l *stock.SheetLayout) {
	var words []string
	for n, t := range l.Strips {
		words = append(words, fmt.Sprintf("strip %d: %s", n+1, k.length(t.Width)))
	}
	k.paragraph("Rip "+strings.Join(words, " · "), letter{size: 3})
	k.paragraph("A piece narrower than its strip is ripped once more: see the rip list. "+k.spareWidth(c, l), letter{size: 2.8, ink: drawing.LetterSoft})
}

// spareWidth is what is left of a sheet beside its last strip.
func (k *worker) spareWidth(c *stock.SheetPlan, l *stock.SheetLayout) string {
	end := c.Cutting.Trim
	for _, t := range l.Strips {
		end = max(end, t.At+t.Width)
	}
	left := c.Cutting.Sheets[l.Sheet].Width - end - c.Cutting.Kerf - c.Cutting.Trim
	if left <= 0 {
		return ""
	}
	return fmt.Sprintf("Left over in width: %s.", k.length(left))
}
