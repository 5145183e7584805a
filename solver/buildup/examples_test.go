package buildup_test

import (
	"math"
	"testing"

	"risewright/model"
	"risewright/solver/buildup"
)

// The overlay cases of the reference list, section 2: ov.formula gives first =
// R + t - a, middle = R, last = R - t + b. Derived there; the rule behind it
// (an overlay adds its thickness to the first rise and takes it from the last)
// was seen in a published trade text.
func TestOverlayCases(t *testing.T) {
	for _, c := range []struct {
		name                        string
		R, T, a, b                  float64
		N                           int
		first, middle, last, spread float64
	}{
		{"ov.case1: 3/4 in overlay, floors untouched", 7.5, 0.75, 0, 0, 14, 8.25, 7.5, 6.75, 1.5},
		{"ov.case2: both floors raised by the overlay", 7.5, 0.75, 0.75, 0.75, 14, 7.5, 7.5, 7.5, 0},
		{"ov.limit: 3/16 in makes 3/8 in of spread", 7.5, 3.0 / 16, 0, 0, 14, 7.5 + 3.0/16, 7.5, 7.5 - 3.0/16, 0.375},
		{"ov.limit: 5 mm makes 10 mm of spread", 190 / inch, 5 / inch, 0, 0, 14, 195 / inch, 190 / inch, 185 / inch, 10 / inch},
		// trade.md section 3, common practice: plain overlay of 20 on 190 gives 210/170
		{"reference flight, 210/170", 190 / inch, 20 / inch, 0, 0, 14, 210 / inch, 190 / inch, 170 / inch, 40 / inch},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := compute(flight{risers: c.N, rise: c.R * inch, going: 254, tread: c.T * inch, riser: 18, landing: 20, overhang: 25, bottom: c.a * inch, top: c.b * inch}.job())
			for _, s := range r.Steps {
				want := c.middle
				switch s.Number {
				case 1:
					want = c.first
				case c.N:
					want = c.last
				}
				near(t, "rise left", s.RiseAfter.Left.At, want*inch, rounding)
				near(t, "rise right", s.RiseAfter.Right.At, want*inch, rounding)
				near(t, "rise before", s.RiseBefore.Left.At, c.R*inch, rounding)
			}
			near(t, "spread", r.RiseAfter.Spread.At, c.spread*inch, rounding)
			near(t, "sum", r.FlightRise.At, (float64(c.N)*c.R-c.a+c.b)*inch, rounding)
		})
	}
}

