package sheet

import (
	"path/filepath"
	"slices"
	"testing"

	"foldfit/export/draw"
	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/rule"
	"foldfit/mesh"
	"foldfit/mesh/clash"
	"foldfit/mesh/enclosure"
)

// checked reads a design file and checks its folded posture: the rules, and the gaps to pieces of the enclosure that are boxes. A design
// that cannot be used gives false.
func checked(t testing.TB, name string, src []byte) (report.Run, []clash.Wall, bool) {
	t.Helper()
	d, _, problems := designfile.Parse(name, src, designfile.Options{})
	if d == nil || len(problems) > 0 {
		return report.Run{}, nil, false
	}
	tree, more := fold.Divide(d)
	if tree == nil || len(more) > 0 {
		return report.Run{}, nil, false
	}
	r := report.Run{Tree: tree, Posture: fold.FoldedPosture, Unchecked: report.NotChecked(tree), Version: "test"}
	var walls []clash.Wall
	for i := range d.Enclosure {
		if p := &d.Enclosure[i]; p.Box != nil {
			walls = append(walls, clash.Wall{Piece: p, Mesh: enclosure.Box(p.Name, p.Box[0], p.Box[1]).Place(fold.RigidMotion(p.Turn, p.Move)), Closed: true})
		}
	}
	if !tree.Foldable {
		r.Findings = rule.CheckPostures([]rule.Board{{Tree: tree, Posture: r.Posture}})
		return r, walls, true
	}
	f, err := tree.Place(tree.Angles())
	if err != nil {
		t.Fatal(err)
	}
	a, err := mesh.Skin(f, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	gaps := clash.CheckAs(a, walls, r.Posture)
	r.Folded, r.Gaps = f, gaps.Gaps
	r.Findings = rule.Concede(d, append(rule.CheckPostures([]rule.Board{{Tree: tree, Folded: f, Posture: r.Posture}}), gaps.Findings...))
	finding.Sort(r.Findings)
	return r, walls, true
}

// designs returns the paths of the examples and of the corpus's boards.
func designs(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, folder := range []string{"examples/*", "testdata/corpus/good", "testdata/corpus/limit", "testdata/corpus/bad"} {
		list, err := filepath.Glob("../../" + folder + "/*.yaml")
		if err != nil || len(list) == 0 {
			t.Fatal("no boards in", folder, err)
		}
		out = append(out, list...)
	}
	slices.Sort(out)
	return out
}

// writing returns the boxes of all words on a page, and what they say.
func writing(p *page) (boxes []flat.Box, words []string) {
	for _, g := range p.groups {
		for _, it := range g.Items {
			if it.Text != nil {
				boxes, words = append(boxes, it.Bounds(p.face)), append(words, it.Text.Words)
			}
		}
	}
	return boxes, words
}

// drawn returns the box about everything drawn on a page but its own border.
func drawn(p *page) flat.Box {
	b := block{face: p.face, reach: flat.EmptyBox()}
	for _, g := range p.groups {
		if g.ID != "border" {
			b.Items = append(b.Items, g.Items...)
		}
	}
	return b.box()
}

// itemsOf returns what a group of a page draws.
func itemsOf(p *page, id string) []draw.Item {
	for _, g := range p.groups {
		if g.ID == id {
			return g.Items
		}
	}
	return nil
}
