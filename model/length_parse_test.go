package model_test

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"risewright/model"
)

// lengthTolerance is the most a parsed length may be off: 100 m in float64 has
// a spacing of 1.5·10⁻¹¹ mm, and parsing makes at most four roundings.
const lengthTolerance = 1e-10

func TestParseLength(t *testing.T) {
	const (
		both = ""
		imp  = model.Imperial
		met  = model.Metric
	)
	// 36 5/16 in = 36.3125 · 25.4 mm = 922.3375 mm, worked by hand.
	const want = 922.3375
	rows := []struct {
		text  string
		units model.Units // both: the same in either system
		mm    float64
	}{
		// Inches and fractions.
		{`36 5/16`, both, want},
		{`36-5/16"`, both, want},
		{`36-5/16`, both, want},
		{`36 5/16"`, both, want},
		{`36 5/16 in`, both, want},
		{`36 5/16in.`, both, want},
		{`36 5/16 inches`, both, want},
		{`36 5/16 INCH`, both, want},
		{`36 5/16''`, both, want},
		{`36  5 / 16 "`, both, want},
		{`36 10/32`, both, want},
		{`36.3125"`, both, want},
		{`36,3125 in`, both, want},
		{`36.3125`, imp, want},
		{`36,3125`, imp, want},
		{`5/16`, both, 7.9375},
		{`5/4`, both, 31.75},
		{`.5"`, both, 12.7},
		{`0`, both, 0},
		{`36`, imp, 914.4},
		{`240`, imp, 6096},
		{`240 1/2`, imp, 6108.7},
		{`918"`, both, 23317.2},
		{`36 0/16`, both, 914.4},
		{`1/3`, both, 25.4 / 3},
		{`+2"`, both, 50.8},
		{`-5/16`, both, -7.9375},
		{`-36-5/16`, both, -want},
		{`- 36 5/16`, both, -want},
		{`-0"`, both, 0},

		// Typographic forms.
		{`36⅝`, both, 930.275},
		{`36 ⅝″`, both, 930.275},
		{`36-⅝”`, both, 930.275},
		{`½`, both, 12.7},
		{`¼`, both, 6.35},
		{`¾`, both, 19.05},
		{`⅛`, both, 3.175},
		{`⅜`, both, 9.525},
		{`⅝`, both, 15.875},
		{`⅞`, both, 22.225},
		{`⅓`, both, 25.4 / 3},
		{`⅔`, both, 50.8 / 3},
		{`⅕`, both, 5.08},
		{`⅖`, both, 10.16},
		{`⅗`, both, 15.24},
		{`⅘`, both, 20.32},
		{`⅙`, both, 25.4 / 6},
		{`⅚`, both, 25.4 * 5 / 6},
		{`1 ↉`, both, 25.4},
		{`⅒`, both, 2.54},
		{`36 5⁄16`, both, want},
		{`36⁵⁄₁₆`, both, want},
		{`36 ⁵/16″`, both, want},
		{`36 ⅟16`, both, 914.4 + 25.4/16},
		{"36\u00a05/16", both, want},
		{"36\u20095⁄16\u202f″", both, want},
		{"\ufeff36 5/16\r\n", both, want},
		{`−3 mm`, both, -3},
		{`–3 mm`, both, -3},
		{`3′ 0 5⁄16″`, both, want},
		{`3’ 0 5/16”`, both, want},
		{`3‘0 5/16“`, both, want},
		{`3′ 5′′`, both, 1041.4},

		// Feet and inches.
		{`3' 0 5/16"`, both, want},
		{`3' 0 5/16`, both, want},
		{`3'0 5/16"`, both, want},
		{`3'0-5/16"`, both, want},
		{`3'-0 5/16"`, both, want},
		{`3'-0-5/16"`, both, want},
		{`3' - 0 5/16"`, both, want},
		{`3ft 5/16in`, both, want},
		{`3 ft. 0 5/16 in.`, both, want},
		{`3 feet 5/16 inches`, both, want},
		{`3' 5/16"`, both, want},
		{`3'-5/16"`, both, want},
		{`3'⅝`, both, 930.275},
		{`3'`, both, 914.4},
		{`3 foot`, both, 914.4},
		{`3 1/2'`, both, 1066.8},
		{`3.5 ft`, both, 1066.8},
		{`3'5`, both, 1041.4},
		{`3' 5.5"`, both, 1054.1},
		{`0' 5"`, both, 127},
		{`-3' 5"`, both, -1041.4},

		// Metric.
		{`918`, met, 918},
		{`918,5`, met, 918.5},
		{`918.5`, met, 918.5},
		{`36`, met, 36},
		{`918 mm`, both, 918},
		{`918.5 mm`, both, 918.5},
		{`918.5mm`, both, 918.5},
		{`918,5 MM`, both, 918.5},
		{`918.5 ㎜`, both, 918.5},
		{`91.8 cm`, both, 918},
		{`91.8㎝`, both, 918},
		{`0.918 m`, both, 918},
		{`0,918 m`, both, 918},
		{`1234,567 mm`, both, 1234.567},
		{`918 millimetres`, both, 918},
		{`918 millimeters`, both, 918},
		{`1 metre`, both, 1000},
		{`-3 mm`, both, -3},
		{`100 m`, both, 100000},
	}
	for _, row := range rows {
		for _, u := range []model.Units{model.Imperial, model.Metric} {
			if row.units != both && row.units != u {
				continue
			}
			got, err := model.ParseLength(row.text, u)
			if err != nil {
				t.Errorf("%q in %s: %v", row.text, u, err)
				continue
			}
			if !(math.Abs(float64(got)-row.mm) <= lengthTolerance) || math.Signbit(float64(got)) && got == 0 {
				t.Errorf("%q in %s = %.12g mm, want %.12g", row.text, u, float64(got), row.mm)
			}
			// Law: a minus in front negates; spaces about the text change nothing.
			if !strings.ContainsAny(row.text, "+-−–") {
				neg, err := model.ParseLength(" -"+row.text+" ", u)
				if err != nil || neg != -got {
					t.Errorf("%q in %s with a minus = %v, %v; want %v", row.text, u, neg, err, -got)
				}
			}
		}
	}
}

