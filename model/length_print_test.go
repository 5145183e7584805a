package model_test

import (
	"fmt"
	"math"
	"math/big"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"risewright/model"
)

// printFormats returns every imperial fraction, with and without feet, and the
// metric steps in use with some awkward ones.
func printFormats() []model.Format {
	var fs []model.Format
	for _, n := range []int{0, 2, 4, 8, 16, 32, 64, 128} {
		for _, feet := range []bool{false, true} {
			fs = append(fs, model.Format{Units: model.Imperial, Fraction: n, Feet: feet})
		}
	}
	for _, step := range []model.Length{0, 0.01, 0.1, 0.2, 0.25, 0.3, 0.5, 1, 5, 10, 1.0 / 3, 25.4 / 32, 0.012345} {
		fs = append(fs, model.Format{Units: model.Metric, Step: step})
	}
	return append(fs, model.Format{})
}

func TestFormatLength(t *testing.T) {
	imp := func(fraction int, feet bool) model.Format {
		return model.Format{Units: model.Imperial, Fraction: fraction, Feet: feet}
	}
	met := func(step model.Length) model.Format { return model.Format{Units: model.Metric, Step: step} }
	in := func(x float64) model.Length { return model.Length(x) * model.Inch }
	for _, row := range []struct {
		format       model.Format
		l            model.Length
		text, number string
	}{
		{imp(16, false), in(36.3125), `36 5/16"`, `36 5/16`},
		{imp(0, false), in(36.3125), `36 5/16"`, `36 5/16`},
		{imp(7, false), in(36.3125), `36 5/16"`, `36 5/16`},
		{imp(32, false), in(36.28125), `36 9/32"`, `36 9/32`},
		{imp(16, false), in(36.28125), `36 5/16"`, `36 5/16`}, // a half goes up
		{imp(16, false), in(-36.28125), `-36 5/16"`, `-36 5/16`},
		{imp(8, false), in(36.3125), `36 3/8"`, `36 3/8`},
		{imp(16, false), in(36.25), `36 1/4"`, `36 1/4`}, // 4/16 in lowest terms
		{imp(16, false), in(36.5), `36 1/2"`, `36 1/2`},
		{imp(16, false), in(15.96875), `16"`, `16`}, // 15 31/32 carries
		{imp(32, false), in(15.96875), `15 31/32"`, `15 31/32`},
		{imp(16, false), in(0.3125), `5/16"`, `5/16`},
		{imp(16, false), in(-0.3125), `-5/16"`, `-5/16`},
		{imp(16, false), 0, `0"`, `0`},
		{imp(16, false), -0.01, `0"`, `0`},
		{imp(16, false), model.Length(math.Copysign(0, -1)), `0"`, `0`},
		{imp(16, false), in(240), `240"`, `240`},
		{imp(16, false), in(300), `300"`, `300"`}, // bare, it would be refused when read back
		{imp(16, false), in(300.5), `300 1/2"`, `300 1/2`},
		{imp(16, true), in(36.3125), `3' 0 5/16"`, `3' 0 5/16`},
		{imp(16, true), in(36), `3' 0"`, `3' 0`},
		{imp(16, true), in(41.5), `3' 5 1/2"`, `3' 5 1/2`},
		{imp(16, true), in(11.3125), `11 5/16"`, `11 5/16`},
		{imp(16, true), in(11.98), `1' 0"`, `1' 0`}, // carries into feet
		{imp(16, true), in(-41.5), `-3' 5 1/2"`, `-3' 5 1/2`},
		{imp(16, true), in(300), `25' 0"`, `25' 0`},

		{met(0), 918.5, `918.5 mm`, `918.5`},
		{met(0), 918.25, `918.5 mm`, `918.5`}, // a half goes up
		{met(0), -918.25, `-918.5 mm`, `-918.5`},
		{met(0), 918.2, `918.0 mm`, `918.0`},
		{met(0), -0.2, `0.0 mm`, `0.0`},
		{met(1), 918.5, `919 mm`, `919`},
		{met(0.1), 918.25, `918.3 mm`, `918.3`},
		{met(0.3), 0.45, `0.6 mm`, `0.6`},
		{met(0.25), 918.3, `918.25 mm`, `918.25`},
		{met(-1), 918.5, `918.5 mm`, `918.5`},
		{met(model.Length(math.NaN())), 918.5, `918.5 mm`, `918.5`},
		{model.Format{}, 918.5, `918.5 mm`, `918.5`},

		{met(0), model.Length(math.NaN()), `?`, `?`},
		{met(0), model.Length(math.Inf(1)), `?`, `?`},
		{imp(16, false), model.Length(math.Inf(-1)), `?`, `?`},
		{imp(16, true), 1e300, `?`, `?`},
	} {
		if got := row.format.Length(row.l); got != row.text {
			t.Errorf("%+v Length(%v) = %s, want %s", row.format, float64(row.l), got, row.text)
		}
		if got := row.format.Number(row.l); got != row.number {
			t.Errorf("%+v Number(%v) = %s, want %s", row.format, float64(row.l), got, row.number)
		}
	}
}

