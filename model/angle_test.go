package model_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"risewright/model"
)

// angleTolerance is the most a parsed angle may be off, in radians: six
// roundings at a full turn, where float64 has a spacing of 9·10⁻¹⁶.
const angleTolerance = 1e-14

func TestParseAngle(t *testing.T) {
	for _, row := range []struct {
		text string
		deg  float64
	}{
		{`91`, 91}, {`91°`, 91}, {`91.0`, 91}, {`91,5`, 91.5}, {`91 °`, 91}, {`91º`, 91}, {`91˚`, 91},
		{`1.0`, 1}, {`.5`, 0.5}, {`0`, 0}, {`-0`, 0}, {`91 deg`, 91}, {`91 Degrees`, 91},
		{`89 30'`, 89.5}, {`89°30'`, 89.5}, {`89° 30′`, 89.5}, {`89° 30’`, 89.5}, {`89deg 30'`, 89.5},
		{`89° 30' 15"`, 89 + 30.0/60 + 15.0/3600}, {`89°30′15″`, 89 + 30.0/60 + 15.0/3600},
		{`89 30' 15''`, 89 + 30.0/60 + 15.0/3600}, {`89° 30.5'`, 89 + 30.5/60}, {`0° 30'`, 0.5},
		{`89½`, 89.5}, {`89 1/2°`, 89.5}, {`89-1/2`, 89.5},
		{`-0.5`, -0.5}, {`−0.5`, -0.5}, {`−0° 30'`, -0.5}, {`+0.5`, 0.5},
		{`360`, 360}, {`-360°`, -360}, {"\u00a091.0\u2009°", 91},
	} {
		checkAngle(t, model.ParseAngle, row.text, row.deg*math.Pi/180)
	}
}

func checkAngle(t *testing.T, parse func(string) (model.Angle, error), text string, want float64) {
	t.Helper()
	got, err := parse(text)
	if err != nil {
		t.Errorf("%q: %v", text, err)
		return
	}
	if !(math.Abs(float64(got)-want) <= angleTolerance) || got == 0 && math.Signbit(float64(got)) {
		t.Errorf("%q = %.17g rad, want %.17g", text, float64(got), want)
	}
	if strings.ContainsAny(text, "-−+") {
		return
	}
	if neg, err := parse("-" + text); err != nil || neg != -got {
		t.Errorf("%q with a minus = %v, %v", text, neg, err)
	}
}

var badAngles = []badText{
	{``, 0, "nothing was typed"},
	{`°`, 0, "mark has no number"},
	{`square`, 0, "square is not a number"},
	{`NaN`, 0, "NaN is not a number"},
	{`--1`, 1, "two signs"},
	{`30'`, 2, "no degrees before this mark"},
	{`15"`, 2, "no degrees before this mark"},
	{`89 30`, 3, "another number follows"},
	{`89°30`, 3, "minutes have no mark"},
	{`89°30'15`, 6, "seconds have no mark"},
	{`89° 15"`, 6, "seconds follow degrees without minutes"},
	{`89° 60'`, 4, "minutes are 60 or more"},
	{`89° 30' 60"`, 8, "seconds are 60 or more"},
	{`89.5° 30'`, 6, "follow a number that is not whole"},
	{`89½° 30'`, 5, "follow a number that is not whole"},
	{`89° 30.5' 15"`, 10, "follow a number that is not whole"},
	{`89° 1/2'`, 4, "minutes are a fraction"},
	{`89 1/0`, 5, "bottom is 0"},
	{`89 1/7`, 5, "no rule is divided into 7ths"},
	{`90/45`, 0, "one or more"},
	{`1.5 rad`, 4, "radians are not used"},
	{`100 gon`, 4, "gon is not used"},
	{`91 mm`, 3, "this is a length"},
	{`5/16 in`, 5, "this is a length"},
	{`2 %`, 2, "this is a slope"},
	{`1:48`, 1, "this is a ratio"},
	{`91°°`, 3, "mark ° does not belong"},
	{`91 F`, 3, "F is not a unit"},
	{`90+1`, 2, "sums are not worked out"},
	{`91° -`, 4, "sign stands at the end"},
	{`361`, 0, "more than a full turn"},
	{`359° 59' 59" 1`, 13, "another number follows"},
	{`360° 0' 1"`, 0, "more than a full turn"},
	{`9.1.0`, 3, "second point or comma"},
	{`91.`, 2, "no digit after"},
	{`1,234`, 1, "thousands mark or a decimal comma"},
	{`±1`, 0, "plus-or-minus"},
	{`９１`, 0, "another script"},
	{strings.Repeat("9", 100), 64, "longer than 64"},
}

