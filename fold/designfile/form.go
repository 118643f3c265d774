package designfile

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// What the types of format.go are made of. A nil node means not given.
type (
	number struct {
		at      *yaml.Node
		v       float64 // in the base unit: mm, degrees, GPa, g/cm3, g
		unknown bool    // the word `unknown` stands here
	}
	text struct {
		at *yaml.Node
		s  string
	}
	flag struct {
		at *yaml.Node
		on bool
	}
	// later marks a key that is refused as not supported yet.
	later struct{}
	// object is a map with fixed keys.
	object struct {
		at   *yaml.Node // the map
		form *form
		keys []*yaml.Node // by field: the key in the file, nil = not given
		bad  []bool       // by field: missing or not readable
		odd  []bool       // by field: given with a misspelt key
	}
	// either may be written in several ways.
	either struct {
		at *yaml.Node
		ok bool
	}
	// dict is a map from users' names, in the order of the file.
	dict[T any]  []entry[T]
	entry[T any] struct {
		Key  *yaml.Node
		Name string
		OK   bool // nothing in it is wrong
		It   T
	}
)

func (o *object) base() *object { return o }
func (e *either) self() *either { return e }
func (dict[T]) isDict()         {}

// key returns the node of the named key, nil when it is not given.
func (o *object) key(name string) *yaml.Node { return o.keys[o.form.find(name)] }

// given reports whether the key of field i was given, rightly spelt or not.
func (o *object) given(i int) bool { return o.keys[i] != nil || o.odd[i] }

// has reports whether the named key was given and could be read.
func (o *object) has(name string) bool {
	return o.form != nil && o.key(name) != nil && !o.failed(name)
}

// failed reports whether the named key is missing though needed, or could not be read.
func (o *object) failed(name string) bool { return o.bad[o.form.find(name)] }

// kind is the sort of node that a form describes.
type kind int

const (
	anObject kind = iota
	anEither
	aDict
	aList
	aNumber
	aText
	aFlag
)

// form says what a node may look like. It is derived once from the types of format.go.
type form struct {
	kind     kind
	name     string // of an object or either: its Go type, the schema's definition
	like     string
	fields   []field // object, either
	item     *form   // dict, list
	last     *form   // list: the item at max, where that differs
	min, max int     // list, dict: number of items; max < 0 = any
	quantity *quantity
	span     span
	or       string
	words    []string
	sort     *textSort
	ref      string   // text, and the keys of a dict: what it may name, as the tags ref and keys say
	taken    []string // dict: names that are taken already
}

// field is a key of an object, or one way of writing of an either.
type field struct {
	key, doc  string
	one, with string
	need      bool
	later     bool
	form      *form
}

// span is an interval of numbers.
type span struct {
	lo, hi         float64
	hasLo, hasHi   bool
	openLo, openHi bool
}

// format is the description of a whole design file.
var format = describe(reflect.TypeFor[file](), "")

// find returns the index of the field with this key, -1 if there is none.
func (f *form) find(key string) int {
	for i := range f.fields {
		if f.fields[i].key == key && key != "" {
			return i
		}
	}
	return -1
}

// describe turns a type of format.go, with the tag of the field that holds it, into a form.
func describe(t reflect.Type, tag reflect.StructTag) *form {
	if t.Kind() == reflect.Pointer {
		return describe(t.Elem(), tag)
	}
	f := &form{like: tag.Get("like"), max: -1}
	switch {
	case t == reflect.TypeFor[number]():
		f.kind, f.quantity, f.span, f.or = aNumber, quantityNamed(tag.Get("unit")), parseSpan(tag.Get("range")), tag.Get("or")
	case t == reflect.TypeFor[text]():
		f.kind, f.words, f.sort, f.ref = aText, strings.Fields(tag.Get("words")), sortNamed(tag.Get("is")), tag.Get("ref")
	case t == reflect.TypeFor[flag]():
		f.kind = aFlag
	case t.Kind() == reflect.Struct:
		describeStruct(f, t)
	default:
		describeList(f, t, tag)
	}
	return f
}

