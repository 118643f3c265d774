package designfile

import (
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"foldfit/fold"
	"foldfit/fold/rule"
)

// concessions fills the accepted deviations.
func (b *builder) concessions() {
	if !b.file.has("concessions") {
		return
	}
	for _, in := range b.file.Conceded {
		c := fold.Concession{Rule: in.Rule.s, Because: in.Because.s, By: in.By.s, Place: b.place(in.at)}
		for _, t := range in.On {
			c.On = append(c.On, t.s)
		}
		if in.DownTo.at != nil {
			v := in.bound()
			c.DownTo = &v
		}
		b.design.Concessions = append(b.design.Concessions, c)
	}
}

// concedable are the rules that a concession may name: all but those where nothing can be conceded and those about
// concessions themselves.
var concedable = func() *index {
	x := &index{what: "rule", key: map[string]*yaml.Node{}}
	for _, r := range rule.Documented() {
		if !refused(r.ID) {
			x.add(r.ID, nil)
		}
	}
	return x
}()

// refused reports whether a rule exists that no concession can set aside.
func refused(id string) bool {
	return slices.Contains(rule.NotConceded(), id) ||
		strings.HasPrefix(id, "concession-") && slices.ContainsFunc(rule.Documented(), func(r rule.Rule) bool { return r.ID == id })
}

// ruleName checks that t is a rule that can be conceded.
func (r *reader) ruleName(t text) bool {
	if !refused(t.s) {
		return r.isOneOf(t, t.s, concedable)
	}
	r.add(t.at, r.where()+" is "+t.s+": no concession is possible", "follow the way out that the finding itself gives")
	return false
}

// boundUnits are the units that the values of a rule come in, where that is not the length: "" is a ratio. The first one is
// that of plain numbers.
var boundUnits = map[string][]string{
	"bend-ratio":      {""},
	"bend-free-end":   {"deg"},
	"bend-life":       {"cycles"},
	"bend-strain":     {"%"},
	"core-continuous": {""},
	"dynamic-foil":    {""},
	"dynamic-layers":  {""},
	"loop-open":       {"mm", "deg"},
	"springback":      {"deg"},
	"stack-balance":   {"", "mm"},
	"stiffener-face":  {"mm", "mm2"},
}

// unitsOfRule returns the units that the values of a rule come in, mm standing for every length.
func unitsOfRule(id string) []string {
	if u, ok := boundUnits[id]; ok {
		return u
	}
	return []string{"mm"}
}

// boundUnit returns the unit that a bound is written with: mm for every length, "" for none.
func boundUnit(n *yaml.Node) string {
	switch u := strings.Trim(n.Value[len(decimal(n.Value)):], " \t"); u {
	case "", degree.name, squareMM.name:
		return u
	}
	return "mm"
}

// bound returns the bound in the unit of the rule's values.
func (c *concession) bound() float64 {
	if boundUnit(c.DownTo.at) == "" && unitsOfRule(c.Rule.s)[0] != "mm" {
		v, _ := strconv.ParseFloat(decimal(c.DownTo.at.Value), 64)
		return 0 + v
	}
	return c.DownTo.v
}

// boundWords says what the bound of a rule must be, by its unit.
var boundWords = map[string]string{"": "a ratio, which has no unit", "mm": "a length", "deg": "an angle", "mm2": "an area in mm2", "%": "per cent, without a sign", "cycles": "a number of cycles"}

// conditions: the bound has a unit of the rule's values.
func (c *concession) conditions(r *reader) bool {
	if c.Rule.at == nil || c.DownTo.at == nil {
		return true
	}
	written, units := boundUnit(c.DownTo.at), unitsOfRule(c.Rule.s)
	if written == "" || slices.Contains(units, written) {
		return true
	}
	var want []string
	for _, u := range units {
		want = append(want, boundWords[u])
	}
	r.add(c.DownTo.at, r.inside()+"down-to of "+c.Rule.s+" wants "+strings.Join(want, " or ")+", got "+show(c.DownTo.at.Value), "write it as the finding shows its value")
	return false
}

func (*concession) schema() []any {
	var all []any
	for _, u := range []struct{ unit, pattern string }{
		{"mm", `[0-9. \t](?:` + strings.Join(unitNames(lengths), "|") + `)$`}, {"deg", "deg$"}, {"mm2", "mm2$"},
	} {
		var others []string
		for _, id := range concedable.list {
			if !slices.Contains(unitsOfRule(id), u.unit) {
				others = append(others, id)
			}
		}
		wrong := map[string]any{"type": "string", "pattern": u.pattern}
		all = append(all, ifThen(property("rule", map[string]any{"enum": others}), property("down-to", not(wrong))))
	}
	return all
}
