package designfile

import (
	"go.yaml.in/yaml/v4"

	"foldfit/fold/stackup"
)

// index is the names of one kind, whether what they stand for can be read or not.
type index struct {
	what   string // "stack-up"
	list   []string
	key    map[string]*yaml.Node // where a name is given; nil for a built-in one
	broken bool                  // there are names, but not in a form that can be read
}

func (x *index) add(name string, key *yaml.Node) {
	if _, ok := x.key[name]; !ok {
		x.key[name] = key
		x.list = append(x.list, name)
	}
}

func (x *index) holds(name string) bool {
	_, ok := x.key[name]
	return ok
}

// catalog collects the names of the file, so that a name can be looked up wherever it is read.
func (r *reader) catalog(root *yaml.Node) {
	r.names = map[string]*index{}
	for key, what := range map[string]string{"stackups": "stack-up", "materials": "material", "sections": "section", "hinges": "hinge",
		"stiffeners": "stiffener", "components": "component", "enclosure": "enclosure piece", "targets": "target"} {
		r.names[key] = &index{what: what, key: map[string]*yaml.Node{}}
	}
	for i := 0; root.Kind == yaml.MappingNode && i+1 < len(root.Content); i += 2 {
		x, dict := r.names[root.Content[i].Value], root.Content[i+1]
		if x == nil {
			continue
		}
		if dict.Kind == yaml.AliasNode {
			dict = dict.Alias
		}
		x.broken = dict.Kind != yaml.MappingNode
		for j := 0; !x.broken && j+1 < len(dict.Content); j += 2 {
			x.add(dict.Content[j].Value, dict.Content[j])
		}
	}
	for _, m := range stackup.BuiltIns() {
		r.names["materials"].add(m.Name, nil)
	}
}

// known reports whether t is a name of the kind that ref says; another name is a problem, with the nearest one as a hint.
// Without a catalogue every name of the file will do.
func (r *reader) known(t text, ref string) bool {
	switch {
	case ref == "":
		return true
	case ref == "rules":
		return r.ruleName(t)
	case r.names == nil:
		return true
	case r.names[ref] != nil:
		return r.isOneOf(t, t.s, r.names[ref])
	}
	return r.bodyName(t, namings[ref])
}

// isOneOf reports whether name, written as t, is in x.
func (r *reader) isOneOf(t text, name string, x *index) bool {
	switch {
	case x.holds(name):
		return true
	case x.broken:
		return false // told where the names are
	case r.full():
		r.more++
		return false
	}
	hint := meant(name, x.list, "known here:")
	if hint == "" {
		hint = "the design has no " + x.what
	}
	r.add(t.at, r.where()+" names the "+x.what+" "+show(name)+", which does not exist", hint)
	return false
}
