package designfile

import (
	"fmt"
	"reflect"
	"strings"

	"go.yaml.in/yaml/v4"
)

// conditional is an object with a rule between its keys that tags cannot say. The reader asks conditions, which notes
// problems; the schema adds what schema returns.
type conditional interface {
	conditions(r *reader) bool
	schema() []any
}

// object reads a map with fixed keys.
func (r *reader) object(n *yaml.Node, f *form, v reflect.Value) bool {
	if n.Kind != yaml.MappingNode {
		return r.wrong(n, f)
	}
	o := v.Addr().Interface().(interface{ base() *object }).base()
	*o = object{at: n, form: f, keys: make([]*yaml.Node, len(f.fields)), bad: make([]bool, len(f.fields)), odd: make([]bool, len(f.fields))}
	ok := true
	for i := 0; i+1 < len(n.Content); i += 2 {
		ok = r.member(n.Content[i], n.Content[i+1], o, v) && ok
	}
	if f == format || !o.asksLater() {
		ok = r.complete(o) && ok
	}
	if c, is := v.Addr().Interface().(conditional); is {
		ok = c.conditions(r) && ok
	}
	return ok
}

// member reads one key of an object and its value. It returns false when the value is not usable; a key that should not
// be there is a problem, but leaves the object as usable as it is.
func (r *reader) member(key, value *yaml.Node, o *object, v reflect.Value) bool {
	if key = r.keyNode(key); key == nil {
		return true
	}
	i := o.form.find(key.Value)
	switch {
	case i < 0 && r.full():
		r.more++
		return true
	case i < 0:
		return r.unknownKey(key, o)
	case o.keys[i] != nil:
		r.twice(key, o.keys[i])
		return true
	}
	o.keys[i] = key
	if d := o.form.fields[i]; d.later {
		r.add(key, r.inside()+key.Value+": not supported yet", "leave it out for now; it is for "+d.doc)
		return true
	}
	r.path = append(r.path, step{key: key})
	ok := r.read(value, o.form.fields[i].form, v.Field(i))
	r.path = r.path[:len(r.path)-1]
	o.bad[i] = !ok
	return ok
}

// unknownKey notes a key that is not known. It returns false when it stands for one that is.
func (r *reader) unknownKey(key *yaml.Node, o *object) bool {
	known := o.form.keyNames()
	r.add(key, fmt.Sprintf("%sthe key %s is not known here", r.inside(), show(key.Value)), meant(key.Value, known, "keys here:"))
	i := o.form.find(Nearest(key.Value, known))
	if i < 0 || o.keys[i] != nil {
		return true
	}
	o.odd[i], o.bad[i] = true, true
	return false
}

// asksLater reports whether a key was given that is not supported yet: it may stand for a key that seems missing.
func (o *object) asksLater() bool {
	for i, d := range o.form.fields {
		if d.later && o.keys[i] != nil {
			return true
		}
	}
	return false
}

// complete checks which keys were given together.
func (r *reader) complete(o *object) bool {
	ok := true
	groups := map[string]bool{}
	for i, d := range o.form.fields {
		given := o.given(i)
		partner := d.with == "" || o.given(o.form.find(d.with))
		switch {
		case d.key == "" || d.later:
		case o.keys[i] != nil && !partner:
			r.add(o.keys[i], fmt.Sprintf("%s%s counts only together with %s", r.inside(), d.key, d.with), "give "+d.with+", or leave "+d.key+" out")
			ok = false
		case !given && d.need && partner && d.one == "":
			r.add(r.owner(o.at), r.where()+" has no "+d.key, "give "+d.key+about(d))
			o.bad[i], ok = true, false
		case d.one != "" && !groups[d.one]:
			groups[d.one] = true
			ok = r.exactlyOne(o, d.one) && ok
		}
	}
	return ok
}

// about returns the description of a key after a colon, nothing if it has none.
func about(d field) string {
	if d.doc == "" {
		return ""
	}
	return ": " + d.doc
}

// exactlyOne checks that just one key of a group was given.
func (r *reader) exactlyOne(o *object, group string) bool {
	var all, given []string
	var second *yaml.Node
	for i, d := range o.form.fields {
		if d.one != group {
			continue
		}
		all = append(all, d.key)
		if !o.given(i) {
			continue
		}
		if given = append(given, d.key); len(given) > 1 && second == nil {
			second = o.keys[i]
		}
	}
	switch {
	case len(given) == 1:
		return true
	case len(given) == 0:
		r.add(r.owner(o.at), r.where()+" has none of the keys "+enumerate(all, 9), "give exactly one of them")
	case second != nil:
		r.add(second, r.inside()+strings.Join(given, " and ")+" exclude each other", "keep one of them")
	}
	return false
}

// keyNames returns the keys of an object in the order of the format.
func (f *form) keyNames() []string {
	var list []string
	for _, d := range f.fields {
		if d.key != "" {
			list = append(list, d.key)
		}
	}
	return list
}
