package main_test

import (
	"fmt"
	"go/ast"
	"go/token"
	"slices"
	"strings"
)

// module is the import path of the whole program.
const module = "risewright/"

// rules are the ones worth failing a build for.
var rules = []struct {
	name  string
	why   string
	check func(*sourceTree) []string
}{
	{"import arrows", "a stage that looks forward, or a noun that knows the window, can not be changed alone", checkArrows},
	{"files and network only in app", "a solve must give the same answer anywhere, and only the session may touch a job on disk", checkFiles},
	{"no network", "a job is nobody's business but the user's, and a machine on a site has no network", checkNetwork},
	{"clock only in app", "identical jobs must give identical bytes, so time is handed in", checkClock},
	{"every random source is seeded", "a failure that can not be run again can not be mended", checkRandom},
	{"no package variable changes after start-up", "two windows, or two tests, must not meet in one", checkGlobals},
	{"every package says what it is", "a newcomer reads the package comment first", checkPackageComments},
	{"every exported name has a comment", "units, axes and the zero value are not in a signature", checkExported},
}

// allowed maps each room to the rooms that it may import, from the chains of
// arrows, transitively.
func allowed(arrows string) map[string]map[string]bool {
	below := map[string]map[string]bool{}
	for line := range strings.Lines(arrows) {
		chain := strings.Split(line, "<")
		for i := range chain {
			room := strings.TrimSpace(chain[i])
			if room == "" {
				continue
			}
			if below[room] == nil {
				below[room] = map[string]bool{}
			}
			if i > 0 {
				below[room][strings.TrimSpace(chain[i-1])] = true
			}
		}
	}
	for changed := true; changed; {
		changed = false
		for room, seen := range below {
			for lower := range seen {
				for lowest := range below[lower] {
					if !below[room][lowest] {
						below[room][lowest] = true
						changed = true
					}
				}
			}
		}
	}
	return below
}

// roomOf returns the room in the arrows that a package folder belongs to: its
// own name, or the nearest "folder/*". A package that is in none, such as a
// new solver stage, has to be put into the arrows.
func roomOf(folder string, below map[string]map[string]bool) (string, bool) {
	if _, ok := below[folder]; ok {
		return folder, true
	}
	for at := folder; ; {
		i := strings.LastIndexByte(at, '/')
		if i < 0 {
			return "", false
		}
		at = at[:i]
		if _, ok := below[at+"/*"]; ok {
			return at + "/*", true
		}
	}
}

func checkArrows(t *sourceTree) []string {
	var out []string
	below := allowed(arrows)
	for _, f := range t.all {
		room, ok := roomOf(f.folder, below)
		if !ok {
			out = append(out, fmt.Sprintf("%s: package %s is in no line of the arrows", f.path, f.folder))
			continue
		}
		for path, pos := range f.imports {
			if own, inside := strings.CutPrefix(path, module); inside {
				lower, known := roomOf(own, below)
				switch {
				case f.test: // a test may look anywhere in the program
				case !known, lower != room && !below[room][lower], lower == room && !strings.HasSuffix(room, "/*"):
					out = append(out, fmt.Sprintf("%s: %s imports %s against the arrows", pos, f.folder, own))
				}
				continue
			}
			if first, _, _ := strings.Cut(path, "/"); !strings.Contains(first, ".") || f.inRoom("app") {
				continue // the standard library; and app imports all
			}
			if f.test && slices.ContainsFunc(testLibraries, func(l string) bool { return within(path, l) }) {
				continue
			}
			if !atHome(path, f) {
				out = append(out, fmt.Sprintf("%s: %s imports %s, which has no home there", pos, f.folder, path))
			}
		}
	}
	return out
}

// within says whether path is the library or a package of it.
func within(path, library string) bool {
	return path == library || strings.HasPrefix(path, library+"/")
}

func atHome(path string, f *sourceFile) bool {
	for _, h := range homes {
		if within(path, h.library) {
			return slices.ContainsFunc(h.rooms, f.inRoom)
		}
	}
	return false
}

// filePackages reach files, processes or the network.
var filePackages = []string{"os", "io/ioutil", "net", "syscall", "plugin"}

func checkFiles(t *sourceTree) []string {
	var out []string
	for _, f := range t.all {
		if f.test || f.inRoom("app") {
			continue
		}
		for path, pos := range f.imports {
			if slices.ContainsFunc(filePackages, func(p string) bool { return within(path, p) }) {
				out = append(out, fmt.Sprintf("%s: %s imports %s", pos, f.folder, path))
			}
		}
	}
	return out
}

// leadsOut are functions of the window's library that open a browser or follow
// an address.
var leadsOut = map[string][]string{
	"fyne.io/fyne/v2/widget":  {"NewHyperlink", "NewHyperlinkWithStyle", "HyperlinkSegment", "Hyperlink"},
	"fyne.io/fyne/v2/storage": {"ParseURI", "NewURI"},
}

