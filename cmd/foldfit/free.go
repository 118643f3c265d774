package main

import (
	"fmt"
	"slices"
	"strings"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/mesh"
)

// freelyFormed returns the meshes to measure gaps between: with the free shape of each hinge that is formed free, unless the
// meshes have free shapes already. It notes in the run which hinges that concerns.
func (s *shape) freelyFormed(chord float64, r *report.Run) (*mesh.Assembly, error) {
	t := s.folded.Tree
	free, kept := bending.Relax(s.folded, func(h int) bool { return t.Design.Hinges[h].Formed == "free" })
	for _, k := range kept {
		note(r, fmt.Sprintf("gaps at bend %s are measured to the drawn cylinder though it is formed free: %s", t.Bends[k.Bend].Name, k.Why))
	}
	if free == s.folded {
		return s.assembly, nil
	}
	note(r, fmt.Sprintf("gaps at %s are measured to the free shape of the flex (formed: free), not to the drawn cylinder; files of the folded board show the cylinder, unless written by fold --shape free", bendNames(t, freeBends(free))))
	for _, seated := range seatedOnFree(free) {
		note(r, seated)
	}
	if s.form != s.folded {
		return s.assembly, nil
	}
	return meshed(free, chord)
}

// note adds a note to a run, once.
func note(r *report.Run, text string) {
	if !slices.Contains(r.Notes, text) {
		r.Notes = append(r.Notes, text)
	}
}

// relax gives every bend that is held its free shape, and returns what there is to say of that.
func (s *shape) relax() []string {
	free, kept := bending.Relax(s.folded, func(int) bool { return true })
	s.form = free
	var said []string
	for _, k := range kept {
		said = append(said, fmt.Sprintf("bend %s keeps the drawn cylinder: %s", s.folded.Tree.Bends[k.Bend].Name, k.Why))
	}
	return append(said, seatedOnFree(free)...)
}

// freeBends returns the bends that have their free shape.
func freeBends(f *fold.Folded) []int {
	var out []int
	for i := range f.Tree.Bends {
		if f.Free(i) != nil {
			out = append(out, i)
		}
	}
	return out
}

// bendNames lists bends: "bend neck", "bends neck, tail".
func bendNames(t *fold.Tree, bends []int) string {
	var names []string
	for _, i := range bends {
		names = append(names, t.Bends[i].Name)
	}
	if len(names) == 1 {
		return "bend " + names[0]
	}
	return "bends " + strings.Join(names, ", ")
}

// seatedOnFree says of each free bend which components have their place on its run-outs: they are not taken along.
func seatedOnFree(f *fold.Folded) []string {
	var out []string
	for _, i := range freeBends(f) {
		var names []string
		for _, b := range f.Tree.Bodies {
			if b.Kind == fold.KindComponent && b.Flat >= 0 && f.Free(i).Region.Contains(b.At) {
				names = append(names, b.Name)
			}
		}
		if len(names) > 0 {
			out = append(out, fmt.Sprintf("%s: on the free flex of bend %s; taken where the drawn flat is, and not judged against that flex",
				strings.Join(names, ", "), f.Tree.Bends[i].Name))
		}
	}
	return out
}
