package designfile

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"foldfit/fold/finding"
)

// What is refused before it is parsed, so that hostile input ends quickly and in bounded memory.
const (
	maxBytes = 10 << 20
	maxWords = 300_000 // up to 1.9 kB of memory each, in the worst way of writing
	maxDepth = 64      // nested lists and maps; the format itself needs 8
)

// scan returns why src is no text that can be a design file, nil if it may be one.
func scan(file string, src []byte) *finding.Problem {
	top := finding.Place{File: file, Line: 1, Column: 1}
	switch {
	case len(src) > maxBytes:
		return &finding.Problem{Place: top, What: fmt.Sprintf("the file has %.1f MB, at most %d MB are read", float64(len(src))/(1<<20), maxBytes>>20),
			Hint: "a design file is usually under 1 MB; is this the right file?"}
	case bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")):
		return &finding.Problem{Place: top, What: "the file is written in UTF-16", Hint: "save it as UTF-8"}
	}
	if p := scanBytes(file, src); p != nil {
		return p
	}
	if n := countWords(src); n > maxWords {
		return &finding.Problem{Place: top, What: fmt.Sprintf("the file has %d values, at most %d are read", n, maxWords),
			Hint: "leave out points and parts that do not matter for folding"}
	}
	return nil
}

// scanBytes returns a problem for the first byte that is not UTF-8 text, or a control character.
func scanBytes(file string, src []byte) *finding.Problem {
	for i := 0; i < len(src); {
		c := src[i]
		if c >= ' ' && c < 0x7f || c == '\n' || c == '\r' || c == '\t' {
			i++
			continue
		}
		r, n := utf8.DecodeRune(src[i:])
		switch {
		case r == utf8.RuneError && n <= 1:
			return &finding.Problem{Place: placeAt(file, src, i), What: fmt.Sprintf("the byte 0x%02X is not UTF-8 text", c), Hint: "save the file as UTF-8"}
		case r < ' ' || r >= 0x7f && r < 0xa0 && r != 0x85 || r == 0xfffe || r == 0xffff:
			return &finding.Problem{Place: placeAt(file, src, i), What: fmt.Sprintf("a control character (0x%02X) stands here", r), Hint: "delete it"}
		}
		i += n
	}
	return nil
}

// placeAt returns the place of byte i.
func placeAt(file string, src []byte, i int) finding.Place {
	line, rest := 1, src[:i]
	for {
		n, brk := lineEnd(rest)
		if brk == 0 {
			break
		}
		line, rest = line+1, rest[n+brk:]
	}
	if line == 1 {
		rest = bytes.TrimPrefix(rest, []byte("\ufeff"))
	}
	return finding.Place{File: file, Line: line, Column: utf8.RuneCount(rest) + 1}
}

// lineEnd returns the length of the first line of src and that of the line break after it (0 at the end of src). YAML
// breaks lines at CR LF, LF, CR and at U+0085, U+2028, U+2029.
func lineEnd(src []byte) (n, brk int) {
	for i := 0; i < len(src); i++ {
		switch c := src[i]; {
		case c == '\n':
			return i, 1
		case c == '\r' && i+1 < len(src) && src[i+1] == '\n':
			return i, 2
		case c == '\r':
			return i, 1
		case c == 0xc2 && i+1 < len(src) && src[i+1] == 0x85:
			return i, 2
		case c == 0xe2 && i+2 < len(src) && src[i+1] == 0x80 && (src[i+2] == 0xa8 || src[i+2] == 0xa9):
			return i, 3
		}
	}
	return len(src), 0
}

// countWords returns how many values src holds, at most twice too few and seldom too many: words between blanks, commas
// and brackets, and opened brackets. Comments count as well, so that nothing hides behind a # in quotes.
func countWords(src []byte) int {
	n, inside := 0, false
	for i, c := range src {
		switch c {
		case ' ', '\t', '\r', '\n', ',', ']', '}':
			inside = false
		case '[', '{':
			n, inside = n+1, false
		case '-':
			// a dash alone announces an item, which counts itself
			if !inside && (i+1 == len(src) || src[i+1] > ' ') {
				n, inside = n+1, true
			}
		default:
			if !inside {
				n, inside = n+1, true
			}
		}
	}
	return n
}
