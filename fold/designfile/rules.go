package designfile

// Rules between the keys of one map that tags cannot say: for each the check and, beside it, its schema.

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
	return []any{
		map[string]any{"if": has("toward"), "then": map[string]any{"properties": map[string]any{"angle": map[string]any{"not": negative}}}},
	}
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
		map[string]any{"if": has("height"), "then": map[string]any{"not": has("boxes"),
			"properties": map[string]any{"size": map[string]any{"maxItems": 2}}}},
	}
}

// conditions: whoever lets bodies touch says why.
func (p *pair) conditions(r *reader) bool {
	if p.Gap.v > 0 || p.key("because") != nil {
		return true
	}
	r.add(p.Gap.at, r.inside()+"a gap of "+trim(p.Gap.v)+" mm lets the two touch and needs a reason", "add because: ...")
	return false
}

func (*pair) schema() []any {
	positive := map[string]any{"anyOf": []any{
		map[string]any{"type": "number", "exclusiveMinimum": 0},
		map[string]any{"type": "string", "pattern": `^[+]?` + nonzero + `[^0-9.]`},
	}}
	return []any{map[string]any{"anyOf": []any{has("because"), map[string]any{"properties": map[string]any{"gap": positive}}}}}
}

// negative is the schema of a number below zero, plain or with a unit.
var negative = map[string]any{"anyOf": []any{
	map[string]any{"type": "number", "exclusiveMaximum": 0},
	map[string]any{"type": "string", "pattern": "^-" + nonzero},
}}

// has returns the schema of a map that has this key.
func has(key string) map[string]any { return map[string]any{"required": []string{key}} }
