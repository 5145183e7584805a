package model_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"risewright/model"
)

// sameButForEmpty compares jobs; a list that is absent equals an empty one,
// and times are the same instant.
var sameButForEmpty = cmp.FilterValues(func(a, b any) bool {
	return fmt.Sprintf("%T", a) == fmt.Sprintf("%T", b) && strings.HasPrefix(fmt.Sprintf("%T", a), "[]") && fmt.Sprint(a) == "[]" && fmt.Sprint(b) == "[]"
}, cmp.Comparer(func(any, any) bool { return true }))

func TestFileRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJob(t)
		text := encoded(t, j)
		back, err := model.Decode([]byte(text))
		if err != nil {
			t.Fatalf("Decode: %v", err)
		}
		if d := cmp.Diff(j, back, sameButForEmpty); d != "" {
			t.Fatalf("the job changed on its way through the file:\n%s", d)
		}
		if again := encoded(t, back); again != text {
			t.Fatal("the same job gave other bytes")
		}
	})
}

func TestFileHeader(t *testing.T) {
	j := plainJob(3)
	text := encoded(t, j)
	if want := "{\n  \"risewright_job\": 2,\n  \"id\":"; !strings.HasPrefix(text, want) {
		t.Errorf("the file begins %.60q, want %q", text, want)
	}
	b, err := model.EncodeAs(j, "0.2.0")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(b), "\n  \"program\": \"0.2.0\",\n") {
		t.Errorf("the file does not name its program: %.80q", b)
	}
	back, err := model.Decode(b)
	if err != nil || cmp.Diff(j, back, sameButForEmpty) != "" {
		t.Errorf("the program's version changed the job: %v", err)
	}
}

// TestFileEmptyLists checks that a job without any list is written with empty
// ones, and is refused on reading for what it lacks, not for its form.
func TestFileEmptyLists(t *testing.T) {
	text := encoded(t, model.Job{Flight: model.Flight{Steps: []model.Step{{}}}})
	if strings.Contains(text, "null") {
		t.Errorf("the file holds null:\n%s", text)
	}
	_, err := model.Decode([]byte(text))
	if err == nil || !strings.Contains(err.Error(), "the flight has 1 risers") {
		t.Errorf("Decode: %v", err)
	}
}

func TestFileUnfinishedLoads(t *testing.T) {
	j := plainJob(4)
	j.Flight.Readings, j.Flight.Rail, j.Flight.Headroom, j.Flight.Doors = nil, nil, nil, nil
	j.Flight.Steps[0].Readings = nil
	j.Name, j.Code = "", ""
	if _, err := model.Decode([]byte(encoded(t, j))); err != nil {
		t.Errorf("a job without any reading: %v", err)
	}
}

func TestFileByteOrderMark(t *testing.T) {
	text := encoded(t, plainJob(3))
	j, err := model.Decode([]byte("\ufeff" + text))
	if err != nil || encoded(t, j) != text {
		t.Errorf("with a byte order mark: %v", err)
	}
}

func TestEncodeRefuses(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		j := plainJob(3)
		j.Tolerance = model.Length(v)
		if b, err := model.Encode(j); err == nil || b != nil {
			t.Errorf("a tolerance of %v was written", v)
		}
	}
	j := plainJob(3)
	j.Notes = strings.Repeat("x", model.MaxFileBytes)
	if _, err := model.Encode(j); err == nil || !strings.Contains(err.Error(), "at most 16 MB") {
		t.Errorf("a job of more than 16 MB: %v", err)
	}
}

// once returns text with the first old replaced, and fails if there is none.
func once(t *testing.T, text, old, new string) string {
	t.Helper()
	if !strings.Contains(text, old) {
		t.Fatalf("the good file has no %q", old)
	}
	return strings.Replace(text, old, new, 1)
}