// badText is a text that must be refused: at points at the character (runes
// from 0) and phrase is in the problem.
type badText struct {
	text   string
	at     int
	phrase string
}

// badLengths holds one row for each kind of bad length; rows with a units
// suffix are in badLengthsIn.
var badLengths = []badText{
	{``, 0, "nothing was typed"},
	{`   `, 3, "nothing was typed"},
	{`36 5/0`, 5, "bottom is 0"},
	{`36 5/`, 5, "no bottom"},
	{`36 5/"`, 5, "no bottom"},
	{`36 /16`, 3, "space parts the slash"},
	{`36/16`, 0, "fraction is one or more"},
	{`15/8"`, 0, "fraction is one or more"},
	{`13/4`, 0, "fraction is one or more"},
	{`5/ft`, 1, "slash does not belong"},
	{`/16`, 0, "no top"},
	{`36 5/15`, 5, "no rule is divided into 15ths"},
	{`36 5/1 6`, 3, "one or more"},
	{`36 1/2 6`, 7, "another number"},
	{`36 ⅐`, 3, "divided into 7ths"},
	{`⅑`, 0, "divided into 9ths"},
	{`36 5.5/16`, 3, "top is not a whole"},
	{`36 5/16.5`, 5, "bottom is not a whole"},
	{`36.5 5/16`, 5, "fraction follows a decimal"},
	{`36.5⅝`, 4, "fraction follows a decimal"},
	{`36 17/16`, 3, "one or more"},
	{`36 16/16`, 3, "one or more"},
	{`36 5/16/2`, 7, "second slash"},
	{`½/16`, 1, "second slash"},
	{`36 ½ ¼`, 5, "second fraction"},
	{`36 1/2 1/4`, 7, "second fraction"},
	{`36 - 5/16`, 3, "may join or take away"},
	{`36 -5/16`, 3, "may join or take away"},
	{`36- 5/16`, 2, "may join or take away"},
	{`36 5`, 3, "another number"},
	{`1 234`, 2, "another number"},
	{`1,234`, 1, "thousands mark or a decimal comma"},
	{`918,500 mm`, 3, "thousands mark or a decimal comma"},
	{`1,234.5`, 5, "second point or comma"},
	{`1.234,5`, 5, "second point or comma"},
	{`9.1.8`, 3, "second point or comma"},
	{`36.`, 2, "no digit after"},
	{`36, 5/16`, 2, "no digit after"},
	{`.`, 0, "no digit after"},
	{`--3 mm`, 1, "two signs"},
	{`3+4`, 1, "sums are not worked out"},
	{`36"-5"`, 3, "sums are not worked out"},
	{`36 5/16+`, 7, "sign stands at the end"},
	{`36 5/16-`, 7, "sign stands at the end"},
	{`36 x 24`, 3, "more than one measure"},
	{`36×24`, 2, "more than one measure"},
	{`36" by 24"`, 4, "more than one measure"},
	{`±3 mm`, 0, "plus-or-minus"},
	{`3 mm ± 1`, 5, "plus-or-minus"},
	{`abc`, 0, "abc is not a number"},
	{`NaN`, 0, "NaN is not a number"},
	{`-Inf`, 1, "Inf is not a number"},
	{`mm`, 0, "mm has no number before it"},
	{`"36`, 0, "mark has no number"},
	{`' 5"`, 0, "mark has no number"},
	{`36 yd`, 3, "yd is not a unit of length"},
	{`36 mm2`, 5, "number follows the unit"},
	{`1e3`, 1, "e is not a unit"},
	{`0x10`, 1, "more than one measure"},
	{`36 5/16 strong`, 8, "strong is not a unit"},
	{`36" strong`, 4, "strong is not a unit"},
	{`36" 5/16`, 4, "fraction follows the inch mark"},
	{`36" ⅝`, 4, "fraction follows the inch mark"},
	{`5" 3'`, 3, "number follows the inches"},
	{`3' 2'`, 3, "feet are given twice"},
	{`3' 14"`, 3, "12 or more"},
	{`3'12`, 2, "12 or more"},
	{`3.5' 2"`, 0, "feet before inches are not a whole"},
	{`3 1/2' 2"`, 0, "feet before inches are not a whole"},
	{`3' 5 mm`, 3, "followed by a metric length"},
	{`3'-`, 3, "number is missing"},
	{`3' '`, 3, "mark does not belong"},
	{`3'"`, 2, "mark does not belong"},
	{`36""`, 3, "mark does not belong"},
	{`36 mm"`, 5, "mark does not belong"},
	{`36 mm cm`, 6, "unit cm does not belong"},
	{`5/16 mm`, 5, "fraction is given in mm"},
	{`91½ cm`, 4, "fraction is given in cm"},
	{`1 m 20 cm`, 4, "number follows the unit"},
	{`91°`, 2, "this is an angle"},
	{`2 %`, 2, "this is a slope"},
	{`1:48`, 1, "this is a slope"},
	{`36²`, 2, "raised or lowered digit"},
	{`₁₆`, 0, "raised or lowered digit"},
	{`36 ₅/16`, 3, "top is in lowered"},
	{`36 5/¹⁶`, 5, "bottom is in raised"},
	{`٣٦`, 0, "another script"},
	{"36\xff", 2, "cannot be read"},
	{`(36)`, 0, "does not belong here"},
	{`36_5`, 2, "does not belong here"},
	{`36 5\16`, 4, "backslash"},
	{`36 mm;`, 5, "does not belong here"},
	{`101 m`, 0, "more than 100 m"},
	{`100000.1 mm`, 0, "more than 100 m"},
	{`-400'`, 1, "more than 100 m"},
	{`9999999999999999999999999999999999 mm`, 0, "more than 100 m"},
	{strings.Repeat("1", 65), 64, "longer than 64"},
	{strings.Repeat("⅝ ", 500_000), 64, "longer than 64"},
}

