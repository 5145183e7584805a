package main_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"strconv"
	"strings"
	"testing"
)

// sourceTree is every Go file of the program, parsed but not type-checked: the
// rules need only syntax, and parsing the whole tree takes milliseconds.
type sourceTree struct{ all []*sourceFile }

type sourceFile struct {
	path    string // from the top folder, with slashes
	folder  string
	test    bool
	imports map[string]string // import path to position
	syntax  *ast.File
	set     *token.FileSet
}

// parseTree reads every Go file of root, dot-folders and testdata left out.
func parseTree(t *testing.T, root fs.FS) *sourceTree {
	t.Helper()
	tree := &sourceTree{}
	set := token.NewFileSet()
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
				return fs.SkipDir
			}
			return nil
		}
		if path.Ext(name) != ".go" {
			return nil
		}
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		syntax, err := parser.ParseFile(set, name, text, parser.ParseComments)
		if err != nil {
			return err
		}
		f := &sourceFile{
			path: name, folder: path.Dir(name), test: strings.HasSuffix(name, "_test.go"),
			imports: map[string]string{}, syntax: syntax, set: set,
		}
		for _, i := range syntax.Imports {
			p, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			f.imports[p] = f.at(i.Pos())
		}
		tree.all = append(tree.all, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return tree
}

// files returns the files of one folder.
func (t *sourceTree) files(folder string) []*sourceFile { return t.byFolder()[folder] }

func (t *sourceTree) byFolder() map[string][]*sourceFile {
	out := map[string][]*sourceFile{}
	for _, f := range t.all {
		out[f.folder] = append(out[f.folder], f)
	}
	return out
}

// at prints a position as file:line.
func (f *sourceFile) at(pos token.Pos) string {
	p := f.set.Position(pos)
	return p.Filename + ":" + strconv.Itoa(p.Line)
}

// inRoom says whether f lies in the folder room or below it.
func (f *sourceFile) inRoom(room string) bool {
	return f.folder == room || strings.HasPrefix(f.folder, room+"/")
}

// localName returns the name that f uses for the import path, or "".
func (f *sourceFile) localName(importPath string) string {
	for _, i := range f.syntax.Imports {
		if p, _ := strconv.Unquote(i.Path.Value); p != importPath {
			continue
		}
		if i.Name != nil {
			return i.Name.Name
		}
		base := path.Base(importPath)
		if strings.HasPrefix(base, "v") && strings.Trim(base[1:], "0123456789") == "" {
			base = path.Base(path.Dir(importPath))
		}
		return base
	}
	return ""
}

// selectors calls found for every name of the package importPath that f uses.
// A dot import hides which names are used, so it is itself reported as ".".
func (f *sourceFile) selectors(importPath string, found func(name, pos string)) {
	local := f.localName(importPath)
	switch local {
	case "", "_":
		return
	case ".":
		found(".", f.imports[importPath])
		return
	}
	ast.Inspect(f.syntax, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			// A resolved identifier is a variable that hides the package.
			if id, ok := s.X.(*ast.Ident); ok && id.Name == local && id.Obj == nil {
				found(s.Sel.Name, f.at(s.Pos()))
			}
		}
		return true
	})
}

// seededByClock calls found where a constructor of the random package is
// given the time.
func (f *sourceFile) seededByClock(importPath string, found func(pos string)) {
	random, clock := f.localName(importPath), f.localName("time")
	if random == "" || clock == "" {
		return
	}
	ast.Inspect(f.syntax, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		fun, ok := call.Fun.(*ast.SelectorExpr)
		if !ok || !isIdent(fun.X, random) {
			return true
		}
		for _, arg := range call.Args {
			ast.Inspect(arg, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok && isIdent(s.X, clock) && s.Sel.Name == "Now" {
					found(f.at(s.Pos()))
				}
				return true
			})
		}
		return false
	})
}

func isIdent(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name
}

// packageVars adds the names of f's package variables to into.
func (f *sourceFile) packageVars(into map[string]bool) {
	for _, d := range f.syntax.Decls {
		if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.VAR {
			for _, s := range g.Specs {
				for _, n := range s.(*ast.ValueSpec).Names {
					if n.Name != "_" {
						into[n.Name] = true
					}
				}
			}
		}
	}
}

// assignments calls found for every assignment, in a function, to a package
// variable of vars, or to an element or field of one.
func (f *sourceFile) assignments(vars map[string]bool, found func(name, pos string)) {
	check := func(e ast.Expr) {
		for {
			switch x := e.(type) {
			case *ast.IndexExpr:
				e = x.X
			case *ast.SelectorExpr:
				e = x.X
			case *ast.StarExpr:
				e = x.X
			case *ast.ParenExpr:
				e = x.X
			case *ast.Ident:
				if vars[x.Name] && f.isPackageLevel(x) {
					found(x.Name, f.at(x.Pos()))
				}
				return
			default:
				return
			}
		}
	}
	ast.Inspect(f.syntax, func(n ast.Node) bool {
		switch s := n.(type) {
		case *ast.AssignStmt:
			if s.Tok != token.DEFINE {
				for _, left := range s.Lhs {
					check(left)
				}
			}
		case *ast.IncDecStmt:
			check(s.X)
		}
		return true
	})
}

// isPackageLevel says whether id means a package-level name: the parser leaves
// a name of another file unresolved, and resolves one of this file to its
// declaration.
func (f *sourceFile) isPackageLevel(id *ast.Ident) bool {
	return id.Obj == nil || f.syntax.Scope.Lookup(id.Name) == id.Obj
}
