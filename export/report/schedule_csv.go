package report

import (
	"encoding/csv"
	"io"
	"math"
	"strings"
)

// ScheduleCSV writes the bend schedule as a table after RFC 4180: a line of headings with their units, then one line for each
// hinge that bends, in the schedule's order. Lengths in mm to 0.001 mm, flat positions from the design's datum; a cell is empty where nothing is known
// or given.
func ScheduleCSV(w io.Writer, r Run) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write(rowOf(&hingeJSON{}, [2]num{}).headings); err != nil {
		return err
	}
	s := r.Schedule()
	for i := range s.Hinges {
		h := r.hinge(s.Hinges[i].Index, &s.Hinges[i])
		if err := out.Write(rowOf(&h, point(s.Datum)).cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// row is one line of the table with its headings.
type row struct{ headings, cells []string }

// rowOf returns the line of a hinge.
func rowOf(h *hingeJSON, datum [2]num) row {
	var r row
	r.words("hinge", h.Name)
	r.count("step", h.Step)
	r.words("bends", strings.Join(h.Bends, " "))
	tangents := or(h.Tangents)
	r.line("line", h.Line, datum)
	r.line("near tangent", tangents[0], datum)
	r.line("far tangent", tangents[1], datum)
	r.number("moved mm", some(math.Abs(float64(h.Moved))), 6)
	r.number("bend area width mm", &h.Width, 3)
	r.number("flex width mm", h.FlatWidth, 3)
	r.number("rotation deg", some(math.Abs(float64(h.Angle))), 2)
	r.words("toward", h.Toward)
	r.number("inside radius mm", &h.Radius, 3)
	r.number("neutral radius mm", &h.NeutralRadius, 3)
	r.least("least inside radius mm", h.MinRadius)
	r.flex(h)
	r.made(h)
	return r
}

// flex adds what is bent, and what bending does to it.
func (r *row) flex(h *hingeJSON) {
	r.words("stack-up", or(h.Stackup))
	r.number("thickness mm", h.Thickness, 3)
	r.count("copper layers", h.CopperLayers)
	r.number("ratio", h.Ratio, 2)
	r.number("ratio asked", h.RatioAsked, 2)
	r.share("copper strain %", h.CopperStrain, 2)
	r.words("ratio and strain of", []string{"drawn cylinder", "free shape"}[btoi(h.FormedFree)])
	e, f := or(h.Elongation), or(h.Free)
	r.share("elongation %", where(h.Elongation, e.Limit), 2)
	r.number("IPC-2223 radius mm", e.Quoted, 3)
	r.number("free inside radius mm", where(h.Free, f.Radius), 3)
	r.number("free of drawn", where(h.Free, f.OfDrawn), 3)
	r.number("free loop reaches further mm", where(h.Free, f.Wider), 3)
	r.figure("holding moment N.mm", h.Moment)
}

// made adds what it is used for, and how it is formed.
func (r *row) made(h *hingeJSON) {
	r.words("use", h.Use)
	r.number("cycles", h.Cycles, 0)
	between, life := or(h.Between), or(h.Life)
	r.number("from deg (+ toward top)", where(h.Between, between[0]), 2)
	r.number("to deg (+ toward top)", where(h.Between, between[1]), 2)
	r.figure("life low cycles", where(h.Life, life.Low))
	r.figure("life mean cycles", where(h.Life, life.Cycles))
	r.figure("life high cycles", where(h.Life, life.High))
	r.words("formed", or(h.Formed))
	spring, tolerance := or(h.Springback), or(h.Tolerance)
	r.share("springback keeps low %", where(h.Springback, spring.Kept[0]), 0)
	r.share("springback keeps high %", where(h.Springback, spring.Kept[1]), 0)
	r.number("form from deg", spring.Form[0], 0)
	r.number("form to deg", spring.Form[1], 0)
	r.number("angle tolerance deg", tolerance.Angle, 2)
	r.number("line tolerance mm", tolerance.Line, 3)
}

// words adds a cell.
func (r *row) words(heading, cell string) {
	r.headings, r.cells = append(r.headings, heading), append(r.cells, cell)
}

// number adds a number with so many decimals, empty for none.
func (r *row) number(heading string, n *num, digits int) {
	cell := ""
	if n != nil {
		cell = fixed(float64(*n), digits)
	}
	r.words(heading, cell)
}

// least adds a least length, rounded up so that the written one passes.
func (r *row) least(heading string, n *num) {
	if n != nil {
		n = some(math.Ceil(float64(*n)*1000-rounding) / 1000)
	}
	r.number(heading, n, 3)
}

// share adds a fraction in per cent.
func (r *row) share(heading string, n *num, digits int) {
	if n != nil {
		n = some(100 * float64(*n))
	}
	r.number(heading, n, digits)
}

// figure adds a number that no more than two digits stand for.
func (r *row) figure(heading string, n *num) {
	cell := ""
	if n != nil {
		cell = figures(*n, 2)
	}
	r.words(heading, cell)
}

// count adds a whole number.
func (r *row) count(heading string, n *int) {
	if n == nil {
		r.words(heading, "")
		return
	}
	r.number(heading, some(float64(*n)), 0)
}

// line adds the ends of a line, from the datum.
func (r *row) line(heading string, l [2][2]num, datum [2]num) {
	for i, end := range []string{"1", "2"} {
		r.number(heading+" x"+end+" mm", some(float64(l[i][0]-datum[0])), 3)
		r.number(heading+" y"+end+" mm", some(float64(l[i][1]-datum[1])), 3)
	}
}

// or returns what p points at, the zero value for nil.
func or[T any](p *T) T {
	if p == nil {
		var zero T
		return zero
	}
	return *p
}

// where returns n where the thing it belongs to is there.
func where[T any](thing *T, n num) *num {
	if thing == nil {
		return nil
	}
	return &n
}