func TestParseLengthRefuses(t *testing.T) {
	for _, row := range badLengths {
		for _, u := range []model.Units{model.Imperial, model.Metric} {
			_, err := model.ParseLength(row.text, u)
			checkRefused(t, row, err)
		}
	}
	phrases := map[string]bool{}
	for _, row := range badLengths {
		phrases[row.phrase] = true
	}
	if len(phrases) < 40 {
		t.Errorf("%d kinds of bad length, want at least 40", len(phrases))
	}
	t.Logf("%d bad lengths of %d kinds", len(badLengths), len(phrases))
}

// A bare number read in the wrong system is the costliest slip: 918 mm taken
// for 918 inches.
func TestParseLengthRefusesLongBareInches(t *testing.T) {
	for _, row := range []badText{
		{`918`, 0, "918 inches is 76 ft 6 in"},
		{`918.5`, 0, "918.5 inches is 76 ft 6.5 in"},
		{`-918`, 1, "918 inches is 76 ft 6 in"},
		{`241`, 0, "241 inches is 20 ft 1 in"},
		{`4000`, 0, "more than 100 m in inches"},
	} {
		_, err := model.ParseLength(row.text, model.Imperial)
		checkRefused(t, row, err)
		if _, err := model.ParseLength(row.text, model.Metric); err != nil {
			t.Errorf("%q in metric: %v", row.text, err)
		}
	}
}

