package walk

// light sets every bar: what it should show, how far the fade has come, and what
// the supply can carry.
func (c *Core) light(in Inputs, trusted bool) {
	t := c.t
	n := int(t.Bars)
	scene := &t.Scenes[c.scene]
	var target [MaxBars]uint8
	if scene.Kind == SceneWalk || scene.Kind == SceneNight || scene.Kind == SceneSeasonal {
		if !in.Daylight || !t.Daylight || in.Lost {
			c.walkers(target[:n], trusted)
		}
	}
	c.busy = c.all > 0 || c.run > 0
	if c.all > 0 {
		c.all--
	}
	if c.run > 0 {
		c.run--
	}
	dark := in.Daylight && t.Daylight && scene.Kind != SceneSteady
	more := 0 // bars brighter than dim
	var base [MaxBars]bool
	for i := range n {
		base[i] = target[i] == 0
		switch {
		case scene.Kind == SceneOff || dark:
		case scene.Kind == SceneSteady:
			target[i] = scene.Index
		case scene.Kind == SceneNight:
			target[i] = max(target[i], scene.Index)
		case scene.Kind == SceneSeasonal && base[i]:
			target[i] = c.animated(scene, i)
		}
		c.fade(i, target[i])
		if c.level[i] > uint16(t.Dim)<<8 {
			more++
		}
	}
	clip := t.Clip[more]
	for i := range n {
		index := min(uint8(c.level[i]>>8), clip)
		colour := t.Walk
		if base[i] && scene.Kind != SceneWalk && scene.Kind != SceneOff {
			colour = scene.Colours[c.turn(scene, i)]
		}
		level := t.Gamma[index]
		c.bars[i] = Bar{index, level, Colour{}}
		if level > 0 {
			c.bars[i].Colour = Colour{share(colour.R, level), share(colour.G, level), share(colour.B, level), share(colour.W, level)}
		}
	}
}

// share returns a channel at a level, rounded up so that it never goes out
// before the level does.
func share(channel, level uint8) uint8 { return uint8((uint16(channel)*uint16(level) + 254) / 255) }

// walkers sets the bars for those who walk: dim wherever somebody may be, and the
// windows round the last movements at full.
func (c *Core) walkers(target []uint8, trusted bool) {
	t := c.t
	n := len(target)
	if c.all > 0 || c.run > 0 || !trusted || c.next(-1, 1) < 0 {
		for i := range target {
			target[i] = t.Full
		}
		return
	}
	reach := int(t.Reach)
	for k := 1; k < n; k++ {
		if c.age[k] > 0 {
			raise(target, k-reach, k+reach, t.Dim)
		}
	}
	for s := range t.Sensors {
		if c.keep[s] == 0 || !c.usable(s) {
			continue
		}
		row := &t.Sensors[s]
		if row.End != 0 && c.came[s] == CameUnknown {
			c.entry(target, s)
			continue
		}
		w := row.Window[c.came[s]]
		low, high := w[0], w[1]
		// A gap left by sensors that are left out is bridged.
		for p := s - 1; p >= 0 && !c.usable(p); p-- {
			low = min(low, t.Sensors[p].Window[c.came[s]][0])
		}
		for p := s + 1; p < len(t.Sensors) && !c.usable(p); p++ {
			high = max(high, t.Sensors[p].Window[c.came[s]][1])
		}
		raise(target, int(low), int(high), t.Full)
	}
}

// entry lights the first steps of an end, and the other end dimly. Of somebody
// who may only pass through the hall it lights them dimly.
func (c *Core) entry(target []uint8, s int) {
	t := c.t
	n := len(target)
	row := &t.Sensors[s]
	level := t.Full
	if t.TwoTriggers {
		level = t.Dim
		for by := -1; by <= 1; by += 2 {
			if p := c.next(s, by); p >= 0 && c.low[p] <= t.Hall {
				level = t.Full
			}
		}
	}
	first, far := int(t.EndFirst), int(t.FarEnd)
	if level < t.Full {
		far = 0 // who stays in the hall needs no far end
	}
	if row.End&EndBottom != 0 {
		high := first - 1
		if row.Sure[1] >= row.Sure[0] {
			high = max(high, int(row.Sure[1]))
		}
		raise(target, 0, high, level)
		raise(target, n-far, n-1, t.Dim)
	}
	if row.End&EndTop != 0 {
		low := n - first
		if row.Sure[1] >= row.Sure[0] {
			low = min(low, int(row.Sure[0]))
		}
		raise(target, low, n-1, level)
		raise(target, 0, far-1, t.Dim)
	}
}

// raise lifts the bars from low to high to a level at least.
func raise(target []uint8, low, high int, level uint8) {
	for i := max(0, low); i <= min(len(target)-1, high); i++ {
		target[i] = max(target[i], level)
	}
}

// fade moves a bar towards its target. What is to be lit is dim at once: a slow
// start costs sure feet.
func (c *Core) fade(i int, target uint8) {
	t := c.t
	level, to, dim := c.level[i], uint16(target)<<8, uint16(t.Dim)<<8
	switch {
	case level < to:
		if target >= t.Dim && level < dim {
			level = dim
		}
		if to-level <= t.Rise {
			level = to
		} else {
			level += t.Rise
		}
	case level-to <= t.Fall:
		level = to
	default:
		level -= t.Fall
	}
	c.level[i], c.settled[i] = level, to
}

// turn returns which of a scene's colours a bar shows now.
func (c *Core) turn(s *Scene, bar int) int {
	n, colours := uint32(c.t.Bars), uint32(len(s.Colours))
	at := uint32(bar)
	if s.Period > 0 && s.Kind == SceneSeasonal {
		switch s.Pattern {
		case PatternAlternate:
			at += c.phase * colours / s.Period
		case PatternChase:
			at = (at + n - c.phase*n/s.Period) % n
		}
	}
	return int(at % colours)
}

// animated returns the brightness of a bar on which nobody may be.
func (c *Core) animated(s *Scene, bar int) uint8 {
	if s.Pattern != PatternTwinkle || s.Period == 0 {
		return s.Index
	}
	// Every bar dims and comes back once a period, each at its own time: 97 spreads
	// neighbours far apart.
	at := (c.phase*256/s.Period + uint32(bar)*97) & 255
	wave := at
	if at > 127 {
		wave = 255 - at
	}
	return uint8(uint32(s.Index) * (128 + wave) / 255)
}