// checkNetwork refuses packages that reach the network, in app too; that the
// whole program stays off it, libraries and all, is shown by running it.
func checkNetwork(t *sourceTree) []string {
	var out []string
	for _, f := range t.all {
		if f.test {
			continue
		}
		for path, pos := range f.imports {
			if within(path, "net") && path != "net/url" || within(path, "golang.org/x/net") {
				out = append(out, fmt.Sprintf("%s: %s imports %s", pos, f.folder, path))
			}
		}
		for path, names := range leadsOut {
			f.selectors(path, func(name, pos string) {
				if slices.Contains(names, name) {
					out = append(out, fmt.Sprintf("%s: %s leads out of the program", pos, name))
				}
			})
		}
	}
	return out
}

// clockNames are the functions of package time that read or wait on the clock.
var clockNames = []string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer"}

func checkClock(t *sourceTree) []string {
	var out []string
	for _, f := range t.all {
		if f.test || f.inRoom("app") {
			continue
		}
		f.selectors("time", func(name string, pos string) {
			if slices.Contains(clockNames, name) {
				out = append(out, fmt.Sprintf("%s: time.%s outside app", pos, name))
			}
		})
	}
	return out
}

// seededNames are the names of math/rand and math/rand/v2 that do not draw
// from the source that nobody seeded.
var seededNames = []string{"New", "NewSource", "NewPCG", "NewChaCha8", "NewZipf", "Rand", "Source", "Source64", "PCG", "ChaCha8", "Zipf"}

// namedIDs are the functions of package uuid that give the same id each time.
var namedIDs = []string{"UUID", "NewSHA1", "NewMD5", "NewHash", "Nil", "Parse", "MustParse", "FromBytes", "ParseBytes", "Validate"}

func checkRandom(t *sourceTree) []string {
	var out []string
	for _, f := range t.all {
		for _, path := range []string{"math/rand", "math/rand/v2"} {
			f.selectors(path, func(name, pos string) {
				if !slices.Contains(seededNames, name) {
					out = append(out, fmt.Sprintf("%s: rand.%s draws from a source without a seed", pos, name))
				}
			})
			f.seededByClock(path, func(pos string) {
				out = append(out, pos+": a random source is seeded by the clock")
			})
		}
		if pos, ok := f.imports["crypto/rand"]; ok && !f.inRoom("app") {
			out = append(out, pos+": crypto/rand can not be seeded")
		}
		if f.test || f.inRoom("app") {
			continue
		}
		if f.path != "model/id.go" {
			f.selectors("github.com/google/uuid", func(name, pos string) {
				if strings.HasPrefix(name, "New") && !slices.Contains(namedIDs, name) {
					out = append(out, fmt.Sprintf("%s: uuid.%s is random; ids are made by model.NewID", pos, name))
				}
			})
		}
		if f.inRoom("solver") {
			f.selectors(module+"model", func(name, pos string) {
				if name == "NewID" {
					out = append(out, pos+": a solver may not make random ids; use model.NamedID")
				}
			})
		}
	}
	return out
}

func checkGlobals(t *sourceTree) []string {
	var out []string
	for folder, files := range t.byFolder() {
		vars := map[string]bool{}
		for _, f := range files {
			if !f.test {
				f.packageVars(vars)
			}
		}
		for _, f := range files {
			if f.test {
				continue
			}
			f.assignments(vars, func(name, pos string) {
				out = append(out, fmt.Sprintf("%s: %s sets the package variable %s", pos, folder, name))
			})
		}
	}
	return out
}

func checkPackageComments(t *sourceTree) []string {
	var out []string
	for folder, files := range t.byFolder() {
		var docs []string
		source := false
		for _, f := range files {
			if f.test {
				continue
			}
			source = true
			if text := f.syntax.Doc.Text(); text != "" {
				docs = append(docs, f.path)
				name := f.syntax.Name.Name
				if !strings.HasPrefix(text, "Package "+name+" ") && name != "main" {
					out = append(out, fmt.Sprintf("%s: the package comment does not begin with %q", f.path, "Package "+name))
				}
			}
		}
		if source && len(docs) != 1 {
			out = append(out, fmt.Sprintf("%s: %d package comments %v, want one", folder, len(docs), docs))
		}
	}
	return out
}

func checkExported(t *sourceTree) []string {
	var out []string
	for _, f := range t.all {
		if f.test {
			continue
		}
		bare := func(name string, pos token.Pos) {
			out = append(out, fmt.Sprintf("%s: %s has no comment", f.at(pos), name))
		}
		for _, d := range f.syntax.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Name.IsExported() && (d.Recv == nil || ast.IsExported(receiver(d))) && d.Doc.Text() == "" {
					bare(d.Name.Name, d.Pos())
				}
			case *ast.GenDecl:
				for _, spec := range d.Specs {
					switch s := spec.(type) {
					case *ast.TypeSpec:
						if s.Name.IsExported() && s.Doc.Text() == "" && d.Doc.Text() == "" {
							bare(s.Name.Name, s.Pos())
						}
					case *ast.ValueSpec:
						for _, n := range s.Names {
							if n.IsExported() && s.Doc.Text() == "" && s.Comment.Text() == "" && d.Doc.Text() == "" {
								bare(n.Name, n.Pos())
							}
						}
					}
				}
			}
		}
	}
	return out
}

// receiver returns the name of the type that a method belongs to.
func receiver(d *ast.FuncDecl) string {
	name := ""
	ast.Inspect(d.Recv.List[0].Type, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && name == "" {
			name = id.Name
		}
		return name == ""
	})
	return name
}
