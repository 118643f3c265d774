package designfile

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
)

// bytesToRefuse returns what Parse allocates on the way to refusing src, in bytes, and the first problem.
func bytesToRefuse(t testing.TB, src []byte) (uint64, string) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	d, _, problems := Parse("x.yaml", src, Options{})
	runtime.ReadMemStats(&after)
	if len(problems) == 0 || d == nil || !d.Incomplete {
		t.Fatalf("%.40q was taken", src)
	}
	if p := problems[0].Place; p.File != "x.yaml" || p.Line < 1 || p.Column < 1 {
		t.Errorf("%.40q: problem at %+v", src, p)
	}
	return after.TotalAlloc - before.TotalAlloc, problems[0].What
}

// What no board can be is refused before it costs memory.
func TestHostileInputIsRefusedEarly(t *testing.T) {
	big := func(s string) []byte { return []byte(strings.Repeat(s, maxBytes/len(s))) }
	for _, c := range []struct {
		name string
		src  []byte
		what string
	}{
		{"100 MB", make([]byte, 100<<20), "the file has 100.0 MB, at most 10 MB are read"},
		{"20 000 lists", []byte(strings.Repeat("[", 20000)), "nested more than 64 deep"},
		{"20 000 lists with space", []byte(strings.Repeat("[ \n", 20000)), "nested more than 64 deep"},
		{"20 000 maps", []byte(strings.Repeat("{a: ", 20000)), "nested more than 64 deep"},
		{"20 000 block lists", []byte(strings.Repeat("- ", 20000) + "a"), "nested more than 64 deep"},
		{"20 000 questions", []byte(strings.Repeat("? ", 20000)), "nested more than 64 deep"},
		{"10 MB of lists", big("["), "values, at most 300000 are read"},
		{"10 MB of items", big("1,"), "values, at most 300000 are read"},
		{"10 MB of items hidden behind a quoted #", append([]byte(`[" #", `), big("1,")[10:]...), "values, at most 300000 are read"},
		{"10 MB of empty keys", big(": \n"), "values, at most 300000 are read"},
		{"10 MB of aliases", big("*a "), "values, at most 300000 are read"},
		{"10 MB of comments", big("#\n"), "values, at most 300000 are read"},
		{"10 MB of nothing", big("\n"), "the file is empty"},
		{"a NUL", []byte("foldfit: 1\nunits: \x00"), "a control character (0x00) stands here"},
		{"an escape", []byte("foldfit: 1 # \x1b[2J"), "a control character (0x1B) stands here"},
		{"Latin-1", []byte("title: {name: Gr\xf6\xdfe}"), "the byte 0xF6 is not UTF-8 text"},
		{"UTF-16", []byte("\xff\xfef\x00o\x00"), "the file is written in UTF-16"},
	} {
		used, what := bytesToRefuse(t, c.src)
		if limit := uint64(len(c.src))*3 + 1<<20; used > min(limit, 40<<20) || !strings.Contains(what, c.what) {
			t.Errorf("%s: %d bytes used, %s", c.name, used, what)
		}
	}
}

func TestCountWords(t *testing.T) {
	for src, want := range map[string]int{
		"": 0, "a": 1, "a b": 2, "[1, 2]": 3, "- - ": 0, "- a": 1, "-1": 1, "a-b": 1, "{a: 1}": 3, "[[],[]]": 3, "a\r\nb": 2, "1,-2,-3": 3,
	} {
		if got := countWords([]byte(src)); got != want {
			t.Errorf("%q: %d, wants %d", src, got, want)
		}
	}
}

func TestPlacesOfBadBytes(t *testing.T) {
	for src, want := range map[string]string{
		"\x00": "1:1", "a\n\x01": "2:1", "a: é\x02": "1:5", "a\r\nb\r\x03": "3:1", "\ufeffab\x04": "1:3", "a\n\xff": "2:1", "é\u0085é\u2028\x05": "3:1",
	} {
		_, _, problems := Parse("x.yaml", []byte(src), Options{})
		if got := fmt.Sprintf("%d:%d", problems[0].Place.Line, problems[0].Place.Column); got != want || len(problems) != 1 {
			t.Errorf("%q: at %s, wants %s", src, got, want)
		}
	}
}

// Aliases may be used, but not to make a small file huge.
func TestAliasBomb(t *testing.T) {
	var s strings.Builder
	s.WriteString(board("components:\n"))
	fmt.Fprintf(&s, "  A: &a {at: [0, 0], boxes: [%s]}\n", strings.Repeat("[0, 0, 0, 1, 1, 1], ", 2000))
	for i := range 30000 {
		fmt.Fprintf(&s, "  B%d: *a\n", i)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, _, problems := Parse("x.yaml", []byte(s.String()), Options{})
	runtime.ReadMemStats(&after)
	if len(problems) != 1 || !strings.Contains(problems[0].What, "aliases make more than 1000000 values of this file") {
		t.Error(tell(problems[:min(len(problems), 5)]))
	}
	if used := (after.TotalAlloc - before.TotalAlloc) >> 20; used > 400 {
		t.Errorf("%d MB used", used)
	}
}

func TestProblemsAreCapped(t *testing.T) {
	var s strings.Builder
	s.WriteString(board(""))
	for i := range 5000 {
		fmt.Fprintf(&s, "key%d: 1\n", i)
	}
	_, _, problems := Parse("x.yaml", []byte(s.String()), Options{})
	if len(problems) != maxProblems+1 || problems[maxProblems].What != "and 4900 more problems" {
		t.Errorf("%d problems, the last %+v", len(problems), problems[len(problems)-1])
	}
}
