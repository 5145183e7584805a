package bars

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// cutSlack lets a length that is a whole number of cut units but for rounding
// count as one: coordinates reach 10⁵ mm, spaced 1.5·10⁻¹¹, and a length takes
// a dozen operations; a micrometre is far more and no saw sees it.
const cutSlack = 1e-3

// Make returns the bars of a flight whose boards are ps, in the order that
// package pieces makes them. Lighting that is off has none.
func Make(job model.Job, l model.Lighting, t model.LightTables, ps []pieces.Piece) Result {
	t = t.With(l.Own)
	var out Result
	if !l.On() {
		return out
	}
	m := &maker{job: &job, l: &l, t: &t, f: job.Format()}
	strip, ok := t.Strip(l.Strip)
	out.Strip = strip
	if !ok || strip.Pitch() == 0 {
		m.once("", "light.strip", model.Outside, "strip", fmt.Sprintf("the strip type %q is not in the table, or has no pixels", l.Strip),
			"no bar can be cut", "choose a strip type of the table, or add its row to the job")
	}
	m.strip = strip
	m.own = map[model.ID]model.BarOwn{}
	for _, b := range l.Bars {
		m.own[b.Step] = b
		if job.StepIndex(b.Step) < 0 {
			m.once("", "light.own", model.Advice, "bars", "a bar of its own names a step that is not there", "", "remove it")
		}
	}
	m.settings()
	out.Bars = make([]Bar, flightOf(ps))
	for i := range out.Bars {
		out.Bars[i] = m.bar(i, &ps[2*i], &ps[2*i+1])
	}
	m.climb(out.Bars, ps)
	m.glare(out.Bars, ps)
	out.Findings = m.notes.findings(len(out.Bars))
	return out
}

// flightOf returns how many steps the boards are of. Floors of landings and
// return nosings come after them.
func flightOf(ps []pieces.Piece) int {
	n := 0
	for 2*n+1 < len(ps) && ps[2*n].Kind == pieces.Riser {
		n++
	}
	return n
}

// maker makes one bar after another.
type maker struct {
	job   *model.Job
	l     *model.Lighting
	t     *model.LightTables
	strip model.StripType
	own   map[model.ID]model.BarOwn
	f     model.Format
	notes notes
}

func (m *maker) once(s model.Standing, rule string, sev model.Severity, field, title, detail, remedy string) {
	m.notes.whole = append(m.notes.whole, model.Finding{Rule: rule, Severity: sev, Where: model.Place{Field: "lighting." + field}, Title: title, Detail: detail, Remedy: remedy, Standing: s})
}

func (m *maker) mm(v float64) string { return m.f.Length(model.Length(v)) }

// settings judges what is set for all bars alike.
func (m *maker) settings() {
	for _, v := range []struct {
		field string
		v     model.Length
		least float64
	}{
		{"setback", m.l.Setback, 0}, {"end_clearance", m.l.EndClearance, 0}, {"lip", m.l.Lip, 0}, {"groove", m.l.Groove, 0}, {"cove", m.l.Cove, 0},
		{"bar_width", m.l.BarWidth, 0}, {"bar_height", m.l.BarHeight, 0}, {"notch_width", m.l.NotchWidth, 0}, {"notch_height", m.l.NotchHeight, 0},
	} {
		if float64(v.v) < v.least || math.IsNaN(float64(v.v)) {
			m.once("", "light.negative", model.Outside, v.field, fmt.Sprintf("the %s is %s", words(v.field), m.f.Length(v.v)),
				"no such size can be made; until it is put right it counts as 0", "give 0 or more")
		}
	}
	if m.l.BarWidth == 0 || m.l.BarHeight == 0 {
		m.once("", "light.section", model.Advice, "bar_width", "the bar has no width or no height", "whether it fits is not known", "measure base strip, LEDs and diffuser together")
	}
	if s := float64(m.l.Setback); s >= 0 {
		if least := m.t.Practised("setback_least"); s < least.Value {
			m.once(least.Standing, "light.setback", model.Advice, "setback", fmt.Sprintf("the bars lie %s behind the nose; usual is %s or more", m.mm(s), m.mm(least.Value)),
				"a bar so near the nose is seen and struck", "set it further back")
		}
	}
	if pitch := m.strip.Pitch() / float64(max(1, m.strip.LEDsPerPixel)); pitch > 0 {
		gap := m.t.Practised("diffuser_gap")
		if need := gap.Value * pitch; float64(m.l.BarHeight) < need-cutSlack {
			m.once(gap.Standing, "light.spots", model.Note, "bar_height", fmt.Sprintf("single LEDs will show: the bar is %s high", m.f.Length(m.l.BarHeight)),
				fmt.Sprintf("LEDs %s apart want a diffuser about %s away", m.mm(pitch), m.mm(need)), "raise the diffuser, or take a denser strip")
		}
	}
}

