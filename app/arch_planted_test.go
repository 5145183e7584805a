package main_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// Each row plants one fault in an otherwise sound tree, so that every rule is
// seen to fail. A row without want must pass.
func TestPlantedFaultsAreFound(t *testing.T) {
	rows := []struct {
		name string
		path string // of the planted file
		text string
		rule string
		want string // in the report; empty: no fault
	}{
		{"nothing planted", "model/more.go", "package model", "", ""},

		{"model knows a solver", "model/x.go", `package model; import _ "risewright/solver/survey"`, "import arrows", "model imports solver/survey"},
		{"model knows mathgl", "model/x.go", `package model; import _ "github.com/go-gl/mathgl/mgl64"`, "import arrows", "no home"},
		{"stage looks forward", "solver/survey/x.go", `package survey; import _ "risewright/solver/saw"`, "import arrows", "survey imports solver/saw"},
		{"stage looks back", "solver/saw/x.go", `package saw; import _ "risewright/solver/survey"`, "", ""},
		{"solver knows the window", "solver/survey/x.go", `package survey; import _ "fyne.io/fyne/v2"`, "import arrows", "no home"},
		{"solver knows a view", "solver/survey/x.go", `package survey; import _ "risewright/view/drawing"`, "import arrows", "survey imports view/drawing"},
		{"solver reads assets", "solver/survey/x.go", `package survey; import _ "risewright/assets"`, "import arrows", "survey imports assets"},
		{"drawing knows an output", "view/drawing/x.go", `package drawing; import _ "risewright/view/pdf"`, "import arrows", "drawing imports view/pdf"},
		{"output knows drawing", "view/pdf/x.go", `package pdf; import _ "risewright/view/drawing"`, "", ""},
		{"view knows the app", "view/pdf/x.go", `package pdf; import _ "risewright/app"`, "import arrows", "pdf imports app"},
		{"assets know the model", "assets/x.go", `package assets; import _ "risewright/model"`, "import arrows", "assets imports model"},
		{"library without a home", "view/pdf/x.go", `package pdf; import _ "example.org/pdf"`, "import arrows", "no home"},
		{"name that only begins alike", "view/pdf/x.go", `package pdf; import _ "fyne.io/fyne/v22"`, "import arrows", "no home"},
		{"test helper in a test", "model/x_test.go", `package model; import _ "pgregory.net/rapid"`, "", ""},
		{"test helper outside a test", "model/x.go", `package model; import _ "pgregory.net/rapid"`, "import arrows", "no home"},
		{"room in no arrow", "helper/x.go", "// Package helper is not known.\npackage helper", "import arrows", "in no line"},
		{"app imports all", "app/x.go", `package main; import _ "risewright/view/pdf"; import _ "fyne.io/fyne/v2"`, "", ""},

		{"solver opens a file", "solver/survey/x.go", `package survey; import "os"; var _ = os.WriteFile`, "files and network", "imports os"},
		{"view starts a program", "view/pdf/x.go", `package pdf; import _ "os/exec"`, "files and network", "os/exec"},
		{"app opens a file", "app/x.go", `package main; import "os"; var _ = os.WriteFile`, "", ""},
		{"test opens a file", "model/x_test.go", `package model; import "os"; var _ = os.ReadFile`, "", ""},

		{"app fetches", "app/x.go", `package main; import "net/http"; var _ = http.Get`, "no network", "net/http"},
		{"app dials", "app/x.go", `package main; import "net"; var _ = net.Dial`, "no network", "imports net"},
		{"window links out", "view/pdf/x.go", `package pdf; import "fyne.io/fyne/v2/widget"; var _ = widget.NewHyperlink`, "no network", "leads out"},
		{"test listens", "app/x_test.go", `package main; import "net"; var _ = net.Listen`, "", ""},

		{"view reads the clock", "view/pdf/x.go", `package pdf; import "time"; var _ = time.Now`, "clock", "time.Now"},
		{"under another name", "model/x.go", `package model; import clock "time"; var _ = clock.Since`, "clock", "time.Since"},
		{"time as a value", "model/x.go", `package model; import "time"; var _ time.Time`, "", ""},
		{"app reads the clock", "app/x.go", `package main; import "time"; var _ = time.Now`, "", ""},

		{"unseeded", "model/x_test.go", `package model; import "math/rand"; var _ = rand.Intn(3)`, "random source", "rand.Intn"},
		{"unseeded v2", "solver/survey/x.go", `package survey; import "math/rand/v2"; var _ = rand.IntN(3)`, "random source", "rand.IntN"},
		{"dot import", "model/x_test.go", `package model; import . "math/rand"; var _ = Intn(3)`, "random source", "rand.."},
		{"seeded", "model/x_test.go", `package model; import "math/rand/v2"; var _ = rand.New(rand.NewPCG(1, 2))`, "", ""},
		{"seeded by the clock", "app/x_test.go", `package main; import ("math/rand"; "time"); var _ = rand.New(rand.NewSource(time.Now().UnixNano()))`, "random source", "seeded by the clock"},
		{"random ids in a solver", "solver/survey/x.go", `package survey; import "risewright/model"; var _ = model.NewID()`, "random source", "NamedID"},
		{"random ids in the model", "model/x.go", `package model; import "github.com/google/uuid"; var _ = uuid.NewString()`, "random source", "uuid.NewString"},
		{"named ids", "model/x.go", `package model; import "github.com/google/uuid"; var _ = uuid.NewSHA1`, "", ""},

		{"global set", "model/x.go", `package model; var count int; func f() { count++ }`, "package variable", "count"},
		{"global element set", "model/x.go", `package model; var table = map[string]int{}; func f() { table["a"] = 1 }`, "package variable", "table"},
		{"global of another file", "model/x.go", `package model; func f() { shared = 2 }`, "package variable", "shared"},
		{"local of the same name", "model/x.go", `package model; func f() { shared := 1; shared = 2; _ = shared }`, "", ""},

		{"no package comment", "solver/buildup/x.go", `package buildup`, "says what it is", "0 package comments"},
		{"two package comments", "model/x.go", "// Package model again.\npackage model", "says what it is", "2 package comments"},
		{"comment of another name", "solver/buildup/x.go", "// Everything about heights.\npackage buildup", "says what it is", "does not begin"},

		{"bare function", "model/x.go", `package model; func Bare() {}`, "exported name", "Bare"},
		{"bare method", "model/x.go", "package model\n// T is.\ntype T int\nfunc (t *T) Bare() {}", "exported name", "Bare"},
		{"bare type", "model/x.go", `package model; type Bare int`, "exported name", "Bare"},
		{"bare constant", "model/x.go", `package model; const Bare = 1`, "exported name", "Bare"},
		{"method of a private type", "model/x.go", `package model; type t int; func (t) Fine() {}`, "", ""},
		{"constant with a trailing comment", "model/x.go", "package model\nconst Fine = 1 // fine", "", ""},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			files := soundTree()
			files[r.path] = &fstest.MapFile{Data: []byte(r.text)}
			var reports []string
			for _, rule := range rules {
				for _, v := range rule.check(parseTree(t, files)) {
					reports = append(reports, rule.name+": "+v)
				}
			}
			switch {
			case r.want == "" && len(reports) > 0:
				t.Errorf("sound, but reported: %v", reports)
			case r.want != "" && len(reports) != 1:
				t.Errorf("want one report, got %q", reports)
			case r.want != "" && (!strings.Contains(reports[0], r.rule) || !strings.Contains(reports[0], r.want)):
				t.Errorf("report %q does not name rule %q and %q", reports[0], r.rule, r.want)
			}
		})
	}
}

