package rules_test

import (
	"math"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/rules"
)

// limitCase is one end of a row with flights on both sides of it.
type limitCase struct {
	code, class, rule string
	limit             float64
	over              bool // outside lies above
	make              maker
}

type maker func(v float64) model.Job

// Every published limit that is tested, on flights just inside and just
// outside it. The values are those of the reference list, section 1, written
// out again here so that a slip in the tables shows. inside and outside differ
// from the limit by a hundredth of a millimetre (0.001 degrees, 1e-6 in slope).
func limitCases() []limitCase {
	rise := func(n int) maker { return func(v float64) model.Job { return plain(n, v, 280, nil) } }
	going := func(v float64) model.Job { return plain(6, 160, v, nil) }
	goingAt := func(rise float64) maker { return func(v float64) model.Job { return plain(6, rise, v, nil) } }
	// one riser higher than the rest by v, and the next lower to make it up, or
	// all above moved up
	shifted := func(v float64) model.Job {
		return plain(6, 165, 280, func(j *model.Job) {
			for i := 3; i < 6; i++ {
				j.Flight.Steps[i].TopLeft += model.Length(v)
				j.Flight.Steps[i].TopRight += model.Length(v)
			}
		})
	}
	// risers climbing by 2 mm each, so that neighbours stay alike while the
	// flight spreads
	climbing := func(v float64) model.Job {
		return plain(6, 160, 280, func(j *model.Job) {
			up := 0.0
			for i := range j.Flight.Steps {
				up += float64(i) * v / 5
				j.Flight.Steps[i].TopLeft += model.Length(up)
				j.Flight.Steps[i].TopRight += model.Length(up)
			}
		})
	}
	goingShifted := func(v float64) model.Job {
		return plain(6, 160, 285, func(j *model.Job) {
			for i := 2; i < 6; i++ {
				for c := range j.Flight.Steps[i].Corners {
					j.Flight.Steps[i].Corners[c].Y += model.Length(v)
				}
			}
			for c := 2; c < 4; c++ {
				j.Flight.Steps[1].Corners[c].Y += model.Length(v)
			}
		})
	}
	goingClimbing := func(v float64) model.Job {
		return plain(7, 160, 285, func(j *model.Job) {
			off := 0.0
			for i := range j.Flight.Steps {
				if i > 0 {
					off += float64(i-1) * v / 5
				}
				for c := range j.Flight.Steps[i].Corners {
					j.Flight.Steps[i].Corners[c].Y += model.Length(off)
				}
			}
		})
	}
	overhang := func(going float64) maker {
		return func(v float64) model.Job {
			return plain(6, 160, going, func(j *model.Job) {
				// the sketch is drawn again with the other overhang
				o := j.Overlay
				o.Overhang = model.Length(v)
				j.Existing.Overhang = model.Length(v)
				j.Overlay = o
				k := model.Sketch(model.SketchSpec{Risers: 6, Width: 1200, Rise: 160, Going: model.Length(going), Base: *j,
					IDs: func(i int) model.ID { return j.Flight.Steps[i].ID }})
				*j = k
			})
		}
	}
	// one nose line set out v further forward than the riser calls for
	oneNose := func(v float64) model.Job {
		return plain(6, 160, 285, func(j *model.Job) {
			j.Flight.Steps[3].Corners[0].Y -= model.Length(v)
			j.Flight.Steps[3].Corners[1].Y -= model.Length(v)
		})
	}
	headroom := func(v float64) model.Job {
		return plain(6, 160, 285, func(j *model.Job) {
			// nose moves forward by 18 + 25 - 43 = 0, and up by 20
			j.Existing.Overhang = 43
			j.Flight.Headroom = []model.Height{{Step: j.Flight.Steps[3].ID, Value: model.Length(v + 20)}}
		})
	}
	rail := func(v float64) model.Job {
		return plain(6, 160, 285, func(j *model.Job) {
			j.Existing.Overhang = 43
			j.Flight.Rail = []model.Height{{Step: j.Flight.Steps[2].ID, Value: model.Length(v + 20)}}
		})
	}
	width := func(v float64) model.Job {
		return plain(6, 160, 285, func(j *model.Job) {
			j.Flight.Steps[2].Corners[1].X = model.Length(v)
		})
	}
	slope := func(v float64) model.Job {
		return plain(6, 160, 285, func(j *model.Job) { j.Flight.Steps[2].Fall = model.Angle(math.Atan(v)) })
	}
	pitch := func(deg float64) model.Job {
		return plain(6, 230*math.Tan(deg*math.Pi/180), 230, nil)
	}
	flightRise := func(n int) maker { return func(v float64) model.Job { return plain(n, v/float64(n), 280, nil) } }
	risers := func(v float64) model.Job { return plain(int(v), 160, 280, nil) }

	// three winders to a quarter turn; their nose lines lie 43 mm in front of
	// lines through its middle, so that at r from there the going is a chord,
	// 2 sqrt(r² + 43²) sin 15°. offset is where r counts, from the inner side.
	wound := func(offset float64) maker {
		return func(v float64) model.Job {
			return plain(8, 160, 285, func(j *model.Job) {
				r := math.Sqrt(math.Pow(v/(2*math.Sin(15*math.Pi/180)), 2) - 43*43)
				turn(j, model.TurnToWinders{From: j.Flight.Steps[2].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Left, Well: model.Length(r - offset)})
			})
		}
	}
	// two winders about the same middle, the second v deeper at 12 in
	unlike := func(v float64) model.Job {
		return plain(8, 160, 285, func(j *model.Job) {
			r := math.Hypot(200+304.8, 43)
			b := 2 * math.Asin(math.Sin(15*math.Pi/180)+v/(2*r))
			turn(j, model.TurnToWinders{From: j.Flight.Steps[2].ID, Count: 1, Angle: 30 * model.Degree, Side: model.Right, Well: 200})
			turn(j, model.TurnToWinders{From: j.Flight.Steps[3].ID, Count: 1, Angle: model.Angle(b), Side: model.Right, Well: 200})
		})
	}
	landing := func(v float64) model.Job {
		return plain(8, 160, 285, func(j *model.Job) {
			for i := range j.Flight.Steps {
				j.Flight.Steps[i].Corners[1].X, j.Flight.Steps[i].Corners[2].X = 1500, 1500
			}
			turn(j, model.InsertLanding{At: j.Flight.Steps[3].ID, Turn: model.QuarterTurn, Side: model.Left, Depth: model.Length(v)})
		})
	}

	return []limitCase{
		{"irc", "", "irc.winder.walkline.min", 10 * inch, false, wound(304.8)},
		{"irc", "", "irc.winder.narrow.min", 6 * inch, false, wound(0)},
		{"irc", "", "irc.winder.uniformity", 0.375 * inch, true, unlike},
		{"irc", "", "irc.landing.depth", 36 * inch, false, landing},
		{"ibc", "main", "ibc.winder.walkline", 11 * inch, false, wound(304.8)},
		{"ibc", "main", "ibc.winder.min", 10 * inch, false, wound(0)},
		{"ibc", "dwelling", "ibc.exc.dwelling.winder_walkline", 10 * inch, false, wound(304.8)},
		{"ibc", "dwelling", "ibc.exc.dwelling.winder_min", 6 * inch, false, wound(0)},
		{"ibc", "main", "ibc.landing", 48 * inch, false, landing},
		{"adk", "private", "adk.taper.narrow", 50, false, wound(0)},
		{"ncc", "private", "ncc.landing", 750, false, landing},

		{"irc", "", "irc.riser.max", 7.75 * inch, true, rise(6)},
		{"irc", "", "irc.riser.uniformity", 0.375 * inch, true, shifted},
		{"irc", "", "irc.tread.min", 10 * inch, false, going},
		{"irc", "", "irc.tread.uniformity", 0.375 * inch, true, goingShifted},
		{"irc", "", "irc.nosing.projection", 0.75 * inch, false, overhang(260)},
		{"irc", "", "irc.nosing.projection", 1.25 * inch, true, overhang(260)},
		{"irc", "", "irc.nosing.uniformity", 0.375 * inch, true, oneNose},
		{"irc", "", "irc.headroom", 80 * inch, false, headroom},
		{"irc", "", "irc.width.above_rail", 36 * inch, false, width},
		{"irc", "", "irc.vertical_rise", 151 * inch, true, flightRise(21)},
		{"irc", "", "irc.surface.slope", 1.0 / 48, true, slope},
		{"irc", "", "irc.handrail.height", 34 * inch, false, rail},
		{"irc", "", "irc.handrail.height", 38 * inch, true, rail},

		{"ibc", "main", "ibc.riser.max", 7 * inch, true, rise(6)},
		{"ibc", "main", "ibc.riser.min", 4 * inch, false, rise(6)},
		{"ibc", "main", "ibc.tread.min", 11 * inch, false, going},
		{"ibc", "dwelling", "ibc.exc.dwelling.riser", 7.75 * inch, true, rise(6)},
		{"ibc", "dwelling", "ibc.exc.dwelling.tread", 10 * inch, false, going},
		{"ibc", "dwelling", "ibc.exc.dwelling.nosing", 0.75 * inch, false, overhang(260)},
		{"ibc", "dwelling", "ibc.exc.dwelling.nosing", 1.25 * inch, true, overhang(260)},
		{"ibc", "main", "ibc.uniformity.riser", 0.375 * inch, true, shifted},
		{"ibc", "main", "ibc.uniformity.tread", 0.375 * inch, true, goingShifted},
		{"ibc", "main", "ibc.nosing.max", 1.25 * inch, true, overhang(285)},
		{"ibc", "main", "ibc.width", 44 * inch, false, width},
		{"ibc", "main", "ibc.headroom", 80 * inch, false, headroom},
		{"ibc", "main", "ibc.slope", 1.0 / 48, true, slope},
		{"ibc", "main", "ibc.vertical_rise", 144 * inch, true, flightRise(22)},
		{"ibc", "main", "ibc.handrail.height", 34 * inch, false, rail},
		{"ibc", "main", "ibc.handrail.height", 38 * inch, true, rail},

		{"adk", "private", "adk.private.rise", 150, false, rise(6)},
		{"adk", "private", "adk.private.rise", 220, true, rise(6)},
		{"adk", "private", "adk.private.going", 220, false, going},
		{"adk", "private", "adk.private.going", 300, true, going},
		{"adk", "utility", "adk.utility.rise", 150, false, rise(6)},
		{"adk", "utility", "adk.utility.rise", 190, true, rise(6)},
		{"adk", "utility", "adk.utility.going", 250, false, going},
		{"adk", "utility", "adk.utility.going", 400, true, going},
		{"adk", "general", "adk.general.rise", 150, false, rise(6)},
		{"adk", "general", "adk.general.rise", 170, true, rise(6)},
		{"adk", "general", "adk.general.going", 250, false, going},
		{"adk", "general", "adk.general.going", 400, true, going},
		{"adk", "private", "adk.2rg", 550, false, func(v float64) model.Job { return plain(6, 160, v-320, nil) }},
		{"adk", "private", "adk.2rg", 700, true, func(v float64) model.Job { return plain(6, (v-280)/2, 280, nil) }},
		{"adk", "general", "adk.overlap.nondwelling", 25, true, overhang(285)},
		{"adk", "private", "adk.headroom", 2000, false, headroom},
		{"adk", "private", "adk.handrail", 900, false, rail},
		{"adk", "private", "adk.handrail", 1000, true, rail},
		{"adk", "private", "adk.pitch", 42, true, pitch},
		// adk.d1 and adk.d2, derived in the list: 220 tan 42 = 198.089 and
		// 220 / tan 42 = 244.335
		{"adk", "private", "adk.pitch", 198.089, true, func(v float64) model.Job { return plain(6, v, 220, nil) }},
		{"adk", "private", "adk.pitch", 244.335, false, goingAt(220)},

		{"nbc", "private", "nbc.private.rise", 125, false, rise(6)},
		{"nbc", "private", "nbc.private.rise", 200, true, rise(6)},
		{"nbc", "private", "nbc.private.run", 255, false, going},
		{"nbc", "private", "nbc.private.run", 355, true, going},
		{"nbc", "public", "nbc.public.rise", 125, false, rise(6)},
		{"nbc", "public", "nbc.public.rise", 180, true, rise(6)},
		{"nbc", "public", "nbc.public.run", 280, false, going},
		{"nbc", "private", "nbc.riser.adjacent", 5, true, shifted},
		{"nbc", "private", "nbc.riser.flight", 10, true, climbing},
		{"nbc", "private", "nbc.run.adjacent", 5, true, goingShifted},
		{"nbc", "private", "nbc.run.flight", 10, true, goingClimbing},
		{"nbc", "private", "nbc.slope", 0.02, true, slope},
		{"nbc", "private", "nbc.width", 860, false, width},
		{"nbc", "private", "nbc.headroom", 1950, false, headroom},
		{"nbc", "private", "nbc.handrail", 865, false, rail},
		{"nbc", "private", "nbc.handrail", 1070, true, rail},

		{"ncc", "private", "ncc.private.riser", 115, false, rise(6)},
		{"ncc", "private", "ncc.private.riser", 190, true, rise(6)},
		{"ncc", "private", "ncc.private.going", 240, false, going},
		{"ncc", "private", "ncc.private.going", 355, true, going},
		{"ncc", "public", "ncc.public.going", 250, false, going},
		{"ncc", "public", "ncc.public.going", 355, true, going},
		{"ncc", "private", "ncc.2rg", 550, false, func(v float64) model.Job { return plain(6, 140, v-280, nil) }},
		{"ncc", "private", "ncc.2rg", 700, true, func(v float64) model.Job { return plain(6, (v-340)/2, 340, nil) }},
		{"ncc", "private", "ncc.flight", 2, false, risers},
		{"ncc", "private", "ncc.flight", 18, true, risers},
		{"ncc", "private", "ncc.adjacent.riser", 5, true, shifted},
		{"ncc", "private", "ncc.adjacent.going", 5, true, goingShifted},
		{"ncc", "private", "ncc.flightvar.riser", 10, true, climbing},
		{"ncc", "private", "ncc.flightvar.going", 10, true, goingClimbing},
		{"ncc", "private", "ncc.headroom", 2000, false, headroom},
		{"ncc", "private", "ncc.handrail", 865, false, rail},
	}
}

