package designfile

import (
	"strings"
	"unicode"

	"foldfit/fold/finding"
)

// excerptWidth is how many characters of a long line are shown.
const excerptWidth = 100

// Excerpt returns the line of src that p points at and, below it, a caret under the column (tabs are kept in both, so
// that it stands right at any tab width). A long line is shown in part; characters that would disturb a terminal become
// '?'. It returns "" where p has no such line. Nothing follows the caret.
func Excerpt(src []byte, p finding.Place) string {
	if p.Line < 1 || p.Column < 1 {
		return ""
	}
	for line := 1; ; line++ {
		n, brk := lineEnd(src)
		if line == p.Line {
			return underline(strings.TrimPrefix(string(src[:n]), "\ufeff"), p.Column-1)
		}
		if brk == 0 {
			return ""
		}
		src = src[n+brk:]
	}
}

// underline returns line and, below it, a caret under the character with index at; the end of the line if there is none.
func underline(line string, at int) string {
	text := []rune(line)
	at = min(at, len(text))
	from := 0
	if len(text) > excerptWidth && at > excerptWidth*3/4 {
		from = min(at-excerptWidth/2, len(text)-excerptWidth)
	}
	to := min(len(text), from+excerptWidth)
	var shown, below strings.Builder
	if from > 0 {
		shown.WriteString("...")
		below.WriteString("   ")
	}
	for i, c := range text[from:to] {
		if c != '\t' && !unicode.IsPrint(c) {
			c = '?'
		}
		shown.WriteRune(c)
		switch {
		case from+i >= at:
		case c == '\t':
			below.WriteByte('\t')
		default:
			below.WriteByte(' ')
		}
	}
	if to < len(text) {
		shown.WriteString("...")
	}
	return shown.String() + "\n" + below.String() + "^"
}
