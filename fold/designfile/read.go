package designfile

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"foldfit/fold/finding"
)

const (
	maxProblems = 100       // kept; the rest is counted
	maxReads    = 1_000_000 // values read, those behind aliases each time they are named
)

// reader walks YAML nodes and forms side by side, fills the values and notes every problem.
type reader struct {
	file     string
	plain    unit                  // unit of plain lengths
	names    map[string]*index     // by the key of the file that gives them
	edited   map[*yaml.Node]string // nodes that an edit brought in, with the edit
	path     []step
	reads    int
	problems []finding.Problem
	more     int // problems beyond maxProblems
	flooded  bool
}

// step is one step of the path from the top of the file: a key, or (key nil) item i of a list, counted from 0.
type step struct {
	key *yaml.Node
	i   int
}

// add notes a problem at n.
func (r *reader) add(n *yaml.Node, what, hint string) {
	if r.full() {
		r.more++
		return
	}
	if edit := r.edited[n]; edit != "" {
		what = "set " + edit + ": " + what
	}
	r.problems = append(r.problems, finding.Problem{Place: r.place(n), What: what, Hint: hint})
}

// full reports whether further problems are only counted, so that hints need not be looked for.
func (r *reader) full() bool { return len(r.problems) >= maxProblems }

// place returns where n is written; nil and nodes without a position are at the top of the file.
func (r *reader) place(n *yaml.Node) finding.Place {
	if n == nil || n.Line < 1 {
		return finding.Place{File: r.file, Line: 1, Column: 1}
	}
	return finding.Place{File: r.file, Line: n.Line, Column: max(1, n.Column)}
}

// where names the value that is being read: "hinges.neck.line item 2, item 1".
func (r *reader) where() string {
	s := ""
	for i, p := range r.path {
		switch {
		case p.key == nil && i > 0 && r.path[i-1].key == nil:
			s += ", item " + strconv.Itoa(p.i+1)
		case p.key == nil:
			s += " item " + strconv.Itoa(p.i+1)
		case s == "":
			s = show(p.key.Value)
		default:
			s += "." + show(p.key.Value)
		}
	}
	if s == "" {
		return "the file"
	}
	return s
}

// owner returns the node to blame for what is missing in n: the key before it, else n itself, nil for the top.
func (r *reader) owner(n *yaml.Node) *yaml.Node {
	if len(r.path) == 0 {
		return nil
	}
	if k := r.path[len(r.path)-1].key; k != nil {
		return k
	}
	return n
}

