package wood

import "risewright/model"

// How a tread is held so that it can move: fast in its front third, where its
// nose must stay, and behind that by an adhesive that stays elastic. The buying
// list reckons with these figures and the papers say them, so that both mean the
// same fixing. Common practice, no source.
const (
	// FixedPart is how much of the depth, from the nose, is held fast.
	FixedPart = 1.0 / 3
	// FastBeads run along that part, and one more up each end of it.
	FastBeads = 2
	// ElasticBeads run along the back.
	ElasticBeads = 1
)

// FixingWords says how treads are fixed: screwed on a dry bed, or with adhesive;
// with their backs under the risers that stand on them, or against these.
func FixingWords(under, screwed bool) string {
	how := "in the front third: two beads of construction adhesive along it and one up each end of it, and all the pins; behind it: one bead of adhesive that stays elastic, along the back, and no pin"
	if screwed {
		how = "screws and plugs on a dry bed: half of them in the front third; the others near the back, through slots from nose to back, so that the tread can slide under their heads; no adhesive"
	}
	back := "the riser that stands on the back edge holds it down and is not glued to it, so that it can slide"
	if !under {
		back = "the back butts against the riser and is not glued to it: it cannot be hidden, so a winter line there is to be accepted"
	}
	return model.Sentence(how) + " " + model.Sentence(back) + " Common practice, no source"
}