// badFiles are files that are not jobs, each with the place and the words of
// the message it must get. Place "-" means no line is given.
func badFiles(t *testing.T) []badFile {
	good := encoded(t, plainJob(3))
	change := func(old, new string) string { return once(t, good, old, new) }
	deep := strings.Repeat("[", 40) + strings.Repeat("]", 40)
	utf16 := func(order func(hi, lo byte) []byte) string {
		var b bytes.Buffer
		for _, c := range []byte(good) {
			b.Write(order(0, c))
		}
		return b.String()
	}
	little := func(hi, lo byte) []byte { return []byte{lo, hi} }
	big := func(hi, lo byte) []byte { return []byte{hi, lo} }
	twin := plainJob(3)
	twin.Flight.Steps[1].ID = twin.Flight.Steps[0].ID
	twinReading := plainJob(3)
	twinReading.Flight.Steps[2].Readings = []model.Reading{backWidth("a")}
	crossed := plainJob(3)
	c := crossed.Flight.Steps[1].Corners
	c[2], c[3] = c[3], c[2]
	many := plainJob(3)
	many.Tolerance, many.SketchSpread, many.Overlay.Tread, many.Overlay.Riser, many.Overlay.Landing = 0, 0, 0, 0, 0
	return []badFile{
		// not a job file at all
		{"empty", "", "", "1:1", "the file is empty"},
		{"blanks", " \r\n\t ", "", "1:1", "the file is empty"},
		{"mark only", "\ufeff", "", "1:1", "the file is empty"},
		{"PDF", "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "", "1:1", "the file is a PDF, not a job"},
		{"PNG", "\x89PNG\r\n\x1a\n\x00\x00", "", "1:1", "a PNG picture"},
		{"ZIP", "PK\x03\x04\x14\x00", "", "1:1", "a ZIP archive"},
		{"UTF-16 with mark", "\xff\xfe" + utf16(little), "", "1:1", "UTF-16"},
		{"UTF-16 little", utf16(little), "", "1:1", "UTF-16"},
		{"UTF-16 big", utf16(big), "", "1:1", "UTF-16"},
		{"Latin-1", change(`"Plain"`, "\"Pl\xe9in\""), "", "4:14", "not UTF-8"},
		{"zero bytes", change(`"Plain"`, "\"Pl\x00in\""), "", "4:14", "a zero byte"},
		{"prose", "Dear customer, your stair", "", "1:1", "not JSON"},
		{"too large", strings.Repeat(" ", model.MaxFileBytes+1), "", "-", "at most 16 MB"},
		// not JSON, or JSON that hides something
		{"truncated", good[:len(good)/2], "*", "*", "ends in the middle"},
		{"last brace lost", strings.TrimRight(good, "}\n"), "*", "*", "ends in the middle"},
		{"comma lost", change(`"name": "Plain",`, `"name": "Plain"`), "", "5:3", "not JSON"},
		{"trailing comma", change("\"steps\": [", "\"steps\": [,"), "/flight/steps/0", "*", "not JSON"},
		{"comment", change(`"name"`, "// the name\n  \"name\""), "", "4:3", "not JSON"},
		{"trailing data", good + good, "", "*", "text after the end"},
		{"NaN", change(`"tolerance": 0.8`, `"tolerance": NaN`), "/tolerance", "7:16", "NaN is not a number"},
		{"infinity", change(`"tolerance": 0.8`, `"tolerance": -Infinity`), "/tolerance", "7:16", "-Infinity is not a number"},
		{"NaN as text", change(`"tolerance": 0.8`, `"tolerance": "NaN"`), "/tolerance", "7:16", "text in quotes where a number belongs"},
		{"field twice", change(`"name": "Plain",`, "\"name\": \"Plain\",\n  \"name\": \"Other\","), "/name", "5:3", `"name" is there twice`},
		{"nested too deep", change(`"Plain"`, deep), "*", "4:42", "nested more than 32"},
		{"nested deepest", strings.Repeat("[", 1<<20), "*", "1:33", "nested more than 32"},
		{"too many values", `{"risewright_job":[` + strings.Repeat("0,", 600_001) + `0]}`, "*", "*", "more than 600000 values"},
		{"number too long", change(`"tolerance": 0.8`, `"tolerance": 0.`+strings.Repeat("8", 99)), "/tolerance", "7:16", "101 characters"},
		{"number too large", change(`"tolerance": 0.8`, `"tolerance": 1e999`), "/tolerance", "7:16", "1e999 is out of range"},
		// JSON that is no job
		{"a list", "[1, 2]", "", "1:1", "not a job"},
		{"a number", "42", "", "1:1", "a number, not a job"},
		{"null", "null", "", "1:1", "null, not a job"},
		{"other JSON", `{"name": "x"}`, "", "1:1", `no field "risewright_job"`},
		{"newer", change(`"risewright_job": 2`, `"risewright_job": 3`), "/risewright_job", "2:21", "made by a newer Risewright (format 3); this one reads up to 2; your file is unchanged"},
		{"format 0", change(`"risewright_job": 2`, `"risewright_job": 0`), "/risewright_job", "2:21", "format 0 can not be read"},
		{"format as text", change(`"risewright_job": 2`, `"risewright_job": "1"`), "/risewright_job", "2:21", "a number belongs"},
		{"format in part", change(`"risewright_job": 2`, `"risewright_job": 1.5`), "/risewright_job", "2:21", "not a whole number"},
		// a job with the wrong fields
		{"unknown field", change(`"name": "Plain"`, `"colour": "red", "name": "Plain"`), "/colour", "4:3", `"colour" is not known`},
		{"misspelt field", change(`"landing_depth"`, `"landingDepth"`), "/overlay/landingDepth", "*", `is "landing_depth" meant?`},
		{"field in other case", change(`"name"`, `"Name"`), "/Name", "4:3", `is "name" meant?`},
		{"field missing", change("  \"tolerance\": 0.8,\n", ""), "", "1:1", `"tolerance" is missing`},
		{"deep field missing", change("          \"kind\": \"skirt\",\n", ""), "/flight/steps/0/left", "*", `"kind" is missing`},
		{"null in place of a list", change(`"corners": [`, `"corners": null, "edges_": [`), "/flight/steps/0/corners", "*", "null where a list"},
		{"list for a group", change(`"overlay": {`, `"overlay": [], "x": {`), "/overlay", "*", "a list [ ] where a group"},
		{"text for a truth", change(`"top": false`, `"top": "no"`), "/flight/doors/0/top", "*", "where true or false belongs"},
		{"whole number with point", change(`"revision": 0`, `"revision": 1.5`), "/revision", "*", "1.5 is not a whole number"},
		{"no id", change(id("job").String(), "seven"), "/id", "3:9", `"seven" is not an id`},
		{"id in braces", change(id("job").String(), "{"+id("job").String()+"}"), "/id", "3:9", "is not an id"},
		{"no time", change("2026-11-02T09:00:00Z", "2nd November"), "/flight/steps/0/readings/0/taken", "*", `"2nd November" is not a time`},
		// a well-formed job that can not be
		{"one riser", encoded(t, func() model.Job {
			j := plainJob(3)
			j.Flight.Steps = j.Flight.Steps[:1]
			j.Flight.Headroom = nil
			return j
		}()), "/flight/steps", "*", "the flight has 1 risers"},
		{"corners crossed", encoded(t, crossed), "/flight/steps/1", "*", "step 2: the opening crosses or touches itself"},
		{"unknown units", change(`"metric"`, `"cubits"`), "/units", "5:12", `the units are "cubits"`},
		{"unknown side", change(`"skirt"`, `"hedge"`), "/flight/steps/0", "*", `step 1: a side is "hedge"`},
		{"unknown kind", change(`"kind": "back_width"`, `"kind": "girth"`), "/flight/steps/0/readings/0", "*", `"girth" is not a kind of reading`},
		{"unknown instrument", change(`"instrument": "rods"`, `"instrument": "string"`), "/flight/steps/0/readings/0", "*", `instrument "string" is not in the job's table`},
		{"wrong instrument", change(`"instrument": "rods"`, `"instrument": "gauge"`), "/flight/steps/0/readings/0", "*", `"Gauge" does not measure this`},
		{"negative width", change(`"value": 914`, `"value": -914`), "/flight/steps/0/readings/0", "*", "step 1, back width: it is -914 mm"},
		{"same step twice", encoded(t, twin), "/flight/steps/1", "*", "steps 1 and 2 have the same id"},
		{"same reading twice", encoded(t, twinReading), "/flight/steps/2/readings/0", "*", "another has the same"},
		{"height of no step", change(`"step": "`+id("step 1").String(), `"step": "`+id("nobody").String()), "/flight/headroom/0", "*", "names a step the flight does not have"},
		{"much wrong", encoded(t, many), "/tolerance", "7:16", "; and 2 more"},
	}
}

type badFile struct {
	name, text  string
	path, place string // JSON pointer, and line:column; * is any
	words       string
}

func TestDecodeRefuses(t *testing.T) {
	files := badFiles(t)
	if len(files) < 20 {
		t.Fatalf("only %d kinds of bad file", len(files))
	}
	for _, f := range files {
		t.Run(f.name, func(t *testing.T) {
			j, err := model.Decode([]byte(f.text))
			var fault *model.FileError
			if !errors.As(err, &fault) {
				t.Fatalf("got %T %v, want a *FileError", err, err)
			}
			if !cmp.Equal(j, model.Job{}) {
				t.Error("a job came back with the error")
			}
			if f.path != "*" && fault.Path != f.path {
				t.Errorf("path %q, want %q", fault.Path, f.path)
			}
			place := fmt.Sprintf("%d:%d", fault.Line, fault.Column)
			switch {
			case f.place == "-" && (fault.Line != 0 || fault.Column != 0):
				t.Errorf("place %s, want none", place)
			case f.place == "*" && (fault.Line < 1 || fault.Column < 1):
				t.Errorf("no place: %s", place)
			case f.place != "*" && f.place != "-" && place != f.place:
				t.Errorf("place %s, want %s", place, f.place)
			}
			if !strings.Contains(err.Error(), f.words) {
				t.Errorf("message %q lacks %q", err, f.words)
			}
			if fault.Problem == "" || fault.Remedy == "" {
				t.Errorf("problem %q, remedy %q: both are needed", fault.Problem, fault.Remedy)
			}
			if strings.ContainsAny(err.Error(), "\n\t") || len(err.Error()) > 600 {
				t.Errorf("the message is not one short line: %q", err)
			}
			t.Log(err)
		})
	}
}

// TestDecodeEveryCut cuts a good file short, at every byte when
// RISEWRIGHT_FULL is set: each must be refused with a place, none may panic.
func TestDecodeEveryCut(t *testing.T) {
	text := strings.TrimRight(encoded(t, plainJob(2)), "\n")
	step := 23
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		step = 1
	}
	for n := 0; n < len(text); n += step {
		_, err := model.Decode([]byte(text[:n]))
		var fault *model.FileError
		if !errors.As(err, &fault) || fault.Line == 0 {
			t.Fatalf("cut after %d bytes: %v", n, err)
		}
	}
}

