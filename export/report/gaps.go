package report

import (
	"fmt"
	"math"
	"strings"

	"foldfit/mesh/clash"
)

// gaps writes the table of gaps, and which clearances ask for nothing.
func (p *page) gaps(r Run) {
	if r.Folded == nil {
		p.list("Gaps", []string{"none measured: the board has no folded shape"})
		return
	}
	p.section("Gaps in " + p.unit() + " (the smallest of each kind and any too small)")
	if len(r.Gaps) == 0 {
		p.item("none to measure")
	}
	rows := make([][3]string, len(r.Gaps))
	widest := [3]int{}
	for i, g := range r.Gaps {
		gap, required := p.pair(g.Gap, g.Required, "mm")
		rows[i] = [3]string{g.Kind, gap, required}
		for k, s := range rows[i] {
			widest[k] = max(widest[k], len(s))
		}
	}
	for i, g := range r.Gaps {
		fmt.Fprintf(p.out, "  %-*s  %*s  required %*s  %s%s\n", widest[0], rows[i][0], widest[1], rows[i][1], widest[2], rows[i][2],
			g.Between[0]+" - "+g.Between[1], spaced(remark(g)))
	}
	if only := r.contactOnly(); only != "" {
		p.item(only)
	}
}

// spaced sets a remark off from what stands before it.
func spaced(s string) string {
	if s == "" {
		return ""
	}
	return "  " + s
}

// remark says in words what stands out about a gap.
func remark(g clash.Gap) string {
	switch {
	case !g.Judged:
		return "not judged: the layout's business"
	case !tooSmall(g):
		return ""
	case g.Gap < 0:
		return "overlap"
	}
	return "too small"
}

// tooSmall reports whether a gap is under its required clearance by more than rounding.
func tooSmall(g clash.Gap) bool { return g.Gap < g.Required-1e-9*math.Abs(g.Required) }

// contactOnly names the kinds whose clearance is 0; "" when there is none.
func (r Run) contactOnly() string {
	c := r.Tree.Design.Clearance
	var zero []string
	for _, k := range []struct {
		name  string
		value float64
	}{{"board", c.Board}, {"components", c.Components}, {"enclosure", c.Enclosure}} {
		if k.value == 0 {
			zero = append(zero, k.name)
		}
	}
	if len(zero) == 0 {
		return ""
	}
	return fmt.Sprintf("No clearance is required for %s: only contact is judged.", strings.ReplaceAll(together(zero), " and ", " or "))
}
