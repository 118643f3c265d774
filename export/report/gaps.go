package report

import (
	"fmt"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh/clash"
)

// gaps writes the table of gaps, and which clearances ask for nothing.
func (p *page) gaps(r Run) {
	if r.Folded == nil {
		p.list("Gaps", []string{"none measured: the board has no folded shape"})
		return
	}
	for _, name := range r.checked() {
		title := "Gaps in " + p.unitsNamed()
		if r.several() || name != fold.FoldedPosture {
			title += ", posture " + name
		}
		p.section(title + " (the smallest of each kind and any too small)")
		p.gapTable(r, slices.DeleteFunc(slices.Clone(r.Gaps), func(g clash.Gap) bool { return g.Posture != name }))
	}
	if only := r.contactOnly(); only != "" {
		p.item(only)
	}
}

// checked returns the names of the postures that were checked.
func (r Run) checked() []string {
	if r.Postures != nil {
		return r.Postures
	}
	return []string{r.Posture}
}

// gapTable writes the gaps of one posture.
func (p *page) gapTable(r Run, gaps []clash.Gap) {
	if len(gaps) == 0 {
		p.item("none to measure")
	}
	rows := make([][3]string, len(gaps))
	widest := [3]int{}
	for i, g := range gaps {
		gap, required := p.pair(g.Gap, g.Required, "mm")
		rows[i] = [3]string{g.Kind, gap, "required " + required}
		if g.Seat != "" {
			rows[i][2] = "seat " + g.Seat
		}
		for k, s := range rows[i] {
			widest[k] = max(widest[k], len(s))
		}
	}
	for i, g := range gaps {
		fmt.Fprintf(p.out, "  %-*s  %*s  %-*s  %s%s\n", widest[0], rows[i][0], widest[1], rows[i][1], widest[2], rows[i][2],
			g.Between[0]+" - "+g.Between[1], spaced(r.remark(g)))
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
func (r Run) remark(g clash.Gap) string {
	switch {
	case !g.Judged:
		return "not judged: the layout's business"
	case g.Rule == "" && r.besideSeat(g):
		return "outside the seat"
	case g.Rule == "":
		return ""
	case r.conceded(g):
		return "accepted by concession"
	case g.Rule == "not-seated":
		return "not seated"
	case g.Gap < 0:
		return "overlap"
	}
	return "too small"
}

// besideSeat reports whether a gap is the one that two bodies keep outside a seat between them.
func (r Run) besideSeat(g clash.Gap) bool {
	return g.Seat == "" && slices.ContainsFunc(r.Gaps, func(o clash.Gap) bool {
		return o.Seat != "" && o.Between == g.Between && o.Posture == g.Posture
	})
}

// conceded reports whether a concession accepts the finding that a gap makes.
func (r Run) conceded(g clash.Gap) bool {
	return slices.ContainsFunc(r.Findings, func(f finding.Finding) bool {
		return f.Accepted != nil && f.Rule == g.Rule && f.Posture == g.Posture && len(f.On) == 2 &&
			slices.Contains(f.On, g.Between[0]) && slices.Contains(f.On, g.Between[1])
	})
}

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
