package designfile

import (
	"math"
	"math/big"
	"regexp"
	"strconv"

	"foldfit/fold/flat"
)

// quantity is a kind of number: the units that may follow it and the largest size that is believed.
type quantity struct {
	name  string // as in "a length"
	like  string // a right value, for messages
	units []unit // the first one is the base unit
	max   float64
	whole bool
}

// unit is worth num/den base units, a ratio so that conversions are exact.
type unit struct {
	name     string
	num, den int64
	also     []string // wrong ways of writing it, for suggestions
}

var lengths = []unit{
	{"mm", 1, 1, []string{"millimetre", "millimeter", "millimetres", "millimeters"}},
	{"um", 1, 1000, []string{"µm", "μm", "micron", "microns", "micrometre"}},
	{"mil", 254, 10000, []string{"mils", "thou"}},
	{"in", 254, 10, []string{"inch", "inches", `"`, "''"}},
	{"cm", 10, 1, nil},
	{"m", 1000, 1, []string{"metre", "meter"}},
}

// ounce is the thickness of copper of 1 oz/ft2: 305.15 g/m2 at 8.96 g/cm3 make 34.06 um.
var ounce = unit{"oz", 3406, 100000, []string{"ounce", "ounces", "oz/ft2"}}

var (
	degree   = unit{"deg", 1, 1, []string{"°", "degree", "degrees"}}
	squareMM = unit{"mm2", 1, 1, []string{"mm^2", "mm²"}}
)

// quantities that format.go names.
var quantities = map[string]*quantity{
	"length":  {name: "a length", like: "1.5 or 18 um", units: lengths, max: flat.Far},
	"foil":    {name: "a thickness", like: "0.05, 18 um or, for copper, 0.5 oz", units: append(lengths[:len(lengths):len(lengths)], ounce), max: flat.Far},
	"angle":   {name: "an angle in degrees", like: "90", units: []unit{degree}, max: 1e5},
	"modulus": {name: "a modulus in GPa", like: "2.5", units: []unit{{"GPa", 1, 1, nil}, {"MPa", 1, 1000, nil}}, max: 1e4},
	"density": {name: "a density in g/cm3", like: "1.42", units: []unit{{"g/cm3", 1, 1, []string{"g/cc", "g/cm^3"}}, {"kg/m3", 1, 1000, nil}}, max: 100},
	"ratio":   {name: "a ratio", like: "10", max: 1e6},
	"bound":   {name: "a bound", like: "8, 0.2 mm or 5 deg", units: append(lengths[:len(lengths):len(lengths)], degree, squareMM), max: flat.Far},
	"mass":    {name: "a mass in g", like: "0.4", units: []unit{{"g", 1, 1, nil}, {"mg", 1, 1000, nil}, {"kg", 1000, 1, nil}}, max: 1e6},
	"share":   {name: "a share", like: "0.4", max: 1e6},
	"count":   {name: "a number", like: "100000", max: 1e12},
	"whole":   {name: "a whole number", like: "2", max: 1e6, whole: true},
}

// quantityNamed returns the quantity that a tag names.
func quantityNamed(name string) *quantity {
	q := quantities[name]
	if q == nil {
		panic("designfile: no quantity is named " + strconv.Quote(name))
	}
	return q
}

// isLength reports whether plain numbers are in the design's units.
func (q *quantity) isLength() bool { return len(q.units) > 1 && q.units[0].name == "mm" }

// unit returns the unit of this name.
func (q *quantity) unit(name string) (unit, bool) {
	for _, u := range q.units {
		if u.name == name {
			return u, true
		}
	}
	return unit{}, false
}

// unitNames returns the names of units.
func unitNames(list []unit) []string {
	names := make([]string, len(list))
	for i, u := range list {
		names[i] = u.name
	}
	return names
}

// Decimal numbers as everybody reads them: no leading zeros, no digit groups, no other bases.
const (
	mantissa = `(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)`
	nonzero  = `(?:[1-9][0-9]*(?:\.[0-9]*)?|0?\.[0-9]*[1-9][0-9]*)`
	exponent = `(?:[eE][-+]?[0-9]+)?`
)