func TestParseAngleRefuses(t *testing.T) {
	for _, row := range badAngles {
		_, err := model.ParseAngle(row.text)
		checkRefused(t, row, err)
	}
	// 1.5 rad = 85.94°: the remedy does the sum.
	_, err := model.ParseAngle("1.5 rad")
	if err == nil || !strings.Contains(err.Error(), "write 85.94°") {
		t.Errorf("1.5 rad: %v", err)
	}
}

func TestParseSlope(t *testing.T) {
	for _, row := range []struct {
		text      string
		rise, run float64
	}{
		{`2`, 2, 1000}, {`2.5`, 2.5, 1000}, {`2,5`, 2.5, 1000}, {`0`, 0, 1}, {`-2`, -2, 1000}, {`−2`, -2, 1000},
		{`2 mm/m`, 2, 1000}, {`2mm/m`, 2, 1000}, {`2 mm / m`, 2, 1000}, {`2 mm per m`, 2, 1000}, {`0.2 cm/m`, 2, 1000},
		{`2 mm/1 m`, 2, 1000}, {`3 mm/200 mm`, 3, 200}, {`3mm/200mm`, 3, 200},
		{`0.2 %`, 2, 1000}, {`0.2%`, 2, 1000}, {`2 ‰`, 2, 1000},
		{`1:48`, 1, 48}, {`1 : 48`, 1, 48}, {`1 in 48`, 1, 48}, {`-1:48`, -1, 48},
		{`1/8 in/ft`, 1, 96}, {`1/8" / ft`, 1, 96}, {`1/8"/'`, 1, 96}, {`1/8" per foot`, 1, 96}, {`⅛″/ft`, 1, 96},
		{`1/4 in/ft`, 1, 48}, {`1/8"/12"`, 1, 96}, {`1000`, 1, 1}, {`1:1`, 1, 1},
	} {
		checkAngle(t, model.ParseSlope, row.text, math.Atan(row.rise/row.run))
	}
	for _, row := range []struct {
		text string
		deg  float64
	}{{`0.3°`, 0.3}, {`0.3 deg`, 0.3}, {`0° 30'`, 0.5}, {`45°`, 45}, {`-0.3°`, -0.3}} {
		checkAngle(t, model.ParseSlope, row.text, row.deg*math.Pi/180)
	}
}

var badSlopes = []badText{
	{``, 0, "nothing was typed"},
	{`1/8`, 0, "ratio or inches to the foot"},
	{`2 mm`, 4, "without what it falls over"},
	{`1/8"`, 4, "without what it falls over"},
	{`2 mm/`, 5, "number is missing"},
	{`2 mm/3`, 6, "has no unit"},
	{`2 mm/0 m`, 5, "falls over is 0"},
	{`2 mm/kg`, 5, "kg is not a number"},
	{`1/8 mm/m`, 0, "fraction is given in mm"},
	{`1/7 in/ft`, 2, "no rule is divided"},
	{`1:0`, 2, "second number is 0"},
	{`1:`, 2, "number is missing"},
	{`1:1/2`, 2, "fraction is given in the ratio"},
	{`1/2:48`, 0, "fraction is given before :"},
	{`½ %`, 0, "fraction is given before %"},
	{`1:48:2`, 4, "mark : does not belong"},
	{`1 in 48 in`, 8, "unit in does not belong"},
	{`2 mm/m/m`, 6, "slash does not belong"},
	{`2 mm x`, 5, "more than one measure"},
	{`2 bubbles`, 2, "bubbles is not a unit"},
	{`0.002 rad`, 6, "radians are not used"},
	{`1001`, 0, "steeper than 1 in 1"},
	{`46°`, 0, "steeper than 1 in 1"},
	{`101 %`, 0, "steeper than 1 in 1"},
	{`-2:1`, 1, "steeper than 1 in 1"},
	{`0.3° 60'`, 5, "not whole"},
	{`NaN`, 0, "NaN is not a number"},
	{strings.Repeat("2", 65), 64, "longer than 64"},
}

