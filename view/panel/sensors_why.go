package panel

import (
	"fmt"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver/walk"
	"risewright/view/drawing"
)

const coverWord = "Cover the chosen sensor"

// coverSensor covers the lens of the chosen sensor while somebody walks by hand,
// or uncovers the one that is covered. The walker stays where they are.
func (d *Desk) coverSensor() {
	w := &d.walking
	if d.coveredSensor() >= 0 {
		w.covered = model.ID{}
	} else if s, ok := d.chosenSensor(); ok {
		w.covered = s.ID
	}
	w.live, w.liveOf = nil, nil
	d.tell(Viewed)
}

// coveredSensor returns the place in the job of the covered sensor, or -1.
func (d *Desk) coveredSensor() int { return d.session.Job().Sensing.Sensor(d.walking.covered) }

// underFoot says in a few words why the step underfoot, or the one next to the
// floor that the walker is on, is dark or only dimly lit; "" when it is as usual.
func (d *Desk) underFoot() string {
	w := &d.walking
	if w.live == nil || len(w.bars) < 2 {
		return ""
	}
	k := max(1, min(len(w.bars)-1, walk.Position(w.at))) // from a floor, the step next to it
	t := w.live.Tables()
	if !t.Lit(w.bars[k].Index) {
		if i := d.coveredSensor(); i >= 0 {
			return fmt.Sprintf("dark: sensor %d is silent", i+1)
		}
		if k != walk.Position(w.at) {
			return "" // nobody is on the stair yet
		}
		return "dark: no sensor has seen anybody yet"
	}
	if _, open := t.Blind(); slices.Contains(open, k) && w.bars[k].Index <= t.Dim {
		return "kept dimly lit: no sensor looks at this end"
	}
	return ""
}

// whyLit says why steps are dark or stay lit on this stair whoever walks: an end
// without its sensor, or one that is covered and that the controller has not
// missed yet. It is "" when there is nothing to say.
func (d *Desk) whyLit() string {
	w := &d.walking
	if !w.on || w.live == nil || !d.walkable() {
		return ""
	}
	t := w.live.Tables()
	r := d.Sensed()
	var out []string
	if len(t.Sensors) == 0 {
		return "No sensor works, so the whole flight stays lit."
	}
	if _, open := t.Blind(); len(open) > 0 {
		it := "they stay"
		if len(open) == 1 {
			it = "it stays"
		}
		out = append(out, fmt.Sprintf("No sensor sees who comes from the floor onto %s. Somebody may be there at any time, so %s dimly lit.", r.Stair.Listed(open), it))
	}
	if i := d.coveredSensor(); i >= 0 {
		out = append(out, d.coveredWords(t, i))
	}
	return strings.Join(out, " ")
}

// coveredWords says what the controller makes of the covered sensor.
func (d *Desk) coveredWords(t *walk.Tables, i int) string {
	name := model.Capital(d.sensorName(i))
	at := slices.IndexFunc(t.Sensors, func(s walk.Sensor) bool { return int(s.Input) == i })
	switch {
	case at < 0:
		return ""
	case d.walking.live.Silent()&(1<<i) != 0:
		return fmt.Sprintf("%s is covered, and the controller has missed it: the next sensor came on first. It lit the whole flight and now does without that sensor.", name)
	}
	from := ""
	switch t.Sensors[at].End {
	case walk.EndBottom:
		from = "the foot of the stair"
	case walk.EndTop:
		from = "the head of the stair"
	case walk.EndBottom | walk.EndTop:
		from = "either end of the stair"
	default:
		return fmt.Sprintf("%s is covered. Its neighbours bridge the gap.", name)
	}
	if ks := alone(t, at); len(ks) > 0 {
		return fmt.Sprintf("%s is covered. The controller cannot know yet, so whoever comes from %s finds %s dark until the next sensor sees them. The stair's switched light is for that.", name, from, d.Sensed().Stair.Listed(ks))
	}
	return fmt.Sprintf("%s is covered. Whoever comes from %s is seen by its neighbour from the first step on, a moment late.", name, from)
}

// alone returns the steps that somebody who comes in at the ends of a sensor
// treads on before another one is sure to see them, from the bottom up.
func alone(t *walk.Tables, row int) []int {
	others := func(k int) bool {
		for i := range t.Sensors {
			if s := t.Sensors[i].Sure; i != row && int(s[0]) <= k && k <= int(s[1]) {
				return true
			}
		}
		return false
	}
	n := int(t.Bars)
	var out []int
	if t.Sensors[row].End&walk.EndBottom != 0 {
		for k := 1; k < n && !others(k); k++ {
			out = append(out, k)
		}
	}
	if t.Sensors[row].End&walk.EndTop != 0 {
		for k := n - 1; k > 0 && !others(k) && !slices.Contains(out, k); k-- {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return out
}

// note writes why the step underfoot is lit so, above the walker.
func (w *walkShow) note(l *drawing.List, at drawing.Point) {
	if w.why == "" {
		return
	}
	l.Text(drawing.Text{At: at, String: w.why, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Size: 2.8, Ink: drawing.Letter, Bold: true, Halo: true})
}