// decimal returns the number that s begins with, "" if there is none: what the patterns above match, found faster.
func decimal(s string) string {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	whole := i
	if i < len(s) && s[i] == '0' {
		i++
	} else {
		i = digits(s, i)
	}
	if i < len(s) && s[i] == '.' {
		end := digits(s, i+1)
		if i == whole && end == i+1 {
			return ""
		}
		i = end
	}
	if i == whole {
		return ""
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		e := i + 1
		if e < len(s) && (s[e] == '+' || s[e] == '-') {
			e++
		}
		if end := digits(s, e); end > e {
			i = end
		}
	}
	return s[:i]
}

// digits returns the end of the digits that begin at i.
func digits(s string, i int) int {
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return i
}

// convert returns text (a decimal number) times num/den, rounded once: exact to the last bit for numbers of up to 64
// digits between 1e-12 and 1e12, to two roundings beyond. Too large a number gives infinity.
func convert(text string, num, den int64) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || num == den || v == 0 {
		return v
	}
	if a := math.Abs(v); len(text) > 64 || a < 1e-12 || a > 1e12 {
		return v * float64(num) / float64(den)
	}
	exact, ok := new(big.Rat).SetString(text)
	if !ok {
		return v * float64(num) / float64(den)
	}
	v, _ = exact.Mul(exact, big.NewRat(num, den)).Float64()
	return v
}

// textSort is a kind of text: what it is called and what it may look like.
type textSort struct {
	name    string
	pattern *regexp.Regexp
	numbers bool // a plain number is taken as the text it is written with
	whole   bool // if it is a whole one
	hint    string
}

var textSorts = map[string]*textSort{
	"": {name: "a text", pattern: regexp.MustCompile(`^[^\x00-\x08\x0b-\x1f\x7f-\x9f]*$`), numbers: true,
		hint: "leave control characters out"},
	"words": {name: "a few words", pattern: regexp.MustCompile(`^[^\x00-\x08\x0b-\x1f\x7f-\x9f]*[^\x00-\x20\x7f-\xa0][^\x00-\x08\x0b-\x1f\x7f-\x9f]*$`), numbers: true,
		hint: "say it in a word or two, without control characters"},
	"name": {name: "a name", pattern: regexp.MustCompile(`^[A-Za-z0-9_+-]+$`),
		hint: "a name has letters, digits, _ - + only"},
	"body": {name: "the name of a body", pattern: regexp.MustCompile(`^(?:(?:section|flex|bend|component|stiffener|enclosure):)?[A-Za-z0-9_+*-]+(?:\.[0-9]+)?$`),
		hint: "write a bare name such as U1, or one with its kind (section: flex: bend: component: stiffener: enclosure:); * stands for anything"},
	"sitter": {name: "the name of a section, stiffener or component", pattern: regexp.MustCompile(`^(?:(?:section|flex|component|stiffener):)?[A-Za-z0-9_+-]+(?:\.[0-9]+)?$`),
		hint: "write a bare name such as main, or one with its kind (section: flex: component: stiffener:)"},
	"piece": {name: "the name of an enclosure piece", pattern: regexp.MustCompile(`^(?:enclosure:)?[A-Za-z0-9_+-]+$`),
		hint: "write one of the names of enclosure"},
	"subject": {name: "the name of a hinge or body", pattern: regexp.MustCompile(`^(?:(?:hinge|section|flex|bend|component|stiffener|enclosure|flat|stackup|target):)?[A-Za-z0-9_+*-]+(?:\.[0-9]+)?$`),
		hint: "write a bare name such as neck, or one with its kind as findings show it (hinge: section: component: and so on); * stands for anything"},
	"layer": {name: "a layer's number or role", pattern: regexp.MustCompile(`^[^\x00-\x08\x0b-\x1f\x7f-\x9f]*$`), numbers: true, whole: true,
		hint: "write the number of a layer, counted from 1 at the top, or a role that layers have"},
	"path": {name: "the path of a file", pattern: regexp.MustCompile(`^[^\x00-\x1f\x7f-\x9f]+$`),
		hint: "write a path relative to the design's folder, such as housing.stl"},
}

// sortNamed returns the kind of text that a tag names.
func sortNamed(name string) *textSort {
	s := textSorts[name]
	if s == nil {
		panic("designfile: no kind of text is named " + strconv.Quote(name))
	}
	return s
}
