package model

import (
	"fmt"
	"time"
)

// Shop is what the user chose for buying, for the wood and for the calendar.
// The zero value leaves everything to the tables.
type Shop struct {
	Species     string `json:"species,omitempty"`      // id in the table of woods; empty: its first
	QuarterSawn bool   `json:"quarter_sawn,omitempty"` // otherwise flat-sawn
	// WinterHumidity and SummerHumidity are relative, 0 to 1; 0 takes the
	// table's season.
	WinterHumidity float64 `json:"winter_humidity,omitempty"`
	SummerHumidity float64 `json:"summer_humidity,omitempty"`
	// Moisture of the boards when they are fixed, percent by a meter; 0 means
	// not measured.
	Moisture float64 `json:"moisture,omitempty"`
	// Householder says that the household does the work and takes longer.
	Householder bool    `json:"householder,omitempty"`
	HoursPerDay float64 `json:"hours_per_day,omitempty"` // 0: the table's
	Start       string  `json:"start,omitempty"`         // first day of work, YYYY-MM-DD; empty: not settled
}

// StartDay returns the first day of work, and false when it is not settled.
func (s Shop) StartDay() (time.Time, bool) {
	t, err := time.Parse(time.DateOnly, s.Start)
	return t, err == nil
}

// Validate returns what is wrong with the choices, each finding with its field
// below "shop".
func (s Shop) Validate() []Finding {
	var out []Finding
	block := func(field, title, remedy string) {
		out = append(out, Finding{Rule: "job.shop", Severity: Block, Where: Place{Field: "shop." + field}, Title: title, Remedy: remedy})
	}
	for _, h := range []struct {
		field string
		v     float64
	}{{"winter_humidity", s.WinterHumidity}, {"summer_humidity", s.SummerHumidity}} {
		if !(h.v >= 0 && h.v < 1) {
			block(h.field, fmt.Sprintf("the humidity is %g", h.v), "give it as a part of 1, such as 0.35; 0 takes the table's")
		}
	}
	if !(s.Moisture >= 0 && s.Moisture <= 30) {
		block("moisture", fmt.Sprintf("the boards' moisture is %g percent", s.Moisture), "give 0 to 30 percent; 0 means not measured")
	}
	if !(s.HoursPerDay >= 0 && s.HoursPerDay <= 24) {
		block("hours_per_day", fmt.Sprintf("a day has %g working hours", s.HoursPerDay), "give 0 to 24; 0 takes the table's")
	}
	if _, ok := s.StartDay(); s.Start != "" && !ok {
		block("start", fmt.Sprintf("the first day is %q", shorten(s.Start)), "write it as 2026-11-30")
	}
	if len(s.Species) > MaxText {
		block("species", "the name of the wood is too long", "choose one from the table")
	}
	return out
}

// SetWishes replaces what is asked of the order of fitting.
type SetWishes struct{ Wishes Wishes }

// Apply implements Edit.
func (e SetWishes) Apply(j Job) (Job, error) {
	out := j
	out.Wishes = e.Wishes
	out.Wishes.Order = append([]OrderHint(nil), e.Wishes.Order...)
	return kept(j, out)
}

// Label implements Edit.
func (e SetWishes) Label() string { return "change wishes for the order" }

// SetShop replaces the choices for buying, wood and calendar.
type SetShop struct{ Shop Shop }

// Apply implements Edit.
func (e SetShop) Apply(j Job) (Job, error) {
	out := j
	out.Shop = e.Shop
	return kept(j, out)
}

// Label implements Edit.
func (e SetShop) Label() string { return "change wood, prices or calendar" }
