package designfile

import (
	"fmt"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// edit makes one edit "path=value" in the tree: the value, written as in the file, takes the place of what stands at the
// path, or becomes a new key of an existing map. What it brings in is reported at the place of what it replaced.
func (r *reader) edit(root *yaml.Node, edit string) {
	to, value, found := strings.Cut(edit, "=")
	if !found || to == "" {
		r.add(nil, "set "+show(edit)+": an edit is written path=value", "for example hinges.neck.angle=45")
		return
	}
	label := show(edit)
	fail := func(n *yaml.Node, what, hint string) { r.add(n, "set "+label+": "+what, hint) }
	fresh, why := parseValue(r.file, value)
	if fresh == nil {
		fail(nil, why, "write the value as in the design file")
		return
	}
	steps := strings.Split(to, ".")
	at := root
	for i, s := range steps {
		slot, what, hint := r.child(at, s, i == len(steps)-1, label)
		if slot == nil {
			fail(at, what, hint)
			return
		}
		if i == len(steps)-1 {
			r.put(slot, fresh, label)
			return
		}
		at = *slot
	}
}

// put replaces the node in slot by fresh and gives fresh its position.
func (r *reader) put(slot **yaml.Node, fresh *yaml.Node, label string) {
	r.adopt(fresh, *slot, label)
	*slot = fresh
}

// adopt gives n and all below it the position of old, and remembers the edit they came with.
func (r *reader) adopt(n, old *yaml.Node, label string) {
	n.Line, n.Column = old.Line, old.Column
	r.edited[n] = label
	for _, c := range n.Content {
		r.adopt(c, old, label)
	}
}

// child returns where at holds the value of a key or list item. With create, a key that a map lacks is added by the edit,
// at the place of the map. Where there is none it says why.
func (r *reader) child(at *yaml.Node, name string, create bool, label string) (slot **yaml.Node, what, hint string) {
	switch at.Kind {
	case yaml.MappingNode:
		var names []string
		for i := 0; i+1 < len(at.Content); i += 2 {
			if at.Content[i].Value == name {
				return &at.Content[i+1], "", ""
			}
			names = append(names, at.Content[i].Value)
		}
		if create && textSorts["name"].pattern.MatchString(name) {
			key := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: name, Line: at.Line, Column: at.Column}
			r.edited[key] = label
			at.Content = append(at.Content, key, &yaml.Node{Kind: yaml.ScalarNode, Line: at.Line, Column: at.Column})
			return &at.Content[len(at.Content)-1], "", ""
		}
		return nil, "there is no " + show(name), meant(name, names, "there are")
	case yaml.SequenceNode:
		i, err := strconv.Atoi(name)
		if err != nil || i < 1 || i > len(at.Content) {
			return nil, fmt.Sprintf("the list has items 1 to %d, not %s", len(at.Content), show(name)), ""
		}
		return &at.Content[i-1], "", ""
	case yaml.AliasNode:
		return nil, "the value is an alias", "edit the value that it stands for"
	}
	return nil, "there is nothing below " + show(at.Value), ""
}

// parseValue parses the value of an edit; it says why where it cannot.
func parseValue(file, value string) (*yaml.Node, string) {
	src := []byte(value)
	if p := scan(file, src); p != nil {
		return nil, p.What
	}
	if strings.TrimSpace(value) == "" {
		return &yaml.Node{Kind: yaml.ScalarNode}, ""
	}
	n, p := load(file, src)
	if p != nil {
		return nil, p.What
	}
	return n, ""
}
