package stock

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// scarfOverlap is how much longer two halves of a skirt are together when it is
// joined by a scarf, mm: eight times a board of 18 or so. Common practice, no
// source.
const scarfOverlap = 150.0

// strips buys what runs along the flight or along its noses.
func (b *buyer) strips(s *survey.Result) {
	if b.want.NewSkirts > 0 || b.want.WireCover {
		if s == nil || len(s.Steps) < 2 {
			b.note("skirts and wire covers are left out: the flight's length is not known")
		} else {
			b.along(s)
		}
	}
	if b.want.LightBars && b.want.Coves {
		b.note("a cove and a light bar cannot share an overhang: no coves are bought")
	}
	end := b.goods.Figure("light-end", 15)
	switch {
	case b.want.LightBars:
		b.perNose(model.UseLightBase, "light base %d", 2*end)
		// A diffuser grows with the warmth: 1 mm is left free at each end.
		b.perNose(model.UseDiffuser, "diffuser %d", 2*end+2)
	case b.want.Coves:
		b.perNose(model.UseCove, "cove %d", 1)
	}
}

// along buys skirts and wire covers by the length of the pitch.
func (b *buyer) along(s *survey.Result) {
	pitch, triangle, steepest := pitchOf(s)
	unsure := quantile99 * pitchSpread(s)
	if !b.plan.Early {
		unsure = 0
	}
	if n := b.want.NewSkirts; n > 0 {
		o := b.job.Overlay
		width := triangle + b.goods.Figure("skirt-margin", 60) + float64(o.Overhang)*math.Sin(steepest)
		length := pitch + b.goods.Figure("skirt-extra", 300) + unsure
		// A board that has been drawn is what must come out of the stock; the
		// spare at its ends is already in its outline but for squaring.
		for _, k := range b.want.Skirts {
			width = math.Max(width, k.Width)
			length = math.Max(length, k.Length+2*b.goods.Figure("spare-length", 25)+unsure)
		}
		longest := 0.0
		for _, g := range b.offered(model.UseSkirt, false) {
			if float64(g.Width) >= width {
				longest = math.Max(longest, float64(g.Length))
			}
		}
		halves := 1
		room := longest - 2*float64(b.goods.Trim) - 2*float64(b.goods.Kerf)
		for longest > 0 && (length+float64(halves-1)*scarfOverlap)/float64(halves) > room && halves < 4 {
			halves++
		}
		x := &batch{use: model.UseSkirt}
		for side := range n {
			for k := range halves {
				id := fmt.Sprintf("skirt %d", side+1)
				if halves > 1 {
					id += fmt.Sprintf(", part %d", k+1)
				}
				x.blanks = append(x.blanks, Blank{Piece: id, Length: (length + float64(halves-1)*scarfOverlap) / float64(halves), Width: width, Unsure: unsure})
				x.final, x.to = append(x.final, false), append(x.to, width)
			}
		}
		if halves > 1 {
			b.note(fmt.Sprintf("no listed skirt board is %s long: each is joined by a glued scarf over a tread", b.length(length)))
		}
		b.buyBatch(x)
	}
	if b.want.WireCover {
		n := max(1, int(math.Ceil(pitch/b.goods.Figure("wire-cover-joint", 1500))))
		x := &batch{use: model.UseWireCover}
		for k := range n {
			x.blanks = append(x.blanks, Blank{Piece: fmt.Sprintf("wire cover %d", k+1), Length: (pitch + unsure) / float64(n), Unsure: unsure})
			x.final, x.to = append(x.final, false), append(x.to, 0)
		}
		b.buyBatch(x)
	}
}

// pitchOf returns the length of the flight along its noses, the height of the
// largest triangle of rise and going, square to the pitch, and the steepest
// pitch.
func pitchOf(s *survey.Result) (length, triangle, steepest float64) {
	for i := 1; i < len(s.Steps); i++ {
		a, c := &s.Steps[i-1], &s.Steps[i]
		going := c.Corners[c.FL].Add(c.Corners[c.FR]).Mul(0.5).Sub(a.Corners[a.FL].Add(a.Corners[a.FR]).Mul(0.5)).Len()
		rise := (c.TopLeft + c.TopRight - a.TopLeft - a.TopRight) / 2
		hyp := math.Hypot(rise, going)
		length += hyp
		if hyp > 0 {
			triangle = math.Max(triangle, math.Abs(rise*going/hyp))
			steepest = math.Max(steepest, math.Atan2(rise, going))
		}
	}
	return length, triangle, steepest
}

// pitchSpread is one standard deviation of the pitch's length: of the last
// nose's place, taken as independent of the first's, which the 300 mm to spare
// cover besides.
func pitchSpread(s *survey.Result) float64 {
	last := len(s.Steps) - 1
	st := &s.Steps[last]
	n := len(st.Corners)
	topLeft, _, _, _, _, count := survey.Unknowns(n)
	if len(st.Cov) < count*count {
		return 0
	}
	g := make([]float64, count)
	g[2*st.FL+1] = 1
	going := s.SpreadOf(last, g, nil)
	g[2*st.FL+1], g[topLeft] = 0, 1
	return math.Hypot(going, s.SpreadOf(last, g, nil))
}

// perNose buys one strip under every nose, less than the riser's top by so
// much, with the practice's extra as whole strips. name has a hole for the step.
func (b *buyer) perNose(use model.GoodsUse, name string, less float64) {
	x := &batch{use: use}
	for _, p := range b.pieces {
		if p.Kind != pieces.Riser || p.Figures.Front.Value <= less {
			continue
		}
		bl := Blank{Piece: fmt.Sprintf(name, p.Step), Length: p.Figures.Front.Value - less}
		if !p.Released {
			bl.Unsure = quantile99 / survey.Band95 * p.Figures.Front.PlusMinus
			bl.Length += bl.Unsure
		}
		x.blanks = append(x.blanks, bl)
		x.final, x.to = append(x.final, p.Released), append(x.to, 0)
	}
	if len(x.blanks) == 0 {
		return
	}
	x.spares = int(math.Ceil(b.goods.Figure("strip-extra", 0.1)*float64(len(x.blanks)) - 1e-9))
	b.buyBatch(x)
}