// checkRefused fails unless err is the TextError that row describes.
func checkRefused(t *testing.T, row badText, err error) {
	t.Helper()
	name := row.text
	if len(name) > 80 {
		name = name[:80]
	}
	var te *model.TextError
	if !errors.As(err, &te) {
		t.Errorf("%q: error %v, want a *TextError", name, err)
		return
	}
	if te.At != row.at || !strings.Contains(te.Problem, row.phrase) {
		t.Errorf("%q: at %d %q, want at %d %q\n%s", name, te.At, te.Problem, row.at, row.phrase, te.Caret())
	}
	checkTextError(t, te)
}

// failer is the part of testing.TB and rapid.T that checks need.
type failer interface {
	Helper()
	Errorf(string, ...any)
}

// checkTextError fails unless te is a usable message: in range, one line,
// with a remedy, and a caret under its place.
func checkTextError(t failer, te *model.TextError) {
	t.Helper()
	if n := utf8.RuneCountInString(te.Text); te.At < 0 || te.At > n {
		t.Errorf("%q: place %d is outside 0 to %d", te.Text, te.At, n)
	}
	if te.Problem == "" || te.Remedy == "" {
		t.Errorf("%q: problem %q, remedy %q: neither may be empty", te.Text, te.Problem, te.Remedy)
	}
	if msg := te.Error(); strings.ContainsAny(msg, "\n\r") || !utf8.ValidString(msg) || len(msg) > 700 {
		t.Errorf("not one short line of text: %q", msg)
	}
	if c := te.Caret(); strings.Count(c, "\n") != 1 || !strings.HasSuffix(c, "^") {
		t.Errorf("not two lines with a caret: %q", c)
	}
}

// typedLength is a feet-inch length, how it was typed, and its exact value.
type typedLength struct {
	text  string
	exact *big.Rat // mm
}

