package designfile

import (
	"errors"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v4"
	"go.yaml.in/yaml/v4/plugin/loaderlimits"

	"foldfit/fold/finding"
)

// emptyFile is what is said of a file without a document.
const emptyFile = "the file is empty"

// load turns YAML text that scan has passed into its one document's top node.
func load(file string, src []byte) (*yaml.Node, *finding.Problem) {
	var doc yaml.Node
	err := yaml.Load(src, &doc, yaml.WithPlugin(loaderlimits.New(loaderlimits.DepthValue(maxDepth))))
	switch {
	case err != nil:
		return nil, syntaxProblem(file, src, err)
	case doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 || isNull(doc.Content[0]):
		return nil, &finding.Problem{Place: finding.Place{File: file, Line: 1, Column: 1}, What: emptyFile, Hint: "a design file begins with foldfit: 1"}
	}
	return doc.Content[0], nil
}

// syntaxProblem says in plain words what the YAML parser found wrong, where it found it.
func syntaxProblem(file string, src []byte, err error) *finding.Problem {
	p := &finding.Problem{Place: finding.Place{File: file, Line: 1, Column: 1}}
	var e *yaml.LoadError
	if !errors.As(err, &e) {
		p.What = "not YAML: " + err.Error()
		return p
	}
	begin := e.ContextMark
	if e.Mark.Line > 0 {
		p.Place.Line, p.Place.Column = e.Mark.Line, max(1, e.Mark.Column)
	}
	for _, s := range syntax {
		if !strings.Contains(e.Message, s.says) || !strings.Contains(e.ContextMsg, s.context) {
			continue
		}
		p.What, p.Hint = s.what, s.hint
		switch {
		case s.atEnd:
			p.Place = secondDocument(file, src)
		case s.atBegin && begin.Line > 0:
			p.Place.Line, p.Place.Column = begin.Line, max(1, begin.Column)
		case begin.Line > 0 && strings.Contains(p.What, "%d"):
			p.What = fmt.Sprintf(p.What, begin.Line, begin.Column)
		}
		return p
	}
	p.What = "not YAML: " + strings.TrimSpace(e.ContextMsg+" "+e.Message)
	return p
}

// syntax lists what the parser says and what it means.
var syntax = []struct {
	says, context  string
	what, hint     string
	atBegin, atEnd bool // point at where the wrong thing began, or at the second document
}{
	{says: "exceeded max depth", what: fmt.Sprintf("lists and maps are nested more than %d deep", maxDepth), hint: "a design file nests at most 8 deep"},
	{says: "no documents", what: emptyFile, hint: "a design file begins with foldfit: 1"},
	{says: "found multiple", what: "a second document begins here", hint: "keep one document in a file: take out the line ---", atEnd: true},
	{says: "unexpected end of stream", context: "quoted", what: "a quoted text begins here and never ends", hint: "close the quotes", atBegin: true},
	{says: "expected ',' or ']'", what: "the list that begins at line %d, column %d is not closed, or a comma is missing before this", hint: "write [1, 2, 3]"},
	{says: "expected ',' or '}'", what: "the map that begins at line %d, column %d is not closed, or a comma is missing before this", hint: "write {key: value, key: value}"},
	{says: "mapping values are not allowed", what: "a colon stands where no key can be", hint: "check the indent of this line, and put texts with a colon in quotes"},
	{says: "cannot start any token", what: "this character cannot begin a value", hint: "indent with blanks, not tabs, and put texts that begin with @ ` or % in quotes"},
	{says: "did not find expected key", what: "this is neither a key nor the end of the map that begins at line %d, column %d", hint: "check the indent; keys of one map stand exactly below each other"},
	{says: "did not find expected '-' indicator", what: "this is not an item of the list that begins at line %d, column %d", hint: "items of one list stand exactly below each other"},
	{says: "did not find expected node content", what: "a value is missing here", hint: "write the value, or take out the comma before this"},
	{says: "could not find expected ':'", what: "a key without a colon", hint: "write key: value, with a blank after the colon", atBegin: true},
	{says: "incompatible YAML document", what: "this line asks for another version of YAML", hint: "take the line out"},
	{says: "unknown escape character", what: "a backslash in double quotes before a character that has no such escape", hint: "double it (\\\\) or use single quotes"},
	{says: "unknown anchor", what: "this alias names an anchor that is not in the file", hint: "write the value out"},
}

// secondDocument returns the place of the second document's first line: the separator --- after some text.
func secondDocument(file string, src []byte) finding.Place {
	seen, at := false, 0
	for rest := src; ; {
		n, brk := lineEnd(rest)
		line := strings.TrimPrefix(string(rest[:n]), "\ufeff")
		if strings.HasPrefix(line, "---") && seen {
			return placeAt(file, src, at)
		}
		if t := strings.TrimSpace(line); t != "" && t[0] != '#' && t[0] != '%' {
			seen = true
		}
		if brk == 0 {
			return finding.Place{File: file, Line: 1, Column: 1}
		}
		at, rest = at+n+brk, rest[n+brk:]
	}
}
