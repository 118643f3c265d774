package pattern

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// A reader of its own for what Write writes: it knows SVG, not our display list.

// node is an element of the page.
type node struct {
	name, id, title string
	attr            map[string]string
	kids            []*node
}

// readPage parses a page and fails the test if it is not well-formed or not in mm.
func readPage(t testing.TB, src []byte) *node {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(src))
	root := &node{}
	stack := []*node{root}
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		top := stack[len(stack)-1]
		switch tok := tok.(type) {
		case xml.StartElement:
			n := &node{name: tok.Name.Local, attr: map[string]string{}}
			for _, a := range tok.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			n.id = n.attr["id"]
			top.kids = append(top.kids, n)
			stack = append(stack, n)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if top.name == "title" {
				stack[len(stack)-2].title += string(tok)
			}
		}
	}
	return root.kids[0]
}

// shown divides a design and returns its page, written and read back.
func shown(t testing.TB, d *fold.Design, o Options) (*fold.Tree, *node) {
	t.Helper()
	tree := divide(t, d)
	var out bytes.Buffer
	if err := Write(&out, tree, o); err != nil {
		t.Fatal(err)
	}
	return tree, readPage(t, out.Bytes())
}

// walk visits n and all below it.
func (n *node) walk(visit func(*node)) {
	visit(n)
	for _, k := range n.kids {
		k.walk(visit)
	}
}

// find returns the element with that id; it must exist.
func (n *node) find(t testing.TB, id string) *node {
	t.Helper()
	var out *node
	n.walk(func(k *node) {
		if k.id == id {
			out = k
		}
	})
	if out == nil {
		t.Fatalf("no element with id %q", id)
	}
	return out
}

// texts returns the groups that hold writing: a title and one filled path.
func (n *node) texts() []*node {
	var out []*node
	n.walk(func(k *node) {
		if k.name == "g" && len(k.kids) == 2 && k.kids[0].name == "title" && k.kids[1].name == "path" && k.kids[1].attr["stroke"] == "" && k.id == "" {
			out = append(out, k)
		}
	})
	return out
}

// stroked returns the drawn edges of n and below, those of pens for which keep holds.
func (n *node) stroked(t testing.TB, keep func(*node) bool) []flat.Edge {
	var out []flat.Edge
	n.walk(func(k *node) {
		if k.name == "path" && k.attr["stroke"] != "" && keep(k) {
			for _, sub := range k.path(t) {
				out = append(out, sub...)
			}
		}
	})
	return out
}

func anyPen(*node) bool { return true }

// path returns the sub-paths of a path element in page coordinates turned y up (y = -page y). Curves of letters become
// their control polygons, which is enough for boxes.
func (n *node) path(t testing.TB) [][]flat.Edge {
	t.Helper()
	var out [][]flat.Edge
	var cur, start flat.Pt
	s := n.attr["d"]
	num := func() float64 {
		s = strings.TrimLeft(s, " ,")
		i := 0
		for i < len(s) && (s[i] == '-' && i == 0 || s[i] == '.' || '0' <= s[i] && s[i] <= '9') {
			i++
		}
		v, err := strconv.ParseFloat(s[:i], 64)
		if err != nil {
			t.Fatalf("path: %v", err)
		}
		s = s[i:]
		return v
	}
	point := func(rel bool) flat.Pt {
		x := num()
		p := flat.Pt{X: x, Y: -num()}
		if rel {
			p = p.Add(cur)
		}
		return p
	}
	add := func(e flat.Edge) {
		out[len(out)-1] = append(out[len(out)-1], e)
		cur = e.Q
	}
	for s != "" {
		op := s[0]
		s = s[1:]
		switch op {
		case 'M':
			cur = point(false)
			start = cur
			out = append(out, nil)
		case 'L', 'l':
			add(flat.Line(cur, point(op == 'l')))
		case 'q':
			a, b := point(true), point(true)
			add(flat.Line(cur, a))
			add(flat.Line(cur, b))
		case 'A':
			r := num()
			num()
			num()
			large, sweep := num() == 1, num() == 1
			add(arcTo(cur, point(false), r, large, !sweep))
		case 'Z', 'z':
			if cur != start {
				add(flat.Line(cur, start))
			}
		default:
			t.Fatalf("path command %q", op)
		}
	}
	return out
}

// arcTo is the SVG rule for circular arcs (SVG 1.1, appendix F.6.5), y up.
func arcTo(p, q flat.Pt, r float64, large, ccw bool) flat.Edge {
	half := p.Dist(q) / 2
	r = max(r, half)
	h := math.Sqrt(r*r - half*half)
	if large == ccw {
		h = -h
	}
	c := p.Mid(q).Add(q.Sub(p).Unit().Left().Mul(h))
	a, b := p.Sub(c), q.Sub(c)
	sweep := math.Atan2(a.Cross(b), a.Dot(b))
	switch {
	case ccw && sweep < 0:
		sweep += 2 * math.Pi
	case !ccw && sweep > 0:
		sweep -= 2 * math.Pi
	}
	return flat.Edge{P: p, Q: q, C: c, R: r, Sweep: sweep}
}

// area returns the signed area of a path, y up.
func (n *node) area(t testing.TB) float64 {
	a := 0.0
	for _, sub := range n.path(t) {
		a += flat.Loop(sub).Area()
	}
	return a
}

// box returns the box of all paths below n, pens' widths left out.
func (n *node) box(t testing.TB) flat.Box {
	b := flat.EmptyBox()
	n.walk(func(k *node) {
		if k.name == "path" {
			for _, sub := range k.path(t) {
				b = b.Join(flat.Loop(sub).Box())
			}
		}
	})
	return b
}