// describeStruct fills the form of an object or either.
func describeStruct(f *form, t reflect.Type) {
	f.name = t.Name()
	if t.Field(0).Type == reflect.TypeFor[either]() {
		f.kind = anEither
	}
	f.fields = make([]field, t.NumField())
	for i := 1; i < t.NumField(); i++ {
		s := t.Field(i)
		d := field{key: s.Tag.Get("key"), doc: s.Tag.Get("doc"), one: s.Tag.Get("one"), with: s.Tag.Get("with"), need: s.Tag.Get("need") == "yes"}
		if f.kind == anEither {
			d.key = s.Tag.Get("as")
		}
		if d.later = s.Type == reflect.TypeFor[later](); !d.later {
			d.form = describe(s.Type, s.Tag)
		}
		f.fields[i] = d
	}
}

// describeList fills the form of a dict, list or array.
func describeList(f *form, t reflect.Type, tag reflect.StructTag) {
	f.min, f.max = parseCount(tag.Get("count"))
	inner := reflect.StructTag(fmt.Sprintf("unit:%q range:%q is:%q ref:%q", tag.Get("unit"), tag.Get("range"), tag.Get("is"), tag.Get("ref")))
	if _, ok := reflect.Zero(t).Interface().(interface{ isDict() }); ok {
		it, _ := t.Elem().FieldByName("It")
		f.kind, f.item = aDict, describe(it.Type, inner)
		f.ref, f.taken = tag.Get("keys"), strings.Fields(tag.Get("not"))
		return
	}
	f.kind = aList
	if t.Kind() == reflect.Array {
		f.min, f.max = t.Len(), t.Len()
	}
	f.item = describe(t.Elem(), inner)
	if last := tag.Get("last"); last != "" {
		copied := *f.item
		f.last = &copied
		if strings.Contains(last, ",") {
			f.last.span = parseSpan(last)
		} else {
			f.last.or = last
		}
	}
}

// without returns a form of an object that lacks a key.
func (f *form) without(key string) *form {
	copied := *f
	copied.fields = append([]field(nil), f.fields...)
	copied.fields[f.find(key)] = field{}
	return &copied
}

// itemAt returns the form of item i of a list.
func (f *form) itemAt(i int) *form {
	if f.last != nil && i == f.max-1 {
		return f.last
	}
	return f.item
}

// parseCount reads "2..3", "2.." or "" (any number).
func parseCount(s string) (lo, hi int) {
	a, b, _ := strings.Cut(s, "..")
	lo, hi = 0, -1
	if a != "" {
		lo, _ = strconv.Atoi(a)
	}
	if b != "" {
		hi, _ = strconv.Atoi(b)
	}
	return lo, hi
}

// parseSpan reads "[0,1]", "(0,)" or "" (everything).
func parseSpan(s string) (p span) {
	if s == "" {
		return p
	}
	a, b, _ := strings.Cut(s[1:len(s)-1], ",")
	if p.hasLo = a != ""; p.hasLo {
		p.lo, _ = strconv.ParseFloat(a, 64)
	}
	if p.hasHi = b != ""; p.hasHi {
		p.hi, _ = strconv.ParseFloat(b, 64)
	}
	p.openLo, p.openHi = s[0] == '(', s[len(s)-1] == ')'
	return p
}

// holds reports whether v lies in the interval.
func (p span) holds(v float64) bool {
	low := p.hasLo && (v < p.lo || p.openLo && v == p.lo)
	high := p.hasHi && (v > p.hi || p.openHi && v == p.hi)
	return !low && !high
}

// String says the interval in words: "above 0", "from 0 to 1".
func (p span) String() string {
	lo, hi := strconv.FormatFloat(p.lo, 'g', -1, 64), strconv.FormatFloat(p.hi, 'g', -1, 64)
	switch {
	case p.hasLo && p.hasHi && p.lo == p.hi:
		return lo
	case p.hasLo && p.hasHi:
		return "from " + lo + " to " + hi
	case p.openLo:
		return "above " + lo
	}
	return lo + " or more"
}
