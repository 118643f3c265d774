package designfile

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// Nearest returns the word of list that word is most likely a misspelling of, "" if none is near. Near is at most one
// edit for each three letters of the longer one, a swap of neighbours counting as one and capitals not at all; else a
// word of which the other is the beginning. The first of equally near words wins; only the first 2000 are looked at.
func Nearest(word string, list []string) string {
	if len(word) > 64 {
		return ""
	}
	list = list[:min(len(list), 2000)]
	best, least := "", len(word)
	for _, w := range list {
		limit := max(1, max(len(word), len(w))/3)
		if len(w) > len(word)+limit || len(word) > len(w)+limit || len(w) > 64 {
			continue
		}
		if d := distance(strings.ToLower(word), strings.ToLower(w)); d <= limit && d < least {
			best, least = w, d
		}
	}
	for _, w := range list {
		if short := min(len(word), len(w)); best == "" && short >= 3 && word[:short] == w[:short] {
			best = w
		}
	}
	return best
}

// distance returns the number of edits between two words: letters put in, taken out, replaced, or swapped with their
// neighbour (optimal string alignment).
func distance(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// meant returns the hint for a word that is none of list: the nearest one, else what there is to choose from.
func meant(word string, list []string, what string) string {
	if w := Nearest(word, list); w != "" {
		return "did you mean " + w + "?"
	}
	if len(list) == 0 {
		return ""
	}
	return what + " " + enumerate(list, 12)
}

// enumerate joins words with commas, at most n of them.
func enumerate(list []string, n int) string {
	if len(list) > n {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:n], ", "), len(list)-n)
	}
	return strings.Join(list, ", ")
}

// alternatives joins words as "a, b or c".
func alternatives(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}

// show returns s as it may be printed: at most 40 characters, quoted if any of them is not plain.
func show(s string) string {
	short := s
	if r := []rune(s[:min(len(s), 200)]); len(r) > 40 {
		short = string(r[:40]) + "..."
	}
	for _, c := range short {
		if !unicode.IsPrint(c) || c == unicode.ReplacementChar {
			return strconv.Quote(short)
		}
	}
	if short == "" || strings.TrimSpace(short) != short {
		return strconv.Quote(short)
	}
	return short
}

// plural returns "1 thing" or "n things".
func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}
