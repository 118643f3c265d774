package designfile

import (
	"reflect"
	"slices"

	"go.yaml.in/yaml/v4"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

// Stacks is what a file says about stack-ups. The zero value has none.
type Stacks struct {
	Stackups []stackup.Stackup // in the order of the file
	Flex     string            // the stack-up that its key flex names; "" without that key
	Notes    []string          // what was decided on the user's behalf
}

// stackKeys are the keys of a design that say what stack-ups are made of.
var stackKeys = []string{"units", "stackups", "materials", "flex"}

// stacksFormat is the description of a file of stack-ups: those keys of a design and no others.
var stacksFormat = format.only(stackKeys)

// ParseStacks reads stack-ups from a file (YAML, or JSON) in one of three forms: a design, of which nothing else is read or
// judged; its keys units, stackups, materials and flex alone; or one stack-up's keys at the top (layers, or thickness and
// copper-layers), which then has the file's bare name, or the name stack where that is no name. It returns what could be
// read, and every problem found, in the order of the file; stack-ups with a problem are left out. Nothing on disk is touched.
func ParseStacks(file string, src []byte) (Stacks, []finding.Problem) {
	r := &reader{file: file}
	b := &builder{reader: r, design: &fold.Design{Where: fold.Places{File: file}}}
	if root := r.open(src, nil); root != nil {
		root = stacksOnly(root, stem(file))
		r.plain, b.design.Units = unitsOf(root)
		r.catalog(root)
		if r.read(root, stacksFormat, reflect.ValueOf(&b.file).Elem()) || b.file.at != nil {
			b.materials()
			b.stackups()
			b.sections()
		}
	}
	problems := r.all()
	for i := range problems {
		if problems[i].What == emptyFile {
			problems[i].Hint = "a file of stack-ups says for example layers: [{material: polyimide, thickness: 25 um}, ...]"
		}
	}
	return Stacks{b.design.Stackups, b.design.Flex, b.notes}, problems
}

// only returns a form of an object that has no other keys than these.
func (f *form) only(keys []string) *form {
	copied := *f
	copied.fields = slices.Clone(f.fields)
	for i := range copied.fields {
		if !slices.Contains(keys, copied.fields[i].key) {
			copied.fields[i] = field{}
		}
	}
	return &copied
}

// stacksOnly returns the top of a file in the form with the key stackups, its nodes at their places: without the other keys
// of a design, and with a lone stack-up under a name.
func stacksOnly(root *yaml.Node, name string) *yaml.Node {
	given := topKeys(root)
	switch {
	case slices.Contains(given, "foldfit"):
		top, _ := split(root, stackKeys)
		return top
	case slices.Contains(given, "stackups"), !slices.Contains(given, "layers") && !slices.Contains(given, "thickness"):
		return root
	}
	if !textSorts["name"].pattern.MatchString(name) {
		name = "stack"
	}
	dict := &yaml.Node{Kind: yaml.MappingNode, Line: root.Line, Column: root.Column}
	top, lone := split(root, []string{"units", "materials"})
	dict.Content = []*yaml.Node{word(root, name), lone}
	top.Content = append(top.Content, word(root, "stackups"), dict)
	return top
}

// split returns two maps in a map's place: one with these keys, one with the others.
func split(n *yaml.Node, keys []string) (with, without *yaml.Node) {
	a, b := *n, *n
	a.Content, b.Content = nil, nil
	for i := 0; i+1 < len(n.Content); i += 2 {
		if slices.Contains(keys, n.Content[i].Value) {
			a.Content = append(a.Content, n.Content[i], n.Content[i+1])
		} else {
			b.Content = append(b.Content, n.Content[i], n.Content[i+1])
		}
	}
	return &a, &b
}

// topKeys returns the keys of a map, nil for anything else.
func topKeys(n *yaml.Node) []string {
	var out []string
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		out = append(out, n.Content[i].Value)
	}
	return out
}

// word returns a plain word at another node's place.
func word(at *yaml.Node, s string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s, Line: at.Line, Column: at.Column}
}
