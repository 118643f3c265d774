package designfile

import (
	"strings"
	"testing"
	"unicode/utf8"

	"foldfit/fold/finding"
)

func TestExcerpt(t *testing.T) {
	long := strings.Repeat("0123456789", 30)
	for _, c := range []struct {
		src          string
		line, column int
		want         string
	}{
		{"foldfit: 2\nflex: a\n", 1, 10, "foldfit: 2\n         ^"},
		{"foldfit: 2\nflex: a\n", 2, 1, "flex: a\n^"},
		{"foldfit: 2\r\nflex: a\r\n", 2, 7, "flex: a\n      ^"},
		{"foldfit: 2\rflex: a", 2, 7, "flex: a\n      ^"},
		{"a\u2028b\u0085c", 3, 1, "c\n^"},
		{"\ta:\tb", 1, 5, "\ta:\tb\n\t  \t^"},
		{"name: Größe x", 1, 13, "name: Größe x\n            ^"},
		{"\ufefffoldfit: 2", 1, 10, "foldfit: 2\n         ^"},
		{"ab", 1, 9, "ab\n  ^"},
		{"ab\n", 2, 1, "\n^"},
		{"ab\x1b[2J\x00", 1, 3, "ab?[2J?\n  ^"},
		{"ab", 3, 1, ""}, {"ab", 0, 1, ""}, {"ab", 1, 0, ""}, {"", 1, 1, "\n^"},
		{long, 1, 1, long[:100] + "...\n^"},
		{long, 1, 151, "..." + long[100:200] + "...\n" + strings.Repeat(" ", 53) + "^"},
		{long, 1, 300, "..." + long[200:] + "\n" + strings.Repeat(" ", 3+99) + "^"},
	} {
		if got := Excerpt([]byte(c.src), finding.Place{File: "x", Line: c.line, Column: c.column}); got != c.want {
			t.Errorf("%.20q %d:%d\n got %q\nwant %q", c.src, c.line, c.column, got, c.want)
		}
	}
}

// The caret stands under the character that the parser calls the column, whatever is before it.
func TestExcerptPointsAtTheKey(t *testing.T) {
	for _, before := range []string{"", "\ufeff", "# ü\r\n", "title: {name: \"\u00e4\u6f22 \\t\"}\n", "\u2028", "# \u0085"} {
		for _, lead := range []string{"colour: red\n", "loop: {colour: red}\n", "loop: { \t colour: red}\n", "loop: {gap: 1, \"\\u00fc\": 1, colour: red}\n"} {
			src := []byte(before + lead)
			_, _, problems := Parse("x", src, Options{})
			found := false
			for _, p := range problems {
				if !strings.Contains(p.What, "colour") {
					continue
				}
				found = true
				lines := strings.Split(Excerpt(src, p.Place), "\n")
				at := utf8.RuneCountInString(lines[1]) - 1
				if text := []rune(lines[0]); !strings.HasPrefix(string(text[at:]), "colour") {
					t.Errorf("%q: %d:%d\n%s", src, p.Place.Line, p.Place.Column, strings.Join(lines, "\n"))
				}
			}
			if !found {
				t.Errorf("%q: no problem about colour: %s", src, tell(problems))
			}
		}
	}
}

func TestNearest(t *testing.T) {
	keys := format.keyNames()
	for word, want := range map[string]string{
		"outlin": "outline", "Outline": "outline", "hinge": "hinges", "hnigs": "hinges", "stackup": "stackups", "stack-ups": "stackups", "cutout": "cutouts",
		"component": "components", "enclsure": "enclosure", "untis": "units", "colour": "", "x": "", "": "", "bas": "base", "lop": "loop", "flexx": "flex", "qqqqqq": "",
		strings.Repeat("outline", 20): "",
	} {
		if got := Nearest(word, keys); got != want {
			t.Errorf("%q: %q, wants %q", word, got, want)
		}
	}
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"a", "", 1}, {"abc", "acb", 1}, {"abcd", "bacd", 1}, {"kitten", "sitting", 3}, {"radius", "raduis", 1}, {"neck", "neck", 0}, {"ca", "abc", 3}} {
		if got := distance(c.a, c.b); got != c.want || distance(c.b, c.a) != got {
			t.Errorf("%q %q: %d, wants %d", c.a, c.b, got, c.want)
		}
	}
}
