package designfile

import (
	"strings"
	"testing"
)

// What the YAML parser says, in words and at the place of whoever has to mend it.
func TestSyntaxProblems(t *testing.T) {
	for _, c := range []struct{ src, want, hint string }{
		{"foldfit: 1\nflex f\nunits: mm\n", "2:1 a key without a colon", "a blank after the colon"},
		{"foldfit:1\n", `1:1 the file wants a map {foldfit: ...}, got the text "foldfit:1"`, "a blank belongs after the colon"},
		{"foldfit: 1\noutline: {rect: [0, 0, 5, 5}\n", "2:28 the list that begins at line 2, column 17 is not closed", ""},
		{"foldfit: 1\noutline: {rect: [0, 0, 5, 5]\nflex: f\n", "3:1 the map that begins at line 2, column 10 is not closed", ""},
		{"foldfit: 1\noutline: [[0, 0] [1, 1]]\n", "2:18 the list that begins at line 2, column 10 is not closed, or a comma is missing", ""},
		{"foldfit: 1\noutline:\n  - [0, 0] [1, 1]\n", "3:12 this is not an item of the list that begins at line 3", "exactly below"},
		{"foldfit: 1\nflex: @f\n", "2:7 this character cannot begin a value", "quotes"},
		{"foldfit: 1\nunits: \"\\q\"\n", "2:9 a backslash in double quotes", "single quotes"},
		{"foldfit: 1\ntitle: {name: a,, b: c}\n", "2:17 a value is missing here", "comma"},
		{"%YAML 3.0\n---\nfoldfit: 1\n", "1:1 this line asks for another version of YAML", ""},
		{"foldfit: 1\nflex: &\n", "2:8 not YAML: while scanning an anchor", ""},
		{"# a comment\n---\nfoldfit: 1\n---\nfoldfit: 1\n", "4:1 a second document begins here", "---"},
		{"null\n", "1:1 the file is empty", "foldfit: 1"},
		{"# only a comment\n", "1:1 the file is empty", "foldfit: 1"},
	} {
		_, _, problems := Parse("x.yaml", []byte(c.src), Options{})
		if len(problems) != 1 || !strings.Contains(tell(problems), "\n  "+c.want) || !strings.Contains(problems[0].Hint, c.hint) {
			t.Errorf("%q wants %s, got %s", c.src, c.want, tell(problems))
		}
	}
}

// Every way in which YAML and JSON may be written gives the same board.
func TestWaysOfWriting(t *testing.T) {
	for _, src := range []string{
		"foldfit: 1\noutline: {rect: [0, 0, 5, 5]}\nflex: f\nstackups: {f: {thickness: 18 um}}\n",
		"{\n\t\"foldfit\": 1,\n\t\"outline\": {\"rect\": [0,\n\t\t0, 5, 5]},\n\t\"flex\": \"f\", \"stackups\": {\"f\": {\"thickness\": \"18 um\"}}\n}\n",
		"{\"foldfit\":1,\"outline\":{\"rect\":[0,0,5.0,5e0]},\"flex\":\"f\",\"stackups\":{\"f\":{\"thickness\":0.018}}}",
		"foldfit: 1\noutline:\n  rect:\n  - 0\n  - 0\n  - 5\n  - 5\nflex: f\nstackups:\n  f:\n    thickness: 18 um   # comment\n",
		"--- # first\nfoldfit: 1\noutline: {rect: [0, 0, 5, 5]}\nflex: 'f'\nstackups: {f: {thickness: 18\n um}}\n...\n",
		"\ufeffflex: f\r\nstackups: {f: {thickness: 0.018}}\r\nfoldfit: 1\r\noutline: [[0, 0], [5, 0], [5, 5], [0, 5], [0, 0]]\r\n",
	} {
		d := parse(t, src)
		if d.Outline.Area() != 25 || d.Flex != "f" || d.Stackups[0].Layers[0].Thickness != 0.018 {
			t.Errorf("%q: %+v", src, d)
		}
	}
}
