package main_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/token"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write assets/words/english.txt anew")

const saidFile = "../assets/words/english.txt"

// silent are the rooms that put no words on the window or on paper: what a
// terminal prints is English, and file formats have no language.
var silent = []string{
	"app/command", "app/report", "app/demo", "app/version", "app/locale", "app/tables",
	"view/drawing/pdf", "view/drawing/svg", "view/drawing/dxf", "view/drawing/internal/specimen", "view/words",
}

// shownKeys are the keys of our tables whose values are shown.
var shownKeys = []string{"title", "name", "note", "place", "edition", "measure", "quantity", "for"}

// TestAllWordsInOnePlace keeps the one list of all that is said complete, so
// that whoever translates sees it all.
func TestAllWordsInOnePlace(t *testing.T) {
	found := map[string]bool{}
	for _, f := range parseTree(t, os.DirFS("..")).all {
		if !f.test && !slices.Contains(silent, f.folder) {
			saidIn(f.syntax, found)
		}
	}
	if len(found) < 500 {
		t.Fatalf("only %d texts found: the check looked in the wrong place", len(found))
	}
	saidInTables(t, found)
	keys := make([]string, 0, len(found))
	for k := range found {
		keys = append(keys, strconv.Quote(k))
	}
	slices.Sort(keys)
	got := strings.Join(keys, "\n") + "\n"
	if *update {
		if err := os.WriteFile(saidFile, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(saidFile)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the list of words is not what the program says; run: go test ./app -run AllWords -update (with -tags ci,no_emoji)\n%s",
			cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")))
	}
}

var (
	verb  = regexp.MustCompile(`%[-+#0]*(\d+|\*)?(\.(\d+|\*))?(\[\d+\])?[a-zA-Z]`)
	holes = regexp.MustCompile(`(\{\} ?)+\{\}`)
)

// keyOf makes a key of a text with verbs, or "" of one that nobody reads.
func keyOf(s string) string {
	s = strings.ReplaceAll(verb.ReplaceAllString(s, "{}"), "%%", "%")
	s = strings.TrimSpace(holes.ReplaceAllString(s, "{}"))
	letters, words := 0, 0
	for _, w := range strings.Fields(s) {
		n := 0
		for _, r := range w {
			if 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' {
				n++
			}
		}
		if letters += n; n > 0 {
			words++
		}
	}
	switch {
	case letters < 2, strings.ContainsAny(s, "_\\\x00<") && words < 3:
		return ""
	case words == 1 && strings.ContainsAny(strings.Trim(s, "{}.,;:()!?"), ".{}/=:&"):
		return "" // names of fields and files
	}
	return s
}

// saidIn collects the texts of one file. Texts put together with + are one
// text with holes.
func saidIn(file *ast.File, found map[string]bool) {
	add := func(s string) {
		if k := keyOf(s); k != "" {
			found[k] = true
		}
	}
	var chain func(e ast.Expr) string
	chain = func(e ast.Expr) string {
		switch x := e.(type) {
		case *ast.BinaryExpr:
			if x.Op == token.ADD {
				return chain(x.X) + chain(x.Y)
			}
		case *ast.BasicLit:
			if x.Kind == token.STRING {
				s, _ := strconv.Unquote(x.Value)
				return s
			}
		case *ast.ParenExpr:
			return chain(x.X)
		}
		return "%s"
	}
	text := func(e ast.Expr) bool { // has a string literal in its chain
		has := false
		ast.Inspect(e, func(n ast.Node) bool {
			if _, call := n.(*ast.CallExpr); call {
				return false
			}
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				has = true
			}
			return true
		})
		return has
	}
	var visit func(n ast.Node) bool
	visit = func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Field:
			if x.Type != nil {
				ast.Inspect(x.Type, visit)
			}
			return false // the tag is for the file
		case *ast.BinaryExpr:
			if x.Op == token.ADD && text(x) {
				add(chain(x))
				ast.Inspect(x, func(m ast.Node) bool { // what is called within
					if c, ok := m.(*ast.CallExpr); ok {
						ast.Inspect(c, visit)
						return false
					}
					return true
				})
				return false
			}
		case *ast.BasicLit:
			if x.Kind == token.STRING {
				s, _ := strconv.Unquote(x.Value)
				add(s)
			}
		}
		return true
	}
	ast.Inspect(file, visit)
}

// saidInTables collects what the tables that ship with the program show.
func saidInTables(t *testing.T, found map[string]bool) {
	t.Helper()
	tables := os.DirFS("../assets")
	var files []string
	for _, pattern := range []string{"*.json", "rules/*.json"} {
		names, err := fs.Glob(tables, pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, names...)
	}
	if len(files) < 5 {
		t.Fatalf("only %d tables found: the check looked in the wrong place", len(files))
	}
	for _, name := range files {
		data, err := fs.ReadFile(tables, name)
		if err != nil {
			t.Fatal(err)
		}
		var v any
		if err := json.Unmarshal(data, &v); err != nil {
			t.Fatal(fmt.Errorf("%s: %w", path.Base(name), err))
		}
		var walk func(key string, v any)
		walk = func(key string, v any) {
			switch x := v.(type) {
			case map[string]any:
				for k, e := range x {
					walk(k, e)
				}
			case []any:
				for _, e := range x {
					walk(key, e)
				}
			case string:
				if slices.Contains(shownKeys, key) && keyOf(x) != "" {
					found[strings.TrimSpace(x)] = true
				}
			}
		}
		walk("", v)
	}
}
