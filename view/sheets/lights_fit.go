package sheets

import (
	"fmt"

	"risewright/model"
	"risewright/solver/power"
	"risewright/view/card"
	"risewright/view/drawing"
)

// The sizes of a label, in mm: three across the narrower of the two papers,
// and tall enough for four lines that can be read in a cavity.
const (
	labelsAcross = 3
	labelTall    = 18.4
)

// labels are stuck on every bar and on both ends of every pair of wires.
func (w *wirer) labels() {
	if !w.solved() {
		return
	}
	w.paragraph("Print at any size, cut along the lines, and stick each on the thing named at its top: one on every bar, one at each end of every pair of wires. Left and right are as seen walking up.", letter{size: 3.4})
	w.y += 1.5
	wide := w.inner() / labelsAcross
	for i, l := range w.p.Labels(&w.a.Bars, w.f) {
		col := i % labelsAcross
		if col == 0 {
			if i > 0 {
				w.y += labelTall
			}
			w.room(labelTall)
		}
		w.label(w.left()+float64(col)*wide, w.y, wide, l)
	}
	w.y += labelTall
}

func (w *wirer) label(x, y, wide float64, l power.Label) {
	const inset = 2.2
	w.list().Polygon([]drawing.Point{w.at(x, y+labelTall), w.at(x+wide, y+labelTall), w.at(x+wide, y), w.at(x, y)}, drawing.Fill{}, drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin})
	w.text(x+inset, y+4, wide-2*inset, printable(card.SetFractions(l.For)), letter{size: 2.8, ink: drawing.LetterSoft})
	for i, s := range l.Lines {
		t := letter{size: 3.2}
		if i == 0 {
			t = letter{size: 3.8, bold: true}
		}
		w.text(x+inset, y+8.8+4.2*float64(i), wide-2*inset, printable(card.SetFractions(s)), t)
	}
}

// commissioning is what is done before anything is closed, to be ticked off,
// and the volts to be measured.
func (w *wirer) commissioning() {
	w.cautions(
		"The mains side, and the connection of the supply to it, is for a licensed person and the local rules.",
		"Do not leave it alone while it soaks. Smell, smoke, or a wire too hot to hold: pull the plug, then look.",
		"These bars never replace the switched stair light that the code asks for.")
	if !w.solved() {
		return
	}
	w.heading("Soak test: in this order, before anything is closed", 20)
	for i, s := range w.p.Commissioning() {
		w.tick(fmt.Sprint(i+1), s)
	}
	w.paragraph("Common practice, no source.", letter{size: 3, ink: drawing.LetterSoft})
	w.y += gap

	w.heading("Volts at the bars, with the heaviest scene lit", 26)
	w.paragraph(w.heaviest(), letter{size: 3.4})
	w.y += 1
	g := w.grid(3.4, column{title: "bar", width: 12, bold: true}, column{title: "lights", width: 24}, figures("left end, V", 18), column{title: "measured", width: 26, align: drawing.AlignMiddle},
		figures("right end, V", 18), column{title: "measured", width: 26, align: drawing.AlignMiddle}, column{title: "fuse tried", width: 20, align: drawing.AlignMiddle}, column{title: "cool after an hour", width: 26, align: drawing.AlignMiddle})
	for i := range w.p.Bars {
		b, p := &w.a.Bars.Bars[i], &w.p.Bars[i]
		if len(p.Volts) == 0 {
			g.row(b.Name(), b.LightsWords(), "–", "no bar", "–", "", "", "")
			continue
		}
		const blank = "............"
		g.row(b.Name(), b.LightsWords(), fmt.Sprintf("%.2f", p.Volts[0]), blank, fmt.Sprintf("%.2f", p.Volts[len(p.Volts)-1]), blank, "□", "□")
	}
	w.y += gap
	w.fields("Date and name", "Supply set to, V", "Supply's case after an hour, °C")
}

