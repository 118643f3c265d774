package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Limits of shape: a file holds one idea, a function fits on a screen.
const (
	mostFile     = 500 // lines of any Go file
	mostFunction = 80  // lines of any function outside tests
	usual        = 30  // lines that nine functions in ten stay under
)

// source is one parsed Go file of the project.
type source struct {
	path  string
	lines int
	file  *ast.File
}

// sources parses every Go file of the project.
func sources(t *testing.T) (*token.FileSet, []source) {
	t.Helper()
	set := token.NewFileSet()
	var out []source
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != "." && d.Name() != "..":
			return filepath.SkipDir
		case d.IsDir() && (d.Name() == "testdata" || d.Name() == "node_modules"):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go"):
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(set, path, text, parser.ParseComments)
		out = append(out, source{path, strings.Count(string(text), "\n"), f})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 20 {
		t.Fatalf("only %d Go files found", len(out))
	}
	return set, out
}

// TestLengths keeps files and functions short.
func TestLengths(t *testing.T) {
	set, files := sources(t)
	var lengths []int
	for _, s := range files {
		if s.lines > mostFile {
			t.Errorf("%s has %d lines, the most is %d", s.path, s.lines, mostFile)
		}
		if strings.HasSuffix(s.path, "_test.go") {
			continue
		}
		for _, d := range s.file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Body == nil {
				continue
			}
			n := set.Position(f.End()).Line - set.Position(f.Pos()).Line + 1
			lengths = append(lengths, n)
			if n > mostFunction {
				t.Errorf("%s: %s has %d lines, the most is %d", s.path, f.Name.Name, n, mostFunction)
			}
		}
	}
	slices.Sort(lengths)
	if p90 := lengths[len(lengths)*9/10]; p90 > usual {
		t.Errorf("one function in ten is longer than %d lines; the limit is %d", p90-1, usual)
	}
}

// TestDocumented wants a doc.go in every package and a comment on every exported name.
func TestDocumented(t *testing.T) {
	_, files := sources(t)
	packages := map[string]bool{}
	for _, s := range files {
		dir := filepath.Dir(s.path)
		packages[dir] = packages[dir] || filepath.Base(s.path) == "doc.go" && s.file.Doc != nil
		if strings.HasSuffix(s.path, "_test.go") {
			continue
		}
		for _, d := range s.file.Decls {
			for _, name := range undocumented(d) {
				t.Errorf("%s: %s has no comment", s.path, name)
			}
		}
	}
	for dir, documented := range packages {
		if !documented {
			t.Errorf("%s has no doc.go that says what the package is", dir)
		}
	}
}

// undocumented returns the exported names that a declaration leaves without a comment.
func undocumented(d ast.Decl) []string {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && d.Doc == nil && exportedReceiver(d) {
			return []string{d.Name.Name}
		}
	case *ast.GenDecl:
		var out []string
		for _, spec := range d.Specs {
			out = append(out, bareSpec(d, spec)...)
		}
		return out
	}
	return nil
}

// exportedReceiver reports whether a function is none's or an exported type's.
func exportedReceiver(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return true
	}
	typ := f.Recv.List[0].Type
	if star, ok := typ.(*ast.StarExpr); ok {
		typ = star.X
	}
	id, ok := typ.(*ast.Ident)
	return ok && id.IsExported()
}

// bareSpec returns the exported names of one type, constant or variable that neither it nor its group explains.
func bareSpec(d *ast.GenDecl, spec ast.Spec) []string {
	var names []*ast.Ident
	var doc, side *ast.CommentGroup
	switch s := spec.(type) {
	case *ast.TypeSpec:
		names, doc, side = []*ast.Ident{s.Name}, s.Doc, s.Comment
	case *ast.ValueSpec:
		names, doc, side = s.Names, s.Doc, s.Comment
	}
	var out []string
	for _, n := range names {
		if n.IsExported() && doc == nil && side == nil && d.Doc == nil {
			out = append(out, n.Name)
		}
	}
	return out
}
