package designfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

const quoted = yaml.SingleQuotedStyle | yaml.DoubleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle

// isPlain reports whether n is a scalar without quotes.
func isPlain(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Style&quoted == 0 }

// isNull reports whether n holds nothing.
func isNull(n *yaml.Node) bool {
	if !isPlain(n) {
		return false
	}
	switch n.Value {
	case "", "~", "null", "Null", "NULL":
		return true
	}
	return false
}

// isBool reports whether n is true or false, and which.
func isBool(n *yaml.Node) (is, on bool) {
	if !isPlain(n) {
		return false, false
	}
	switch n.Value {
	case "true", "True", "TRUE":
		return true, true
	case "false", "False", "FALSE":
		return true, false
	}
	return false, false
}

// isNumber reports whether n is a plain number, in the way of writing that we read or in another one that YAML has.
func isNumber(n *yaml.Node) bool {
	if !isPlain(n) || n.Value == "" {
		return false
	}
	return decimal(n.Value) == n.Value || n.Tag == "!!int" || n.Tag == "!!float"
}

// isWhole reports whether the plain number s is a whole one.
func isWhole(s string) bool {
	v, err := strconv.ParseFloat(s, 64)
	return err == nil && v == math.Trunc(v) && decimal(s) == s
}

// flag reads true or false.
func (r *reader) flag(n *yaml.Node, f *form, dst *flag) bool {
	is, on := isBool(n)
	if !is {
		return r.wrong(n, f)
	}
	*dst = flag{at: n, on: on}
	return true
}

// text reads a text, a name or one of a few words.
func (r *reader) text(n *yaml.Node, f *form, dst *text) bool {
	boolean, _ := isBool(n)
	switch {
	case n.Kind != yaml.ScalarNode, boolean, isNumber(n) && !f.sort.numbers, isNumber(n) && len(f.words) > 0, isNumber(n) && f.sort.whole && !isWhole(n.Value):
		return r.wrong(n, f)
	case len(f.words) > 0 && !contains(f.words, n.Value):
		r.add(n, r.where()+" wants "+alternatives(f.words)+", got "+show(n.Value), near(n.Value, f.words))
		return false
	case !f.sort.pattern.MatchString(n.Value):
		r.add(n, r.where()+" wants "+f.sort.name+", got "+show(n.Value), f.sort.hint)
		return false
	}
	t := text{at: n, s: n.Value}
	if !r.known(t, f.ref) {
		return false
	}
	*dst = t
	return true
}

// near returns the question whether the nearest word was meant, "" if none is near.
func near(word string, list []string) string {
	if w := Nearest(word, list); w != "" {
		return "did you mean " + w + "?"
	}
	return ""
}

func contains(list []string, s string) bool {
	for _, w := range list {
		if w == s {
			return true
		}
	}
	return false
}

// number reads a number with or without a unit.
func (r *reader) number(n *yaml.Node, f *form, dst *number) bool {
	if n.Kind != yaml.ScalarNode {
		return r.wrong(n, f)
	}
	if f.or != "" && n.Value == f.or {
		*dst = number{at: n, unknown: true}
		return true
	}
	digits := decimal(n.Value)
	rest := strings.TrimLeft(n.Value[len(digits):], " \t")
	u := r.unitOf(f.quantity)
	if rest != "" && digits != "" && !spelledNumber(n) {
		known := false
		if u, known = f.quantity.unit(rest); !known {
			return r.noUnit(n, f, digits, rest)
		}
	} else if digits == "" || rest != "" || !isPlain(n) {
		return r.notNumber(n, f)
	}
	v := convert(digits, u.num, u.den)
	if !r.believable(n, f, v) {
		return false
	}
	if v == 0 {
		v = 0 // no negative zero
	}
	*dst = number{at: n, v: v}
	return true
}

// unitOf returns the unit of plain numbers.
func (r *reader) unitOf(q *quantity) unit {
	if q.isLength() {
		return r.plain
	}
	return unit{num: 1, den: 1}
}

// spelledNumber reports whether n is a number that YAML reads and we do not: 010, 0x1F, 1_000, .inf.
func spelledNumber(n *yaml.Node) bool {
	return isNumber(n) && decimal(n.Value) != n.Value
}

// noUnit notes a number followed by something that is no unit of its quantity.
func (r *reader) noUnit(n *yaml.Node, f *form, digits, rest string) bool {
	q := f.quantity
	var names []string
	hint := ""
	for _, u := range q.units {
		names = append(names, u.name)
		if contains(u.also, rest) {
			hint = "write " + digits + " " + u.name
		}
	}
	switch {
	case len(names) == 0:
		hint = "write the number alone"
	case strings.HasPrefix(rest, ","):
		hint = "write a decimal point, not a comma"
	case hint == "" && near(rest, names) != "":
		hint = near(rest, names)
	case hint == "":
		hint = "units here: " + strings.Join(names, ", ")
	}
	r.add(n, fmt.Sprintf("%s wants %s, got %s", r.where(), f.want(), show(n.Value)), hint)
	return false
}