// Worked stair layouts of the reference list, section 2. Values the books state
// are marked stated; the others were derived there.
func TestWorkedLayouts(t *testing.T) {
	t.Run("EN5156 Fig. 2-38 (seen)", func(t *testing.T) {
		// stated: unit run 10 1/2, 12 treads, 13 risers, unit rise 7 1/4, total
		// run 126 in; derived: total rise 94.25, slope 157.3501 in, pitch 34.624
		r := compute(flight{risers: 13, rise: 7.25 * inch, going: 10.5 * inch, tread: 1, riser: 18, overhang: 25, bottom: 1, top: 1}.job())
		near(t, "total run", r.FlightGoing.At, 126*inch, rounding)
		near(t, "total rise", r.FlightRise.At, 94.25*inch, rounding)
		near(t, "slope length", r.SlopeLength, 157.3501*inch, 0.00005*inch)
		near(t, "pitch", r.Pitch.At*180/math.Pi, 34.624, 0.0005)
	})
	t.Run("Carpenters Guide (seen)", func(t *testing.T) {
		// stated: total rise 112, 16 risers of 7, run 10, third riser top at 21,
		// 81 from there to a ceiling at 102; the string is cut at the bottom by
		// the thickness of the finished tread. Derived: run 150, slope 187.2004
		tread := 1.25 * inch
		j := flight{risers: 16, rise: 7 * inch, going: 10 * inch, tread: tread, riser: 18, overhang: 25, oldOverhang: 43}.job()
		for i := range j.Flight.Steps[:15] {
			j.Flight.Steps[i].TopLeft -= model.Length(tread)
			j.Flight.Steps[i].TopRight -= model.Length(tread)
		}
		j.Flight.Headroom = []model.Height{{Step: j.Flight.Steps[2].ID, Value: model.Length(81*inch + tread)}}
		r := compute(j)
		near(t, "rough first rise", r.Steps[0].RiseBefore.Left.At, 7*inch-tread, rounding)
		for _, s := range r.Steps {
			near(t, "rise", s.RiseAfter.Left.At, 7*inch, rounding)
		}
		near(t, "third riser top", r.Steps[2].NewTop.Left.At, 21*inch, rounding)
		near(t, "headroom", r.Headroom[0].After.At, 81*inch, rounding)
		near(t, "total run", r.FlightGoing.At, 150*inch, rounding)
		near(t, "slope length", r.SlopeLength, 187.2004*inch, 0.00005*inch)
	})
	t.Run("Radford's Cyclopedia vol. 3 (seen; the scan loses some fractions)", func(t *testing.T) {
		// stated: total rise 123, 17 risers, 16 treads, total run 152, room
		// height 108 1/2, headroom above the second riser 94 (derived 94.0294)
		j := flight{risers: 17, rise: 123.0 / 17 * inch, going: 9.5 * inch, tread: 1, riser: 18, overhang: 25, oldOverhang: 43, bottom: 1, top: 1}.job()
		r := compute(j)
		near(t, "unit rise", r.Steps[5].RiseAfter.Left.At, 7.2353*inch, 0.00005*inch)
		near(t, "total run", r.FlightGoing.At, 152*inch, rounding)
		near(t, "two risers", r.Steps[1].OldTop.Left.At, 14.4706*inch, 0.00005*inch)
		near(t, "headroom above the second riser", 108.5*inch-r.Steps[1].OldTop.Left.At, 94.0294*inch, 0.00005*inch)
	})
	t.Run("carpentry book, 109 in (seen)", func(t *testing.T) {
		// stated: 15 risers used at 7 1/4, run 10, total run 140; derived: 15 x
		// 7 1/4 leaves 1/4 in to find, here in the last rise
		j := flight{risers: 15, rise: 7.25 * inch, going: 10 * inch, tread: 1, riser: 18, overhang: 25, bottom: 1, top: 1}.job()
		j.Flight.Steps[14].TopLeft, j.Flight.Steps[14].TopRight = 109*inch, 109*inch
		r := compute(j)
		near(t, "last rise", r.Steps[14].RiseAfter.Left.At, 7.5*inch, rounding)
		near(t, "rounding loss", r.RiseAfter.Spread.At, 0.25*inch, rounding)
		near(t, "total run", r.FlightGoing.At, 140*inch, rounding)
		for i := 1; i < 15; i++ { // exact unit rise 7.2667: packing makes it so
			near(t, "packing", r.Steps[i-1].Packing.Left.At, 1+float64(i)*(109.0/15-7.25)*inch, rounding)
		}
	})
	t.Run("two finished floors of different thickness (seen)", func(t *testing.T) {
		// stated: rough rise 106, lower finish 1/4, upper 3/4: total 106 1/2, 14
		// risers, unit rise 7.6 (derived 7.6071)
		j := flight{risers: 14, rise: 106.0 / 14 * inch, going: 9.75 * inch, tread: 1, riser: 18, overhang: 25, bottom: 0.25 * inch, top: 0.75 * inch}.job()
		r := compute(j)
		near(t, "total rise", r.FlightRise.At, 106.5*inch, rounding)
		near(t, "unit rise", r.FlightRise.At/14, 7.6071*inch, 0.00005*inch)
		near(t, "total run of 13 treads", r.FlightGoing.At, 13*9.75*inch, rounding)
	})
	t.Run("NAVEDTRA 14044 Fig. 6-15 (seen to the riser count; the rest memory)", func(t *testing.T) {
		// stated: 107 in, 15 risers; from memory: run 10 3/8, total 145 1/4
		r := compute(flight{risers: 15, rise: 107.0 / 15 * inch, going: 10.375 * inch, tread: 1, riser: 18, overhang: 25, bottom: 1, top: 1}.job())
		near(t, "unit rise", r.RiseAfter.Largest.Value.At, 7.1333*inch, 0.00005*inch)
		near(t, "total run", r.FlightGoing.At, 145.25*inch, rounding)
	})
	t.Run("stringer by Pythagoras, metric (seen)", func(t *testing.T) {
		// stated: 12 risers of 175, 12 runs of 250, total 2100 and 3000,
		// stringer 3662 (derived 3661.9667). Its top step is level with the
		// twelfth rise, so here the flight has a thirteenth nose at no height.
		j := flight{risers: 13, rise: 175, going: 250, tread: 1, riser: 18, overhang: 25, bottom: 1, top: 1}.job()
		last := &j.Flight.Steps[12]
		last.TopLeft, last.TopRight = 2100, 2100
		r := compute(j)
		near(t, "total rise", r.FlightRise.At, 2100, rounding)
		near(t, "total run", r.FlightGoing.At, 3000, rounding)
		near(t, "stringer", r.SlopeLength, 3661.9667, 0.00005)
	})
	t.Run("short flight of 43 1/2 in (seen)", func(t *testing.T) {
		// stated: 6 risers of 7 1/4, 6 treads of 10, run 60; derived: slope 74.1097
		j := flight{risers: 7, rise: 7.25 * inch, going: 10 * inch, tread: 1, riser: 18, overhang: 25, bottom: 1, top: 1}.job()
		last := &j.Flight.Steps[6]
		last.TopLeft, last.TopRight = 43.5*inch, 43.5*inch
		r := compute(j)
		near(t, "total run", r.FlightGoing.At, 60*inch, rounding)
		near(t, "slope length", r.SlopeLength, 74.1097*inch, 0.00005*inch)
	})
}