// read fills v, a value of a type in format.go, from n. It returns false, with the problems noted, when anything of it
// is wrong.
func (r *reader) read(n *yaml.Node, f *form, v reflect.Value) bool {
	if n = r.resolve(n, f); n == nil {
		return false
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	switch f.kind {
	case anObject:
		return r.object(n, f, v)
	case anEither:
		return r.either(n, f, v)
	case aDict:
		return r.dict(n, f, v)
	case aList:
		return r.list(n, f, v)
	case aNumber:
		return r.number(n, f, v.Addr().Interface().(*number))
	case aText:
		return r.text(n, f, v.Addr().Interface().(*text))
	}
	return r.flag(n, f, v.Addr().Interface().(*flag))
}

// resolve follows an alias and refuses what no value may be: nothing, a tagged value, too many values.
func (r *reader) resolve(n *yaml.Node, f *form) *yaml.Node {
	if r.reads++; r.reads > maxReads {
		if !r.flooded {
			r.flooded = true
			r.add(n, fmt.Sprintf("aliases make more than %d values of this file", maxReads), "write the values out")
		}
		return nil
	}
	if n.Kind == yaml.AliasNode {
		n = n.Alias
	}
	switch {
	case n.Style&yaml.TaggedStyle != 0:
		r.add(n, fmt.Sprintf("%s carries the tag %s", r.where(), show(n.Tag)), "leave the tag out")
		return nil
	case isNull(n):
		r.add(r.owner(n), r.where()+" has no value", "give "+f.want()+", or leave the key out")
		return nil
	}
	return n
}

// either reads n in the way of writing that fits it.
func (r *reader) either(n *yaml.Node, f *form, v reflect.Value) bool {
	e := v.Addr().Interface().(interface{ self() *either }).self()
	e.at = n
	way := map[yaml.Kind]string{yaml.SequenceNode: "list", yaml.MappingNode: "map", yaml.ScalarNode: "word"}[n.Kind]
	i := f.find(way)
	if i < 0 {
		return r.wrong(n, f)
	}
	r.reads-- // the same node once more
	e.ok = r.read(n, f.fields[i].form, v.Field(i))
	return e.ok
}

// list reads a list into a slice or an array.
func (r *reader) list(n *yaml.Node, f *form, v reflect.Value) bool {
	count := len(n.Content)
	if n.Kind != yaml.SequenceNode || count < f.min || f.max >= 0 && count > f.max {
		return r.wrong(n, f)
	}
	if v.Kind() == reflect.Slice {
		v.Set(reflect.MakeSlice(v.Type(), count, count))
	}
	ok := true
	r.path = append(r.path, step{})
	for i, c := range n.Content {
		r.path[len(r.path)-1].i = i
		ok = r.read(c, f.itemAt(i), v.Index(i)) && ok
	}
	r.path = r.path[:len(r.path)-1]
	return ok
}

// dict reads a map from users' names.
func (r *reader) dict(n *yaml.Node, f *form, v reflect.Value) bool {
	if n.Kind != yaml.MappingNode || len(n.Content)/2 < f.min {
		return r.wrong(n, f)
	}
	ok, first := true, make(map[string]*yaml.Node, len(n.Content)/2)
	entries := reflect.MakeSlice(v.Type(), 0, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := r.keyNode(n.Content[i])
		if key == nil || !r.freshName(key, f, first) {
			ok = false
			continue
		}
		known := r.known(text{at: key, s: key.Value}, f.ref)
		entry := reflect.New(v.Type().Elem()).Elem()
		entry.FieldByName("Key").Set(reflect.ValueOf(key))
		entry.FieldByName("Name").SetString(key.Value)
		r.path = append(r.path, step{key: key})
		good := r.read(n.Content[i+1], f.item, entry.FieldByName("It")) && known
		r.path = r.path[:len(r.path)-1]
		entry.FieldByName("OK").SetBool(good)
		entries, ok = reflect.Append(entries, entry), ok && good
	}
	v.Set(entries)
	return ok
}

// freshName reports whether key is a well-formed name that is not taken and that first does not hold yet, and puts it there.
func (r *reader) freshName(key *yaml.Node, f *form, first map[string]*yaml.Node) bool {
	s := textSorts["name"]
	switch {
	case !s.pattern.MatchString(key.Value):
		r.add(key, r.inside()+"the name "+show(key.Value)+" cannot be used", s.hint)
		return false
	case contains(f.taken, key.Value):
		r.add(key, r.inside()+"the name "+key.Value+" is taken", strings.Join(f.taken, " and ")+" are there already: choose another name")
		return false
	}
	if was := first[key.Value]; was != nil {
		r.twice(key, was)
		return false
	}
	first[key.Value] = key
	return true
}

// keyNode returns the scalar that a key is, nil (with the problem noted) if it is something else.
func (r *reader) keyNode(key *yaml.Node) *yaml.Node {
	if key.Kind == yaml.AliasNode && key.Alias.Kind == yaml.ScalarNode {
		key = key.Alias
	}
	switch {
	case key.Kind != yaml.ScalarNode || key.Style&yaml.TaggedStyle != 0:
		r.add(key, r.inside()+"a key must be a plain word", "write key: value")
		return nil
	case key.Value == "<<":
		r.add(key, r.inside()+"merge keys (<<) are not read", "write the keys out")
		return nil
	}
	return key
}

// inside returns the path and a colon, nothing at the top.
func (r *reader) inside() string {
	if len(r.path) == 0 {
		return ""
	}
	return r.where() + ": "
}

// twice notes a key that was given before.
func (r *reader) twice(key, was *yaml.Node) {
	r.add(key, fmt.Sprintf("%s%s is given twice, first at line %d", r.inside(), show(key.Value), was.Line), "keep one of them")
}
