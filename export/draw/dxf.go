package draw

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"

	"foldfit/fold/flat"
)

// Layer is a set of lines for one operation of a machine.
type Layer struct {
	Name string
	Runs []Run
}

// WriteDXF writes layers as an ASCII DXF drawing of release 2000 (AC1015) in mm: lines, arcs and polylines with bulges in model
// space, in the order given, continuous and in the layer's colour (7, black on white). Coordinates are rounded to 1e-6 mm; arcs
// stay arcs. Layer names may hold letters, digits, - and _.
func WriteDXF(w io.Writer, layers []Layer) error {
	d := &dxf{out: bufio.NewWriter(w), handle: 0x30}
	d.header(layers)
	d.tables(layers)
	d.blocks()
	d.pairs("0", "SECTION", "2", "ENTITIES")
	for _, l := range layers {
		for _, r := range l.Runs {
			d.run(l.Name, r)
		}
	}
	d.pairs("0", "ENDSEC", "0", "SECTION", "2", "OBJECTS", "0", "DICTIONARY", "5", "C", "330", "0", "100", "AcDbDictionary", "281", "1",
		"3", "ACAD_GROUP", "350", "D", "0", "DICTIONARY", "5", "D", "330", "C", "100", "AcDbDictionary", "281", "1", "0", "ENDSEC", "0", "EOF")
	return d.out.Flush()
}

// dxf is a drawing being written; bufio keeps the first error for Flush.
type dxf struct {
	out    *bufio.Writer
	handle int
}

// pairs writes group codes and values in turn.
func (d *dxf) pairs(list ...string) {
	for i := 0; i+1 < len(list); i += 2 {
		fmt.Fprintf(d.out, "%3s\n%s\n", list[i], list[i+1])
	}
}

// next returns a handle that is not taken yet.
func (d *dxf) next() string {
	d.handle++
	return strconv.FormatInt(int64(d.handle), 16)
}

// header writes the units, the extent and the first free handle: more than one for each run.
func (d *dxf) header(layers []Layer) {
	box, n, first := flat.Box{}, d.handle+1, true
	for _, l := range layers {
		n++
		for _, r := range l.Runs {
			n++
			b := flat.Loop(r.Edges).Box()
			if first {
				box, first = b, false
			}
			box = box.Join(b)
		}
	}
	d.pairs("0", "SECTION", "2", "HEADER", "9", "$ACADVER", "1", "AC1015", "9", "$HANDSEED", "5", strconv.FormatInt(int64(n+16), 16),
		"9", "$INSUNITS", "70", "4", "9", "$MEASUREMENT", "70", "1",
		"9", "$EXTMIN", "10", exact(box.Min.X), "20", exact(box.Min.Y), "30", "0", "9", "$EXTMAX", "10", exact(box.Max.X), "20", exact(box.Max.Y), "30", "0",
		"0", "ENDSEC")
}

// tables writes the tables that release 2000 asks for.
func (d *dxf) tables(layers []Layer) {
	d.pairs("0", "SECTION", "2", "TABLES")
	d.table("VPORT", "8", 0)
	d.table("LTYPE", "5", 3)
	for _, e := range [][2]string{{"14", "ByBlock"}, {"15", "ByLayer"}, {"16", "Continuous"}} {
		d.record("LTYPE", e[0], "5", "AcDbLinetypeTableRecord", e[1])
		d.pairs("3", "", "72", "65", "73", "0", "40", "0")
	}
	d.pairs("0", "ENDTAB")
	d.table("LAYER", "2", len(layers)+1)
	d.record("LAYER", "10", "2", "AcDbLayerTableRecord", "0")
	d.pairs("62", "7", "6", "Continuous")
	for _, l := range layers {
		d.record("LAYER", d.next(), "2", "AcDbLayerTableRecord", l.Name)
		d.pairs("62", "7", "6", "Continuous")
	}
	d.pairs("0", "ENDTAB")
	d.table("STYLE", "3", 1)
	d.record("STYLE", "11", "3", "AcDbTextStyleTableRecord", "Standard")
	d.pairs("40", "0", "41", "1", "50", "0", "71", "0", "42", "2.5", "3", "txt", "4", "", "0", "ENDTAB")
	d.table("VIEW", "6", 0)
	d.table("UCS", "7", 0)
	d.table("APPID", "9", 1)
	d.record("APPID", "12", "9", "AcDbRegAppTableRecord", "ACAD")
	d.pairs("0", "ENDTAB")
	d.table("DIMSTYLE", "A", 0)
	d.table("BLOCK_RECORD", "1", 2)
	d.record("BLOCK_RECORD", "1F", "1", "AcDbBlockTableRecord", "*Model_Space")
	d.record("BLOCK_RECORD", "1B", "1", "AcDbBlockTableRecord", "*Paper_Space")
	d.pairs("0", "ENDTAB", "0", "ENDSEC")
}