// Carpenters' decimal equivalents of an inch, worked by hand: n/32 · 25.4 mm.
func TestFormatLengthDecimalEquivalents(t *testing.T) {
	f := model.Format{Units: model.Imperial, Fraction: 32}
	for _, row := range []struct {
		mm   model.Length
		text string
	}{
		{0.79375, `1/32"`}, {1.5875, `1/16"`}, {3.175, `1/8"`}, {6.35, `1/4"`},
		{7.9375, `5/16"`}, {9.525, `3/8"`}, {12.7, `1/2"`}, {15.875, `5/8"`},
		{19.05, `3/4"`}, {22.225, `7/8"`}, {24.60625, `31/32"`}, {25.4, `1"`},
	} {
		if got := f.Length(row.mm); got != row.text {
			t.Errorf("%v mm = %s, want %s", float64(row.mm), got, row.text)
		}
	}
}

// divisionOf returns the distance between neighbouring prints of f.
func divisionOf(f model.Format) model.Length {
	switch {
	case f.Units == model.Imperial && f.Fraction == 0:
		return model.Inch / 16
	case f.Units == model.Imperial:
		return model.Inch / model.Length(f.Fraction)
	case f.Step == 0:
		return 0.5
	}
	return f.Step
}

// checkNoDrift fails unless what f prints for l reads back and prints the same
// again, and lies within half a division of l. A print rounded up past
// MaxTypedLength must be refused instead.
func checkNoDrift(t failer, f model.Format, l model.Length) {
	t.Helper()
	for _, print := range []func(model.Length) string{f.Length, f.Number} {
		text := print(l)
		back, err := model.ParseLength(text, f.Units)
		if past := math.Abs(float64(f.Round(l))) > float64(model.MaxTypedLength); past || err != nil {
			if past != (err != nil) {
				t.Errorf("%+v prints %v as %s, which reads back with error %v", f, float64(l), text, err)
			}
			continue
		}
		if again := print(back); again != text {
			t.Errorf("%+v prints %v as %s, and that read back as %s", f, float64(l), text, again)
		}
		if text[0] == '-' && !strings.ContainsAny(text, "123456789") {
			t.Errorf("%+v prints %v as %s: minus zero", f, float64(l), text)
		}
		// 0.0005 mm for three decimals, 10⁻⁶ for rounding slack.
		if off := math.Abs(float64(back - l)); off > float64(divisionOf(f))/2+0.0005+1e-6 {
			t.Errorf("%+v prints %v as %s, off by %v mm", f, float64(l), text, off)
		}
		if round := f.Round(l); math.Abs(float64(round-back)) > 0.0005+1e-6 {
			t.Errorf("%+v rounds %v to %v but prints %s", f, float64(l), float64(round), text)
		}
	}
}

