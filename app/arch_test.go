package main_test

import (
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
)

// arrows are the rooms of the program: a < b means b may import a, and all
// that a may. Each line is one chain; "view/*" is any package below view.
//
// They hold because model is the vocabulary and knows nobody, a solver package
// only looks at stages before it (stock cuts up pieces and needs no saw), and
// drawing is the waist that every output passes through, so it can not know
// the outputs.
const arrows = `
	model < solver/survey < solver/buildup < solver/rules < solver/pieces < solver/saw < solver < view/* < app/* < app
	solver/pieces < solver/stock < solver/estimate < solver
	solver/pieces < solver/skirt < solver/fitting < solver
	solver/pieces < solver/bars < solver/power < solver
	model < solver/wood < solver/stock
	solver/pieces < solver/lux < solver
	solver/pieces < solver/sensing < solver/walk < solver
	model < view/drawing < view/* < app/* < app
	assets < view/drawing
	view/words < view/drawing
	assets < app/*
	view/* < view < app/* < app
`

// homes are the rooms where each outside library may be imported outside
// tests. A library in no row is refused, so that taking one on is a decision
// made here.
var homes = []struct {
	library string
	rooms   []string
	why     string
}{
	{"github.com/google/uuid", []string{"model"}, "ids are made and named in one place"},
	{"github.com/go-gl/mathgl", []string{"solver", "view"}, "vectors and the camera"},
	{"gonum.org/v1/gonum", []string{"solver"}, "linear algebra of the estimate"},
	{"fyne.io/fyne/v2", []string{"view"}, "the window; fyne.Do is the only road back to its goroutine"},
	{"codeberg.org/go-pdf/fpdf", []string{"view"}, "the PDF writer"},
	{"golang.org/x/image", []string{"view"}, "font outlines and widths"},
	{"golang.org/x/text", []string{"view"}, "text shaping for drawings"},
	{"github.com/go-text/typesetting", []string{"view"}, "text shaping for drawings"},
}

// testLibraries may be imported by any test.
var testLibraries = []string{
	"github.com/google/go-cmp", "pgregory.net/rapid", "github.com/santhosh-tekuri/jsonschema/v6",
	"gonum.org/v1/gonum", "github.com/go-gl/mathgl", "github.com/google/uuid",
	"golang.org/x/image", "fyne.io/fyne/v2", "codeberg.org/go-pdf/fpdf", "go.uber.org/goleak",
}

// topLevel is everything that lies at the top, beside dot-files.
var topLevel = []string{
	"DEVELOPERS.md", "FyneApp.toml", "README.md", "app", "assets", "go.mod", "go.sum",
	"model", "solver", "testdata", "view",
}

func TestArchitecture(t *testing.T) {
	tree := parseTree(t, os.DirFS(".."))
	// A walk that found next to nothing would pass every rule.
	for _, room := range []string{"model", "assets", "solver/survey", "view/drawing"} {
		if len(tree.files(room)) == 0 {
			t.Errorf("no Go file found in %s: the check looked in the wrong place", room)
		}
	}
	for _, r := range rules {
		t.Run(r.name, func(t *testing.T) {
			for _, v := range r.check(tree) {
				t.Errorf("%s\n\twhy it matters: %s", v, r.why)
			}
		})
	}
}

func TestTopLevel(t *testing.T) {
	for _, v := range checkTopLevel(os.DirFS("..")) {
		t.Error(v)
	}
}

// checkTopLevel compares the top folder with topLevel. Names that .gitignore
// lists by themselves, such as the demo's output folder, are not in the repo.
func checkTopLevel(root fs.FS) []string {
	entries, err := fs.ReadDir(root, ".")
	if err != nil {
		return []string{err.Error()}
	}
	var ignored []string
	if text, err := fs.ReadFile(root, ".gitignore"); err == nil {
		for line := range strings.Lines(string(text)) {
			if name, ok := strings.CutPrefix(strings.TrimSpace(line), "/"); ok {
				ignored = append(ignored, strings.TrimSuffix(name, "/"))
			}
		}
	}
	var found, out []string
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") || slices.Contains(ignored, e.Name()) {
			continue
		}
		found = append(found, e.Name())
		if !slices.Contains(topLevel, e.Name()) {
			out = append(out, e.Name()+" does not belong at the top level")
		}
	}
	for _, name := range topLevel {
		if !slices.Contains(found, name) {
			out = append(out, name+" is missing from the top level")
		}
	}
	return out
}
