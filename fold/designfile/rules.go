package designfile

import (
	"strings"

	"foldfit/fold/stackup"
)

// Rules between the keys of one map that tags cannot say: for each the check and, beside it, its schema. A key that was
// not given, or could not be read, has a nil node.

// rules are the objects with rules of their own, by the name of their type.
var rules = map[string]conditional{"hinge": &hinge{}, "component": &component{}, "pair": &pair{}, "layer": &layer{}, "stack": &stack{},
	"piece": &piece{}, "concession": &concession{}, "stage": &stage{}, "target": &target{}, "allowance": &allowance{}}

// conditions: toward gives the side, so the angle beside it has no sign.
func (h *hinge) conditions(r *reader) bool {
	if h.Toward.at == nil || h.Angle.v >= 0 {
		return true
	}
	r.add(h.Angle.at, r.inside()+"toward "+h.Toward.s+" together with the negative angle "+trim(h.Angle.v)+" says two things",
		"write angle: "+trim(-h.Angle.v)+" with the side that is meant, or leave toward out")
	return false
}

func (*hinge) schema() []any {
	return []any{ifThen(has("toward"), property("angle", not(negative)))}
}

// conditions: a height is given once, and not beside boxes.
func (c *component) conditions(r *reader) bool {
	height := c.key("height")
	switch {
	case height == nil:
		return true
	case c.key("boxes") != nil:
		r.add(height, r.inside()+"boxes have their own heights", "leave height out")
	case len(c.Size) == 3:
		r.add(height, r.inside()+"the height is given twice, here and in size", "keep one of them")
	default:
		return true
	}
	return false
}

func (*component) schema() []any {
	return []any{
		ifThen(has("height"), not(has("boxes"))),
		ifThen(has("height"), property("size", map[string]any{"maxItems": 2})),
	}
}

// conditions: whoever lets bodies touch says why.
func (p *pair) conditions(r *reader) bool {
	if p.Gap.at == nil || p.Gap.v > 0 || p.key("because") != nil {
		return true
	}
	r.add(p.Gap.at, r.inside()+"a gap of "+trim(p.Gap.v)+" mm lets the two touch and needs a reason", "add because: ...")
	return false
}

func (*pair) schema() []any {
	return []any{map[string]any{"anyOf": []any{has("because"), property("gap", positive)}}}
}

// conditions: a piece moves with one thing only.
func (p *piece) conditions(r *reader) bool {
	if p.key("on") == nil || p.key("follows") == nil {
		return true
	}
	r.add(p.key("follows"), r.inside()+"on and follows exclude each other", "keep one of them")
	return false
}

func (*piece) schema() []any {
	return []any{not(map[string]any{"required": []string{"on", "follows"}})}
}

// conditions: arms and loose sheets bend; a lip is under a rigid edge.
func (s *stack) conditions(r *reader) bool {
	ok := true
	for _, key := range []string{"of", "plies"} {
		if s.key(key) != nil && s.Rigid.on {
			r.add(s.Rigid.at, r.inside()+"a rigid stack-up has layers, not "+key, "leave rigid out, or write layers: [{stackup: NAME}, ...]")
			ok = false
		}
	}
	if s.Lip.at != nil && !s.Rigid.on && !s.failed("rigid") {
		r.add(s.key("lip"), r.inside()+"lip is how far layers run on under the edge of a rigid stack-up, and this one is flexible",
			"give it to the rigid stack-up, beside the layers that it leaves out with without")
	}
	return ok
}

func (*stack) schema() []any {
	rigid := map[string]any{"properties": map[string]any{"rigid": map[string]any{"const": true}}, "required": []string{"rigid"}}
	return []any{
		ifThen(has("of"), not(rigid)),
		ifThen(has("plies"), not(rigid)),
		ifThen(has("lip"), rigid),
	}
}

// conditions: coverage and ounces are for copper.
func (l *layer) conditions(r *reader) bool {
	if l.Material.at == nil {
		return true
	}
	m, _ := stackup.BuiltIn(l.Material.s)
	ok := true
	if l.key("coverage") != nil && !m.Copper {
		r.add(l.key("coverage"), r.inside()+"coverage is the share of copper, and "+l.Material.s+" is not copper", "leave it out, or use "+alternatives(coppers()))
		ok = false
	}
	if t := l.Thickness.at; t != nil && strings.HasSuffix(t.Value, ounce.name) && !m.Copper {
		r.add(t, r.inside()+"ounces are for copper, and "+l.Material.s+" is not copper", "give the thickness in mm, um, mil or in")
		ok = false
	}
	return ok
}

func (*layer) schema() []any {
	copper := property("material", map[string]any{"enum": coppers()})
	ounces := map[string]any{"type": "string", "pattern": ounce.name + "$"}
	return []any{
		ifThen(has("coverage"), copper),
		map[string]any{"anyOf": []any{copper, property("thickness", not(ounces))}},
	}
}

// coppers returns the names of the materials that are copper.
func coppers() []string {
	var list []string
	for _, m := range stackup.BuiltIns() {
		if m.Copper {
			list = append(list, m.Name)
		}
	}
	return list
}

// Schemas of a number below and above zero, plain or with a unit.
var (
	negative = map[string]any{"anyOf": []any{
		map[string]any{"type": "number", "exclusiveMaximum": 0},
		map[string]any{"type": "string", "pattern": "^-" + nonzero},
	}}
	positive = map[string]any{"anyOf": []any{
		map[string]any{"type": "number", "exclusiveMinimum": 0},
		map[string]any{"type": "string", "pattern": `^[+]?` + nonzero + `[^0-9.]`},
	}}
)

// has returns the schema of a map that has this key.
func has(key string) map[string]any { return map[string]any{"required": []string{key}} }

// property returns the schema of a map whose key, if it is there, has schema s.
func property(key string, s any) map[string]any {
	return map[string]any{"properties": map[string]any{key: s}}
}

func not(s any) map[string]any { return map[string]any{"not": s} }

func ifThen(a, b any) map[string]any { return map[string]any{"if": a, "then": b} }