// fields leaves room to write on, two to a line and all on one page.
func (b *book) fields(names ...string) {
	const tall, between = 8.0, 6.0
	b.room(tall * float64((len(names)+1)/2))
	half := (b.inner() - between) / 2
	for i, s := range names {
		x := b.left() + float64(i%2)*(half+between)
		b.label(x, b.y+5.5, 0.55*half, s, letter{size: 3.4})
		b.line(x+0.55*half+1, b.y+6, x+half, b.y+6, drawing.Thin)
		if i%2 == 1 || i == len(names)-1 {
			b.y += tall
		}
	}
}

// heaviest names the scene to light for the test and what it takes.
func (w *wirer) heaviest() string {
	p := w.p
	worst := -1
	for i := range p.Scenes {
		if !p.Scenes[i].Scene.Shown && (worst < 0 || p.Scenes[i].Amps > p.Scenes[worst].Amps) {
			worst = i
		}
	}
	if worst < 0 {
		return "No scene is to be carried by the supply: name one before the test."
	}
	s := &p.Scenes[worst]
	return card.SetFractions(fmt.Sprintf("Scene “%s” takes %s A, %s W at the bars. Each figure below is the lowest of any scene that the supply is to carry; at most %s V may be lost from %s V.",
		s.Scene.Name, trim(s.Amps, 2), trim(s.Watts, 1), trim(p.Limit, 2), trim(p.Supply.Volts.Value, 1)))
}

// tick sets a numbered line with a box to tick.
func (b *book) tick(number, s string) {
	t := letter{size: 3.7}
	lines := wrap(card.SetFractions(s), b.inner()-17, t)
	b.room(float64(len(lines))*t.size*leading + 2.4)
	b.rect(b.left(), b.y+0.3, 4.2, 4.2, drawing.Fill{}, drawing.Medium)
	b.text(b.left()+7, b.y+3.6, 0, number, letter{size: 3.7, bold: true})
	b.y = max(b.lines(b.left()+15, b.y+0.3, lines, t), b.y+5) + 1.4
}

// supply is the arithmetic of supply and controller.
func (w *wirer) supply() {
	w.cautions(
		"The mains side is for a licensed person. A supply that only looks large enough runs hot: the margin below is part of the sum.",
		"Whether a supply is Class 2, SELV or PS2 is told by its listing alone; what is said here of it is advice.")
	if !w.solved() {
		return
	}
	p := w.p
	l := &p.Load
	if p.Supply.Title == "" {
		w.missing("no supply is chosen", "choose one under Lights")
	} else {
		w.heading("Supply", 40)
		g := w.grid(3.5, column{title: "what", width: 78}, figures("figure", 22), column{title: "how", width: 88})
		amps := func(v float64) string { return trim(v, 2) + " A" }
		st := &p.Strip
		pixels := w.a.Bars.Pixels()
		g.row(p.Supply.Title, fmt.Sprintf("%d × %s", l.Count, amps(l.Rated)), fmt.Sprintf("at %s V; volts %s, amps %s", trim(p.Supply.Volts.Value, 1), standing(p.Supply.Volts.Standing), standing(p.Supply.Amps.Standing)))
		g.row("of one supply, for long loads", amps(l.Usable), fmt.Sprintf("%s × %s %%", amps(l.Rated), trim(100*l.Margin, 0)))
		g.row("everything at full white", amps(l.FullAll), fmt.Sprintf("%d pixels × %d channels × %s mA (%s)", pixels, st.Channels, trim(st.ChannelMA.Value, 1), standing(st.ChannelMA.Standing)))
		if l.Count > 1 {
			g.row("of that, on the busiest supply", amps(l.Full), fmt.Sprintf("of %d supplies", l.Count))
		}
		if l.Over > 0 {
			g.cells(cell{s: "exceeds one supply by", bold: true}, cell{s: amps(l.Over), bold: true}, cell{s: fmt.Sprintf("%s − %s", amps(l.Full), amps(l.Rated))})
		} else {
			g.row("the supply gives more than that by", amps(-l.Over), fmt.Sprintf("%s − %s", amps(l.Rated), amps(l.Full)))
		}
		g.row("dark, with nothing lit", amps(l.IdleAll), fmt.Sprintf("%d pixels × %s mA (%s)", pixels, trim(st.IdleMA.Value, 2), standing(st.IdleMA.Standing)))
		g.cells(cell{s: "brightness cap that keeps the margin", bold: true}, cell{s: capWords(l.Cap), bold: true}, cell{s: capSum(l)})
		if l.Full > l.Idle && l.Needed > 0 {
			g.row("supplies that carry full white with the margin", fmt.Sprint(l.Needed), fmt.Sprintf("%s ÷ %s, rounded up; each with its own bars", amps(l.FullAll), amps(l.Usable)))
		}
		if l.IdleWatts > 0 {
			g.row("from the mains with nothing lit", trim(l.IdleWatts, 1)+" W", fmt.Sprintf("%s kWh a year; with the scenes' hours %s kWh", trim(l.IdleKWh, 0), trim(l.YearlyKWh, 0)))
		}
		w.y += gap
	}
	t := p.Schedule(&w.a.Bars, w.f)
	w.table(t[2], []float64{34, 18, 18, 22, 16, 22, 58}, map[int]bool{1: true, 2: true, 3: true, 5: true})
	w.y += gap
	w.controller()
	w.found("What was found about supply and controller", budgetRule)
}

