package pattern

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"foldfit/fold/flat"
)

// Text sizes (em) in mm; capitals are 0.72 of it high, so that normal text has the 2.5 mm capitals of ISO 3098.
const (
	sizeTitle  = 6.0
	sizeNormal = 3.5
	sizeSmall  = 2.8
)

// Shares of the em: how far letters rise above and sink below the base line, and from one base line to the next.
const (
	rise    = 0.80
	sink    = 0.24
	leading = 1.3
)

// text is one or more lines of writing, each beginning at the same x; At is the left end of the first base line.
type text struct {
	At    flat.Pt
	Size  float64
	Lines []string
	Words string // the same in one piece, for readers without eyes for outlines
}

// face gives the outlines and widths of letters. It caches what it has read and must not be shared between goroutines.
type face struct {
	font   *sfnt.Font
	buf    sfnt.Buffer
	ppem   fixed.Int26_6
	glyphs map[rune]glyph
}

// glyph is a letter in em: y up, base line at 0.
type glyph struct {
	advance float64
	strokes []stroke
}

// stroke is one piece of a letter's outline: 'M' and 'L' have one point, 'Q' two (control, end), 'C' three.
type stroke struct {
	op  byte
	pts []flat.Pt
}

func newFace() (*face, error) {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("the lettering cannot be read: %w", err)
	}
	return &face{font: f, ppem: fixed.Int26_6(f.UnitsPerEm()), glyphs: map[rune]glyph{}}, nil
}

// glyph returns the letter for r; the font's own box stands for a character that it lacks.
func (f *face) glyph(r rune) glyph {
	if g, ok := f.glyphs[r]; ok {
		return g
	}
	g := glyph{}
	em := float64(f.ppem)
	if i, err := f.font.GlyphIndex(&f.buf, r); err == nil {
		if a, err := f.font.GlyphAdvance(&f.buf, i, f.ppem, font.HintingNone); err == nil {
			g.advance = float64(a) / em
		}
		if segs, err := f.font.LoadGlyph(&f.buf, i, f.ppem, nil); err == nil {
			g.strokes = strokes(segs, em)
		}
	}
	f.glyphs[r] = g
	return g
}

// strokes turns font units, y down, into em, y up.
func strokes(segs sfnt.Segments, em float64) []stroke {
	ops := map[sfnt.SegmentOp]struct {
		op byte
		n  int
	}{sfnt.SegmentOpMoveTo: {'M', 1}, sfnt.SegmentOpLineTo: {'L', 1}, sfnt.SegmentOpQuadTo: {'Q', 2}, sfnt.SegmentOpCubeTo: {'C', 3}}
	out := make([]stroke, 0, len(segs))
	for _, s := range segs {
		o := ops[s.Op]
		st := stroke{op: o.op}
		for _, a := range s.Args[:o.n] {
			st.pts = append(st.pts, flat.Pt{X: float64(a.X) / em, Y: -float64(a.Y) / em})
		}
		out = append(out, st)
	}
	return out
}

// width returns how long a line of writing is, in mm.
func (f *face) width(line string, size float64) float64 {
	w := 0.0
	for _, r := range line {
		w += f.glyph(r).advance
	}
	return w * size
}

// size returns width and height in mm of lines written under each other.
func (f *face) size(lines []string, size float64) (w, h float64) {
	for _, l := range lines {
		w = max(w, f.width(l, size))
	}
	return w, size * (rise + sink + leading*float64(len(lines)-1))
}

// write calls visit with every piece of t's outline, in sheet coordinates.
func (f *face) write(t *text, visit func(stroke)) {
	for i, line := range t.Lines {
		at := flat.Pt{X: t.At.X, Y: t.At.Y - float64(i)*leading*t.Size}
		for _, r := range line {
			g := f.glyph(r)
			for _, s := range g.strokes {
				pts := make([]flat.Pt, len(s.pts))
				for k, p := range s.pts {
					pts[k] = at.Add(p.Mul(t.Size))
				}
				visit(stroke{s.op, pts})
			}
			at.X += g.advance * t.Size
		}
	}
}

// inBox returns the item that writes lines with their upper left corner in that of b.
func inBox(b flat.Box, size float64, lines []string, words string) item {
	return item{Fill: black, Text: &text{At: flat.Pt{X: b.Min.X, Y: b.Max.Y - rise*size}, Size: size, Lines: lines, Words: words}}
}

// wrap breaks words into lines of at most width mm; a word longer than that is broken where it must be.
func (f *face) wrap(words string, size, width float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(words) {
		if line != "" && f.width(line+" "+w, size) <= width {
			line += " " + w
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for k := f.fitting(w, size, width); k < len(w); k = f.fitting(w, size, width) {
			out = append(out, w[:k])
			w = w[k:]
		}
		line = w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// fitting returns how many bytes of w (at least its first character) stay within width.
func (f *face) fitting(w string, size, width float64) int {
	used, end := 0.0, 0
	for i, r := range w {
		used += f.glyph(r).advance * size
		if used > width && i > 0 {
			break
		}
		end = i + len(string(r))
	}
	return end
}

// How many characters of a user's words the page shows: anywhere, and in a label.
const (
	longest      = 200
	longestLabel = 40
)

// plain returns s fit for printing: control and formatting characters become blanks, runs of blanks one blank, and what is
// too long is cut.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, " "))
	return cut(strings.Join(strings.Fields(s), " "), longest)
}

// short returns plain s, cut to what a label has room for.
func short(s string) string { return cut(plain(s), longestLabel) }

// cut returns s with at most n characters, the last of them an ellipsis if there were more.
func cut(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}

// safe returns s as part of an id: letters, digits, _ - + and dots stay, everything else becomes _.
func safe(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', strings.ContainsRune("_-+.", r):
			return r
		}
		return '_'
	}, s)
}
