package panel

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"risewright/model"
	"risewright/view/words"
)

// inGerman has the figures of German spoken until the test ends.
func inGerman(t testing.TB) {
	t.Helper()
	b, err := words.NewBook(nil)
	if err != nil {
		t.Fatal(err)
	}
	b.Write(words.Marks{Decimal: ",", Thousands: "\u202f"})
	words.Speak(b)
	t.Cleanup(func() { words.Speak(nil) })
}

// What can be meant in two ways is refused with both, in the place where it
// stands; what has one meaning in the language spoken is read.
func TestLengthsAsTheLanguageWritesThem(t *testing.T) {
	for _, row := range []struct {
		text            string
		english, german float64 // mm; NaN where it is refused
	}{
		{"36,5", 36.5, 36.5},
		{"36.5", 36.5, 36.5},
		{"1,234", math.NaN(), 1.234},
		{"1,234 m", math.NaN(), 1234},
		{"1.234 m", 1234, math.NaN()},
		{"0,918 m", 918, 918},
		{"0.918 m", 918, 918},
		{"1.234,5", math.NaN(), math.NaN()},
		{"1234,5", 1234.5, 1234.5},
		{"36 5/16\"", 36.3125 * 25.4, 36.3125 * 25.4},
		{"3' 0 5/16\"", 36.3125 * 25.4, 36.3125 * 25.4},
		{"36,3125\"", 36.3125 * 25.4, 36.3125 * 25.4},
	} {
		check := func(language string, want float64) {
			l, err := ReadLength(row.text, model.Metric)
			if math.IsNaN(want) {
				var e *model.TextError
				if !errors.As(err, &e) || e.Text != row.text || e.Remedy == "" {
					t.Errorf("in %s %q gives %v, %v", language, row.text, l, err)
				}
				return
			}
			if err != nil || math.Abs(float64(l)-want) > 1e-9 {
				t.Errorf("in %s %q gives %v, %v; want %v", language, row.text, l, err, want)
			}
		}
		check("English", row.english)
		t.Run(row.text, func(t *testing.T) {
			inGerman(t)
			check("German", row.german)
		})
	}
}

func TestPlainFigures(t *testing.T) {
	for _, row := range []struct {
		text            string
		english, german float64 // NaN: no number, Inf: refused as doubtful
	}{
		{"12,5", 12.5, 12.5},
		{"12.5", 12.5, 12.5},
		{"1,234", math.Inf(1), 1.234},
		{"1.234", 1.234, math.Inf(1)},
		{"-1,234", math.Inf(1), -1.234},
		{"0,125", 0.125, 0.125},
		{"0.125", 0.125, 0.125},
		{"1,2,3", math.NaN(), math.NaN()},
		{"viel", math.NaN(), math.NaN()},
	} {
		check := func(want float64) {
			v, doubt := readFigure(row.text)
			switch {
			case math.IsInf(want, 1):
				if doubt == nil || !strings.Contains(doubt.Error(), "thousands") {
					t.Errorf("%q gives %v, %v", row.text, v, doubt)
				}
			case doubt != nil || v != want && !(math.IsNaN(v) && math.IsNaN(want)):
				t.Errorf("%q gives %v, %v; want %v", row.text, v, doubt, want)
			}
		}
		check(row.english)
		t.Run(row.text, func(t *testing.T) {
			inGerman(t)
			check(row.german)
		})
	}
}

// What a field shows is read back as the same, in either language and in any
// units.
func TestFieldsReadWhatTheyShow(t *testing.T) {
	check := func(t *testing.T) {
		rng := rand.New(rand.NewPCG(1, 2))
		for range 20000 {
			l := model.Length(rng.Float64() * math.Pow(10, float64(rng.IntN(6))))
			for _, u := range []model.Units{model.Metric, model.Imperial} {
				text := words.Figure(fieldText(model.Format{Units: u}, l))
				got, err := ReadLength(text, u)
				if err != nil || math.Abs(float64(got-l)) > 0.0051 {
					t.Fatalf("%v is shown as %q and read as %v, %v", l, text, got, err)
				}
			}
		}
	}
	t.Run("English", check)
	t.Run("German", func(t *testing.T) {
		inGerman(t)
		check(t)
	})
}

// A reading that was typed in one language is shown in the marks of the other,
// and what the file keeps stays as it was typed.
func TestATypedReadingInAnotherLanguage(t *testing.T) {
	job := model.Job{Units: model.Metric}
	show := func(typed string, value float64) string { return typedText(&job, model.FrontWidth, typed, value) }
	if got := show("1,234 m", 1234); got != "1234.0 mm" { // typed in German, doubtful here
		t.Errorf("in English it is %q", got)
	}
	inGerman(t)
	for _, row := range []struct {
		typed string
		value float64
		want  string
	}{
		{"918.5", 918.5, "918,5"}, {"918,5 mm", 918.5, "918,5 mm"}, {"1,234 m", 1234, "1,234 m"}, {"1.234 m", 1234, "1,234 m"},
		{"", 918.5, "918,5 mm"}, {"36 5/16\"", 36.3125 * 25.4, "36 5/16\""},
	} {
		if got := show(row.typed, row.value); got != row.want {
			t.Errorf("%q is shown as %q, want %q", row.typed, got, row.want)
		}
	}
}
