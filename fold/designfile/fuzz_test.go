package designfile

import (
	"slices"
	"testing"

	"foldfit/fold/rule"
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
	f.Add([]byte(withStacks("  arm: {of: core, keep: [lower]}\n  hard: {rigid: true, lip: 1, layers: [{of: arm, keep: [1, '2', lower]}, {material: fr4, thickness: 1}]}\n")), "stackups.arm.keep.0=4", false)
	f.Add([]byte(sheets("  book: {plies: [sheet, bare, sheet], gap: 0.1, lengths: progressive}\n  open: {rigid: true, layers: [{stackup: book, without: [cover, glue]}]}\n")), "stackups.book.plies.1=book", false)
	f.Add([]byte(edited), "outline.2=[1, 2]", false)
	f.Add(read(f, "good/full.yaml"), "postures.open.hip=20", true)
	f.Add(read(f, "good/full.yaml"), "concessions.1.down-to=1e-9 in", false)
	f.Add(read(f, "good/full.yaml"), "seats.tape.side=top", false)
	f.Add(read(f, "good/full.yaml"), "limits.file=C:ours.yaml", true)
	f.Add(read(f, "good/full.yaml"), "sequence.1.to.neck=80", false)
	f.Add(read(f, "good/full.yaml"), "sequence.7.path.2.turn=[0, 180, 180]", false)
	f.Add(read(f, "good/full.yaml"), "targets.edge.facing=[0, 0, 0]", false)
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

// Whatever the bytes: no panic, limits that rules can use, and problems with places inside the file.
func FuzzParseLimits(f *testing.F) {
	for _, src := range []string{"profile: strict\nbend-ratio: 12\ninside-corner: 30 mil\n", `{"bend-ratio": 12}`, "bend-rato: 12", "file: a.yaml", "bend-ratio: -1",
		"", "5", "- profile", "profile: &a strict\ninside-corner: *a\n", "bend-ratio: 1\nbend-ratio: 2\n", "a: [", "\xff"} {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		limits, problems := ParseLimits("fab.yaml", src)
		for _, p := range problems {
			if p.Place.File != "fab.yaml" || p.Place.Line < 1 || p.Place.Column < 1 || p.What == "" {
				t.Errorf("%+v", p)
			}
		}
		for _, l := range limits.Overrides {
			if l.Place.File != "fab.yaml" || l.Place.Line < 1 || !slices.Contains(rule.LimitKeys(), l.Rule) || !(l.Value >= 0) {
				t.Errorf("%+v", l)
			}
		}
		if limits.File != "" || limits.Source != "fab.yaml" {
			t.Errorf("%+v", limits)
		}
	})
}