// Every 1/32 inch to 20 ft, in every format. RISEWRIGHT_FULL=1 takes every
// 1/128.
func TestPrintedLengthNeverDriftsExhaustive(t *testing.T) {
	parts := 32
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		parts = 128
	}
	for _, f := range printFormats() {
		for n := 0; n <= 20*12*parts; n++ {
			l := model.Length(n) * model.Inch / model.Length(parts)
			checkNoDrift(t, f, l)
			if f.Units != model.Imperial || f.Fraction < parts {
				continue
			}
			// On its own grid the print is exact: the value itself comes back.
			back, err := model.ParseLength(f.Length(l), f.Units)
			if err != nil || math.Abs(float64(back-l)) > lengthTolerance {
				t.Fatalf("%+v: %d/%d in came back as %v mm, %v", f, n, parts, float64(back), err)
			}
		}
		if t.Failed() {
			return
		}
	}
}

func TestPrintedLengthNeverDrifts(t *testing.T) {
	formats := printFormats()
	limit := float64(model.MaxTypedLength) - float64(model.Inch) // room to round up
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(formats).Draw(t, "format")
		l := model.Length(rapid.Float64Range(-limit, limit).Draw(t, "mm"))
		checkNoDrift(t, f, l)
		// Law: the print of the opposite is the opposite of the print.
		if text := f.Length(l); strings.ContainsAny(text, "123456789") {
			if got := f.Length(-l); strings.TrimPrefix(got, "-") != strings.TrimPrefix(text, "-") || got == text {
				t.Errorf("%v prints as %s, its opposite as %s", float64(l), text, got)
			}
		}
	})
}

// The printer meets a slow twin in exact rational arithmetic. The twin knows
// no slack at the half, so lengths within a millionth of one are skipped, and
// counted: nearly all must be compared.
func TestFormatLengthMeetsExactTwin(t *testing.T) {
	var compared, skipped int
	rapid.Check(t, func(t *rapid.T) {
		den := rapid.SampledFrom([]int{8, 16, 32, 64}).Draw(t, "fraction")
		feet := rapid.Bool().Draw(t, "feet")
		l := rapid.Float64Range(-100_000, 100_000).Draw(t, "mm")
		want, nearHalf := exactInches(l, int64(den), feet)
		if nearHalf {
			skipped++
			return
		}
		compared++
		f := model.Format{Units: model.Imperial, Fraction: den, Feet: feet}
		if got := f.Length(model.Length(l)); got != want {
			t.Fatalf("%v mm in %dths = %s, exactly %s", l, den, got, want)
		}
	})
	if compared < 9*skipped || compared == 0 {
		t.Errorf("compared %d lengths, skipped %d", compared, skipped)
	}
}

// exactInches prints mm in feet and inches by rational arithmetic, and reports
// whether the count is within a millionth of a half.
func exactInches(mm float64, den int64, feet bool) (text string, nearHalf bool) {
	q := new(big.Rat).SetFloat64(math.Abs(mm))
	q.Mul(q, big.NewRat(10*den, 254)) // parts of an inch
	q.Add(q, big.NewRat(1, 2))
	n := new(big.Int).Quo(q.Num(), q.Denom()).Int64()
	rest, _ := new(big.Rat).Sub(q, big.NewRat(n, 1)).Float64()
	nearHalf = rest < 1e-6 || rest > 1-1e-6
	whole, frac := n/den, big.NewRat(n%den, den) // big.Rat keeps lowest terms
	sign := ""
	if mm < 0 && n > 0 {
		sign = "-"
	}
	var parts []string
	if feet && whole >= 12 {
		parts = append(parts, fmt.Sprintf("%d'", whole/12), fmt.Sprint(whole%12))
	} else if whole > 0 || frac.Sign() == 0 {
		parts = append(parts, fmt.Sprint(whole))
	}
	if frac.Sign() > 0 {
		parts = append(parts, frac.String())
	}
	return sign + strings.Join(parts, " ") + `"`, nearHalf
}

