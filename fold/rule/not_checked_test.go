package rule

import (
	"slices"
	"testing"

	"foldfit/fold"
)

func TestNotChecked(t *testing.T) {
	plain := func(d *fold.Design) { d.Stackups[0].Plain = true }
	strange := func(d *fold.Design) { d.Stackups[0].Layers[1].Material = "our-copper" }
	deposited := func(d *fold.Design) { d.Stackups[0].Layers[1].Material = "copper-ed" }
	film := func(d *fold.Design) { d.Stackups[0].Layers = d.Stackups[0].Layers[:1] }
	short := func(d *fold.Design) { section("b", "thick", rect(39.9, 0, 40, 10))(d) } // held on one side only
	formedBy := func(who string) func(*fold.Design) { return hinge(func(h *fold.Hinge) { h.Formed = who }) }
	for name, c := range map[string]struct {
		changes []func(*fold.Design)
		what    []string
	}{
		"bent once":                  {[]func(*fold.Design){plain}, nil},
		"known":                      {[]func(*fold.Design){foil, dynamic(100)}, nil},
		"no cycles":                  {[]func(*fold.Design){foil, dynamic(0)}, []string{"life"}},
		"plain":                      {[]func(*fold.Design){plain, dynamic(100)}, []string{"life", "copper strain", "copper foil in dynamic use"}},
		"other copper":               {[]func(*fold.Design){foil, strange, dynamic(100)}, []string{"life", "copper strain", "copper foil in dynamic use"}},
		"other copper, limit":        {[]func(*fold.Design){foil, strange, dynamic(100), limit("bend-strain", 0.3)}, []string{"life", "copper foil in dynamic use"}},
		"no quoted elongation":       {[]func(*fold.Design){foil, deposited, dynamic(100)}, []string{"copper strain"}},
		"limit of the design":        {[]func(*fold.Design){foil, deposited, dynamic(100), limit("bend-strain", 0.3)}, nil},
		"no copper":                  {[]func(*fold.Design){foil, film, dynamic(100)}, nil},
		"formed, plain":              {[]func(*fold.Design){plain, formedBy("bench")}, []string{"springback"}},
		"formed, yield not known":    {[]func(*fold.Design){foil, deposited, formedBy("fabricator")}, []string{"springback"}},
		"formed":                     {[]func(*fold.Design){foil, formedBy("fabricator")}, nil},
		"free between edges":         {[]func(*fold.Design){held, hinge(freely)}, nil},
		"free at one end":            {[]func(*fold.Design){short, hinge(freely)}, []string{"free shape"}},
		"free, dynamic, held at one": {[]func(*fold.Design){foil, short, hinge(freely), dynamic(0)}, []string{"life", "free shape"}},
	} {
		tree, problems := fold.Divide(board(strip(), c.changes...))
		if problems != nil {
			t.Fatal(name, problems)
		}
		var what []string
		for _, u := range NotChecked(tree) {
			what = append(what, u.What)
			if len(u.On) != 1 || u.On[0] != "hinge:n" || u.Why == "" {
				t.Errorf("%s: %+v", name, u)
			}
		}
		if !slices.Equal(what, c.what) {
			t.Errorf("%s: %v, want %v", name, what, c.what)
		}
	}
}

// TestMethods: every rule and every figure says how it comes about, and no name is given twice.
func TestMethods(t *testing.T) {
	whole := func(name string, m Method) {
		if m.Formula == "" || m.Inputs == "" || m.Source == "" || m.Trust == "" {
			t.Errorf("%s is incomplete: %+v", name, m)
		}
	}
	var names []string
	for _, r := range Documented() {
		whole(r.ID, r.How)
		names = append(names, r.ID)
	}
	last := ""
	for _, f := range Figures() {
		whole(f.ID, f.How)
		if got, ok := FigureOf(f.ID); f.ID <= last || slices.Contains(names, f.ID) || f.Title == "" || !ok || got != f {
			t.Errorf("%s is out of order, a rule too, or not found", f.ID)
		}
		last = f.ID
	}
	if _, ok := FigureOf("nothing"); ok {
		t.Error("a figure without a name")
	}
}