// table begins a table, and ends one without records.
func (d *dxf) table(name, handle string, records int) {
	d.pairs("0", "TABLE", "2", name, "5", handle, "330", "0", "100", "AcDbSymbolTable", "70", strconv.Itoa(records))
	if name == "DIMSTYLE" {
		d.pairs("100", "AcDbDimStyleTable")
	}
	if records == 0 {
		d.pairs("0", "ENDTAB")
	}
}

// record begins a record of a table.
func (d *dxf) record(kind, handle, owner, class, name string) {
	d.pairs("0", kind, "5", handle, "330", owner, "100", "AcDbSymbolTableRecord", "100", class, "2", name)
	if kind != "BLOCK_RECORD" {
		d.pairs("70", "0")
	}
}

// blocks writes the two spaces every drawing has.
func (d *dxf) blocks() {
	d.pairs("0", "SECTION", "2", "BLOCKS")
	for _, b := range [][4]string{{"20", "1F", "*Model_Space", "21"}, {"1C", "1B", "*Paper_Space", "1D"}} {
		d.pairs("0", "BLOCK", "5", b[0], "330", b[1], "100", "AcDbEntity", "8", "0", "100", "AcDbBlockBegin", "2", b[2], "70", "0",
			"10", "0", "20", "0", "30", "0", "3", b[2], "1", "", "0", "ENDBLK", "5", b[3], "330", b[1], "100", "AcDbEntity", "8", "0", "100", "AcDbBlockEnd")
	}
	d.pairs("0", "ENDSEC")
}

// run writes a chain: a single edge as a line or an arc, several as a polyline.
func (d *dxf) run(layer string, r Run) {
	switch {
	case len(r.Edges) == 0:
	case len(r.Edges) > 1:
		d.polyline(layer, r)
	case r.Edges[0].IsArc():
		e := r.Edges[0]
		from, to := e.P, e.Q
		if e.Sweep < 0 {
			from, to = to, from
		}
		d.entity(layer, "ARC", "AcDbCircle")
		d.pairs("10", exact(e.C.X), "20", exact(e.C.Y), "30", "0", "40", exact(e.R), "100", "AcDbArc", "50", angle(from.Sub(e.C)), "51", angle(to.Sub(e.C)))
	default:
		e := r.Edges[0]
		d.entity(layer, "LINE", "AcDbLine")
		d.pairs("10", exact(e.P.X), "20", exact(e.P.Y), "30", "0", "11", exact(e.Q.X), "21", exact(e.Q.Y), "31", "0")
	}
}

func (d *dxf) entity(layer, kind, class string) {
	d.pairs("0", kind, "5", d.next(), "330", "1F", "100", "AcDbEntity", "8", layer, "100", class)
}

// polyline writes corners with the bulge of the edge that follows: the tangent of a quarter of its sweep.
func (d *dxf) polyline(layer string, r Run) {
	d.entity(layer, "LWPOLYLINE", "AcDbPolyline")
	n, flag := len(r.Edges)+1, "0"
	if r.Closed {
		n, flag = len(r.Edges), "1"
	}
	d.pairs("90", strconv.Itoa(n), "70", flag)
	for _, e := range r.Edges {
		d.pairs("10", exact(e.P.X), "20", exact(e.P.Y))
		if e.IsArc() {
			d.pairs("42", strconv.FormatFloat(math.Tan(e.Sweep/4), 'f', 12, 64))
		}
	}
	if !r.Closed {
		last := r.Edges[len(r.Edges)-1].Q
		d.pairs("10", exact(last.X), "20", exact(last.Y))
	}
}

// exact returns mm rounded to 1e-6, without a negative zero.
func exact(v float64) string { return strconv.FormatFloat(math.Round(v*1e6)/1e6+0, 'f', -1, 64) }

// angle returns the direction of v in degrees, 0 to 360.
func angle(v flat.Pt) string {
	a := math.Atan2(v.Y, v.X) * 180 / math.Pi
	if a < 0 {
		a += 360
	}
	return strconv.FormatFloat(math.Round(a*1e9)/1e9, 'f', -1, 64)
}