func TestPlusMinus(t *testing.T) {
	for _, row := range []struct {
		l                model.Length
		metric, imperial string
	}{
		{0, `±0 mm`, `±0"`},
		{0.4, `±0.4 mm`, `±1/64"`}, // 0.4 mm = 1.008/64 in
		{-0.4, `±0.4 mm`, `±1/64"`},
		{0.41, `±0.5 mm`, `±1/64"`},
		{0.5, `±0.5 mm`, `±1/32"`}, // 1.26/64: up, never down
		{0.8, `±0.8 mm`, `±1/32"`}, // 2.016/64
		{0.81, `±0.9 mm`, `±1/32"`},
		{0.3, `±0.3 mm`, `±1/64"`},
		{0.1, `±0.1 mm`, `±0.004"`}, // 0.00394 in
		{0.05, `±0.05 mm`, `±0.002"`},
		{0.004, `±0.004 mm`, `±0.001"`},
		{1e-9, `±0.001 mm`, `±0.001"`},
		{1e-300, `±0.001 mm`, `±0.001"`},
		{1.5875, `±1.6 mm`, `±1/16"`},
		{9.91, `±10.0 mm`, `±25/64"`},
		{25.4, `±26 mm`, `±1"`},
		{30, `±30 mm`, `±1 3/16"`}, // 18.9/16
		{model.Length(math.NaN()), `±?`, `±?`},
		{model.Length(math.Inf(1)), `±?`, `±?`},
	} {
		if got := (model.Format{Units: model.Metric}).PlusMinus(row.l); got != row.metric {
			t.Errorf("metric PlusMinus(%v) = %s, want %s", float64(row.l), got, row.metric)
		}
		if got := (model.Format{Units: model.Imperial}).PlusMinus(row.l); got != row.imperial {
			t.Errorf("imperial PlusMinus(%v) = %s, want %s", float64(row.l), got, row.imperial)
		}
	}
}

// A band's print never claims more than is known, is never more than a step
// too wide, and is never zero.
func TestPlusMinusRoundsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Exponents spread the bands over every rule PlusMinus has.
		l := model.Length(math.Pow(10, rapid.Float64Range(-4, 3).Draw(t, "log10 mm")))
		for _, u := range []model.Units{model.Imperial, model.Metric} {
			text := model.Format{Units: u}.PlusMinus(l)
			back, err := model.ParseLength(strings.TrimPrefix(text, "±"), u)
			if err != nil {
				t.Fatalf("%v prints as %s: %v", float64(l), text, err)
			}
			// 0.02 mm is slack64 of a 64th; 10⁻⁶ covers rounding.
			if short := float64(l - back); short > 0.02+1e-6 || u == model.Metric && short > 1e-6 {
				t.Errorf("%v mm prints as %s, too narrow by %v mm", float64(l), text, short)
			}
			step := math.Max(1, float64(l)/10)
			if u == model.Imperial {
				step = 25.4 / 16
			}
			if wide := float64(back - l); wide > step+1e-6 {
				t.Errorf("%v mm prints as %s, too wide by %v mm", float64(l), text, wide)
			}
			if back == 0 {
				t.Errorf("%v mm prints as %s", float64(l), text)
			}
		}
	})
}

func ExampleFormat_Length() {
	width, _ := model.ParseLength(`36-5/16"`, model.Imperial)
	fmt.Println(float64(width), "mm") // 36.3125 · 25.4
	fmt.Println(model.Format{Units: model.Imperial, Fraction: 16}.Length(width))
	fmt.Println(model.Format{Units: model.Imperial, Fraction: 16, Feet: true}.Length(width))
	fmt.Println(model.Format{Units: model.Imperial, Fraction: 8}.Length(width))
	fmt.Println(model.Format{Units: model.Metric}.Length(width))
	// Output:
	// 922.3375 mm
	// 36 5/16"
	// 3' 0 5/16"
	// 36 3/8"
	// 922.5 mm
}

func BenchmarkFormatLength(b *testing.B) {
	f := model.Format{Units: model.Imperial, Fraction: 32, Feet: true}
	b.ReportAllocs()
	for i := range b.N {
		_ = f.Length(model.Length(i % 5000))
	}
}

func BenchmarkParseLength(b *testing.B) {
	b.ReportAllocs()
	for range b.N {
		if _, err := model.ParseLength(`3' 0 5/16"`, model.Imperial); err != nil {
			b.Fatal(err)
		}
	}
}