func atLeast0(v model.Length) float64 {
	if !(v > 0) {
		return 0
	}
	return float64(v)
}

// corner returns a corner of a piece's show face in the stair.
func corner(p *pieces.Piece, i int) mgl64.Vec3 {
	return mgl64.TransformCoordinate(p.Face[i].Vec3(0), p.Frame)
}

// under returns a corner of a piece's underside in the stair.
func under(p *pieces.Piece, i int) mgl64.Vec3 {
	return mgl64.TransformCoordinate(p.Solid.Verts[len(p.Face)+i], p.Frame)
}

// bar makes the bar under the nose of step i+1, between the underside of its
// tread and the face of its riser.
func (m *maker) bar(i int, riser, tread *pieces.Piece) Bar {
	b := Bar{Step: i + 1, Lights: i, Feed: m.l.Feed}
	var own model.BarOwn
	if i < len(m.job.Flight.Steps) {
		own = m.own[m.job.Flight.Steps[i].ID]
	}
	if own.Feed != "" {
		b.Feed = own.Feed
	}
	if riser.Impossible != "" || tread.Impossible != "" {
		m.notes.add("", "light.no_room", model.Outside, "", b.Step, "has no place", riser.Impossible+tread.Impossible, "put the survey of this step right first")
		return b
	}
	width := atLeast0(m.l.BarWidth)
	setback := atLeast0(m.l.Setback)
	b.Hang = atLeast0(m.l.BarHeight) - atLeast0(m.l.Groove)

	a, z := under(tread, tread.FrontLeft), under(tread, tread.FrontRight)
	line := z.Sub(a).Vec2()
	along := line.Mul(1 / line.Len())
	b.Back = mgl64.Vec2{-along[1], along[0]}
	place := func(p mgl64.Vec3) mgl64.Vec2 { // along the nose line, and behind it
		d := p.Sub(a).Vec2()
		return mgl64.Vec2{along.Dot(d), b.Back.Dot(d)}
	}
	// The riser's ends at its top and where the bar ends below it; a side that
	// leans in counts at its narrowest.
	tl, tr := corner(riser, riser.FrontLeft), corner(riser, riser.FrontRight)
	low := func(top, bottom mgl64.Vec3) mgl64.Vec3 {
		h := top[2] - bottom[2]
		if !(h > 0) {
			return top
		}
		return top.Add(bottom.Sub(top).Mul(min(1, max(0, b.Hang)/h)))
	}
	bl, br := low(tl, corner(riser, riser.BackLeft)), low(tr, corner(riser, riser.BackRight))
	left := max(0, place(tl)[0], place(bl)[0])
	right := min(line.Len(), place(tr)[0], place(br)[0])
	b.Room = right - left
	b.Overhang = [2]float64{place(tl)[1], place(tr)[1]}

	b.Length = max(0, b.Room-2*atLeast0(m.l.EndClearance))
	if own.Length != 0 {
		b.Length = max(0, float64(own.Length))
		if b.Length > b.Room {
			m.notes.add("", "light.too_long", model.Outside, "bars.length", b.Step, "is longer than its room",
				fmt.Sprintf("it is set to %s; between the sides are %s", m.mm(b.Length), m.mm(b.Room)), "shorten it, or leave its length to the program")
		}
	}
	m.cut(&b, own)

	for end := range b.Behind {
		b.Behind[end] = b.Overhang[end] - setback - width - atLeast0(m.l.Cove)
	}
	b.Fits = b.Length > 0 && min(b.Behind[0], b.Behind[1]) >= -cutSlack
	if short := -min(b.Behind[0], b.Behind[1]); short > cutSlack {
		m.notes.add("", "light.no_fit", model.Outside, "setback", b.Step, "does not fit behind the nose",
			fmt.Sprintf("the overhang is %s; setback %s, bar %s and cove %s need %s more", m.mm(min(b.Overhang[0], b.Overhang[1])),
				m.mm(setback), m.mm(width), m.mm(atLeast0(m.l.Cove)), m.mm(short)),
			"a narrower base strip, less setback, no cove there, or more overhang")
	}
	if g := atLeast0(m.l.Groove); g > 0 {
		keep := m.t.Practised("groove_left")
		if rest := tread.Thickness - g; rest < keep.Value {
			m.notes.add(keep.Standing, "light.groove", model.Advice, "groove", b.Step, "weakens its nose",
				fmt.Sprintf("a groove of %s leaves %s of a %s board; usual is %s or more", m.mm(g), m.mm(rest), m.mm(tread.Thickness), m.mm(keep.Value)),
				"a shallower groove, or hang the bar below the tread")
		}
	}

	// The underside's plane carries the bar.
	up := mgl64.TransformNormal(mgl64.Vec3{0, 0, -1}, tread.Frame)
	at := func(s float64) mgl64.Vec3 {
		p := a.Vec2().Add(along.Mul(s)).Add(b.Back.Mul(setback + width/2))
		d := p.Sub(a.Vec2())
		return p.Vec3(a[2] - (up[0]*d[0]+up[1]*d[1])/up[2])
	}
	middle := (left + right) / 2
	b.Left, b.Right = at(middle-b.Length/2), at(middle+b.Length/2)
	b.Level = b.Right[2] - b.Left[2]
	b.Wedge = -width * (up[0]*b.Back[0] + up[1]*b.Back[1]) / up[2]
	m.way(&b, riser, [2]mgl64.Vec3{tl, tr})
	return b
}

