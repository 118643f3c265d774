package report

import (
	"strings"
	"unicode/utf8"

	"foldfit/fold/finding"
)

// Terminal colours (ECMA-48 select graphic rendition).
const (
	bold   = "1"
	red    = "1;31"
	green  = "1;32"
	yellow = "33"
	blue   = "34"
)

// paint marks s with a colour where colours are on.
func (p *page) paint(colour, s string) string {
	if !p.colour {
		return s
	}
	return "\x1b[" + colour + "m" + s + "\x1b[0m"
}

// visible returns how many columns a painted word takes.
func visible(word string) int {
	n := 0
	for word != "" {
		if strings.HasPrefix(word, "\x1b[") {
			_, word, _ = strings.Cut(word, "m")
			continue
		}
		_, size := utf8.DecodeRuneInString(word)
		word = word[size:]
		n++
	}
	return n
}

func verdictColour(v Verdict) string {
	return map[Verdict]string{Pass: green, Fail: red, Incomplete: yellow}[v]
}

func severityColour(s finding.Severity) string {
	return map[finding.Severity]string{finding.Error: red, finding.Warning: yellow, finding.Query: blue, finding.Advice: bold}[s]
}