// FuzzDecode feeds any bytes. What is accepted must be writable and come back
// the same; what is refused must say what and what to do.
func FuzzDecode(f *testing.F) {
	good, err := model.Encode(plainJob(2))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	for _, s := range []string{"", "{}", `{"risewright_job":1}`, `{"risewright_job":2}`, `{"risewright_job":1,"flight":{"steps":[{"pack":2},7]}}`, `{"risewright_job":1,"flight":[]}`, "[[[[", "\ufeff{", "%PDF", `{"a":"\ud800"}`, `{"risewright_job":1,"flight":{"steps":[{"corners":[{"x":1e9,"y":-0}]}]}}`} {
		f.Add([]byte(s))
	}
	for _, change := range [][2]string{
		{"914", "1e308"}, {"metric", "imperial"}, {"front", "back"}, {"back_width", "left_depth"}, {"190", "-190"}, {"bare", "guessed"},
	} {
		f.Add(bytes.Replace(good, []byte(change[0]), []byte(change[1]), 1))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := model.Decode(data)
		if err != nil {
			var fault *model.FileError
			if !errors.As(err, &fault) || fault.Problem == "" || fault.Remedy == "" {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		text, err := model.Encode(j)
		if err != nil {
			t.Fatalf("a job that was read can not be written: %v", err)
		}
		back, err := model.Decode(text)
		if err != nil {
			t.Fatalf("a job that was written can not be read: %v", err)
		}
		if d := cmp.Diff(j, back, sameButForEmpty); d != "" {
			t.Fatalf("the job changed:\n%s", d)
		}
	})
}
