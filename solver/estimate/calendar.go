package estimate

import (
	"math"
	"time"

	"risewright/model"
)

// Settings says when work is done and what the household
// needs. The zero value works Monday to Friday, the table's hours a day, and
// lets the household sleep elsewhere for the one night that the adhesive sets.
type Settings struct {
	Start time.Time // the first day; its time of day is dropped
	// Days are the days of the week on which work is done, Sunday first; none
	// means Monday to Friday.
	Days [7]bool
	// Closed are days without work beside these.
	Closed      []time.Time
	HoursPerDay float64 // 0 means the table's
	// StepOver asks that the stair stay usable every night: treads are glued
	// every other one, on two evenings, and the household steps over them. Fit
	// adults only, and by good light; it is no way for children or the elderly.
	StepOver bool
}

// Milestone is a day that matters, as early and as late as it may come.
type Milestone struct {
	ID, Name          string
	Low, Likely, High time.Time
}

// Night says what can be done with the stair on a night.
type Night string

// The nights.
const (
	NightAsBefore Night = "as before"        // the carpet is still on
	NightUsable   Night = "all steps usable" // bare, packed or loose with two screws, no staples, rail on
	NightStepOver Night = "every other step" // freshly glued treads are stepped over
	NightOff      Night = "off the stair"    // nobody walks on it
)

// Day is one day of the likeliest calendar.
type Day struct {
	Date  time.Time
	Work  []DayWork
	Waits []string // names of what dries or settles meanwhile
	Night Night
	// Hold lists what must be checked before work goes on.
	Hold []string
}

// DayWork is so many hours of a stage.
type DayWork struct {
	Stage string // id
	Name  string
	Hours float64
}

// Calendar is when what can be done.
type Calendar struct {
	Milestones []Milestone // in the order they come
	Days       []Day       // every day of the likeliest course, to the last of the work
	Notes      []string
}

// glueShare is the part of a tread's hours that the gluing takes; the rest is
// cutting and dry-fitting, before the finish dries on the bench. Common
// practice, no source.
const glueShare = 0.3

// course is one run through the job: all going well, likely, or ill.
type course struct {
	set    Settings
	perDay float64
	pick   func(Range) float64
	day    time.Time // the day being worked
	used   float64   // hours of it
	days   map[time.Time]*Day
	marks  []mark
}

type mark struct {
	id, name string
	date     time.Time
}

// Plan returns the calendar of a job: stages in the order of the work, one
// crew, waits as the table has them.
func Plan(l model.Labour, w Work, set Settings) Calendar {
	set.Start = dayOf(set.Start)
	if set.Days == [7]bool{} {
		set.Days = [7]bool{false, true, true, true, true, true, false}
	}
	if !(set.HoursPerDay > 0) {
		set.HoursPerDay = l.HoursPerDay
	}
	if !(set.HoursPerDay > 0) {
		set.HoursPerDay = 7
	}
	stages, _ := Hours(l, w)
	picks := []func(Range) float64{
		func(r Range) float64 { return r.Low },
		func(r Range) float64 { return r.Likely },
		func(r Range) float64 { return r.High },
	}
	var runs [3]*course
	for i, pick := range picks {
		runs[i] = &course{set: set, perDay: set.HoursPerDay, pick: pick, days: map[time.Time]*Day{}}
		runs[i].run(l, stages, w)
	}
	var c Calendar
	for k, m := range runs[1].marks {
		c.Milestones = append(c.Milestones, Milestone{ID: m.id, Name: m.name, Low: runs[0].marks[k].date, Likely: m.date, High: runs[2].marks[k].date})
	}
	c.Days = runs[1].listed()
	c.Notes = append(c.Notes,
		"acclimatising is over when a meter says so, twice, not when the days are",
		"drying and curing take longer in the cold and damp: read the tin")
	if set.StepOver {
		c.Notes = append(c.Notes, "stepping over freshly glued treads suits fit adults by good light; with children or elderly people, spend those nights elsewhere")
	}
	return c
}

