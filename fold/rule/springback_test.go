package rule

import (
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// TestSpringbackTogether: hinges that the same hand forms to the usual tolerance make one advice, that of the worst; one with a
// tolerance or a concession of its own speaks for itself.
func TestSpringbackTogether(t *testing.T) {
	three := func(change func(a, b, c *fold.Hinge)) func(*fold.Design) {
		return func(d *fold.Design) {
			for i, angle := range []float64{45, 90, 60} {
				h := fold.Hinge{Name: string("abc"[i]), Angle: angle, Radius: 1.2, Written: 1, Formed: "bench"}
				x := 8 + 12*float64(i)
				h.Line = [2]flat.Pt{{X: x, Y: -5}, {X: x, Y: 15}}
				d.Hinges = append(d.Hinges[:i:i], h)
			}
			change(&d.Hinges[0], &d.Hinges[1], &d.Hinges[2])
		}
	}
	none := func(a, b, c *fold.Hinge) {}
	all := of("springback", check(t, board(strip(), foil, three(none))))
	if len(all) != 1 || strings.Join(all[0].On, " ") != "hinge:a hinge:b hinge:c" || !strings.HasPrefix(all[0].Message, "bend b, ") {
		t.Fatalf("%+v", all)
	}
	for _, name := range []string{"a, which", "c, which"} {
		if !strings.Contains(all[0].Message, name) {
			t.Errorf("%q does not tell of %s", all[0].Message, name)
		}
	}
	alone := only(t, "springback", board(strip(), foil, three(func(a, _, c *fold.Hinge) { a.Formed, c.Formed = "", "" })))
	if *alone.Value != *all[0].Value || *alone.Limit != *all[0].Limit {
		t.Errorf("%+v is not that of the worst", alone)
	}
	for name, change := range map[string]func(*fold.Design){
		"tolerance": three(func(_, b, _ *fold.Hinge) { b.TolAngle = 6 }),
		"concession": func(d *fold.Design) {
			three(none)(d)
			d.Concessions = []fold.Concession{{Rule: "springback", On: []string{"b"}}}
		},
		"other hand": three(func(_, b, _ *fold.Hinge) { b.Formed = "fabricator" }),
	} {
		if got := of("springback", check(t, board(strip(), foil, change))); len(got) != 2 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
