package draw

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/goregular"

	"foldfit/fold/flat"
)

// pt is how many points one mm is.
const pt = 72 / 25.4

// lettering is the name under which a page knows its font.
const lettering = "lettering"

// WritePDF writes sheets as the pages of one PDF document, each as large as its Box, at true scale: coordinates rounded to 1e-5 pt,
// arcs as cubic curves that lie off by at most 5e-7 of their radius, writing selectable. Viewers are told not to scale when they
// print. maker names the program. The same sheets give the same bytes.
func WritePDF(w io.Writer, sheets []*Sheet, maker string) error {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt"})
	doc.SetCreationDate(time.Unix(0, 0).UTC()) // a document has no date; finish takes it out of what is read
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetCatalogSort(true)
	doc.SetAutoPageBreak(false, 0)
	doc.SetMargins(0, 0, 0)
	doc.AddUTF8FontFromBytes(lettering, "", goregular.TTF)
	for _, s := range sheets {
		p := pdfPage{doc, s.Box, s.Size().Y * pt}
		doc.AddPageFormat("P", fpdf.SizeType{Wd: s.Size().X * pt, Ht: s.Size().Y * pt})
		p.sheet(s)
	}
	var out bytes.Buffer
	if err := doc.Output(&out); err != nil {
		return fmt.Errorf("the PDF could not be made: %w", err)
	}
	title := ""
	if len(sheets) > 0 {
		title = sheets[0].Title
	}
	_, err := w.Write(finish(out.Bytes(), title, maker))
	return err
}

// pdfPage writes the items of one page.
type pdfPage struct {
	doc    *fpdf.Fpdf
	box    flat.Box
	height float64 // of the page in points, which the library's y counts down from
}

// sheet writes the groups of a page. The scale is about the lower left corner.
func (p pdfPage) sheet(s *Sheet) {
	if s.Scale != [2]float64{} {
		p.doc.RawWriteStr(fmt.Sprintf("q %.6f 0 0 %.6f 0 0 cm", s.Scale[0], s.Scale[1]))
		defer p.doc.RawWriteStr("Q")
	}
	for _, g := range s.Groups {
		if g.Clip != nil {
			p.doc.RawWriteStr(fmt.Sprintf("q %s %s %s re W n", p.at(g.Clip.Min), points(g.Clip.Max.X-g.Clip.Min.X), points(g.Clip.Max.Y-g.Clip.Min.Y)))
		}
		for _, it := range g.Items {
			p.item(it)
		}
		if g.Clip != nil {
			p.doc.RawWriteStr("Q")
		}
	}
}

func (p pdfPage) item(it Item) {
	if it.Text != nil {
		p.text(it.Text, it.Fill)
		return
	}
	stroked, filled := it.Pen.Width > 0, it.Fill != ""
	if !stroked && !filled || len(it.Runs) == 0 {
		return
	}
	var b strings.Builder
	b.WriteString("q 1 j ")
	if filled {
		b.WriteString(colour(it.Fill) + " rg ")
	}
	if stroked {
		fmt.Fprintf(&b, "%s RG %s w [%s] 0 d ", colour(it.Pen.Ink), points(it.Pen.Width), dashes(it.Pen.Dash))
	}
	for _, r := range it.Runs {
		p.run(&b, r)
	}
	b.WriteString(map[[2]bool]string{{true, true}: "B", {true, false}: "S", {false, true}: "f"}[[2]bool{stroked, filled}] + " Q")
	p.doc.RawWriteStr(b.String())
}

// run writes a chain of edges.
func (p pdfPage) run(b *strings.Builder, r Run) {
	if len(r.Edges) == 0 {
		return
	}
	b.WriteString(p.at(r.Edges[0].P) + " m ")
	for i, e := range r.Edges {
		switch {
		case e.IsArc():
			p.arc(b, e)
		case r.Closed && i == len(r.Edges)-1: // h draws it
		default:
			b.WriteString(p.at(e.Q) + " l ")
		}
	}
	if r.Closed {
		b.WriteString("h ")
	}
}

