package stock

import (
	"fmt"
	"math"
	"sort"

	"risewright/model"
	"risewright/solver/pieces"
)

// packs buys adhesive, pins, finish and paint from the boards' sizes.
func (b *buyer) packs() {
	var bead, pinsTread, pinsRiser, face, riser float64 // mm, pieces, mm²
	for _, p := range b.pieces {
		f := &p.Figures
		long := math.Max(f.Back.Value, f.Front.Value)
		deep := math.Max(f.LeftDepth.Value, f.RightDepth.Value)
		if p.Kind == pieces.Riser {
			bead += 2 * long // one near the top, one near the bottom
			pinsRiser += b.goods.Figure("pins-per-riser", 6)
			riser += long * deep
			continue
		}
		if p.Kind == pieces.LandingNosing {
			bead += 2 * long // too narrow for three
		} else {
			bead += 3*long + 2*deep
		}
		pinsTread += b.goods.Figure("pins-per-tread", 6)
		face += long * deep
	}
	round := b.goods.Figure("bead", 6.35)
	b.pack(model.UseAdhesive, bead*math.Pi/4*round*round/1000, b.goods.Figure("adhesive-extra", 0.25),
		fmt.Sprintf("%s of bead: three along a tread and its ends, two along a riser", lengthWords(bead, b.job.Units)))
	b.pack(model.UseTreadPins, pinsTread, b.goods.Figure("pins-extra", 0.25), "in treads and landing nosing")
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