// soundTree is a small program that breaks no rule.
func soundTree() fstest.MapFS {
	files := fstest.MapFS{}
	for folder, name := range map[string]string{
		"model": "model", "assets": "assets", "solver": "solver", "solver/survey": "survey",
		"solver/saw": "saw", "view/drawing": "drawing", "view/pdf": "pdf", "app": "main",
	} {
		files[folder+"/doc.go"] = &fstest.MapFile{Data: fmt.Appendf(nil, "// Package %s is planted.\npackage %s\n", name, name)}
	}
	files["model/shared.go"] = &fstest.MapFile{Data: []byte("package model\n\nvar shared = 1\n")}
	return files
}

func TestTopLevelFaultsAreFound(t *testing.T) {
	sound := func() fstest.MapFS {
		files := fstest.MapFS{".gitignore": {Data: []byte("# output\n/demo-output/\n*.out\n")}, ".ci/run": {}}
		for _, name := range topLevel {
			if strings.Contains(name, ".") {
				files[name] = &fstest.MapFile{}
			} else {
				files[name+"/keep"] = &fstest.MapFile{}
			}
		}
		return files
	}
	rows := []struct {
		name  string
		spoil func(fstest.MapFS)
		want  string
	}{
		{"sound", func(fstest.MapFS) {}, ""},
		{"stray file", func(f fstest.MapFS) { f["util.go"] = &fstest.MapFile{} }, "util.go does not belong"},
		{"stray folder", func(f fstest.MapFS) { f["scripts/x"] = &fstest.MapFile{} }, "scripts does not belong"},
		{"missing", func(f fstest.MapFS) { delete(f, "README.md") }, "README.md is missing"},
		{"ignored output", func(f fstest.MapFS) { f["demo-output/a.pdf"] = &fstest.MapFile{} }, ""},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			files := sound()
			r.spoil(files)
			got := strings.Join(checkTopLevel(files), "; ")
			if (r.want == "") != (got == "") || !strings.Contains(got, r.want) {
				t.Errorf("got %q, want %q", got, r.want)
			}
		})
	}
}