// arc writes e as cubic curves of at most 30 degrees.
func (p pdfPage) arc(b *strings.Builder, e flat.Edge) {
	n := max(1, int(math.Ceil(math.Abs(e.Sweep)/(math.Pi/6)-1e-9)))
	reach := 4.0 / 3 * math.Tan(e.Sweep/float64(n)/4)
	for i := range n {
		from, to := e.At(float64(i)/float64(n)), e.At(float64(i+1)/float64(n))
		b.WriteString(p.at(from.Add(from.Sub(e.C).Left().Mul(reach))) + " " + p.at(to.Sub(to.Sub(e.C).Left().Mul(reach))) + " " + p.at(to) + " c ")
	}
}

// text writes selectable lines.
func (p pdfPage) text(t *Text, ink Ink) {
	var rgb [3]int
	fmt.Sscanf(string(ink), "#%02x%02x%02x", &rgb[0], &rgb[1], &rgb[2])
	p.doc.SetTextColor(rgb[0], rgb[1], rgb[2])
	p.doc.SetFont(lettering, "", t.Size*pt)
	for i, line := range t.Lines {
		p.doc.Text((t.At.X-p.box.Min.X)*pt, p.height-(t.At.Y-p.box.Min.Y-float64(i)*Leading*t.Size)*pt, line)
	}
}

// at returns a point of the sheet in points, y up from the page's lower edge.
func (p pdfPage) at(q flat.Pt) string {
	return points(q.X-p.box.Min.X) + " " + points(q.Y-p.box.Min.Y)
}

// points returns mm in points.
func points(mm float64) string { return strconv.FormatFloat(math.Round(mm*pt*1e5)/1e5+0, 'f', -1, 64) }

func dashes(list []float64) string {
	out := make([]string, len(list))
	for i, d := range list {
		out[i] = points(d)
	}
	return strings.Join(out, " ")
}

// colour returns an ink as three shares of 1.
func colour(ink Ink) string {
	var rgb [3]uint8
	fmt.Sscanf(string(ink), "#%02x%02x%02x", &rgb[0], &rgb[1], &rgb[2])
	out := make([]string, 3)
	for i, v := range rgb {
		out[i] = strconv.FormatFloat(float64(v)/255, 'f', 4, 64)
	}
	return strings.Join(out, " ")
}

var (
	pdfRoot = regexp.MustCompile(`/Root (\d+) 0 R`)
	pdfInfo = regexp.MustCompile(`/Info (\d+) 0 R`)
	pdfSize = regexp.MustCompile(`/Size (\d+)`)
	pdfXref = regexp.MustCompile(`startxref\s+(\d+)`)
)

// finish appends to a PDF new versions of its catalog, which tells viewers not to scale when they print, and of its information,
// which has no date (ISO 32000-1, 7.5.6, incremental update; 12.2, PrintScaling).
func finish(doc []byte, title, maker string) []byte {
	tail := doc[bytes.LastIndex(doc, []byte("trailer")):]
	find := func(r *regexp.Regexp) string { return string(r.FindSubmatch(tail)[1]) }
	root, info := find(pdfRoot), find(pdfInfo)
	out := bytes.NewBuffer(append(doc, '\n'))
	infoAt := out.Len()
	fmt.Fprintf(out, "%s 0 obj\n<< /Title %s /Producer %s >>\nendobj\n", info, hex(title), hex(maker))
	rootAt := out.Len()
	fmt.Fprintf(out, "%s 0 obj\n<< /Type /Catalog /Version /1.6 /Pages 1 0 R /ViewerPreferences << /PrintScaling /None /DisplayDocTitle true >> >>\nendobj\n", root)
	at := out.Len()
	fmt.Fprintf(out, "xref\n%s 1\n%010d 00000 n \n%s 1\n%010d 00000 n \n", info, infoAt, root, rootAt)
	fmt.Fprintf(out, "trailer\n<< /Size %s /Root %s 0 R /Info %s 0 R /Prev %s >>\nstartxref\n%d\n%%%%EOF\n", find(pdfSize), root, info, find(pdfXref), at)
	return out.Bytes()
}

// hex returns text as a PDF string in UTF-16.
func hex(s string) string {
	out := "<FEFF"
	for _, u := range utf16.Encode([]rune(s)) {
		out += fmt.Sprintf("%04X", u)
	}
	return out + ">"
}