func capWords(share float64) string {
	if share >= 1 {
		return "none needed"
	}
	return trim(floorTenth(100*share), 1) + " %"
}

// floorTenth rounds down to a tenth, so that a cap as printed still fits.
func floorTenth(v float64) float64 { return float64(int(v*10)) / 10 }

func capSum(l *power.SupplyLoad) string {
	if l.Cap >= 1 || !(l.Full > l.Idle) {
		return "full white stays within the margin"
	}
	return fmt.Sprintf("(%s − %s) ÷ (%s − %s), rounded down", trim(l.Usable, 2), trim(l.Idle, 2), trim(l.Full, 2), trim(l.Idle, 2))
}

// controller shows what the bars ask of the chosen class, limit by limit, the
// ways of driving them, and the other classes.
func (w *wirer) controller() {
	p := w.p
	if len(p.Budgets) == 0 {
		w.heading("Controller", 8)
		w.paragraph("These strips take no data: any switch or dimmer of the right volts and amps drives them.", letter{size: 3.6})
		w.y += gap
		return
	}
	b := &p.Budgets[0]
	chosen := "None is chosen; shown is the first of the table: "
	if b.Class.ID == w.a.Job.Lighting.Controller {
		chosen = "Chosen: "
	}
	w.heading("Controller", 30)
	verdict := "It holds the bars."
	if !b.Fits {
		verdict = "IT DOES NOT HOLD THE BARS."
	}
	w.paragraph(model.Sentence(chosen+b.Class.Title)+" "+verdict, letter{size: 3.7, bold: true})
	w.y += 1
	g := w.grid(3.3, column{title: "limit", width: 43, bold: true}, figures("used", 12), column{title: "arithmetic", width: 83}, column{title: "values are", width: 25}, column{title: "", width: 25})
	for i := range b.Limits {
		l := &b.Limits[i]
		mark := ""
		switch {
		case i == b.First && l.Share() > 1:
			mark = "BREAKS FIRST"
		case l.Share() > 1:
			mark = "BROKEN"
		case i == b.First:
			mark = "would break first"
		}
		g.row(l.Title(), trim(100*l.Share(), 0)+" %", l.Words, standing(l.Standing), mark)
	}
	w.y += gap
	w.together(func() {
		if len(b.Modes) == 0 {
			return
		}
		g := w.grid(3.3, column{title: "way of driving the bars", width: 92, bold: true}, figures("buffer, bytes", 26), figures("a frame, ms", 24), figures("outputs", 20), column{title: "", width: 24})
		for _, m := range b.Modes {
			mark := ""
			if m.Chosen {
				mark = "chosen"
			}
			g.row(m.Name, fmt.Sprint(m.Bytes), trim(m.FrameUS/1000, 2), fmt.Sprint(m.Lines), mark)
		}
		w.y += gap
	})
	w.together(func() {
		w.table(p.Schedule(&w.a.Bars, w.f)[3], []float64{47, 8, 32, 12, 89}, map[int]bool{3: true})
	})
	w.y += gap
}
