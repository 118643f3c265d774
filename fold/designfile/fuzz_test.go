package designfile

import (
	"testing"
)

// Whatever the bytes: no panic, a design that keeps its promises, and problems with places inside the file.
func FuzzParse(f *testing.F) {
	for _, folder := range []string{"good", "nasty"} {
		for _, name := range files(f, folder) {
			f.Add(read(f, name), "", false)
		}
	}
	f.Add(read(f, "good/full.yaml"), "hinges.neck.angle=45", true)
	f.Add(read(f, "good/full.yaml"), "stackups.six.layers.2.without=[coverlay]", false)
	f.Add([]byte(edited), "outline.2=[1, 2]", false)
	f.Fuzz(func(t *testing.T, src []byte, edit string, outside bool) {
		o := Options{AllowOutside: outside}
		if edit != "" {
			o.Set = []string{edit}
		}
		d, _, problems := Parse("x.yaml", src, o)
		checkClosed(t, "x.yaml", d)
		if len(problems) > maxProblems+1 {
			t.Errorf("%d problems", len(problems))
		}
		for _, p := range problems {
			if p.Place.File != "x.yaml" || p.Place.Line < 1 || p.Place.Column < 1 || p.What == "" {
				t.Errorf("%+v", p)
			}
			Excerpt(src, p.Place)
		}
		if again, _, repeat := Parse("x.yaml", src, o); again.Incomplete != d.Incomplete || tell(repeat) != tell(problems) {
			t.Error("a second run says something else")
		}
	})
}
