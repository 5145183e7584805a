package power

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"risewright/model"
)

// amps writes a current.
func amps(v float64) string { return trim(v, 2) + " A" }

// trim writes a number with at most so many decimals.
func trim(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// grouped writes a whole number with commas between thousands.
func grouped(n int) string {
	text := strconv.Itoa(n)
	for i := len(text) - 3; i > 0 && text[i-1] != '-'; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}

// load holds the supply against the scenes and against everything at full
// white.
func (s *solver) load() {
	o, l := s.out, &s.out.Load
	full, idle := o.Strip.FullAmps(), s.idleAmps()
	pixels := make([]int, s.groups)
	all := 0
	for i := range s.in.Bars {
		pixels[s.group[i]] += len(s.pixels[i])
		all += len(s.pixels[i])
	}
	most := 0
	for g := range pixels {
		if pixels[g] > pixels[most] {
			most = g
		}
	}
	margin := s.t.Practised("continuous")
	l.Margin = margin.Value
	l.Rated = o.Supply.Amps.Value
	l.Usable = l.Rated * l.Margin
	l.Full, l.Idle = float64(pixels[most])*full, float64(pixels[most])*idle
	l.FullAll, l.IdleAll = float64(all)*full, float64(all)*idle
	l.Over = l.Full - l.Rated
	if l.Full > l.Idle {
		l.Cap = math.Max(0, math.Min(1, (l.Usable-l.Idle)/(l.Full-l.Idle)))
	}
	if l.Usable > 0 {
		// A whole number but for rounding is that number.
		l.Needed = int(math.Ceil(l.FullAll/l.Usable - 1e-9))
	}
	s.energy()
	if l.Rated > 0 && all > 0 {
		s.judgeLoad(pixels[most], margin)
		s.limited()
	}
}

// judgeLoad says what a supply carries, with the arithmetic.
func (s *solver) judgeLoad(pixels int, margin model.Rated) {
	o, l := s.out, &s.out.Load
	st, standing := &o.Strip, weakest(o.Strip.ChannelMA, margin)
	sum := fmt.Sprintf("%s pixels × %d channels × %s mA = %s", grouped(pixels), st.Channels, trim(st.ChannelMA.Value, 1), amps(l.Full))
	each := "the supply gives"
	if l.Count > 1 {
		each = fmt.Sprintf("of %d supplies the busiest gives", l.Count)
	}
	rest := fmt.Sprintf("%s %s", each, amps(l.Rated))
	usable := fmt.Sprintf("for long loads %s %% of that, %s, may be used", trim(100*l.Margin, 1), amps(l.Usable))
	cap := fmt.Sprintf("a cap of %s %% brightness fits", trim(math.Floor(1000*l.Cap)/10, 1))
	capped := s.l.Cap > 0 && s.l.Cap <= l.Cap+1e-9
	sev := model.Outside
	if capped {
		sev = model.Note
		cap += fmt.Sprintf("; the firmware's cap is %s %%", trim(100*s.l.Cap, 1))
	}
	remedy := fmt.Sprintf("cap the brightness in the firmware at %s %%; or %d such supplies, each with its own bars; never rely on a supply to limit itself", trim(math.Floor(1000*l.Cap)/10, 1), l.Needed)
	switch {
	case l.Usable < l.Idle:
		s.find(model.Outside, "light.supply.idle", "supply", "the supply cannot carry even the dark pixels",
			fmt.Sprintf("%s pixels × %s mA idle = %s; %s", grouped(pixels), trim(st.IdleMA.Value, 2), amps(l.Idle), usable), "a larger supply", standing)
	case l.Over > 1e-9:
		s.find(sev, "light.supply.over", "supply", fmt.Sprintf("everything at full white exceeds the supply by %s", amps(l.Over)),
			fmt.Sprintf("%s; %s: %s too much. %s: %s", sum, rest, amps(l.Over), model.Capital(usable), cap), remedy, standing)
	case l.Full > l.Usable+1e-9:
		s.find(sev, "light.supply.margin", "supply", "the supply only looks large enough",
			fmt.Sprintf("%s, and %s, %s more; but %s: %s too little for full white. %s", sum, rest, amps(l.Rated-l.Full), usable, amps(l.Full-l.Usable), model.Capital(cap)), remedy, standing)
	}
	for _, sc := range o.Scenes {
		if sc.Scene.Shown {
			continue
		}
		worst := 0.0
		for _, a := range sc.Each {
			worst = math.Max(worst, a)
		}
		if worst > l.Usable+1e-9 {
			s.find(model.Outside, "light.scene.over", "scenes", fmt.Sprintf("the scene %q takes more than the supply may give", sc.Scene.Name),
				fmt.Sprintf("it takes %s; %s", amps(worst), usable), "less brightness, fewer bars, or a larger supply", standing)
		}
	}
	if l.Full > l.Usable && capped || s.l.Cap == 0 && o.Worst >= 0 && l.Full > o.Scenes[o.Worst].Amps {
		s.find(model.Note, "light.peaks", "scenes", "pixels dim by switching fast",
			"the currents here are means; for moments all that are lit draw their full current together, which the capacitor at each feed must carry", "put the capacitor where the power enters, and the fuse before it", model.Seen)
	}
}

// hoursOfYear is 365 days.
const hoursOfYear = 8760

// energy fills in what is taken from the mains: with nothing lit all year, and
// with the scenes' hours a day.
func (s *solver) energy() {
	o, l := s.out, &s.out.Load
	eff := o.Supply.Efficiency.Value
	if !(eff > 0) {
		return
	}
	volts := o.Supply.Volts.Value
	l.IdleWatts = l.IdleAll*volts/eff + o.Supply.NoLoadWatts.Value*float64(l.Count)
	l.IdleKWh = l.IdleWatts * hoursOfYear / 1000
	l.YearlyKWh = l.IdleKWh
	for _, sc := range o.Scenes {
		if h := sc.Scene.Hours; h > 0 && !sc.Scene.Shown {
			l.YearlyKWh += (sc.Amps - l.IdleAll) * volts / eff * h * 365 / 1000
		}
	}
	if l.IdleKWh > 0 {
		s.find(model.Note, "light.idle", "supply", fmt.Sprintf("with nothing lit the bars take %s kWh a year", trim(l.IdleKWh, 1)),
			fmt.Sprintf("%s idle × %g V ÷ %s %% and %s W of the supply itself: %s W, all %d hours", amps(l.IdleAll), volts, trim(100*eff, 0), trim(o.Supply.NoLoadWatts.Value*float64(l.Count), 1), trim(l.IdleWatts, 2), hoursOfYear),
			"let the controller switch the supply off when nobody is near", weakest(o.Strip.IdleMA, o.Supply.Efficiency, o.Supply.NoLoadWatts))
	}
}

// limited says, as advice, which published ceilings the supply is within.
func (s *solver) limited() {
	v, a := s.out.Supply.Volts.Value, s.out.Supply.Amps.Value
	for _, r := range s.t.Limited {
		if v <= r.Above.Value || v > r.Volts.Value {
			if ceiling := r.Amps.Value == 0 && r.VA.Value == 0; ceiling && v > r.Volts.Value {
				s.find(model.Advice, "light.limited."+r.ID, "supply", fmt.Sprintf("%g V is above %s", v, r.Title), r.Volts.From, "ask a licensed person", r.Volts.Standing)
			}
			continue
		}
		var over []string
		if r.Amps.Value > 0 && a > r.Amps.Value {
			over = append(over, fmt.Sprintf("%s against %s", amps(a), amps(r.Amps.Value)))
		}
		if r.VA.Value > 0 && a*v > r.VA.Value {
			over = append(over, fmt.Sprintf("%s VA against %s VA", trim(a*v, 1), trim(r.VA.Value, 1)))
		}
		detail := r.Volts.From
		if r.VA.Value > 0 {
			detail = r.VA.From
		} else if r.Amps.Value > 0 {
			detail = r.Amps.From
		}
		if r.Note != "" {
			detail += "; " + r.Note
		}
		st := weakest(r.Volts, r.Amps, r.VA)
		if len(over) > 0 {
			s.find(model.Advice, "light.limited."+r.ID, "supply", "the supply is more than "+r.Title, strings.Join(over, ", ")+"; "+detail,
				"several smaller listed supplies, each with its own bars, or wiring and fuses to the full rules: ask a licensed person", st)
		} else {
			s.find(model.Note, "light.limited."+r.ID, "supply", "by its figures the supply is within "+r.Title, detail+"; only its listing tells", "", st)
		}
	}
}
