package sheets

import (
	"fmt"

	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
)

// Handover returns the sheet that stays in the house: what was built, how it is
// set, what is kept for repairs and who makes them. Lines are left for what
// only the day can tell.
func Handover(w *solver.Work, m Meta) Paper {
	k := &worker{book: newBook("Hand-over", m, w.Answer.Job.Format()), w: w, job: &w.Answer.Job}
	k.page()
	if k.solved() {
		k.unmeasured(k.job)
		k.woodMissing()
		k.built()
		k.daily()
		k.together(k.settings)
		if k.job.Sensing.On() {
			k.control(&k.job.Sensing)
			k.inputs(&k.job.Sensing)
		}
		k.together(k.spares)
		k.together(k.repairs)
		k.snags()
		k.signed()
	}
	return Paper{Name: "hand-over.pdf", Title: "Hand-over", Pages: k.finish(len(k.pages))}
}

// toFill sets names with a line each to write on.
func (k *worker) toFill(names ...string) {
	k.room(8 * float64(len(names)))
	for _, s := range names {
		k.room(8)
		k.label(k.left(), k.y+5.5, 66, s, letter{size: 3.5})
		k.line(k.left()+68, k.y+6, k.right(), k.y+6, drawing.Thin)
		k.y += 8
	}
}

// built says what is in the house now.
func (k *worker) built() {
	j := k.job
	k.heading("What was built", 30)
	g := k.grid(3.5, column{title: "part", width: 44, bold: true}, column{title: "what it is", width: 80}, column{title: "to know when it is mended", width: 62})
	g.row("treads", fmt.Sprintf("%s, %s thick, overhang %s", woodWords(k.w), k.length(float64(j.Overlay.Tread)), k.length(float64(j.Overlay.Overhang))), "each is its own size: its cut card is the only pattern")
	g.row("risers", fmt.Sprintf("%s thick, painted", k.length(float64(j.Overlay.Riser))), "")
	if o := k.w.Order; o.Plan.Fixing != "" {
		g.row("held by", string(o.Plan.Fixing), "taking a tread up breaks it unless it is screwed")
	}
	if j.Lighting.On() && k.w.Answer.Power != nil {
		p := k.w.Answer.Power
		g.row("light bars", fmt.Sprintf("%s, %s", model.Plural(len(k.w.Answer.Bars.Bars), "bar"), p.Strip.Title), "lengths and pixels are in the wiring schedule")
		g.row("supply", p.Supply.Title, "replace only by one of the same volts and kind")
	}
	if j.Sensing.On() {
		g.row("sensors", model.Plural(present(j.Sensing), "sensor"), "places, heights and aims are on the sensor sheet")
	}
	k.y += 1
	k.toFill("finish of the treads: name, sheen, batch", "paint of the risers: name, colour code, batch", "date the finish may be walked on in shoes", "date rugs may be laid")
	k.y += gap
}

// daily is how to live with it; common practice, no source.
func (k *worker) daily() {
	k.heading("Living with it", 20)
	for _, s := range []string{
		"Sweep grit off: it is what wears a finish. A cloth wrung nearly dry, no steam, no wax on a finish that was not waxed.",
		"Wood moves with the seasons: a line at the back of a tread in winter that closes in summer is no fault. Keep the air between 30 and 50 % relative humidity.",
		"A tread that clicks or moves, a nosing that lifts, a loose rail: stop using the stair in the dark and have it looked at.",
	} {
		k.item("–", s)
	}
	if k.job.Lighting.On() {
		for _, s := range []string{
			"The bars help the eye; the switched stair light is still the light of the stair. Use it when you carry something, and for guests.",
			"If bars stay dark, flicker or turn pink: switch the supply off at its own switch, then see “who mends what” below. A supply that is hot, hums or smells stays off.",
			"Nothing is stored on or round the supply, and its air holes stay free.",
		} {
			k.item("–", s)
		}
	}
	if k.job.Sensing.On() {
		k.item("–", "The sensors see warmth that moves. Somebody who sits still long enough is not seen: the whole flight then stays dimly lit and does not go dark at once. A sensor that is covered, painted over or turned sees less; the others are set to carry on without it.")
	}
	k.paragraph("Common practice, no source, but for the humidity: summaries of wood-floor acclimatisation guides.", letter{size: 3, ink: drawing.LetterSoft})
	k.y += gap
}