func TestEveryLimitInsideAndOutside(t *testing.T) {
	const e = 0.01
	for _, c := range limitCases() {
		name := c.rule
		if c.over {
			name += " over"
		} else {
			name += " under"
		}
		t.Run(name, func(t *testing.T) {
			by := e
			switch {
			case strings.Contains(c.rule, "slope"):
				by = 1e-6
			case c.rule == "ncc.flight":
				by = 1
			}
			if !c.over {
				by = -by
			}
			code := table(t, c.code)
			var row model.Limit
			for _, l := range code.Limits {
				if l.ID == c.rule {
					row = l
				}
			}
			inside, outside := c.limit-by, c.limit+by
			if c.rule == "ncc.flight" {
				inside = c.limit
				if !c.over {
					t.Skip("a flight of one riser cannot be drawn")
				}
			}
			for _, v := range []float64{inside, outside} {
				j := c.make(v)
				j.Code, j.CodeClass = c.code, c.class
				f, found := byRule(check(j, code))[c.rule]
				if v == inside {
					// headroom and rail carry the spread of a tape: they may be noted
					if found && f.Severity != model.Note {
						t.Errorf("%g is inside %g, but: %s", v, c.limit, f.Title)
					}
					continue
				}
				if !found {
					t.Errorf("%g is outside %g, but nothing is found", v, c.limit)
					continue
				}
				want, standing := model.Outside, row.Standing
				if strings.HasPrefix(row.Measure, "winder_") && row.Measure != "winder_narrow" {
					standing = model.Memory // of where the walking line lies
				}
				if standing == model.Memory {
					want = model.Advice
				}
				if f.Severity != want || f.Standing != standing || f.Section != row.Section {
					t.Errorf("got %s, standing %s, section %s", f.Severity, f.Standing, f.Section)
				}
				if !strings.Contains(f.Detail, rules.StandingWords(row.Standing)) || !strings.Contains(f.Detail, rules.Deference) {
					t.Errorf("the detail names neither standing nor who decides: %s", f.Detail)
				}
				if row.Standing == model.Memory != strings.Contains(f.Title, "from memory") {
					t.Errorf("title and standing disagree: %s", f.Title)
				}
			}
		})
	}
}

// Every row that can be tested is in the table above: none is forgotten, and
// each names a measure that is tested.
func TestEveryMeasureIsKnown(t *testing.T) {
	known := map[string]bool{}
	for _, m := range rules.Measures() {
		known[m] = true
	}
	held := map[string]int{}
	for _, c := range limitCases() {
		held[c.rule]++
	}
	for _, id := range []string{"irc", "ibc", "adk", "nbc", "ncc"} {
		for _, l := range table(t, id).Limits {
			if l.Measure != "" && !known[l.Measure] {
				t.Errorf("%s: %q is not tested", l.ID, l.Measure)
			}
			ends := 0
			switch {
			case l.Measure == "":
			case l.Measure == "walkline": // says where, not how much
			case l.Op == "range":
				ends = 2
			default:
				ends = 1
			}
			if held[l.ID] < ends {
				t.Errorf("%s has %d ends and only %d were held against flights", l.ID, ends, held[l.ID])
			}
		}
	}
}

// turn applies an edit of the sketch.
func turn(j *model.Job, e model.Edit) {
	k, err := e.Apply(*j)
	if err != nil {
		panic(err)
	}
	*j = k
}