func dayOf(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// run goes through the job in order.
func (c *course) run(l model.Labour, stages []StageHours, w Work) {
	hours := map[string]StageHours{}
	known := map[string]bool{}
	for _, s := range stages {
		hours[s.ID] = s
	}
	do := func(share float64, ids ...string) {
		for _, id := range ids {
			known[id] = true
			if s, ok := hours[id]; ok {
				c.work(s, share)
			}
		}
	}
	wait := func(id string) model.Wait { return l.Wait(id) }
	c.day = c.workday(c.set.Start)
	c.mark("start", "work begins", c.day)
	do(1, "look", "rough-survey", "order")
	delivered := c.after(c.day, wait("delivery"))
	do(1, "sample")
	c.reach(delivered)
	c.mark("delivered", "boards in the house", delivered)
	dry := c.after(delivered, wait("acclimatise"))
	do(1, "strip")
	c.mark("bare", "carpet off", c.day)
	do(1, "prepare", "fine-survey")
	c.mark("surveyed", "survey finished, cards released", c.day)
	do(1, "wiring")
	c.reach(dry)
	c.mark("dry", "boards acclimatised", dry)
	c.hold("two moisture readings, boards within 2 points of the stair's own wood")
	if w.LightBars > 0 {
		c.hold("wires photographed; lights on full for an hour before anything is closed")
	}
	do(1, "risers")
	do(1-glueShare, "treads")
	if w.Treads > 0 {
		c.reach(c.after(c.day, wait("bench-finish")))
	}
	c.glue(hours["treads"], wait("adhesive"))
	known["treads"] = true
	do(1, "landing", "skirt-scribed", "skirt-straight", "open-side", "light-bars", "controls")
	c.paint(hours["hand-over"], wait("riser-paint"))
	known["hand-over"] = true
	for _, s := range stages { // stages of the user's own come last
		if !known[s.ID] {
			c.work(s, 1)
		}
	}
	c.mark("done", "handed over", c.day)
	end := c.day
	c.mark("cured", "finish cured: rugs, furniture dragged", c.calendarAfter(end, wait("finish-cure")))
	c.mark("hard", "enamel hard", c.calendarAfter(end, wait("enamel-hard")))
}

func (c *course) mark(id, name string, d time.Time) { c.marks = append(c.marks, mark{id, name, d}) }

// working says whether d is a day of work.
func (c *course) working(d time.Time) bool {
	if !c.set.Days[int(d.Weekday())] {
		return false
	}
	for _, x := range c.set.Closed {
		if dayOf(x).Equal(d) {
			return false
		}
	}
	return true
}

// workday returns the first day of work from d on. A calendar that is closed
// for ten years has none, and then d is taken.
func (c *course) workday(d time.Time) time.Time {
	for i := range 3660 {
		if x := d.AddDate(0, 0, i); c.working(x) {
			return x
		}
	}
	return d
}

// reach goes on to the first working day from d on, if that is later.
func (c *course) reach(d time.Time) {
	if d = c.workday(d); d.After(c.day) {
		c.day, c.used = d, 0
	}
}

// calendarAfter returns the day on which a wait that begins on d is over.
func (c *course) calendarAfter(d time.Time, w model.Wait) time.Time {
	return d.AddDate(0, 0, int(math.Ceil(c.pick(rangeOf(w.Days))-1e-9)))
}

// after is calendarAfter, writing the wait into its days.
func (c *course) after(d time.Time, w model.Wait) time.Time {
	end := c.calendarAfter(d, w)
	if w.Name == "" {
		return end
	}
	for x := d; x.Before(end); x = x.AddDate(0, 0, 1) {
		day := c.at(x)
		day.Waits = append(day.Waits, w.Name)
	}
	return end
}

func (c *course) at(d time.Time) *Day {
	if c.days[d] == nil {
		c.days[d] = &Day{Date: d}
	}
	return c.days[d]
}

func (c *course) hold(what string) {
	d := c.at(c.day)
	d.Hold = append(d.Hold, what)
}

// leastHours is work too short to be written down, half a minute.
const leastHours = 1.0 / 120

// work spends a share of a stage's hours, day by day.
func (c *course) work(s StageHours, share float64) {
	left := c.pick(s.Hours) * share
	for left > leastHours {
		if c.perDay-c.used < leastHours {
			c.day, c.used = c.workday(c.day.AddDate(0, 0, 1)), 0
		}
		h := math.Min(left, c.perDay-c.used)
		d := c.at(c.day)
		if n := len(d.Work); n > 0 && d.Work[n-1].Stage == s.ID {
			d.Work[n-1].Hours += h
		} else {
			d.Work = append(d.Work, DayWork{s.ID, s.Name, h})
		}
		c.used += h
		left -= h
	}
}

// glue lays the treads for good, at the end of the day, and keeps people off
// until the adhesive has set. With StepOver it takes two evenings, every other
// tread each.
func (c *course) glue(s StageHours, set model.Wait) {
	if s.Count == 0 {
		return
	}
	evenings, night := 1, NightOff
	if c.set.StepOver {
		evenings, night = 2, NightStepOver
	}
	for e := range evenings {
		if e == 0 {
			c.mark("glue", "treads glued, from this evening", c.day)
		}
		c.work(s, glueShare/float64(evenings))
		end := c.after(c.day, set)
		for x := c.day; x.Before(end); x = x.AddDate(0, 0, 1) {
			c.at(x).Night = night
		}
		c.reach(end)
	}
	c.mark("walk", "treads may be walked on", c.day)
}

// paint spends the hours of filling and painting in two halves, with a coat's
// wait between.
func (c *course) paint(s StageHours, between model.Wait) {
	if s.Count == 0 {
		return
	}
	c.work(s, 0.5)
	c.reach(c.after(c.day, between))
	c.work(s, 0.5)
}

// listed returns every day from the first to the last with work, with what the
// nights are like.
func (c *course) listed() []Day {
	first, last := c.day, c.set.Start
	stripped := time.Time{}
	for d, day := range c.days {
		if d.Before(first) {
			first = d
		}
		if len(day.Work) == 0 {
			continue
		}
		if d.After(last) {
			last = d
		}
		for _, w := range day.Work {
			if w.Stage == "strip" && (stripped.IsZero() || d.Before(stripped)) {
				stripped = d
			}
		}
	}
	var out []Day
	for d := first; !d.After(last); d = d.AddDate(0, 0, 1) {
		day := Day{Date: d}
		if x := c.days[d]; x != nil {
			day = *x
		}
		if day.Night == "" {
			day.Night = NightUsable
			if stripped.IsZero() || d.Before(stripped) {
				day.Night = NightAsBefore
			}
		}
		out = append(out, day)
	}
	return out
}
