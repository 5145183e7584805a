package sheets

import (
	"fmt"

	"risewright/model"
)

// movement is how much the treads move with the seasons, and what lets them.
func (k *worker) movement() {
	if !k.solved() {
		return
	}
	if k.unmeasured(k.job) {
		return
	}
	k.woodMissing()
	m := &k.w.Movement
	if len(m.Treads) == 0 {
		k.missing("no tread is known yet, so none can move", "finish the survey")
		return
	}
	name := k.w.Species.Name
	if name == "" {
		name = "wood of no listed species"
	}
	cut := "flat-sawn"
	if k.job.Shop.QuarterSawn {
		cut = "quarter-sawn"
	}
	k.paragraph(fmt.Sprintf("%s, %s: %.1f %% moisture in winter, %.1f %% in summer, %.1f %% on the day of fixing.", model.Capital(name), cut, m.Winter, m.Summer, m.Laid), letter{size: 4, bold: true})
	how := fmt.Sprintf("It moves %.5f of its depth for each percent of moisture; that figure is %s.", m.Coefficient, standing(m.Standing))
	if m.Coefficient == 0 {
		how = "The change follows its shrinkage from green to ovendry; that figure is " + standing(m.Standing) + "."
	}
	k.paragraph(how, letter{size: 3.5})
	if n := k.w.Species.Note; n != "" {
		k.paragraph(model.Sentence(n), letter{size: 3.2})
	}
	k.y += 1
	k.framed("FIXING", model.Sentence(m.Fixing))
	for _, n := range m.Notes {
		k.item("–", model.Sentence(n))
	}
	k.y += 1.5
	unit := ", " + k.fineUnit()
	g := k.grid(3.5, column{title: "piece", width: 18, bold: true}, figures("depth, "+k.unit(), 26), figures("winter to summer"+unit, 28), figures("winter gap at the back"+unit, 28),
		column{title: "is it seen?", width: 25}, figures("stays under the riser"+unit, 28), figures("leave free behind it"+unit, 28))
	for _, t := range m.Treads {
		seen, cover := "no, covered", k.fine(t.Cover)
		if t.Seen {
			seen = "yes"
		}
		if t.Cover == 0 {
			cover = "–"
		}
		g.cells(cell{s: t.Piece}, cell{s: k.number(t.Depth)}, cell{s: k.fine(t.Swing)}, cell{s: k.fine(t.Gap)}, cell{s: seen, bold: t.Seen}, cell{s: cover}, cell{s: k.fine(t.Room)})
	}
	k.y += 1
	k.paragraph("Gap and room are measured from the day of fixing. Figures as fine as these are for comparing: wood of one board differs by more.", letter{size: 3})
}
