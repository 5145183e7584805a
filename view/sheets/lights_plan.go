package sheets

import (
	"fmt"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/power"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/plan"
	"risewright/view/section"
)

// plan draws bars, cavity, wires and box on the plan and the section, and says
// what can be reached.
func (w *wirer) plan() {
	if !w.solved() {
		return
	}
	l := &w.a.Job.Lighting
	w.paragraph(w.box(), letter{size: 3.4})
	w.paragraph(model.Sentence(w.way(l)), letter{size: 3.4})
	w.paragraph(w.reach(), letter{size: 3.4})
	w.y += 1
	o := handle.Options{Format: w.f}
	over := lights.Options{Feeds: true, Names: true}
	drawPlan := func(on *drawing.List, scale float64) {
		o.Scale, over.Scale = scale, scale
		layered(on, scale, func(l *drawing.List) { plan.Draw(l, w.a, o) }, func(l *drawing.List) { lights.Draw(l, w.a, lights.Plan(o), over) })
	}
	inSection := over
	inSection.Section = true
	drawSection := func(on *drawing.List, scale float64) {
		o.Scale, inSection.Scale = scale, scale
		layered(on, scale, func(l *drawing.List) { section.Draw(l, w.a, o) }, func(l *drawing.List) { lights.Draw(l, w.a, lights.Section(w.a, o), inSection) })
	}
	w.planAndSection(drawPlan, drawSection)
	w.paragraph("Filled bar: a light bar under its nose. Full line: the bus or home runs in the cavity. Short dashes: feeder from the box, and leads into the bars. Small square: the way out through a riser. Disc: where the feeder joins the bus. Square with a cross: supply and controller.", letter{size: 2.8})
}

// planAndSection draws both on what is left of the page: the plan takes what its
// width asks for, at most half.
func (b *book) planAndSection(drawPlan, drawSection func(on *drawing.List, scale float64)) {
	const head, foot = 9.0, 9.0
	all := b.floor() - b.y - 2*head - foot
	tall := min(b.wanted(drawPlan), all/2)
	b.picture("Plan", tall, drawPlan)
	b.picture("Section", all-tall, drawSection)
}

// wanted returns how tall a drawing is that is as wide as the page.
func (b *book) wanted(draw func(on *drawing.List, scale float64)) float64 {
	const tallest = 1e5 // more than any page
	v := handle.Fit(draw, b.inner(), tallest, 1)
	var l drawing.List
	draw(&l, v.Scale)
	lo, hi := l.Extent(v.Transform())
	return hi.Y - lo.Y + 4
}

// picture draws a drawing as large as fits into a block that is tall mm high.
func (b *book) picture(title string, tall float64, draw func(on *drawing.List, scale float64)) {
	b.heading(title, tall)
	v := handle.Fit(draw, b.inner(), tall, 1)
	var l drawing.List
	draw(&l, v.Scale/v.Paper)
	b.list().Append(&l, v.Transform().Then(drawing.Shift(b.left(), b.height-b.y)))
	b.y += tall
}

// reach says how one comes to the wires and what the longest way is.
func (w *wirer) reach() string {
	l := &w.a.Job.Lighting
	text := ""
	switch l.Cavity {
	case model.CavityUnder:
		text = "What can be reached: the room under the stair must stay open to a hand; every hole is made where no stringer stands."
	default:
		side, name := w.a.Job.Flight.Steps[0].Left.Kind, "left"
		if l.Cavity == model.CavityRight {
			side, name = w.a.Job.Flight.Steps[0].Right.Kind, "right"
		}
		text = fmt.Sprintf("What can be reached: the skirt or cap over the cavity at the %s is screwed, never glued, so that every tap can be come to.", name)
		if side == model.Open {
			text += fmt.Sprintf(" Step 1 is open at the %s: there the wires need a cap of their own.", name)
		}
	}
	far, at := 0.0, 0
	for i := range w.p.Cables {
		if c := &w.p.Cables[i]; c.Kind == power.Feeder || c.Kind == power.HomeRun {
			if c.Length > far {
				far, at = c.Length, c.Step
			}
		}
	}
	if at > 0 {
		text += fmt.Sprintf(" The longest cable from the box is %s, to the tap of %s.", w.length(far), bars.Name(at))
	}
	return text
}
