package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// twin is a good board with one thing changed.
type twin struct {
	name, of string
	why      string   // what was changed
	marks    []string // `expect: ...`, `at: ...`, `pending: ...`; without an expectation it is borderline and must pass
	edits    [][2]string
}

// head are the comment lines at the top of a board, which a twin gets anew.
var head = regexp.MustCompile(`^(#[^\n]*\n)+`)

// verdict finds the mark that a borderline twin takes over.
var verdict = regexp.MustCompile(`(?m)^# verdict: .*\n`)

// meshName finds the meshes that a board needs beside it.
var meshName = regexp.MustCompile(`mesh: ([\w-]+\.stl)`)

// appendOnce adds a file unless it is there.
func appendOnce(list []file, f file) []file {
	if slices.ContainsFunc(list, func(g file) bool { return g.path == f.path }) {
		return list
	}
	return append(list, f)
}

// allTwins makes the twins from the texts of the good boards by path.
func allTwins(good map[string]string) ([]file, error) {
	var out []file
	for _, t := range twins {
		text, ok := good["good/"+t.of+".yaml"]
		if !ok {
			return nil, fmt.Errorf("%s: there is no good board %s", t.name, t.of)
		}
		top := verdict.FindString(text)
		folder := "limit"
		if slices.ContainsFunc(t.marks, func(m string) bool { return strings.HasPrefix(m, "expect: ") }) {
			folder, top = "bad", ""
		}
		if slices.ContainsFunc(t.marks, func(m string) bool { return strings.HasPrefix(m, "verdict: ") }) {
			top = "" // one of its own
		}
		for _, m := range t.marks {
			top += "# " + m + "\n"
		}
		text = head.ReplaceAllString(text, "")
		for _, e := range t.edits {
			if n := strings.Count(text, e[0]); n != 1 {
				return nil, fmt.Errorf("%s: %q stands %d times in %s", t.name, e[0], n, t.of)
			}
			text = strings.Replace(text, e[0], e[1], 1)
		}
		for _, m := range meshName.FindAllStringSubmatch(text, -1) {
			out = appendOnce(out, file{folder + "/" + m[1], []byte(good["good/"+m[1]])})
		}
		top += fmt.Sprintf("# Twin of good/%s.yaml, made by the program in make: %s.\n", t.of, t.why)
		out = append(out, file{folder + "/" + t.name + ".yaml", []byte(top + text)})
	}
	return out, nil
}