// cut puts on the bar as many pixels as its strip's cut points allow.
func (m *maker) cut(b *Bar, own model.BarOwn) {
	pitch, unit := m.strip.Pitch(), max(1, m.strip.CutPixels)
	if pitch == 0 {
		return
	}
	step := pitch * float64(unit)
	// More than MaxPixels is a slip in the table; the cut is bounded by it.
	b.Pixels = int(min(float64(model.MaxPixels/unit), math.Floor((b.Length+cutSlack)/step))) * unit
	if own.Pixels != 0 {
		b.Pixels = max(0, own.Pixels)
		switch {
		case own.Pixels < 0:
			m.notes.add("", "light.negative_pixels", model.Outside, "bars.pixels", b.Step, "has fewer pixels than none", fmt.Sprintf("it is set to %d", own.Pixels), "give 0 for as many as fit")
		case b.Pixels%unit != 0:
			m.notes.add("", "light.cut_point", model.Outside, "bars.pixels", b.Step, "is cut where the strip cannot be cut",
				fmt.Sprintf("it is set to %d pixels; the strip parts after every %d", b.Pixels, unit), fmt.Sprintf("give a multiple of %d", unit))
		}
	}
	b.Strip = float64(b.Pixels) * pitch
	b.Spare = (b.Length - b.Strip) / 2
	reel := m.strip.ReelMetre.Value * 1000
	switch {
	case b.Pixels == 0:
		m.notes.add("", "light.no_strip", model.Outside, "end_clearance", b.Step, "has no LEDs", fmt.Sprintf("it is %s long, and the shortest piece of the strip is %s", m.mm(b.Length), m.mm(step)),
			"less end clearance, or a strip with a shorter cut unit")
	case b.Strip > b.Length+cutSlack:
		m.notes.add("", "light.strip_over", model.Outside, "bars.pixels", b.Step, "is shorter than its strip", fmt.Sprintf("%d pixels are %s; the bar is %s", b.Pixels, m.mm(b.Strip), m.mm(b.Length)), "fewer pixels")
	case b.Length-b.Strip > step+cutSlack:
		m.notes.add("", "light.strip_short", model.Advice, "bars.pixels", b.Step, "is longer than its strip",
			fmt.Sprintf("%d pixels are %s of %s; %s at each end stay dark", b.Pixels, m.mm(b.Strip), m.mm(b.Length), m.mm(b.Spare)), "more pixels, or a shorter bar")
	}
	if reel > 0 && b.Strip > reel+cutSlack {
		m.notes.add("", "light.reel", model.Outside, "bars.length", b.Step, "is longer than the strip is sold",
			fmt.Sprintf("it takes %s; one piece is at most %s", m.mm(b.Strip), m.mm(reel)), "join two pieces at a feed point, or shorten the bar")
	}
}

