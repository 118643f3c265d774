package clash

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// report makes the finding of a gap that breaks a rule.
func (c *checker) report(j *judged) finding.Finding {
	a, b := j.pair.a, j.pair.b
	f := finding.Finding{Rule: j.Rule, Severity: finding.Error, On: []string{a.name, b.name}, Posture: c.posture, At: j.flat,
		Place: a.place, Unit: "mm"}
	if j.Rule == "contact" {
		c.contact(j, &f)
	} else {
		c.clearance(j, &f)
	}
	return f
}

// contact words an overlap.
func (c *checker) contact(j *judged, f *finding.Finding) {
	a, b := j.pair.a, j.pair.b
	depth, allowed := -j.Gap.Gap, max(0, -j.Required)
	f.Value, f.Limit = finding.Number(depth), finding.Number(allowed)
	f.Message = fmt.Sprintf("%s goes %s into %s at %s", a.name, c.mm(depth), b.name, c.point(j.read.x))
	f.Message += c.grown(b)
	if allowed > 0 {
		f.Message += fmt.Sprintf("; %s of overlap are allowed", c.mm(allowed))
	}
	f.Hint = fmt.Sprintf("move %s by %s along %s to come clear", a.name, c.up(depth), direction(j.read.dir))
	if j.Required > 0 {
		f.Hint += fmt.Sprintf(", by %s for the required gap of %s", c.up(depth+j.Required), c.mm(j.Required))
	}
	f.Source = fmt.Sprintf("two bodies cannot share space; overlaps up to %s count as touching", c.mm(Touch))
}

// clearance words a gap that is too small.
func (c *checker) clearance(j *judged, f *finding.Finding) {
	a, b := j.pair.a, j.pair.b
	f.Value, f.Limit = finding.Number(j.effective()), finding.Number(j.Required)
	apart := "touches"
	if j.Gap.Gap > 0 {
		apart = "is " + c.mm(j.Gap.Gap) + " from"
	}
	f.Message = fmt.Sprintf("%s %s %s at %s%s; %s are required", a.name, apart, b.name, c.point(j.read.x), c.grown(b), c.mm(j.Required))
	way := ""
	if j.read.dir != (vec{}) {
		way = " along " + direction(j.read.dir)
	}
	f.Hint = fmt.Sprintf("move %s by %s%s, or allow it: clearance: {pairs: [{between: [%s, %s], gap: %s}]}", a.name,
		c.up(j.Required-j.effective()), way, a.name, b.name, c.down(j.effective()))
	f.Source = fmt.Sprintf("clearance of the design (%s)", j.Kind)
}

// grown says that a gap is meant after the piece has grown; "" for one that does not.
func (c *checker) grown(b *member) string {
	if b.grows == 0 {
		return ""
	}
	return " after growing " + c.mm(b.grows)
}

// digits returns how many decimals lengths get in texts, and the factor from mm to the design's units.
func (c *checker) digits() (factor float64, decimals int) {
	factor = 1 / c.tree.Design.Units.Length()
	switch c.tree.Design.Units {
	case fold.Mil:
		return factor, 2
	case fold.Inch:
		return factor, 5
	}
	return factor, 3
}

// number writes a length in the design's units; shift moves it by less than the last decimal: up for +1, down for -1.
func (c *checker) number(v float64, shift int) string {
	factor, decimals := c.digits()
	scale := math.Pow(10, float64(decimals))
	x := v * factor * scale
	switch shift {
	case 1:
		x = math.Ceil(x - 1e-6)
	case -1:
		x = math.Floor(x + 1e-6)
	default:
		x = math.Round(x)
	}
	if x == 0 && math.Abs(v) > 0 && shift == 0 {
		return strconv.FormatFloat(v*factor, 'g', 2, 64)
	}
	return strconv.FormatFloat(x/scale+0, 'f', -1, 64)
}

// unit returns the design's unit of length.
func (c *checker) unit() string {
	if u := c.tree.Design.Units; u != "" {
		return string(u)
	}
	return string(fold.MM)
}

func (c *checker) mm(v float64) string   { return c.number(v, 0) + " " + c.unit() }
func (c *checker) up(v float64) string   { return c.number(v, 1) + " " + c.unit() }
func (c *checker) down(v float64) string { return c.number(v, -1) }

// point writes a position in the housing's frame.
func (c *checker) point(p vec) string {
	var s [3]string
	for k := range 3 {
		s[k] = c.number(math.Round(p[k]*1e3)/1e3, 0)
	}
	return "(" + strings.Join(s[:], ", ") + ")"
}

// direction writes a unit vector: "+z", or its parts.
func direction(d vec) string {
	for k := range 3 {
		if math.Abs(d[k]) > 1-1e-9 {
			return string("+-"[max(0, -int(math.Round(d[k])))]) + string("xyz"[k])
		}
	}
	return fmt.Sprintf("(%.2f, %.2f, %.2f)", d[0]+0, d[1]+0, d[2]+0)
}

// unusedPairs reports exceptions that mean no two bodies. A part without a known height has no body but a name.
func (c *checker) unusedPairs() []finding.Finding {
	var names []string
	for _, m := range c.members {
		names = append(names, m.name)
	}
	for _, p := range c.tree.Design.Components {
		names = append(names, "component:"+p.Name)
	}
	var out []finding.Finding
	for _, p := range c.tree.Design.Clearance.Pairs {
		if meansTwo(p, names) {
			continue
		}
		out = append(out, finding.Finding{Rule: "clearance-unused", Severity: finding.Warning, Posture: "", Place: p.Place,
			Message: fmt.Sprintf("the clearance between %s and %s matches no two bodies", p.Between[0], p.Between[1]),
			Hint:    "correct the names or remove it; bodies are named like section:main, component:U1, enclosure:tray", Source: "the design"})
	}
	return out
}

// meansTwo reports whether a pair's names match two different bodies.
func meansTwo(p fold.Pair, names []string) bool {
	for _, a := range names {
		if !fold.NameMatches(p.Between[0], a) {
			continue
		}
		for _, b := range names {
			if a != b && fold.NameMatches(p.Between[1], b) {
				return true
			}
		}
	}
	return false
}