// notNumber notes what stands where a number should, with the reason where it is a usual one.
func (r *reader) notNumber(n *yaml.Node, f *form) bool {
	s, hint := n.Value, ""
	switch {
	case !isPlain(n) && decimal(s) == s && s != "":
		hint = "write " + s + " without quotes"
	case spelledNumber(n) && strings.ContainsAny(s, "_"):
		hint = "write " + strings.ReplaceAll(s, "_", "")
	case spelledNumber(n) && (strings.Contains(strings.ToLower(s), "inf") || strings.Contains(strings.ToLower(s), "nan")):
		hint = "write a finite number"
	case f.or != "" && near(s, []string{f.or}) != "":
		hint = near(s, []string{f.or})
	case spelledNumber(n):
		hint = "write a decimal number without leading zeros"
	}
	r.add(n, fmt.Sprintf("%s wants %s, got %s", r.where(), f.want(), got(n)), hint)
	return false
}

// believable checks the size of a number.
func (r *reader) believable(n *yaml.Node, f *form, v float64) bool {
	q, hint := f.quantity, ""
	if f.span.hasHi && f.span.lo == f.span.hi {
		hint = "write " + f.span.String()
	} else if f.or != "" {
		hint = "write " + f.or + " where it is not known"
	}
	switch {
	case math.IsNaN(v) || math.Abs(v) > q.max:
		limit := strconv.FormatFloat(q.max, 'f', -1, 64)
		if len(q.units) > 0 {
			limit += " " + q.units[0].name
		}
		r.add(n, fmt.Sprintf("%s is %s, at most %s is believed", r.where(), show(n.Value), limit), "check the number and its unit")
	case q.whole && v != math.Trunc(v):
		r.add(n, fmt.Sprintf("%s wants %s, got %s", r.where(), f.want(), show(n.Value)), "")
	case !f.span.holds(v):
		r.add(n, fmt.Sprintf("%s is %s, it must be %s", r.where(), show(n.Value), f.span), hint)
	default:
		return true
	}
	return false
}

// wrong notes that n is not the sort of node that f wants. It returns false.
func (r *reader) wrong(n *yaml.Node, f *form) bool {
	hint := ""
	switch is, _ := isBool(n); {
	case f.kind == aText && f.sort.whole && isNumber(n):
		hint = f.sort.hint
	case f.kind == aText && (isNumber(n) || is):
		hint = "put it in quotes if it is meant so"
	case f.kind != aText && isPlain(n) && strings.Contains(n.Value, ":"):
		hint = "a blank belongs after the colon of a key"
	case f.kind == aFlag && n.Kind == yaml.ScalarNode:
		hint = map[string]string{"yes": "write true", "on": "write true", "no": "write false", "off": "write false"}[strings.ToLower(n.Value)]
	case f.kind == aList && n.Kind == yaml.ScalarNode && f.item.kind == aText && f.min <= 1:
		hint = "write [" + show(n.Value) + "]"
	}
	r.add(n, r.where()+" wants "+f.want()+", got "+got(n), hint)
	return false
}

// got says in words what n is.
func got(n *yaml.Node) string {
	is, _ := isBool(n)
	switch {
	case n.Kind == yaml.SequenceNode:
		return gotList(n)
	case n.Kind == yaml.MappingNode && len(n.Content) == 0:
		return "an empty map {}"
	case n.Kind == yaml.MappingNode:
		return "a map {" + show(n.Content[0].Value) + ": ...}"
	case isNull(n):
		return "nothing"
	case is:
		return n.Value
	case isNumber(n):
		return "the number " + show(n.Value)
	}
	return "the text " + strconv.Quote(strings.Trim(show(n.Value), `"`))
}

// gotList says in words what a list holds.
func gotList(n *yaml.Node) string {
	numbers := 0
	for _, c := range n.Content {
		if isNumber(c) {
			numbers++
		}
	}
	switch {
	case len(n.Content) == 0:
		return "an empty list []"
	case numbers == len(n.Content):
		return "a list of " + plural(numbers, "number")
	}
	return "a list of " + plural(len(n.Content), "item")
}

// want says in words what f wants.
func (f *form) want() string {
	switch {
	case f.like != "":
		return f.like
	case f.kind == aNumber && f.or != "":
		return f.quantity.name + " such as " + f.quantity.like + ", or " + f.or
	case f.kind == aNumber:
		return f.quantity.name + " such as " + f.quantity.like
	case f.kind == aText && len(f.words) > 0:
		return alternatives(f.words)
	case f.kind == aText:
		return f.sort.name
	case f.kind == aFlag:
		return "true or false"
	case f.kind == aDict:
		return "names with what they stand for, {name: " + example(f.item) + "}"
	case f.kind == aList && f.item.kind == aNumber && f.max > 0:
		return "[" + strings.Join([]string{"x", "y", "z", "x1", "y1", "z1"}[:f.max], ", ") + "]"
	case f.kind == aList:
		return "a list"
	case f.kind == anEither:
		return f.wantEither()
	}
	return "a map " + example(f)
}

// wantEither says in words which ways of writing there are.
func (f *form) wantEither() string {
	var ways []string
	for _, d := range f.fields {
		if d.form != nil {
			ways = append(ways, d.form.want())
		}
	}
	return strings.Join(ways, ", or ")
}

// example shows the first keys of an object.
func example(f *form) string {
	names := f.keyNames()
	if f.kind != anObject || len(names) == 0 {
		return "..."
	}
	return "{" + names[0] + ": ...}"
}