// trade.md section 3, common practice, no source.
func TestTradeArithmetic(t *testing.T) {
	ref := flight{risers: 14, rise: 190, going: 254, tread: 20, riser: 25, landing: 20, overhang: 25, oldOverhang: 25}
	t.Run("pitch 36.8, hypotenuse 317", func(t *testing.T) {
		ref := ref
		ref.bottom, ref.top = 20, 20
		r := compute(ref.job())
		near(t, "pitch", r.Pitch.At*180/math.Pi, 36.8, 0.05)
		near(t, "hypotenuse", math.Hypot(r.MeanRise, r.MeanGoing), 317, 0.5)
	})
	t.Run("25 forward costs a further 19", func(t *testing.T) {
		ref := ref
		ref.bottom, ref.top = 20, 20
		j := ref.job()
		j.Flight.Headroom = []model.Height{{Step: j.Flight.Steps[6].ID, Value: 2100}}
		j.Flight.Rail = []model.Height{{Step: j.Flight.Steps[6].ID, Value: 900}}
		r := compute(j)
		near(t, "forward", r.Steps[6].Forward, 25, rounding)
		near(t, "advanced", r.Headroom[0].Advanced, 19, 0.5)
		near(t, "raised", r.Headroom[0].Raised, 20, rounding)
		near(t, "headroom", r.Headroom[0].After.At, 2100-20-25*190.0/254, rounding)
		near(t, "rail", r.Rail[0].After.At, 900-20-25*190.0/254, rounding)
	})
	t.Run("T up to 4.75 keeps within 3/8 in", func(t *testing.T) {
		thin := ref
		thin.tread = 4.75
		r := compute(thin.job())
		if r.RiseAfter.Spread.At > 0.375*inch {
			t.Errorf("4.75 gives %g, more than 3/8 in", r.RiseAfter.Spread.At)
		}
		thin.tread = 4.77 // 2 x 4.7625 is 3/8 in
		if r := compute(thin.job()); r.RiseAfter.Spread.At <= 0.375*inch {
			t.Errorf("4.77 gives %g, not more than 3/8 in", r.RiseAfter.Spread.At)
		}
	})
	t.Run("packing p(i) = Bb + (i/N)(Bt - Bb) over equal rises", func(t *testing.T) {
		f := ref
		f.bottom, f.top = 12, 40
		for i, s := range compute(f.job()).Steps {
			want := 12 + float64(i+1)/14*(40-12)
			near(t, "left", s.Packing.Left.At, want, rounding)
			near(t, "right", s.Packing.Right.At, want, rounding)
		}
	})
	t.Run("floors untouched: no packing, no room for any overlay", func(t *testing.T) {
		for _, s := range compute(ref.job()).Steps {
			near(t, "packing", s.Packing.Left.At, 0, rounding)
			if s.Room != (s.Number == 14) {
				t.Errorf("step %d: room is %v", s.Number, s.Room)
			}
		}
	})
	t.Run("room begins 1 mm above the board", func(t *testing.T) {
		f := ref
		for _, c := range []struct {
			floor float64
			room  bool
		}{{20, false}, {20.999, false}, {21, true}, {30, true}} {
			f.bottom, f.top = c.floor, c.floor
			if s := compute(f.job()).Steps[4]; s.Room != c.room {
				t.Errorf("both floors raised %g: room is %v", c.floor, s.Room)
			}
		}
	})
	t.Run("board depth 254 + 32 = 286", func(t *testing.T) {
		// tread butting the riser face: going and overhang, from the opening
		// less the new riser that stands in it
		f := ref
		f.overhang, f.riser = 32, 18
		j := f.job()
		near(t, "depth", float64(model.OpeningDepth(j, 254)-j.Overlay.Riser), 286, rounding)
	})
	t.Run("packing out walks the nose forward by the old overhang more", func(t *testing.T) {
		j := ref.job()
		j.Flight.Steps[3].Nosing = model.NosingPacked
		r := compute(j)
		near(t, "cut", r.Steps[2].Forward, 25, rounding)
		near(t, "packed", r.Steps[3].Forward, 50, rounding)
	})
}

func TestDoors(t *testing.T) {
	j := flight{risers: 3, rise: 180, going: 250, tread: 20, riser: 12, overhang: 25, bottom: 15, top: 20}.job()
	j.Flight.Doors = []model.Door{
		{Name: "hall", Gap: 10, Clearance: 5},
		{Name: "closet", Gap: 30, Clearance: 5},
		{Name: "landing", Top: true, Gap: 12, Clearance: 3},
	}
	want := []buildup.DoorChange{
		{Name: "hall", Before: 10, After: -5, Undercut: 10},
		{Name: "closet", Before: 30, After: 15},
		{Name: "landing", Top: true, Before: 12, After: -8, Undercut: 11},
	}
	for i, d := range compute(j).Doors {
		if d != want[i] {
			t.Errorf("%s: got %+v, want %+v", d.Name, d, want[i])
		}
	}
}