func TestParseSlopeRefuses(t *testing.T) {
	for _, row := range badSlopes {
		_, err := model.ParseSlope(row.text)
		checkRefused(t, row, err)
	}
}

func TestParseLean(t *testing.T) {
	for _, row := range []struct {
		text      string
		rise, run float64
	}{
		{`3 mm`, 3, 200}, {`-3 mm`, -3, 200}, {`0.3 cm`, 3, 200}, {`1/8 in`, 3.175, 200}, {`⅛″`, 3.175, 200}, {`1/8"`, 3.175, 200},
		{`3/200`, 3, 200}, {`3:200`, 3, 200}, {`-3/200`, -3, 200}, {`3 mm/200 mm`, 3, 200}, {`3 mm/m`, 3, 1000}, {`1 %`, 1, 100},
	} {
		checkAngle(t, model.ParseLean, row.text, math.Atan(row.rise/row.run))
	}
	for _, row := range []struct {
		text string
		deg  float64
	}{{`0.6`, 0.6}, {`0.6°`, 0.6}, {`-1`, -1}, {`0`, 0}, {`0° 36'`, 0.6}, {`45`, 45}} {
		checkAngle(t, model.ParseLean, row.text, row.deg*math.Pi/180)
	}
}

var badLeans = []badText{
	{``, 0, "nothing was typed"},
	{`1/8`, 0, "inches or a ratio"},
	{`1 1/8`, 0, "inches or a ratio"},
	{`⅛`, 0, "inches or a ratio"},
	{`3/`, 2, "no bottom"},
	{`3/0`, 2, "bottom is 0"},
	{`46`, 0, "steeper than 1 in 1"},
	{`3 m`, 0, "steeper than 1 in 1"},
	{`3 mm/0 mm`, 5, "falls over is 0"},
	{`3 mm 5`, 5, "another number"},
	{`out`, 0, "out is not a number"},
	{`0.01 rad`, 5, "radians are not used"},
	{`3 mm out`, 5, "out is not a unit"},
}

func TestParseLeanRefuses(t *testing.T) {
	for _, row := range badLeans {
		_, err := model.ParseLean(row.text)
		checkRefused(t, row, err)
	}
}

func TestFormatDegrees(t *testing.T) {
	for _, row := range []struct {
		deg      float64
		decimals int
		text     string
	}{
		{91, 1, `91.0°`}, {91, 0, `91°`}, {90.25, 1, `90.3°`}, {-90.25, 1, `-90.3°`}, {90.05, 1, `90.1°`},
		{-0.04, 1, `0.0°`}, {0, 2, `0.00°`}, {89.999, 1, `90.0°`}, {91, -3, `91°`}, {91, 99, `91.000000°`},
		{math.NaN(), 1, `?`}, {math.Inf(1), 1, `?`}, {1e300, 1, `?`},
	} {
		if got := model.FormatDegrees(model.Angle(row.deg)*model.Degree, row.decimals); got != row.text {
			t.Errorf("FormatDegrees(%v°, %d) = %s, want %s", row.deg, row.decimals, got, row.text)
		}
	}
}

