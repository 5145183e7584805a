package command_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"risewright/app/command"
)

func namesIn(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// TestTemplate writes templates in every format and looks at what is there.
func TestTemplate(t *testing.T) {
	for _, c := range []struct {
		name  string
		args  []string
		code  int
		files []string
		begin string // of the first file
		says  string
	}{
		{"on the job's paper", []string{"demo:well-behaved", "T07"}, command.Done,
			[]string{"T07-template-a4.pdf"}, "%PDF-", "Measure the check bars before you cut"},
		{"whole, in small letters", []string{"demo:well-behaved", "r03", "--paper", "whole"}, command.Done,
			[]string{"R03-template.pdf"}, "%PDF-", "R03-template.pdf"},
		{"for a machine", []string{"demo:well-behaved", "T07", "--format", "dxf"}, command.Done,
			[]string{"T07-template.dxf"}, "  0\nSECTION", ""},
		{"one picture", []string{"demo:well-behaved", "T07", "--format", "svg"}, command.Done,
			[]string{"T07-template.svg"}, "<?xml", ""},
		{"a picture for each sheet", []string{"demo:well-behaved", "R03", "--format", "svg", "--paper", "letter"}, command.Done,
			[]string{"R03-template-letter-A1.svg", "R03-template-letter-A2.svg", "R03-template-letter-A3.svg", "R03-template-letter-A4.svg", "R03-template-letter-A5.svg", "R03-template-letter-sheets.svg"}, "<?xml", ""},
		{"a skirt board", []string{"demo:well-behaved", "left-skirt-new-over-finished", "--nosing", "bullnose", "--format", "dxf"}, command.Done,
			[]string{"left-skirt-new-over-finished-template.dxf"}, "  0\nSECTION", ""},
		{"the list", []string{"demo:well-behaved"}, command.Done, []string{"templates-index.pdf"}, "%PDF-", "right-skirt-new-risers"},
		{"none needed", []string{"demo:well-behaved", "needed"}, command.Done, nil, "", "none needs a template"},
		{"held", []string{"demo:unfinished", "t04", "--paper", "letter"}, command.Blocked, []string{"T04-template-letter.pdf"}, "%PDF-", "T04 is NOT RELEASED and must not be cut: step 4"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			args := append(append([]string{"template"}, c.args...), "--to", dir)
			r := plain(args...)
			if r.code != c.code || r.err != "" {
				t.Fatalf("code %d, want %d; %s", r.code, c.code, r.err)
			}
			if !strings.Contains(r.out, c.says) {
				t.Errorf("it says\n%s\nwithout %q", r.out, c.says)
			}
			got := namesIn(t, dir)
			if !slices.Equal(got, c.files) {
				t.Fatalf("files %v, want %v", got, c.files)
			}
			if len(got) == 0 {
				return
			}
			first, err := os.ReadFile(filepath.Join(dir, got[0]))
			if err != nil || !bytes.HasPrefix(first, []byte(c.begin)) {
				t.Errorf("%s begins with %q: %v", got[0], first[:min(len(first), 9)], err)
			}
			// The same job gives the same bytes, so nothing is in the way.
			if again := plain(args...); again.code != c.code || again.err != "" {
				t.Errorf("a second time: %s", again.err)
			}
		})
	}
}

func TestTemplateHelp(t *testing.T) {
	r := plain("help", "template")
	for _, line := range strings.Split(r.out, "\n") {
		if utf8.RuneCountInString(line) > 100 {
			t.Errorf("too wide: %s", line)
		}
	}
	for _, want := range []string{"risewright template JOB [PIECE] --to DIR", "CUT", "bullnose", "--units", "Exit code 1"} {
		if !strings.Contains(r.out, want) {
			t.Errorf("help does not say %q", want)
		}
	}
	if !strings.Contains(plain("help").out, "\n  risewright template ") {
		t.Error("help does not name template")
	}
}

// TestTemplateRefuses holds refusals to saying what is wrong and what to do,
// with nothing written.
func TestTemplateRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		want []string
	}{
		{"no job", nil, []string{"template needs a job"}},
		{"no folder", []string{"demo:tapering", "T07"}, []string{"needs a folder", "--to DIR"}},
		{"no such piece", []string{"demo:tapering", "T70"}, []string{"no piece “T70”", "did you mean T"}},
		{"a slip in a name", []string{"demo:tapering", "left-skirt-new-riser"}, []string{"did you mean left-skirt-new-risers"}},
		{"two pieces", []string{"demo:tapering", "T07", "T08"}, []string{"“T08” is one too many"}},
		{"a DXF on sheets", []string{"demo:tapering", "T07", "--format", "dxf", "--paper", "a4"}, []string{"always whole", "leave out --paper"}},
		{"a format", []string{"demo:tapering", "T07", "--format", "png"}, []string{"pdf, svg or dxf"}},
		{"a nosing", []string{"demo:tapering", "T07", "--nosing", "traced"}, []string{"square, eased"}},
		{"a kept skirt", []string{"demo:tapering", "left-skirt-kept"}, []string{"no piece"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			args := append([]string{"template"}, c.args...)
			if c.name != "no folder" {
				args = append(args, "--to", dir)
			}
			r := plain(args...)
			for _, want := range c.want {
				if !strings.Contains(r.err, want) {
					t.Errorf("it says %q, without %q", r.err, want)
				}
			}
			if _, err := os.Stat(dir); r.code != command.Bad || !os.IsNotExist(err) {
				t.Errorf("code %d; the folder: %v", r.code, err)
			}
		})
	}
}

// TestTemplateKeepsFiles: what is there already stays unless --replace.
func TestTemplateKeepsFiles(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "T07-template-a4.pdf")
	if err := os.WriteFile(path, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if r := plain("template", "demo:well-behaved", "T07", "--to", dir); r.code != command.Bad || !strings.Contains(r.err, "--replace") {
		t.Errorf("code %d: %s", r.code, r.err)
	}
	if data, err := os.ReadFile(path); err != nil || string(data) != "mine" {
		t.Errorf("the file holds %q: %v", data, err)
	}
	if r := plain("template", "demo:well-behaved", "T07", "--to", dir, "--replace"); r.code != command.Done {
		t.Errorf("code %d: %s", r.code, r.err)
	}
}
