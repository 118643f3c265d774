package fold

import "strings"

// NameMatches reports whether a name as the design writes it, bare ("main") or prefixed ("section:main"), with * for any
// run of characters, stands for the body of the full name ("section:main.2"). All pieces of a body (NAME.2, NAME.3) have
// its name.
func NameMatches(written, full string) bool {
	prefix, bare, prefixed := strings.Cut(full, ":")
	if !prefixed {
		prefix, bare = "", full
	}
	base, _, _ := strings.Cut(bare, ".")
	for _, n := range []string{bare, base, prefix + ":" + bare, prefix + ":" + base} {
		if glob(written, n) {
			return true
		}
	}
	return false
}

// glob matches s against a pattern in which * stands for any run of characters.
func glob(pattern, s string) bool {
	head, rest, star := strings.Cut(pattern, "*")
	if !star {
		return pattern == s
	}
	if !strings.HasPrefix(s, head) {
		return false
	}
	for s = s[len(head):]; ; s = s[1:] {
		if glob(rest, s) {
			return true
		}
		if s == "" {
			return false
		}
	}
}
