package designfile

import (
	"encoding/json"
	"fmt"
	"strings"
)

// Schema returns a JSON Schema (draft 2020-12) of format 1, made from the same description that Parse reads by. It says
// all that one value or map can say: keys, ways of writing, words, units, ranges. It cannot say what names stand for, what
// YAML's way of writing a number hides, or what only geometry knows; Parse judges those.
func Schema() []byte {
	s := schemer{defs: map[string]any{}}
	top := s.body(format)
	top["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	top["title"] = "foldfit design file, format 1"
	top["$defs"] = s.defs
	out, err := json.MarshalIndent(top, "", "  ")
	if err != nil {
		panic("designfile: schema: " + err.Error())
	}
	return append(out, '\n')
}

// schemer turns forms into schemas; those that are used more than once are definitions.
type schemer struct{ defs map[string]any }

// of returns the schema of a form: a reference for objects, eithers and numbers.
func (s schemer) of(f *form) map[string]any {
	name := f.name
	if f.kind == aNumber {
		name = numberName(f)
	}
	if name == "" {
		return s.body(f)
	}
	if _, made := s.defs[name]; !made {
		s.defs[name] = nil
		s.defs[name] = s.body(f)
	}
	return map[string]any{"$ref": "#/$defs/" + name}
}

// body returns the schema of a form itself.
func (s schemer) body(f *form) map[string]any {
	switch f.kind {
	case anObject:
		return s.object(f)
	case anEither:
		return s.either(f)
	case aDict:
		return s.dict(f)
	case aList:
		return s.list(f)
	case aNumber:
		return numberSchema(f)
	case aFlag:
		return map[string]any{"type": "boolean"}
	}
	return textSchema(f)
}

func (s schemer) either(f *form) map[string]any {
	var ways []any
	for _, d := range f.fields {
		if d.form != nil {
			ways = append(ways, s.of(d.form))
		}
	}
	return map[string]any{"anyOf": ways}
}

func (s schemer) dict(f *form) map[string]any {
	names := map[string]any{"pattern": textSorts["name"].pattern.String()}
	if len(f.taken) > 0 {
		names["not"] = map[string]any{"enum": f.taken}
	}
	m := map[string]any{"type": "object", "additionalProperties": s.of(f.item), "propertyNames": names}
	if f.min > 0 {
		m["minProperties"] = f.min
	}
	return m
}

func (s schemer) list(f *form) map[string]any {
	m := map[string]any{"type": "array", "items": s.of(f.item)}
	if f.min > 0 {
		m["minItems"] = f.min
	}
	if f.max >= 0 {
		m["maxItems"] = f.max
	}
	if f.last != nil {
		first := make([]any, f.max)
		for i := range first {
			first[i] = s.of(f.itemAt(i))
		}
		m["prefixItems"] = first
		m["items"] = false
	}
	return m
}

func textSchema(f *form) map[string]any {
	if len(f.words) > 0 {
		return map[string]any{"enum": f.words}
	}
	if f.ref == "rules" {
		return map[string]any{"enum": concedable.list}
	}
	m := map[string]any{"type": "string", "pattern": f.sort.pattern.String()}
	if f.sort.whole {
		m["type"] = []string{"string", "integer"}
	} else if f.sort.numbers {
		m["type"] = []string{"string", "number"}
	}
	return m
}

// object returns the schema of a map with fixed keys.
func (s schemer) object(f *form) map[string]any {
	properties, required := map[string]any{}, []string{}
	for _, d := range f.fields {
		if d.key == "" || d.later {
			continue
		}
		p := s.of(d.form)
		if d.doc != "" {
			p["description"] = d.doc
		}
		properties[d.key] = p
		if d.need && d.with == "" && d.one == "" {
			required = append(required, d.key)
		}
	}
	m := map[string]any{"type": "object", "additionalProperties": false, "properties": properties}
	if len(required) > 0 {
		m["required"] = required
	}
	if d := dependent(f); len(d) > 0 {
		m["dependentRequired"] = d
	}
	all := exclusive(f)
	if c, ok := rules[f.name]; ok {
		all = append(all, c.schema()...)
	}
	if len(all) > 0 {
		m["allOf"] = all
	}
	return m
}

// dependent returns for each key those that must be given with it.
func dependent(f *form) map[string][]string {
	m := map[string][]string{}
	for _, d := range f.fields {
		if d.with == "" {
			continue
		}
		m[d.key] = append(m[d.key], d.with)
		if d.need {
			m[d.with] = append(m[d.with], d.key)
		}
	}
	return m
}

// exclusive returns a schema for each group of keys of which exactly one must be given.
func exclusive(f *form) []any {
	var all []any
	group := map[string]map[string]any{}
	for _, d := range f.fields {
		if d.one == "" {
			continue
		}
		g := group[d.one]
		if g == nil {
			g = map[string]any{"oneOf": []any{}}
			group[d.one] = g
			all = append(all, g)
		}
		g["oneOf"] = append(g["oneOf"].([]any), has(d.key))
	}
	return all
}

// numberName returns the name of a number's definition: its quantity, range and word.
func numberName(f *form) string {
	name := "whole"
	for k, q := range quantities {
		if q == f.quantity {
			name = k
		}
	}
	if f.span.hasLo {
		name += "-" + strings.ReplaceAll(f.span.String(), " ", "-")
	}
	if f.or != "" {
		name += "-or-" + f.or
	}
	return name
}

// numberSchema returns the schema of a number: plain, with a unit, or the word that may stand for it.
func numberSchema(f *form) map[string]any {
	q := f.quantity
	plain := map[string]any{"type": "number"}
	if q.whole {
		plain["type"] = "integer"
	}
	// the smallest unit that plain numbers may be in is the mil
	limit := q.max
	if q.isLength() {
		limit = q.max / 0.0254
	}
	plain["minimum"], plain["maximum"] = -limit, limit
	p := f.span
	if p.hasLo && !p.openLo {
		plain["minimum"] = p.lo
	} else if p.hasLo {
		delete(plain, "minimum")
		plain["exclusiveMinimum"] = p.lo
	}
	if p.hasHi && !p.openHi {
		plain["maximum"] = p.hi
	}
	ways := []any{plain}
	if len(q.units) > 0 {
		ways = append(ways, map[string]any{"type": "string", "pattern": withUnit(f)})
	}
	if f.or != "" {
		ways = append(ways, map[string]any{"const": f.or})
	}
	if len(ways) == 1 {
		return plain
	}
	return map[string]any{"anyOf": ways}
}

// withUnit returns the pattern of a number with its unit; signs and zero are kept out where the range ends at 0.
func withUnit(f *form) string {
	sign, digits := "[-+]?", mantissa
	if f.span.hasLo && f.span.lo == 0 {
		sign = "[+]?"
		if f.span.openLo {
			digits = nonzero
		}
	}
	return fmt.Sprintf(`^%s%s%s[ \t]*(?:%s)$`, sign, digits, exponent, strings.Join(unitNames(f.quantity.units), "|"))
}