func TestFormatSlope(t *testing.T) {
	for _, row := range []struct {
		a    float64
		text string
	}{
		{math.Atan(0.002), `2.0 mm/m`}, {-math.Atan(0.002), `-2.0 mm/m`}, {math.Atan(1.0 / 48), `20.8 mm/m`},
		{0, `0.0 mm/m`}, {-1e-9, `0.0 mm/m`}, {math.Pi / 4, `1000.0 mm/m`}, {math.Pi / 3, `60.0°`}, {math.NaN(), `?`},
	} {
		if got := model.FormatSlope(model.Angle(row.a)); got != row.text {
			t.Errorf("FormatSlope(%v) = %s, want %s", row.a, got, row.text)
		}
	}
}

// Showing an angle and reading it back any number of times never drifts.
func TestPrintedAngleNeverDrifts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkAngleNoDrift(t, model.Angle(rapid.Float64Range(-360, 360).Draw(t, "degrees"))*model.Degree)
	})
	// Every tenth of a degree a gauge can show.
	for n := -1800; n <= 1800; n++ {
		want := fmt.Sprintf("%d.%d°", n/10, max(n, -n)%10)
		if n < 0 && n > -10 {
			want = "-" + want
		}
		a, err := model.ParseAngle(want)
		if err != nil || model.FormatDegrees(a, 1) != want {
			t.Errorf("%s came back as %s, %v", want, model.FormatDegrees(a, 1), err)
		}
	}
}

func checkAngleNoDrift(t failer, a model.Angle) {
	t.Helper()
	for decimals := range 7 {
		text := model.FormatDegrees(a, decimals)
		back, err := model.ParseAngle(text)
		if err != nil {
			t.Errorf("%v prints as %s: %v", float64(a), text, err)
			continue
		}
		if again := model.FormatDegrees(back, decimals); again != text {
			t.Errorf("%v prints as %s and that read back as %s", float64(a), text, again)
		}
		if off := math.Abs(back.Degrees() - a.Degrees()); off > 0.5*math.Pow10(-decimals)+1e-8 {
			t.Errorf("%v prints as %s, off by %v°", float64(a), text, off)
		}
	}
	if math.Abs(float64(a)) <= float64(model.MaxTypedSlope) {
		text := model.FormatSlope(a)
		back, err := model.ParseSlope(text)
		if again := model.FormatSlope(back); err != nil || again != text {
			t.Errorf("%v prints as %s and that read back as %s, %v", float64(a), text, again, err)
		}
	}
}

func seedAngles(f *testing.F) {
	for _, rows := range [][]badText{badAngles, badSlopes, badLeans} {
		for _, row := range rows {
			f.Add(row.text)
		}
	}
	for _, s := range []string{`91`, `89° 30' 15"`, `−0.5`, `2 mm/m`, `0.2 %`, `1:48`, `1 in 48`, `1/8 in/ft`, `1/8"/12"`, `0.3°`, `3 mm`, `3/200`, `2 mm per m`} {
		f.Add(s)
	}
}

func fuzzAngle(f *testing.F, parse func(string) (model.Angle, error), limit model.Angle) {
	seedAngles(f)
	f.Fuzz(func(t *testing.T, text string) {
		a, err := parse(text)
		if err != nil {
			checkFuzzError(t, text, err)
			return
		}
		if !(math.Abs(float64(a)) <= float64(limit)) || a == 0 && math.Signbit(float64(a)) {
			t.Errorf("%q = %v", text, a)
		}
		checkAngleNoDrift(t, a)
	})
}

func FuzzParseAngle(f *testing.F) { fuzzAngle(f, model.ParseAngle, model.MaxTypedAngle) }
func FuzzParseSlope(f *testing.F) { fuzzAngle(f, model.ParseSlope, model.MaxTypedSlope) }
func FuzzParseLean(f *testing.F)  { fuzzAngle(f, model.ParseLean, model.MaxTypedSlope) }

func ExampleParseSlope() {
	// An eighth of an inch to the foot is 1 in 96: 1000/96 = 10.4 mm/m.
	fall, _ := model.ParseSlope("1/8 in/ft")
	fmt.Println(model.FormatSlope(fall))
	fmt.Println(model.FormatDegrees(fall, 2)) // atan(1/96)
	// Output:
	// 10.4 mm/m
	// 0.60°
}
