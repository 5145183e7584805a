package model

import (
	"fmt"
	"slices"
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
	// Rate is what an hour of work costs, in the currency; 0: the table's.
	Rate float64 `json:"rate,omitempty"`
	// Currency labels all prices; empty takes the table's. Nothing is converted.
	Currency string `json:"currency,omitempty"`
	// Prices stand instead of the table's, at most one for each good.
	Prices []OwnPrice `json:"prices,omitempty"`
	// Hand are boards in hand: they are cut before anything is bought.
	Hand []OwnBoard `json:"hand,omitempty"`
}

// OwnPrice is what one of a good costs where the user buys it.
type OwnPrice struct {
	ID    string  `json:"id"` // of the good in the table of goods
	Price float64 `json:"price"`
}

// OwnBoard is a board in hand, or what lies between two of its defects. Width
// and Thickness are 0 where they are what the use needs.
type OwnBoard struct {
	Use       GoodsUse `json:"use"`
	Name      string   `json:"name,omitempty"`  // as it is marked, in the user's words
	Count     int      `json:"count,omitempty"` // how many alike; 0 means 1
	Length    Length   `json:"length"`
	Width     Length   `json:"width,omitempty"`
	Thickness Length   `json:"thickness,omitempty"`
}

// Number returns how many boards of the kind there are.
func (b OwnBoard) Number() int { return max(1, b.Count) }

// MaxAlike is how many boards in hand may be alike; the exact cutting is made
// for a flight's worth.
const MaxAlike = 100

// maxPrice keeps sums of prices within what the cutting can count.
const maxPrice = 1e6

// BoardUses are the uses that boards in hand can have: those that are cut to
// length.
func BoardUses() []GoodsUse {
	return []GoodsUse{UseTread, UseRiser, UseLanding, UseSkirt, UseCove, UseLightBase, UseDiffuser, UseWireCover}
}

// Price returns the user's own price of a good, and false when there is none.
func (s Shop) Price(id string) (float64, bool) {
	for _, p := range s.Prices {
		if p.ID == id {
			return p.Price, true
		}
	}
	return 0, false
}

// WithPrice returns the choices with another own price of a good; 0 takes the
// table's again.
func (s Shop) WithPrice(id string, price float64) Shop {
	at := slices.IndexFunc(s.Prices, func(p OwnPrice) bool { return p.ID == id })
	s.Prices = slices.Clone(s.Prices)
	switch {
	case at >= 0 && price == 0:
		s.Prices = slices.Delete(s.Prices, at, at+1)
	case at >= 0:
		s.Prices[at].Price = price
	case price != 0:
		s.Prices = append(s.Prices, OwnPrice{ID: id, Price: price})
	}
	return s
}

// clone returns choices that share no memory with s.
func (s Shop) clone() Shop {
	s.Prices = append([]OwnPrice(nil), s.Prices...)
	s.Hand = append([]OwnBoard(nil), s.Hand...)
	return s
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
	if !(s.Rate >= 0 && s.Rate <= maxPrice) {
		block("rate", fmt.Sprintf("an hour costs %g", s.Rate), fmt.Sprintf("give 0 to %.0f; 0 takes the table's", maxPrice))
	}
	if len(s.Currency) > maxCurrency {
		block("currency", fmt.Sprintf("the currency is %q", shorten(s.Currency)), fmt.Sprintf("write a short label, at most %d characters", maxCurrency))
	}
	s.validatePrices(block)
	s.validateHand(block)
	return out
}

// maxCurrency is the longest label of a currency, in bytes.
const maxCurrency = 12

func (s Shop) validatePrices(block func(field, title, remedy string)) {
	if n := len(s.Prices); n > MaxRows {
		block("prices", fmt.Sprintf("there are %d prices", n), fmt.Sprintf("at most %d are kept", MaxRows))
		return
	}
	seen := map[string]bool{}
	for i, p := range s.Prices {
		field := fmt.Sprintf("prices.%d", i)
		switch {
		case p.ID == "" || len(p.ID) > MaxText:
			block(field, "a price does not say of what", "give the id of a good in the table")
		case seen[p.ID]:
			block(field, fmt.Sprintf("there are two prices of %q", shorten(p.ID)), "keep one of them")
		}
		seen[p.ID] = true
		if !(p.Price > 0 && p.Price <= maxPrice) {
			block(field, fmt.Sprintf("the price of %q is %g", shorten(p.ID), p.Price), fmt.Sprintf("give more than 0 and at most %.0f; leave it out to take the table's", maxPrice))
		}
	}
}

func (s Shop) validateHand(block func(field, title, remedy string)) {
	if n := len(s.Hand); n > MaxRows {
		block("hand", fmt.Sprintf("there are %d rows of boards in hand", n), fmt.Sprintf("at most %d are kept", MaxRows))
		return
	}
	for i, b := range s.Hand {
		field := fmt.Sprintf("hand.%d", i)
		if !slices.Contains(BoardUses(), b.Use) {
			block(field+".use", fmt.Sprintf("a board in hand is for %q", shorten(string(b.Use))), `name what it is for, such as "tread" or "riser"`)
		}
		if len(b.Name) > MaxText {
			block(field+".name", "the name of a board in hand is too long", "shorten it")
		}
		if b.Count < 0 || b.Count > MaxAlike {
			block(field+".count", fmt.Sprintf("there are %d boards in hand of one kind", b.Count), fmt.Sprintf("give 1 to %d; 0 means 1", MaxAlike))
		}
		if bad(b.Length) || b.Length <= 0 {
			block(field+".length", fmt.Sprintf("a board in hand is %g mm long", float64(b.Length)), "give the length that can be used, more than 0")
		}
		for _, x := range []struct {
			field string
			v     Length
		}{{"width", b.Width}, {"thickness", b.Thickness}} {
			if bad(x.v) || x.v < 0 {
				block(field+"."+x.field, fmt.Sprintf("the %s of a board in hand is %g mm", x.field, float64(x.v)), "give 0 or more; 0 means as its use needs")
			}
		}
	}
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
	out.Shop = e.Shop.clone()
	return kept(j, out)
}

// Label implements Edit.
func (e SetShop) Label() string { return "change wood, prices or calendar" }