// settings is how light and controller are set on the day.
func (k *worker) settings() {
	j := k.job
	if !j.Lighting.On() {
		return
	}
	k.heading("How it is set", 30)
	g := k.grid(3.4, column{title: "scene", width: 34, bold: true}, column{title: "brightness", width: 20, align: drawing.AlignEnd}, column{title: "bars at once", width: 22, align: drawing.AlignEnd},
		column{title: "planned hours a day", width: 26, align: drawing.AlignEnd}, column{title: "", width: 6}, column{title: "set to, on the day", width: 60})
	for _, s := range j.Lighting.Scenes {
		if s.Shown {
			continue
		}
		bars := "all"
		if s.Bars > 0 {
			bars = fmt.Sprint(s.Bars)
		}
		g.row(s.Name, fmt.Sprintf("%.0f %%", s.Level*100), bars, trim(s.Hours, 1), "", ".........................")
	}
	k.y += 1
	cap := "none"
	if j.Lighting.Cap > 0 {
		cap = fmt.Sprintf("%.0f %%", j.Lighting.Cap*100)
	}
	k.paragraph("Brightness that the controller never exceeds: "+cap+".", letter{size: 3.5, bold: true})
	k.toFill("the program's version, where its files are", "where the switch of the supply is", "where the fuse of the circuit is, and its number")
	k.y += gap
}

// spares is what stays in the house for repairs; common practice, no source.
func (k *worker) spares() {
	k.heading("Kept in the house", 24)
	g := k.grid(3.5, column{title: "", width: 8}, column{title: "what", width: 100}, column{title: "where it lies", width: 70})
	row := func(s string) { g.row("□", s, "........................................") }
	row("an offcut of the tread wood as long as the widest tread, with its finish")
	row("a closed tin of the finish and one of the riser paint, labelled with this stair's name")
	row("the cut cards, the order of work and this sheet")
	if j := k.job; j.Lighting.On() {
		row(fmt.Sprintf("one spare bar as long as the longest (%s), with its connectors", k.length(k.longestBar())))
		row("two spare fuses of each size, and a spare connector of each kind")
		row("the wiring schedule and the photographs taken before the covers went on")
		if j.Sensing.On() {
			row("one spare sensor of each class, with its hood")
			row("the controller's files on a stick, and a spare controller with the program on it")
		}
	}
	k.paragraph("Common practice, no source.", letter{size: 3, ink: drawing.LetterSoft})
	k.y += gap
}

func (k *worker) longestBar() float64 {
	most := 0.0
	for i := range k.w.Answer.Bars.Bars {
		most = max(most, k.w.Answer.Bars.Bars[i].Length)
	}
	return most
}

// repairs is who mends what.
func (k *worker) repairs() {
	k.heading("Who mends what", 30)
	g := k.grid(3.5, column{title: "what is wrong", width: 62, bold: true}, column{title: "try this first", width: 74}, column{title: "then call", width: 50})
	const who = "................................"
	g.row("a scratch, a dull patch", "the finish's own repair, on the offcut first", who)
	g.row("a tread or nosing that moves", "keep off it; nothing is nailed from above", who)
	g.row("a gap that grows, a crack in paint", "look again in the other season", who)
	if k.job.Lighting.On() {
		g.row("all bars dark", "the supply's switch, then its circuit's fuse, by somebody allowed to", who)
		g.row("dark from one bar upwards", "that bar's plug, then the spare bar", who)
		g.row("far bars pink or dim", "volts are lost: a loose joint in the bus; switch off and have it found", who)
		g.row("random colours, flicker", "the data wire and the common ground", who)
		g.row("the mains side of the supply", "nothing: a licensed electrician", who)
	}
	if k.job.Sensing.On() {
		g.row("steps light late or not at all", "clean and straighten the sensor over those steps; cover it to see the others carry on", who)
		g.row("lights come on with nobody there", "a vent, sun or a pet in a sensor's view; mask that side", who)
		g.row("the whole flight stays dimly lit", "a sensor is stuck: unplug it, and the others carry on", who)
	}
	k.y += gap
}

// snags is room for what is still to do.
func (k *worker) snags() {
	k.heading("Still to do, seen at hand-over", 34+44) // with the names below it
	g := k.grid(3.5, column{title: "", width: 8}, column{title: "step", width: 16}, column{title: "what", width: 104}, column{title: "by whom, by when", width: 58})
	for range 4 {
		g.row("□", "....", "........................................................................", "...........................")
	}
	k.y += gap
}

func (k *worker) signed() {
	tried := "Shown and tried together: every step, the stair's light at both ends, the rail."
	switch {
	case k.job.Sensing.On():
		tried = "Shown and tried together: every bar, every sensor covered in turn, the switch at both ends, the rail."
	case k.job.Lighting.On():
		tried = "Shown and tried together: every bar, the switch at both ends, the rail."
	}
	k.framed("CAUTION", cautionOf("Electricity")+" "+cautionOf("Structure"), tried)
	k.signatures("handed over: name and date", "taken over: name and date")
}
