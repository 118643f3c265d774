package draw

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
	SizeTitle  = 6.0
	SizeNormal = 3.5
	SizeSmall  = 2.8
)

// Shares of the em: how far letters rise above and sink below the base line, and from one base line to the next.
const (
	Rise    = 0.80
	Sink    = 0.24
	Leading = 1.3
)

// Text is one or more lines of writing, each beginning at the same x; At is the left end of the first base line.
type Text struct {
	At    flat.Pt
	Size  float64
	Lines []string
	Words string // the same in one piece, for readers without eyes for outlines; "" = every line is a piece of its own
}

// Face gives the outlines and widths of letters. It caches what it has read and must not be shared between goroutines.
type Face struct {
	font   *sfnt.Font
	buf    sfnt.Buffer
	ppem   fixed.Int26_6
	glyphs map[rune]glyph
}

// glyph is a letter in em: y up, base line at 0.
type glyph struct {
	advance float64
	strokes []Stroke
}

// Stroke is one piece of a letter's outline: 'M' and 'L' have one point, 'Q' two (control, end), 'C' three.
type Stroke struct {
	Op  byte
	Pts []flat.Pt
}

// NewFace returns the lettering of all pages; it fails only if the font built in is damaged.
func NewFace() (*Face, error) {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("the lettering cannot be read: %w", err)
	}
	return &Face{font: f, ppem: fixed.Int26_6(f.UnitsPerEm()), glyphs: map[rune]glyph{}}, nil
}

// glyph returns the letter for r; the font's own box stands for a character that it lacks.
func (f *Face) glyph(r rune) glyph {
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
func strokes(segs sfnt.Segments, em float64) []Stroke {
	ops := map[sfnt.SegmentOp]struct {
		op byte
		n  int
	}{sfnt.SegmentOpMoveTo: {'M', 1}, sfnt.SegmentOpLineTo: {'L', 1}, sfnt.SegmentOpQuadTo: {'Q', 2}, sfnt.SegmentOpCubeTo: {'C', 3}}
	out := make([]Stroke, 0, len(segs))
	for _, s := range segs {
		o := ops[s.Op]
		st := Stroke{Op: o.op}
		for _, a := range s.Args[:o.n] {
			st.Pts = append(st.Pts, flat.Pt{X: float64(a.X) / em, Y: -float64(a.Y) / em})
		}
		out = append(out, st)
	}
	return out
}

// Width returns how long a line of writing is, in mm.
func (f *Face) Width(line string, size float64) float64 {
	w := 0.0
	for _, r := range line {
		w += f.glyph(r).advance
	}
	return w * size
}

// Size returns width and height in mm of lines written under each other.
func (f *Face) Size(lines []string, size float64) (w, h float64) {
	for _, l := range lines {
		w = max(w, f.Width(l, size))
	}
	return w, size * (Rise + Sink + Leading*float64(len(lines)-1))
}

// Write calls visit with every piece of t's outline, in sheet coordinates.
func (f *Face) Write(t *Text, visit func(Stroke)) {
	for i, line := range t.Lines {
		at := flat.Pt{X: t.At.X, Y: t.At.Y - float64(i)*Leading*t.Size}
		for _, r := range line {
			g := f.glyph(r)
			for _, s := range g.strokes {
				pts := make([]flat.Pt, len(s.Pts))
				for k, p := range s.Pts {
					pts[k] = at.Add(p.Mul(t.Size))
				}
				visit(Stroke{s.Op, pts})
			}
			at.X += g.advance * t.Size
		}
	}
}

// InBox returns the item that writes lines with their upper left corner in that of b.
func InBox(b flat.Box, size float64, lines []string, words string) Item {
	return Item{Fill: Black, Text: &Text{At: flat.Pt{X: b.Min.X, Y: b.Max.Y - Rise*size}, Size: size, Lines: lines, Words: words}}
}

// Wrap breaks words into lines of at most width mm; a word longer than that is broken where it must be.
func (f *Face) Wrap(words string, size, width float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(words) {
		if line != "" && f.Width(line+" "+w, size) <= width {
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
func (f *Face) fitting(w string, size, width float64) int {
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

// longest is how many characters of a user's words a page shows in one place.
const longest = 200

// Plain returns s fit for printing: control and formatting characters become blanks, runs of blanks one blank, and what is
// too long is cut.
func Plain(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, " "))
	return Cut(strings.Join(strings.Fields(s), " "), longest)
}

// Cut returns s with at most n characters, the last of them an ellipsis if there were more.
func Cut(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}

// Safe returns s as part of an id: letters, digits, _ - + and dots stay, everything else becomes _.
func Safe(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', strings.ContainsRune("_-+.", r):
			return r
		}
		return '_'
	}, s)
}
