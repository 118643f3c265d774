package pattern

import (
	"math"
	"strconv"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// paperStock is how thick a mock-up's sheet is where nothing else is said, in mm: office paper of 80 g/m2 (recalled).
const paperStock = 0.1

// leastRod is the thinnest rod that is worth looking for, in mm; below it a fold can only be creased.
const leastRod = 0.3

// sixtyFourth is 1/64 in, in mm: the step of inch drills.
const sixtyFourth = 25.4 / 64

// Rod says how to bend one hinge of a mock-up so that its legs land where those of the board do. Lengths in mm.
type Rod struct {
	Diameter float64 // the middle of the stock round it has the radius of the board's neutral surface; 0 or less: none is thin enough
	Drill    float64 // nearest drill in steps of 0.1 mm
	Inch     int     // nearest drill in 1/64 in
	DrillOff float64 // how far off the part beyond comes to lie when that drill is used, its legs kept parallel to those of the board
	InchOff  float64
	Growth   float64 // creased on the centre line instead: how much each leg is short, to the corner of its middle; +Inf from 180 degrees on
	Miss     float64 // creased instead: how far off the part beyond comes to lie
}

// RodOf returns the rod for a fold by angle (degrees, either sense) of a bend area of that width, both as on the board, for a
// sheet of that thickness. The neutral radius is R = width / angle; the rod is 2 (R - stock/2) thick, and a middle radius that
// is off by dR puts the part beyond off by 2 dR (sin h - h cos h), h half the angle: the fold map of two arcs about one centre
// line, subtracted. Angle 0 gives the zero value.
func RodOf(angle, width, stock float64) Rod {
	angle = math.Abs(angle)
	if angle == 0 {
		return Rod{}
	}
	neutral := width / (angle * (math.Pi / 180))
	half := angle / 2 * (math.Pi / 180)
	reach := 2 * math.Abs(math.Sin(half)-half*math.Cos(half))
	r := Rod{Diameter: 2*neutral - stock, Growth: math.Inf(1), Miss: reach * neutral}
	if angle < 180 {
		r.Growth = stackup.LegGrowth(angle, neutral)
	}
	r.Drill = max(leastRod, math.Round(r.Diameter*10)/10)
	r.Inch = max(1, int(math.Round(r.Diameter/sixtyFourth)))
	r.DrillOff = reach * math.Abs(r.Drill-r.Diameter) / 2
	r.InchOff = reach * math.Abs(float64(r.Inch)*sixtyFourth-r.Diameter) / 2
	return r
}

// Thin reports whether no rod is thin enough, so that the fold has to be creased.
func (r Rod) Thin() bool { return r.Diameter < leastRod }

// stock returns the thickness of the mock-up's sheet in mm.
func (o Options) stock() float64 {
	if o.Stock > 0 {
		return o.Stock
	}
	return paperStock
}

// words returns what stands beside the hinge.
func (r Rod) words() string {
	if r.Thin() {
		return "crease"
	}
	return "rod " + decimals(r.Diameter, 2, 2) + " mm"
}

// inches returns a number of 64ths as a fraction in its lowest terms, such as 1 9/32 in.
func inches(n int) string {
	whole, of := n/64, 64
	for n %= 64; n%2 == 0 && n > 0; n, of = n/2, of/2 {
	}
	out := ""
	if whole > 0 {
		out = strconv.Itoa(whole)
	}
	if n > 0 {
		if out != "" {
			out += " "
		}
		out += strconv.Itoa(n) + "/" + strconv.Itoa(of)
	}
	return out + " in"
}

// table is rows of words in columns, the first row the columns' names.
type table [][]string

// rodTable returns the bending help of every hinge that bends.
func rodTable(t *fold.Tree, o Options) table {
	if o.sheet != nil {
		return creaseTable(t)
	}
	out := table{{"hinge", "step", "fold", "inside r", "width", "rod", "drill", "off by", "inch drill", "off by", "creased"}}
	for i := range t.Design.Hinges {
		h := &t.Design.Hinges[i]
		width := widthOf(t, i)
		if h.Angle == 0 || width == 0 {
			continue
		}
		r := RodOf(h.Angle, width, o.stock())
		row := []string{draw.Cut(draw.Plain(h.Name), 14), stepNumbers(t.Design, h.Name), decimals(math.Abs(h.Angle), 0, 2) + " " + sideName(toward(h.Angle)),
			decimals(h.Radius, 2, 3), decimals(width, 2, 3), "-", "-", "-", "-", "-", "legs +" + decimals(r.Growth, 2, 2)}
		if !r.Thin() {
			copy(row[5:], []string{decimals(r.Diameter, 2, 2), decimals(r.Drill, 1, 1), decimals(r.DrillOff, 2, 2), inches(r.Inch), decimals(r.InchOff, 2, 2)})
		}
		if math.IsInf(r.Growth, 0) {
			row[10] = "off by " + decimals(r.Miss, 2, 2)
		}
		out = append(out, row)
	}
	return out.withoutSteps(t)
}

// withoutSteps takes the column of steps out where the design has no sequence.
func (tb table) withoutSteps(t *fold.Tree) table {
	if len(t.Design.Sequence) == 0 {
		for i := range tb {
			tb[i] = append(tb[i][:1], tb[i][2:]...)
		}
	}
	return tb
}

// rodWords says how to use the table, and which card to glue on which section.
func rodWords(t *fold.Tree, o Options) []string {
	out := []string{
		"Lengths in mm, for a sheet " + decimals(o.stock(), 1, 3) + " mm thick. Lay the rod on the centre line, on the side that the fold goes to, and bend the sheet round it from tangent line to tangent line: " +
			"the middle of the sheet then has the radius of the board's neutral surface. off by: how far the part beyond lies off with the nearest drill.",
		"Creased on the centre line instead, each leg is short by the last figure, measured to the corner where the legs' middles would meet; from 180 degrees on the part beyond lies off by it.",
	}
	if o.sheet != nil {
		out = []string{"Lengths in mm. Each fold is creased sharply along its lines, by the same angle along each; the bend areas are longer than on the board by as much as creases lie outside the arc, so that the parts land where those of the board do."}
	}
	if cards := cardWords(t, o.stock()); cards != "" {
		out = append(out, "Card that makes rigid sections as thick as on the board, in "+words{t.Design.Units}.unit()+": "+cards+".")
	}
	return out
}

// columns returns where the table's columns begin, and its width, in mm.
func (tb table) columns(f *draw.Face) ([]float64, float64) {
	const between = 2.6
	at := make([]float64, len(tb[0]))
	x := 0.0
	for c := range tb[0] {
		at[c] = x
		widest := 0.0
		for _, row := range tb {
			widest = max(widest, f.Width(row[c], draw.SizeSmall))
		}
		x += widest + between
	}
	return at, x - between
}

// rowHeight is the distance of the table's lines in mm.
const rowHeight = draw.SizeSmall * 1.5

// items draws the table with its upper left corner at p.
func (tb table) items(f *draw.Face, p flat.Pt) []draw.Item {
	at, width := tb.columns(f)
	var out []draw.Item
	for i, row := range tb {
		y := p.Y - float64(i)*rowHeight
		for c, words := range row {
			if words == "" {
				continue
			}
			out = append(out, write(flat.Pt{X: p.X + at[c], Y: y}, draw.SizeSmall, words))
		}
	}
	y := p.Y - rowHeight + 1
	return append(out, draw.Segment(flat.Pt{X: p.X, Y: y}, flat.Pt{X: p.X + width, Y: y}, draw.Fine))
}