// way puts the way out for the wires into the riser: where nothing that bears
// or is seen is cut.
func (m *maker) way(b *Bar, riser *pieces.Piece, top [2]mgl64.Vec3) {
	w := &b.Way
	w.Piece = riser.ID
	w.Width, w.Height = atLeast0(m.l.NotchWidth), atLeast0(m.l.NotchHeight)
	height := min(riser.Figures.LeftDepth.Value, riser.Figures.RightDepth.Value)
	run := top[1].Sub(top[0])
	length := run.Len()
	dir := run.Mul(1 / length)
	switch m.l.Cavity {
	case model.CavityRight:
		w.Side = pieces.Right
	case model.CavityUnder:
		w.Hole = true
		mid := top[0].Add(top[1]).Mul(0.5)
		if box := (mgl64.Vec3{float64(m.l.Box.X), float64(m.l.Box.Y), float64(m.l.Box.Z)}); box.Sub(mid).Dot(dir) > 0 {
			w.Side = pieces.Right
		}
	}
	from := top[0]
	if w.Side == pieces.Right {
		from, dir = top[1], dir.Mul(-1)
	}
	if !w.Hole {
		w.Along, w.Down = w.Width, w.Height
		w.At = from.Sub(mgl64.Vec3{0, 0, w.Height / 2})
		w.Hidden = w.Height <= b.Hang
		// A third of the height is left alone by any measure of sense.
		if w.Height > height/3 || w.Width > length/3 {
			m.notes.add(model.Memory, "light.notch", model.Advice, "notch_width", b.Step, "has too large a notch", fmt.Sprintf("%s × %s out of a riser %s × %s", m.mm(w.Width), m.mm(w.Height), m.mm(length), m.mm(height)), "a smaller notch")
		}
		return
	}
	edge, keep := m.t.Practised("hole_edge"), m.t.Practised("side_keep")
	w.Height = w.Width
	w.Along, w.Down = keep.Value+w.Width/2, edge.Value+w.Width/2
	w.At = from.Add(dir.Mul(w.Along)).Sub(mgl64.Vec3{0, 0, w.Down})
	w.Hidden = w.Down+w.Width/2 <= b.Hang
	if w.Along+w.Width/2 > length/2 || w.Down+w.Width/2 > height/3 {
		m.notes.add(keep.Standing, "light.hole", model.Advice, "notch_width", b.Step, "has no safe place for its hole",
			fmt.Sprintf("a riser of %s × %s; the hole keeps %s from the side and %s from the top", m.mm(length), m.mm(height), m.mm(keep.Value), m.mm(edge.Value)), "a smaller bore, or a cavity at the side")
	}
}
