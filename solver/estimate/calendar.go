package estimate

import (
	"fmt"
	"math"
	"time"

	"risewright/model"
)

// Settings says when work is done. The zero value works Monday to Friday, the
// table's hours a day.
type Settings struct {
	Start time.Time // the first day; its time of day is dropped
	// Days are the days of the week on which work is done, Sunday first; none
	// means Monday to Friday.
	Days [7]bool
	// Closed are days without work beside these.
	Closed      []time.Time
	HoursPerDay float64 // before the fitting and after it; 0 means the table's
	Evening     float64 // hours of an evening of the fitting, 0 for as long as each takes
}

// Session is one evening of the order of fitting. It has a working day to
// itself, because the stair must be left as the order says.
type Session struct {
	Number int
	Name   string  // what is done
	Hours  float64 // likeliest
	// Boards says that boards go in, so that they must have lain in the house;
	// Treads that some of them are walked on.
	Boards, Treads bool
	Night          Night    // after it
	Waits, Holds   []string // what sets meanwhile, and what is stopped for
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
	// Evening is that of the order of fitting; 0 for other work.
	Evening int
}

// Calendar is when what can be done.
type Calendar struct {
	Milestones []Milestone // in the order they come
	Days       []Day       // every day of the likeliest course, to the last of the work
	Notes      []string
}

// Evening returns the likeliest day of an evening of the order of fitting, and
// false when the calendar has none.
func (c *Calendar) Evening(n int) (time.Time, bool) {
	for i := range c.Days {
		for _, w := range c.Days[i].Work {
			if w.Evening == n && n > 0 {
				return c.Days[i].Date, true
			}
		}
	}
	return time.Time{}, false
}

// course is one run through the job: all going well, likely, or ill.
type course struct {
	set    Settings
	perDay float64
	pick   func(Range) float64
	day    time.Time // the day being worked
	used   float64   // hours of it
	ratio  float64   // of the hours of an evening to its likeliest ones
	days   map[time.Time]*Day
	marks  []mark
}

type mark struct {
	id, name string
	date     time.Time
}

// Plan returns the calendar of a job: stages in the order of the work, one
// crew, waits as the table has them. The fitting goes by the evenings of its
// order; without an order there are no days.
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
	if len(w.Sessions) == 0 {
		return Calendar{Notes: []string{"the days follow from the order of fitting, and there is none yet"}}
	}
	stages, _ := Hours(l, w)
	picks := []func(Range) float64{
		func(r Range) float64 { return r.Low },
		func(r Range) float64 { return r.Likely },
		func(r Range) float64 { return r.High },
	}
	var runs [3]*course
	fitting := Range{}
	for _, s := range stages {
		if s.ID == Small || w.inSessions(s.ID) {
			fitting = fitting.plus(s.Hours)
		}
	}
	for i, pick := range picks {
		runs[i] = &course{set: set, perDay: set.HoursPerDay, pick: pick, ratio: 1, days: map[time.Time]*Day{}}
		if fitting.Likely > 0 {
			runs[i].ratio = pick(fitting) / fitting.Likely
		}
		runs[i].run(l, stages, w)
	}
	var c Calendar
	for k, m := range runs[1].marks {
		c.Milestones = append(c.Milestones, Milestone{ID: m.id, Name: m.name, Low: runs[0].marks[k].date, Likely: m.date, High: runs[2].marks[k].date})
	}
	c.Days = runs[1].listed()
	c.Notes = append(c.Notes,
		fmt.Sprintf("fitting goes by the %d evenings of its order, one a working day; the hours of an evening are set with the order", len(w.Sessions)),
		"treads are cut and finished on the bench ahead of their evening; the first ones have to dry before any goes in",
		"acclimatising is over when a meter says so, twice, not when the days are",
		"drying and curing take longer in the cold and damp: read the tin")
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
	if !w.inSessions("wiring") {
		do(1, "wiring")
	}
	known["wiring"], known[Small] = true, true
	c.fit(w.Sessions, dry, wait("bench-finish"))
	for _, id := range fitted {
		known[id] = true
	}
	do(1, "controls")
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
			d.Work = append(d.Work, DayWork{Stage: s.ID, Name: s.Name, Hours: h})
		}
		c.used += h
		left -= h
	}
}

// fit does the evenings of the order. What comes before the first board, such
// as the wires, may be done while the boards lie in the house.
func (c *course) fit(sessions []Session, dry time.Time, bench model.Wait) {
	boards, treads, last := false, false, -1
	for i := range sessions {
		if sessions[i].Treads {
			last = i
		}
	}
	for i := range sessions {
		s := &sessions[i]
		if s.Boards && !boards {
			boards = true
			c.reach(dry)
			c.mark("dry", "boards acclimatised", dry)
			c.hold("two moisture readings, boards within 2 points of the stair's own wood")
		}
		if s.Treads && !treads {
			treads = true
			c.reach(c.after(c.day, bench))
		}
		if c.used > leastHours {
			c.reach(c.day.AddDate(0, 0, 1))
		}
		if i == 0 {
			c.mark("fit", "fitting begins", c.day)
		}
		c.session(s)
		if i == last {
			walk := c.day
			if s.Night == NightOff || s.Night == NightStepOver {
				walk = walk.AddDate(0, 0, 1)
			}
			c.mark("walk", "every tread is down and may be walked on", walk)
		}
	}
}

// session does one evening. It has its day even if that is longer than an
// evening, as the order says; what ill luck adds goes on to the next days, and
// boards are glued on the last.
func (c *course) session(s *Session) {
	room := math.Max(c.set.Evening, s.Hours)
	d := c.at(c.day)
	d.Hold = append(d.Hold, s.Holds...)
	for left := s.Hours * c.ratio; ; {
		h := math.Min(left, room)
		d.Work = append(d.Work, DayWork{Stage: "fitting", Name: s.Name, Hours: h, Evening: s.Number})
		if left -= h; left <= leastHours {
			break
		}
		c.reach(c.day.AddDate(0, 0, 1))
		d = c.at(c.day)
	}
	d.Night = s.Night
	d.Waits = append(d.Waits, s.Waits...)
	c.used = c.perDay // the next work is on another day
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
