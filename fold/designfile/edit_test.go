package designfile

import (
	"strings"
	"testing"

	"foldfit/fold"
)

const edited = `foldfit: 1
outline: [[0, 0], [40, 0], [40, 10], [0, 10]]
stackups: {film: {thickness: 0.2}, thick: {thickness: 0.4}}
flex: film
hinges:
  neck: {line: [[20, -1], [20, 11]], angle: 180, radius: 1.5}
  other: {line: &l [[30, -1], [30, 11]], angle: 10, radius: 1.5}
  third: {line: *l, angle: 0, radius: 1}
`

// An edit gives the design that the file would give with the value written into it.
func TestEdits(t *testing.T) {
	set := func(edits ...string) *fold.Design {
		t.Helper()
		d, _, problems := Parse("x.yaml", []byte(edited), Options{Set: edits})
		if len(problems) > 0 {
			t.Fatalf("%v: %s", edits, tell(problems))
		}
		return d
	}
	if d := set("hinges.neck.angle=45", "hinges.neck.radius=60 mil"); d.Hinges[0].Angle != 45 || d.Hinges[0].Radius != 1.524 || d.Hinges[0].Place.Line != 6 {
		t.Errorf("%+v", d.Hinges[0])
	}
	if d := set("flex=thick"); d.Flex != "thick" {
		t.Errorf("flex %s", d.Flex)
	}
	if d := set("outline.2.1=50", "outline.3=[50, 10, 1]"); d.Outline.Box().Max.X != 50 || len(d.Outline) != 5 {
		t.Errorf("%+v", d.Outline)
	}
	if d := set("hinges.neck.toward=bottom", "hinges.new={line: [[5, -1], [5, 11]], angle: 1, radius: 1}", "units=mm"); d.Hinges[0].Angle != -180 || d.Hinges[3].Name != "new" {
		t.Errorf("%+v", d.Hinges)
	}
	if d := set("units=in"); d.Units != fold.Inch || d.Hinges[0].Radius != 38.1 {
		t.Errorf("%+v", d.Hinges[0])
	}
	// the anchor's own copy changes, the alias keeps what the file says
	if d := set("hinges.other.line=[[31, -1], [31, 11]]"); d.Hinges[1].Line[0].X != 31 || d.Hinges[2].Line[0].X != 30 {
		t.Errorf("%+v", d.Hinges)
	}
	if d := set("hinges.neck.angle=1", "hinges.neck.angle=2"); d.Hinges[0].Angle != 2 {
		t.Errorf("%+v", d.Hinges[0])
	}
}

func TestBadEdits(t *testing.T) {
	for _, c := range []struct {
		edit, at, what, hint string
	}{
		{"hinges.neck", "1:1", "set hinges.neck: an edit is written path=value", "hinges.neck.angle=45"},
		{"=5", "1:1", "an edit is written path=value", ""},
		{"", "1:1", `set "": an edit is written path=value`, ""},
		{"hinges.nek.angle=45", "6:3", "set hinges.nek.angle=45: there is no nek", "did you mean neck?"},
		{"hinges.neck.angel=45", "6:9", "set hinges.neck.angel=45: hinges.neck: the key angel is not known here", "did you mean angle?"},
		{"hinges.neck.angle=abc", "6:45", `set hinges.neck.angle=abc: hinges.neck.angle wants an angle in degrees such as 90, got the text "abc"`, ""},
		{"hinges.neck.angle=", "6:38", "hinges.neck.angle has no value", ""},
		{"hinges.neck.angle.x=1", "6:45", "there is nothing below 180", ""},
		{"hinges.third.line.1=[1, 2]", "8:17", "the value is an alias", ""},
		{"outline.5.1=3", "2:10", "the list has items 1 to 4, not 5", ""},
		{"outline.0.1=3", "2:10", "the list has items 1 to 4, not 0", ""},
		{"outline.2.1=[", "1:1", "set outline.2.1=[: ", "as in the design file"},
		{"hinges.neck.angle=\x00", "1:1", "a control character", ""},
		{"flex=wood", "4:7", "set flex=wood: flex names the stack-up wood, which does not exist", ""},
		{"hinges.neck.line=[1, 2, 3]", "6:16", "set hinges.neck.line=[1, 2, 3]: hinges.neck.line wants two points", ""},
		{"hinges.a b=1", "6:3", "there is no a b", ""},
		{"foldfit.x=1", "1:10", "there is nothing below 1", ""},
	} {
		_, _, problems := Parse("x.yaml", []byte(edited), Options{Set: []string{c.edit}})
		if len(problems) != 1 {
			t.Errorf("%q: %s", c.edit, tell(problems))
			continue
		}
		if got := tell(problems); !strings.Contains(got, "\n  "+c.at+" ") || !strings.Contains(got, c.what) || !strings.Contains(problems[0].Hint, c.hint) {
			t.Errorf("%q: wants %s %s, got %s", c.edit, c.at, c.what, got)
		}
	}
}

func TestEditOfBrokenFiles(t *testing.T) {
	for _, src := range []string{"", "5", "- a", "a: [", "foldfit: 1"} {
		if d, _, problems := Parse("x.yaml", []byte(src), Options{Set: []string{"a.b=5", "1=3"}}); len(problems) == 0 || d == nil {
			t.Errorf("%q has no problems", src)
		}
	}
}
