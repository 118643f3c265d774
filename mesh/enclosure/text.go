package enclosure

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"
)

var byteOrderMark = []byte("\xef\xbb\xbf")

// looksLikeText reports whether src begins with the word solid and holds no zero byte where a text file has its first lines.
func looksLikeText(src []byte) bool {
	s := scanner{src: bytes.TrimPrefix(src, byteOrderMark)}
	head := src[:min(len(src), 256)]
	return s.word("solid") && bytes.IndexByte(head, 0) < 0
}

// scanner splits a text file into words.
type scanner struct {
	src []byte
	at  int
}

// space reports whether c separates words.
func space(c byte) bool { return c == ' ' || c >= '\t' && c <= '\r' }

// next returns the next word, empty at the end.
func (s *scanner) next() []byte {
	for s.at < len(s.src) && space(s.src[s.at]) {
		s.at++
	}
	start := s.at
	for s.at < len(s.src) && !space(s.src[s.at]) {
		s.at++
	}
	return s.src[start:s.at]
}

// word reads the next word and reports whether it is w in any case.
func (s *scanner) word(w string) bool { return same(s.next(), w) }

// same reports whether b is the lower-case word w in any case.
func same(b []byte, w string) bool {
	if len(b) != len(w) {
		return false
	}
	for i, c := range b {
		if c|0x20 != w[i] {
			return false
		}
	}
	return true
}

// endLine skips the rest of the line: the name of a solid.
func (s *scanner) endLine() {
	if n := bytes.IndexAny(s.src[s.at:], "\r\n"); n >= 0 {
		s.at += n
		return
	}
	s.at = len(s.src)
}

// fail returns an error at the line of the word just read.
func (s *scanner) fail(format string, args ...any) error {
	before := s.src[:s.at]
	line := 1 + bytes.Count(before, []byte("\n")) + bytes.Count(before, []byte("\v")) // \v: a line that goes on, see readOBJ
	if line == 1 {
		line += bytes.Count(before, []byte("\r")) // files of old systems end lines with it alone
	}
	return fmt.Errorf("line %d: %s", line, fmt.Sprintf(format, args...))
}

// show returns a word for a message, shortened.
func show(w []byte) string {
	switch {
	case len(w) == 0:
		return "the end of the file"
	case len(w) > 24:
		return strconv.Quote(string(w[:24])) + "..."
	}
	return strconv.Quote(string(w))
}

// expect reads the given words in this order.
func (s *scanner) expect(words ...string) error {
	for _, w := range words {
		if got := s.next(); !same(got, w) {
			return s.fail("%s found where the word %s belongs", show(got), w)
		}
	}
	return nil
}

// number reads a coordinate.
func (s *scanner) number() (float64, error) {
	w := s.next()
	v, ok := parseNumber(w)
	if !ok {
		return 0, s.fail("coordinate %s is not a finite number", show(w))
	}
	return v, nil
}

// parseNumber returns the value of a plain decimal number, with an exponent or not; false for anything else.
func parseNumber(w []byte) (float64, bool) {
	for _, c := range w {
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' && c|0x20 != 'e' {
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(string(w), 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// readText reads the facets of all solids.
func readText(src []byte) (raw, error) {
	s := &scanner{src: bytes.TrimPrefix(src, byteOrderMark)}
	n := min(max(bytes.Count(src, []byte("vertex")), bytes.Count(src, []byte("VERTEX"))), 3*MostTriangles)
	to := newWelders[mgl64.Vec3](1, n)
	tris := make([][3]int32, 0, n/3)
	inside := false
	for {
		w := s.next()
		switch {
		case len(w) == 0 && inside:
			return raw{}, s.fail("the file ends within a solid: endsolid is missing, the file may be cut short")
		case len(w) == 0 && len(tris) == 0:
			return raw{}, fmt.Errorf("the file holds no triangles")
		case len(w) == 0:
			return raw{format: "text STL", points: to[0].points, tris: tris}, nil
		case same(w, "solid") && !inside, same(w, "endsolid") && inside:
			inside = !inside
			s.endLine()
		case same(w, "facet") && inside:
			if len(tris) >= MostTriangles {
				return raw{}, s.fail("more than %d triangles: simplify the mesh", MostTriangles)
			}
			corners, err := s.facet()
			if err != nil {
				return raw{}, err
			}
			var t [3]int32
			to[0].add(corners[:], t[:])
			tris = append(tris, t)
		default:
			return raw{}, s.fail("%s found where facet, solid or endsolid belongs", show(w))
		}
	}
}

// facet reads a facet after its first word and returns its corners.
func (s *scanner) facet() (corners [3]mgl64.Vec3, err error) {
	if err := s.expect("normal"); err != nil {
		return corners, err
	}
	for range 3 {
		s.next() // the stored normal is not used, and some programs write nan here
	}
	if err := s.expect("outer", "loop"); err != nil {
		return corners, err
	}
	for i := range corners {
		if err := s.expect("vertex"); err != nil {
			return corners, err
		}
		for k := range 3 {
			if corners[i][k], err = s.number(); err != nil {
				return corners, err
			}
		}
	}
	return corners, s.expect("endloop", "endfacet")
}
