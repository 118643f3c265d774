package draw

import (
	"bufio"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"

	"foldfit/fold/flat"
)

// WriteSVG writes s as one SVG 1.1 document: width, height and viewBox in mm, one user unit is 1 mm, arcs as A commands,
// coordinates rounded to 1e-4 mm (those of letters to 1e-3 mm), letters as outlines.
func WriteSVG(w io.Writer, s *Sheet, f *Face) error {
	p := &svg{out: bufio.NewWriter(w), sheet: s, face: f}
	size := s.Size()
	width, height := Num(size.X), Num(size.Y)
	p.put(`<?xml version="1.0" encoding="UTF-8"?>`, "\n",
		`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="`, width, `mm" height="`, height, `mm" viewBox="0 0 `, width, " ", height,
		`" fill="none" stroke-linejoin="round">`, "\n<title>", escape(s.Title), "</title>\n")
	scaled := s.Scale != [2]float64{}
	if scaled {
		p.put(`<g transform="scale(`, Num(s.Scale[0]), ",", Num(s.Scale[1]), `)">`, "\n")
	}
	for i, g := range s.Groups {
		p.group(g, i)
	}
	if scaled {
		p.put("</g>\n")
	}
	p.put("</svg>\n")
	return p.out.Flush()
}

// svg is a document being written; bufio keeps the first error for Flush.
type svg struct {
	out   *bufio.Writer
	sheet *Sheet
	face  *Face
}

func (p *svg) put(parts ...string) {
	for _, s := range parts {
		p.out.WriteString(s)
	}
}

func (p *svg) group(g Group, i int) {
	clip := ""
	if g.Clip != nil {
		id := "clip-" + strconv.Itoa(i)
		c := flat.Box{Min: flat.Pt{X: g.Clip.Min.X - p.sheet.Box.Min.X, Y: p.sheet.Box.Max.Y - g.Clip.Max.Y}, Max: g.Clip.Max.Sub(g.Clip.Min)}
		p.put(`<clipPath id="`, id, `"><rect x="`, Num(c.Min.X), `" y="`, Num(c.Min.Y), `" width="`, Num(c.Max.X), `" height="`, Num(c.Max.Y), `"/></clipPath>`, "\n")
		clip = "url(#" + id + ")"
	}
	p.put("<g", attr("id", g.ID), attr("clip-path", clip), ">")
	if g.Title != "" {
		p.put("<title>", escape(g.Title), "</title>")
	}
	p.put("\n")
	for _, it := range g.Items {
		p.item(it)
	}
	p.put("</g>\n")
}

func (p *svg) item(it Item) {
	if it.Text != nil {
		p.text(it)
		return
	}
	p.put("<path", attr("id", it.ID), attr("fill", string(it.Fill)))
	if it.Pen.Width > 0 {
		p.put(attr("stroke", string(it.Pen.Ink)), attr("stroke-width", Num(it.Pen.Width)))
	}
	if len(it.Pen.Dash) > 0 {
		dash := make([]string, len(it.Pen.Dash))
		for i, d := range it.Pen.Dash {
			dash[i] = Num(d)
		}
		p.put(attr("stroke-dasharray", strings.Join(dash, " ")))
	}
	p.put(` d="`)
	for _, r := range it.Runs {
		p.run(r)
	}
	p.put(`"/>`, "\n")
}

// text writes letters under their words, line by line where they have none in one piece.
func (p *svg) text(it Item) {
	if t := it.Text; t.Words == "" && len(t.Lines) > 0 {
		for i, line := range t.Lines {
			at := flat.Pt{X: t.At.X, Y: t.At.Y - float64(i)*Leading*t.Size}
			p.text(Item{ID: it.ID, Fill: it.Fill, Text: &Text{At: at, Size: t.Size, Lines: []string{line}, Words: line}})
		}
		return
	}
	p.put("<g", attr("id", it.ID), "><title>", escape(it.Text.Words), "</title><path", attr("fill", string(it.Fill)), ` d="`)
	p.letters(it.Text)
	p.put(`"/></g>`, "\n")
}

// run writes a chain of edges with absolute coordinates.
func (p *svg) run(r Run) {
	if len(r.Edges) == 0 {
		return
	}
	p.put("M", p.point(r.Edges[0].P))
	for i, e := range r.Edges {
		switch {
		case e.IsArc():
			p.arc(e)
		case r.Closed && i == len(r.Edges)-1: // Z draws it
		default:
			p.put("L", p.point(e.Q))
		}
	}
	if r.Closed {
		p.put("Z")
	}
}

// arc writes e in steps of a quarter turn at most: there the centre that a reader works out from rounded numbers is as
// good as the numbers, while near half a turn it would be worse by orders.
func (p *svg) arc(e flat.Edge) {
	n := max(1, int(math.Ceil(math.Abs(e.Sweep)/(math.Pi/2)-1e-9)))
	radius := Num(max(e.R, 1e-4))
	flag := " 0 0 0 " // counter-clockwise with y up
	if e.Sweep < 0 {
		flag = " 0 0 1 "
	}
	for i := 1; i <= n; i++ {
		p.put("A", radius, " ", radius, flag, p.point(e.At(float64(i)/float64(n))))
	}
}

// point returns the page coordinates of q.
func (p *svg) point(q flat.Pt) string {
	return Num(q.X-p.sheet.Box.Min.X) + " " + Num(p.sheet.Box.Max.Y-q.Y)
}

// letters writes outlines: every contour begins at an absolute point, the rest is relative. All is counted in whole
// micrometres, so that it stays short and nothing adds up.
func (p *svg) letters(t *Text) {
	var x, y int64 // where the pen is
	open := false
	p.face.Write(t, func(s Stroke) {
		if s.Op == 'M' {
			if open {
				p.put("z")
			}
			open = true
			x, y = p.micro(s.Pts[0])
			p.put("M", thousandths(x), " ", thousandths(y))
			return
		}
		p.put(string(s.Op - 'A' + 'a'))
		var u, v int64
		for i, q := range s.Pts {
			u, v = p.micro(q)
			if i > 0 {
				p.put(" ")
			}
			p.put(thousandths(u-x), " ", thousandths(v-y))
		}
		x, y = u, v
	})
	if open {
		p.put("z")
	}
}

// micro returns the page coordinates of q in micrometres.
func (p *svg) micro(q flat.Pt) (x, y int64) {
	return int64(math.Round((q.X - p.sheet.Box.Min.X) * 1000)), int64(math.Round((p.sheet.Box.Max.Y - q.Y) * 1000))
}

// thousandths returns n/1000.
func thousandths(n int64) string { return Num(float64(n) / 1000) }

// Num returns v rounded to 1e-4, without trailing zeros and without a negative zero.
func Num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// attr returns an attribute, or nothing for an empty value.
func attr(name, value string) string {
	if value == "" {
		return ""
	}
	return " " + name + `="` + escape(value) + `"`
}

// escape returns s as XML text; characters that XML cannot hold become U+FFFD.
func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a Builder never fails
	return b.String()
}
