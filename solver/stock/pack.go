package stock

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/wood"
)

// packs buys adhesive, pins, finish and paint from the boards' sizes. Treads are
// held as package wood has it, so that they can move.
func (b *buyer) packs() {
	var fast, elastic, held, pinsRiser, face, riser float64 // beads in mm, pieces, mm²
	landing, returns := false, false
	for _, p := range b.pieces {
		f := &p.Figures
		long := math.Max(f.Back.Value, f.Front.Value)
		deep := math.Max(f.LeftDepth.Value, f.RightDepth.Value)
		if p.Kind == pieces.Riser {
			fast += 2 * long // one near the top, one near the bottom
			pinsRiser += b.goods.Figure("pins-per-riser", 6)
			riser += long * deep
			continue
		}
		held++
		face += long * deep
		switch {
		case b.want.Screwed:
		case p.Kind == pieces.ReturnNosing: // slot-nailed behind, as its card says
			returns = true
			fast += wood.FixedPart * long
		case p.Kind == pieces.LandingNosing: // too narrow for more
			landing = true
			fast += long
			elastic += wood.ElasticBeads * long
		default:
			fast += wood.FastBeads*long + 2*wood.FixedPart*deep
			elastic += wood.ElasticBeads * long
		}
	}
	round := b.goods.Figure("bead", 6.35)
	volume := func(bead float64) float64 { return bead * math.Pi / 4 * round * round / 1000 }
	where := []string{"two along the front third of a tread and one up each end of it"}
	behind := []string{"one along the back of each tread, which must be able to move"}
	if landing {
		where = append(where, "one along the front of the landing nosing")
		behind = append(behind, "one along the back of the landing nosing")
	}
	if returns {
		where = append(where, "the front third of a return")
	}
	if b.want.Screwed {
		where = []string{"treads are screwed on a dry bed"}
	}
	where = append(where, "two along a riser")
	say := func(mm float64, where []string) string {
		return fmt.Sprintf("%s of bead; %s", lengthWords(mm, b.job.Units), strings.Join(where, "; "))
	}
	b.pack(model.UseAdhesive, volume(fast), b.goods.Figure("adhesive-extra", 0.25), say(fast, where))
	b.pack(model.UseElastic, volume(elastic), b.goods.Figure("adhesive-extra", 0.25), say(elastic, behind))
	if b.want.Screwed {
		b.pack(model.UseScrews, held*b.goods.Figure("screws-per-tread", 6), b.goods.Figure("pins-extra", 0.25), "half in the front third, half in slots behind")
	} else {
		b.pack(model.UseTreadPins, held*b.goods.Figure("pins-per-tread", 6), b.goods.Figure("pins-extra", 0.25), "in the front third of treads and in the landing nosing")
	}
	b.pack(model.UseRiserPins, pinsRiser, b.goods.Figure("pins-extra", 0.25), "in risers")
	coats := b.goods.Figure("coats-face", 3) + b.goods.Figure("coats-back", 1)
	b.pack(model.UseFinish, face/1e6*coats/b.goods.Figure("cover-finish", 14.7)*1000, b.goods.Figure("finish-extra", 0.5),
		fmt.Sprintf("%s a coat, %.0f coats, underside included", areaWords(face, b.job.Units), coats))
	b.pack(model.UsePaint, riser/1e6*b.goods.Figure("coats-riser", 3)/b.goods.Figure("cover-paint", 10)*1000, b.goods.Figure("finish-extra", 0.5),
		fmt.Sprintf("%s a coat, primer included", areaWords(riser, b.job.Units)))
}

// pack buys the cheapest packs that hold need and its extra.
func (b *buyer) pack(use model.GoodsUse, need, extra float64, why string) {
	if need <= 0 {
		return
	}
	var offered []model.GoodsPack
	for _, g := range b.goods.Packs {
		if g.Use == use && g.Holds > 0 && (g.Units == "" || g.Units == b.job.Units) {
			offered = append(offered, g)
		}
	}
	total := need * (1 + extra)
	if len(offered) == 0 {
		b.plan.Rows = append(b.plan.Rows, Row{Use: use, Name: "to order", Count: 1, Missing: true, Need: need, Extra: total - need, Why: why})
		return
	}
	sort.SliceStable(offered, func(i, k int) bool { return offered[i].Holds > offered[k].Holds })
	counts := cheapestPacks(offered, total)
	first := true
	for i, n := range counts {
		if n == 0 {
			continue
		}
		g := offered[i]
		row := Row{Use: use, Good: g.ID, Name: g.Name, Count: n, Price: g.Price, Cost: float64(n) * g.Price, Unit: g.Unit, Standing: g.Standing}
		if first {
			first = false
			row.Need, row.Extra = need, total-need
			row.Why = fmt.Sprintf("%s, and %.0f %% to spare", why, 100*extra)
		} else {
			row.Why = "with those above; together they cost the least"
		}
		b.plan.Rows = append(b.plan.Rows, row)
	}
}

// cheapestPacks returns how many of each pack, largest first, hold total at the
// least price; of equal prices the fewest packs.
func cheapestPacks(offered []model.GoodsPack, total float64) []int {
	best, least, fewest := []int(nil), math.Inf(1), math.MaxInt
	counts := make([]int, len(offered))
	var try func(i int, left, cost float64, packs int)
	try = func(i int, left, cost float64, packs int) {
		if cost > least {
			return
		}
		if left <= 1e-9*total {
			if cost < least || packs < fewest {
				best, least, fewest = append([]int(nil), counts...), cost, packs
			}
			return
		}
		if i == len(offered) {
			return
		}
		most := int(math.Ceil(left/offered[i].Holds - 1e-9))
		for n := most; n >= 0; n-- {
			if i == len(offered)-1 && n < most {
				break // the last kind must make up the rest
			}
			counts[i] = n
			try(i+1, left-float64(n)*offered[i].Holds, cost+float64(n)*offered[i].Price, packs+n)
		}
		counts[i] = 0
	}
	try(0, total, 0, 0)
	return best
}