// drawTypedLength writes one feet-inch length in one of the ways people do.
func drawTypedLength(t *rapid.T) typedLength {
	pick := func(label string, s ...string) string { return rapid.SampledFrom(s).Draw(t, label) }
	feet := rapid.IntRange(0, 300).Draw(t, "feet")
	inches := rapid.IntRange(0, 11).Draw(t, "inches")
	den := rapid.SampledFrom([]int{2, 4, 8, 16, 32, 64, 128}).Draw(t, "den")
	num := rapid.IntRange(0, den-1).Draw(t, "num")

	var b strings.Builder
	if rapid.Bool().Draw(t, "minus") {
		b.WriteString(pick("minus sign", "-", "−"))
	}
	if feet > 0 {
		b.WriteString(itoa(feet) + pick("foot mark", "'", "′", "’", " ft", "ft.", " feet") + pick("joint", " ", "-", " - ", "\u00a0", "  "))
	}
	if inches > 0 || num == 0 || rapid.Bool().Draw(t, "zero inches") {
		b.WriteString(itoa(inches))
		if num > 0 {
			b.WriteString(pick("fraction joint", " ", "-", "\u2009"))
		}
	}
	if num > 0 {
		b.WriteString(itoa(num) + pick("slash", "/", "⁄", " / ") + itoa(den))
	}
	b.WriteString(pick("inch mark", `"`, "″", "”", " in", " inches", "''"))

	exact := big.NewRat(int64(feet*12+inches), 1)
	exact.Add(exact, big.NewRat(int64(num), int64(den)))
	exact.Mul(exact, big.NewRat(254, 10))
	if c, _ := utf8.DecodeRuneInString(b.String()); c == '-' || c == '−' {
		exact.Neg(exact)
	}
	return typedLength{b.String(), exact}
}

func itoa(n int) string { return big.NewInt(int64(n)).String() }

// The parser meets exact arithmetic, in every way of writing.
func TestParseLengthIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawTypedLength(t)
		want, _ := l.exact.Float64()
		for _, u := range []model.Units{model.Imperial, model.Metric} {
			got, err := model.ParseLength(l.text, u)
			if err != nil {
				t.Fatalf("%q: %v", l.text, err)
			}
			if math.Abs(float64(got)-want) > lengthTolerance {
				t.Fatalf("%q = %.15g, want %.15g", l.text, float64(got), want)
			}
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, row := range badLengths {
		if len(row.text) <= 100 {
			f.Add(row.text)
		}
	}
	for _, s := range []string{
		`36 5/16`, `36-5/16"`, `3' 0 5/16"`, `3ft 5/16in`, `918`, `918.5 mm`, `91.8 cm`, `0.918 m`,
		`36⅝″`, `36⁵⁄₁₆`, `918,5`, `−3 mm`, `3'-0 5/16"`, `36 ⅟16`, "36\u00a05/16", `1/3`, `.5`,
	} {
		f.Add(s)
	}
	// The limit itself rounds up past the limit in 64ths; found by fuzzing.
	f.Add(`100000`)
	formats := printFormats()
	f.Fuzz(func(t *testing.T, text string) {
		for _, u := range []model.Units{model.Imperial, model.Metric} {
			l, err := model.ParseLength(text, u)
			if err != nil {
				checkFuzzError(t, text, err)
				continue
			}
			if !(math.Abs(float64(l)) <= float64(model.MaxTypedLength)) || l == 0 && math.Signbit(float64(l)) {
				t.Errorf("%q = %v", text, l)
			}
			for _, format := range formats {
				checkNoDrift(t, format, l)
			}
		}
	})
}

// checkFuzzError fails unless err is a usable TextError about text.
func checkFuzzError(t *testing.T, text string, err error) {
	t.Helper()
	var te *model.TextError
	if !errors.As(err, &te) {
		t.Fatalf("%q: %T, want *TextError", text, err)
	}
	checkTextError(t, te)
	if utf8.RuneCountInString(text) <= 64 && te.Text != text {
		t.Errorf("the error is about %q, not %q", te.Text, text)
	}
}
