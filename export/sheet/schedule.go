package sheet

import (
	"math"
	"strings"

	"foldfit/export/draw"
	"foldfit/export/report"
	"foldfit/fold/flat"
)

// column is one column of a table: its heading in up to three lines, and what stands in each row.
type column struct {
	heading []string
	cells   []string
	align   float64
}

// schedule draws the bend schedule as a table, at most so wide if that can be.
func (p *page) schedule(width float64) *block {
	b := p.newBlock("schedule", "bend schedule")
	more := "rotation from flat, positions from the datum on the flat board seen from its top side, lengths in " + p.words.unit() + ", angles in degrees"
	for _, name := range p.plan.Flat {
		more += "; " + draw.Cut(name, 24) + " stays flat"
	}
	cols := p.columns()
	if len(p.plan.Hinges) == 0 {
		b.heading(flat.Pt{}, "Bend schedule", "the design has no hinges that bend")
		return b
	}
	b.heading(flat.Pt{}, "Bend schedule", strings.Join(p.face.Wrap(more, draw.SizeSmall, width-35)[:1], ""))
	b.table(cols, width)
	if more := len(p.plan.Hinges) - mostRows; more > 0 {
		b.write(flat.Pt{Y: b.box().Min.Y - step}, draw.SizeSmall, left, "No room for "+fixed(float64(more), 0)+" more hinges: foldfit check lists them all.")
	}
	return b
}

// mostRows is how many hinges the table has at most, so that the largest paper has room for the rest of the page.
const mostRows = 100

// table draws columns below the origin; room that is left is shared out among them.
func (b *block) table(cols []column, width float64) {
	const pad = 1.2
	widths, used, heads, rows := make([]float64, len(cols)), 0.0, 0, 0
	for i, c := range cols {
		w, _ := b.face.Size(append(append([]string{}, c.heading...), c.cells...), draw.SizeSmall)
		widths[i] = w + 2*pad
		used, heads, rows = used+widths[i], max(heads, len(c.heading)), max(rows, len(c.cells))
	}
	extra := clamp((width-used)/float64(len(cols)), 0, 4)
	top := -2.0
	bottom := top - float64(heads+rows)*step - float64(2)*pad
	x := 0.0
	for i, c := range cols {
		w := widths[i] + extra
		b.line(draw.Fine, x, top, x, bottom)
		at := x + pad + c.align*(w-2*pad)
		b.write(flat.Pt{X: at, Y: top - pad/2 - draw.Rise*draw.SizeSmall}, draw.SizeSmall, c.align, c.heading...)
		b.write(flat.Pt{X: at, Y: top - float64(heads)*step - 1.5*pad - draw.Rise*draw.SizeSmall}, draw.SizeSmall, c.align, c.cells...)
		x += w
	}
	b.line(draw.Fine, x, top, x, bottom)
	for _, y := range []float64{top, top - float64(heads)*step - pad, bottom} {
		b.line(draw.Thin, 0, y, x, y)
	}
	for i := 1; i < rows; i++ {
		y := top - float64(heads+i)*step - 1.5*pad + 0.36
		b.line(draw.HatchLine, 0, y, x, y)
	}
}

// columns returns the bend schedule's columns.
func (p *page) columns() []column {
	w, datum := p.words, p.plan.Datum
	place := func(l [2]flat.Pt, end int) string {
		q := l[end].Sub(datum)
		return w.length(q.X) + ", " + w.length(q.Y)
	}
	list := []struct {
		heading string
		align   float64
		cell    func(*report.Scheduled) string
	}{
		{"hinge", left, func(s *report.Scheduled) string { return draw.Cut(s.Name, 24) }},
		{"step", right, func(s *report.Scheduled) string { return count(s.Step) }},
		{"centre line from| |x, y", right, func(s *report.Scheduled) string { return place(s.Centre, 0) }},
		{"to| |x, y", right, func(s *report.Scheduled) string { return place(s.Centre, 1) }},
		{"near tangent|line from|x, y", right, func(s *report.Scheduled) string { return place(s.Tangents[0], 0) }},
		{"far tangent|line from|x, y", right, func(s *report.Scheduled) string { return place(s.Tangents[1], 0) }},
		{"rotation", right, func(s *report.Scheduled) string { return short(math.Abs(s.Angle), 2) }},
		{"toward", left, func(s *report.Scheduled) string { return toward(s.Angle) }},
		{"inside|radius", right, func(s *report.Scheduled) string { return w.length(s.Radius) }},
		{"neutral|radius", right, func(s *report.Scheduled) string { return w.length(s.Neutral) }},
		{"bend|area|width", right, func(s *report.Scheduled) string { return w.length(s.Width) }},
		{"flex|width", right, func(s *report.Scheduled) string { return w.length(s.FlexWidth) }},
		{"flex|thick", right, func(s *report.Scheduled) string { return w.thickness(s.Flex().Stack.Thickness()) }},
		{"copper|layers", right, copperLayers},
		{"ratio|r/t", right, func(s *report.Scheduled) string { return short(s.Flex().Ratio(), 1) }},
		{"ratio|asked", right, func(s *report.Scheduled) string { return short(s.Asked, 1) }},
		{"copper|strain|%", right, strain},
		{"use", left, useWords},
		{"formed|by", left, func(s *report.Scheduled) string { return orDash(s.Formed) }},
		{"tolerance", left, p.tolerance},
	}
	out := make([]column, len(list))
	for i, c := range list {
		out[i] = column{heading: strings.Split(c.heading, "|"), align: c.align}
		for k := range p.plan.Hinges[:min(mostRows, len(p.plan.Hinges))] {
			out[i].cells = append(out[i].cells, c.cell(&p.plan.Hinges[k]))
		}
	}
	return out
}

// none stands in a cell for what is not given or not known.
const none = "–"

func orDash(s string) string {
	if s == "" {
		return none
	}
	return s
}

// count writes a number that may not be there.
func count(n *int) string {
	if n == nil {
		return none
	}
	return fixed(float64(*n), 0)
}

// copperLayers writes how many copper layers are bent.
func copperLayers(s *report.Scheduled) string {
	if n := s.Flex().Stack.CopperLayers; n >= 0 {
		return fixed(float64(n), 0)
	}
	return "not known"
}

// strain writes the largest strain in the copper, in per cent.
func strain(s *report.Scheduled) string {
	v, known := s.Flex().Copper()
	if !known {
		return none
	}
	return fixed(100*v, 2)
}

// useWords says what a hinge is used for.
func useWords(s *report.Scheduled) string {
	switch {
	case s.Use == "dynamic" && s.Cycles > 0:
		return "dynamic, " + short(s.Cycles, 0)
	case s.Use == "":
		return "install"
	}
	return s.Use
}

// tolerance writes the tolerances that the design gives.
func (p *page) tolerance(s *report.Scheduled) string {
	var parts []string
	if s.TolAngle != 0 {
		parts = append(parts, "±"+short(s.TolAngle, 2)+"°")
	}
	if s.TolLine != 0 {
		parts = append(parts, "line ±"+p.words.length(s.TolLine))
	}
	return orDash(strings.Join(parts, ", "))
}
