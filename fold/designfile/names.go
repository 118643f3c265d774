package designfile

import (
	"regexp"
	"strings"

	"go.yaml.in/yaml/v4"

	"foldfit/fold"
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
	for key, what := range map[string]string{"stackups": "stack-up", "materials": "material", "sections": "section", "hinges": "bend",
		"stiffeners": "stiffener", "components": "component", "enclosure": "enclosure"} {
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
// Without a catalogue every name will do.
func (r *reader) known(t text, ref string) bool {
	switch {
	case ref == "" || r.names == nil:
		return true
	case ref == "bodies":
		return r.bodyName(t)
	}
	return r.isOneOf(t, t.s, r.names[ref])
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

var (
	subName = regexp.MustCompile(`\.[0-9]+$`)
	flatN   = regexp.MustCompile(`^flat-[0-9]+$`)
)

// bodyKinds are the kinds of bodies that users name, with the keys of their names.
var bodyKinds = []struct {
	kind fold.Kind
	key  string
}{{fold.KindSection, "sections"}, {fold.KindBend, "hinges"}, {fold.KindComponent, "components"}, {fold.KindStiffener, "stiffeners"}, {fold.KindEnclosure, "enclosure"}}

// bodyName checks that t can name a body: * matches anything, and a bare name must belong to one kind only. Names of
// flats are known only once the board is divided, so that flat-N and flex: with the name of a section or stiffener pass.
func (r *reader) bodyName(t text) bool {
	kind, name, prefixed := strings.Cut(t.s, ":")
	if !prefixed {
		kind, name = "", t.s
	}
	name = subName.ReplaceAllString(name, "")
	flex := kind == string(fold.KindFlex)
	switch {
	case strings.Contains(name, "*"), flatN.MatchString(name) && (!prefixed || flex):
		return true
	case !prefixed:
		return r.bareName(t, name)
	case flex:
		return r.names["stiffeners"].holds(name) || r.isOneOf(t, name, r.names["sections"])
	}
	for _, k := range bodyKinds {
		if kind == string(k.kind) {
			return r.isOneOf(t, name, r.names[k.key])
		}
	}
	return false
}

// bareName checks that a name without a kind belongs to one body.
func (r *reader) bareName(t text, name string) bool {
	var fits []string
	for _, k := range bodyKinds {
		if r.names[k.key].holds(name) {
			fits = append(fits, string(k.kind)+":"+name)
		}
	}
	switch {
	case len(fits) == 1:
		return true
	case len(fits) > 1:
		r.add(t.at, r.where()+": the name "+show(t.s)+" fits several bodies", "write "+alternatives(fits))
		return false
	case r.full():
		r.more++
		return false
	}
	all := &index{what: "body"}
	for _, k := range bodyKinds {
		all.list = append(all.list, r.names[k.key].list...)
		all.broken = all.broken || r.names[k.key].broken
	}
	return r.isOneOf(t, name, all)
}
