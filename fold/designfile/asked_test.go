package designfile

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
)

// A posture says the same as the hinge: what toward: bottom turns over there, it turns over here.
func TestPosturesCountAsTheHingeIsWritten(t *testing.T) {
	for line, want := range map[string]float64{"angle: 90": 30, "angle: -90": 30, "angle: 90, toward: top": 30, "angle: 90, toward: bottom": -30, "angle: 0": 0} {
		value := "30"
		if want == 0 {
			value = "-0 deg"
		}
		d := parse(t, board("postures: {open: {a: "+value+"}}\nhinges: {a: {line: [[20, -1], [20, 11]], radius: 1, "+line+"}}\n"))
		if got := d.Postures[0].Angles[0]; got != (fold.HingeAngle{Hinge: "a", Angle: want}) || 1/got.Angle < 0 && want == 0 {
			t.Errorf("%s: %+v", line, got)
		}
	}
}

const seated = `sections: {main: {stackup: film, area: {rect: [0, 0, 9, 10]}}}
stiffeners: {low: {side: bottom, thickness: 0.2, area: {rect: [10, 1, 18, 8]}}, up: {thickness: 0.2, area: {rect: [10, 1, 18, 8]}}}
components: {U1: {side: bottom, at: [3, 3], size: [1, 1, 1]}, U2: {at: [3, 3], size: [1, 1, 1], below: 0.5}}
enclosure: {tray: {box: [[0, 0, -2], [40, 10, -1]]}}
seats: {s: {area: {rect: [0, 0, 5, 5]}, against: tray, `

// Components and stiffeners have a side of their own; a section must be told.
func TestSideOfSeats(t *testing.T) {
	for keys, want := range map[string]fold.Side{
		"on: U1": fold.Bottom, "on: U2": fold.Top, "on: low": fold.Bottom, "on: up": fold.Top, "on: low, side: bottom": fold.Bottom,
		"on: U2, side: bottom": fold.Bottom, "on: main, side: bottom": fold.Bottom, "on: 'section:main.2', side: top": fold.Top,
		"on: 'component:U1'": fold.Bottom, "on: 'stiffener:low'": fold.Bottom, "on: 'flex:low', side: top": fold.Top,
	} {
		if d := parse(t, board(seated+keys+"}}\n")); d.Seats[0].Side != want {
			t.Errorf("%s: side %s", keys, d.Seats[0].Side)
		}
	}
	for keys, want := range map[string]string{"on: main": "seats.s has no side", "on: 'flex:flat-1'": "seats.s has no side",
		"on: up, side: bottom": "seats.s.side is bottom, but the stiffener up lies on the top side"} {
		d, _, problems := Parse("x.yaml", []byte(board(seated+keys+"}}\n")), Options{})
		if len(problems) != 1 || problems[0].What != want || problems[0].Place.Line != 9 || len(d.Seats) != 0 {
			t.Errorf("%s: %s", keys, tell(problems))
		}
	}
}

// What names something that has a problem of its own gives no second problem, and is left out of the design.
func TestNamesOfWhatCannotBeRead(t *testing.T) {
	d, _, problems := Parse("x.yaml", read(t, "nasty/unreadable-names.yaml"), Options{})
	if len(problems) != 5 {
		t.Errorf("wants 5 problems, got %s", tell(problems))
	}
	var left []string
	for _, p := range d.Postures {
		left = append(left, p.Name)
	}
	for _, p := range d.Enclosure {
		left = append(left, p.Name)
	}
	for _, s := range d.Seats {
		left = append(left, s.Name)
	}
	if got := strings.Join(left, " "); got != "shut lid" {
		t.Errorf("the design keeps %s", got)
	}
}

// Limits are the same in a design and in a file of their own, but for the unit of plain numbers and the file.
func TestParseLimits(t *testing.T) {
	l, problems := ParseLimits("our-fab.yaml", []byte("# ours\nprofile: strict\nbend-ratio: 12\ninside-corner: 30 mil\n"))
	want := []fold.LimitValue{{Rule: "bend-ratio", Value: 12, Place: finding.Place{File: "our-fab.yaml", Line: 3, Column: 1}},
		{Rule: "inside-corner", Value: 0.762, Place: finding.Place{File: "our-fab.yaml", Line: 4, Column: 1}}}
	if len(problems) > 0 || l.Profile != "strict" || l.Source != "our-fab.yaml" || l.File != "" || !slices.Equal(l.Overrides, want) {
		t.Errorf("%+v %s", l, tell(problems))
	}
	for _, c := range []struct{ src, at, what, hint string }{
		{"bend-rato: 12\n", "1:1", "the key bend-rato is not known here", "did you mean bend-ratio?"},
		{"profile: common\nfile: a.yaml\n", "2:1", "the key file is not known here", "keys here: profile, bend-ratio, bend-strain, inside-corner"},
		{"\nprofile: lax\n", "2:10", "profile wants common or strict, got lax", ""},
		{"bend-ratio: 0\n", "1:13", "bend-ratio is 0, it must be above 0", ""},
		{"inside-corner: 5 deg\n", "1:16", "inside-corner wants a length such as 1.5 or 18 um, got 5 deg", "units here"},
		{"limits: {bend-ratio: 5}\n", "1:1", "the key limits is not known here", ""},
		{"- bend-ratio: 5\n", "1:1", "the file wants a map {profile: ...}, got a list of 1 item", ""},
		{"", "1:1", "the file is empty", "bend-ratio: 12"},
		{"bend-ratio: 5\n---\n", "2:1", "a second document begins here", "keep one document"},
		{"bend-ratio: [1 2\n", "2:1", "the list that begins at line 1, column 13 is not closed", ""},
		{"bend-ratio: 5\nbend-ratio: 5\n", "2:1", "bend-ratio is given twice, first at line 1", ""},
	} {
		_, problems := ParseLimits("our-fab.yaml", []byte(c.src))
		if got := tell(problems); len(problems) != 1 || !strings.Contains(got, "\n  "+c.at+" ") || !strings.Contains(got, c.what) || !strings.Contains(problems[0].Hint, c.hint) {
			t.Errorf("%q wants %s %s, got %s", c.src, c.at, c.what, got)
		}
	}
	many, problems := ParseLimits("x.yaml", []byte("profile: srict\nbend-ratio: 9\ninside-corner: x\n"))
	if len(problems) != 2 || len(many.Overrides) != 1 || many.Overrides[0].Value != 9 {
		t.Errorf("%+v %s", many, tell(problems))
	}
}

// A limits file may lie outside the design's folder only where that is allowed, like a mesh.
func TestLimitsPaths(t *testing.T) {
	src := []byte(board("limits: {file: ../fab.yaml, bend-ratio: 9}\n"))
	if d, _, problems := Parse("x.yaml", src, Options{}); len(problems) != 1 || d.Limits.File != "" || len(d.Limits.Overrides) != 1 {
		t.Errorf("%+v %s", d.Limits, tell(problems))
	}
	if d, _, problems := Parse("x.yaml", src, Options{AllowOutside: true}); len(problems) > 0 || d.Limits.File != "../fab.yaml" {
		t.Errorf("%+v %s", d.Limits, tell(problems))
	}
}

// The keys of limits are those that rules know.
func TestLimitKeysAreTheRules(t *testing.T) {
	var profiles []string
	for _, p := range rule.Profiles() {
		profiles = append(profiles, p.Name)
	}
	f := limitsFormat.fields[limitsFormat.find("profile")].form
	if !slices.Equal(f.words, profiles) {
		t.Errorf("profiles %v, the rules have %v", f.words, profiles)
	}
	keys := slices.DeleteFunc(limitsFormat.keyNames(), func(k string) bool { return k == "profile" })
	if !slices.Equal(keys, rule.LimitKeys()) {
		t.Errorf("limits %v, the rules have %v", keys, rule.LimitKeys())
	}
	for _, k := range keys {
		l, _ := ParseLimits("x.yaml", []byte(k+": 3\n"))
		if len(l.Overrides) != 1 || l.Overrides[0].Rule != k || l.Overrides[0].Value != 3 {
			t.Errorf("%s is read as %+v", k, l)
		}
	}
}

// Every rule that a finding may name can be conceded, but for those where that makes no sense.
func TestRulesThatCanBeConceded(t *testing.T) {
	for _, r := range rule.Documented() {
		_, _, problems := Parse("x.yaml", []byte(board("concessions: [{rule: "+r.ID+", because: a, by: b}]\n")), Options{})
		never := r.ID == "bend-overlap" || strings.HasPrefix(r.ID, "concession-")
		if (len(problems) > 0) != never {
			t.Errorf("%s: %s", r.ID, tell(problems))
		}
	}
	for id := range boundUnits {
		if !concedable.holds(id) {
			t.Errorf("there is no rule %s", id)
		}
	}
}

// The unit of a bound is that of the rule's findings: seen on the boards that break each rule.
func TestBoundsHaveTheUnitOfFindings(t *testing.T) {
	list, err := filepath.Glob("../rule/testdata/*/fail.yaml")
	if err != nil || len(list) < len(rule.All())-1 {
		t.Fatalf("%d boards, %v", len(list), err)
	}
	for _, path := range list {
		d, _, problems := Parse(path, read(t, filepath.Join("..", path)), Options{})
		if len(problems) > 0 {
			continue // told by the tests of the rules
		}
		tree, problems := fold.Divide(d)
		if len(problems) > 0 || !tree.Foldable {
			continue
		}
		f, err := tree.Place(tree.Angles())
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range rule.Check(tree, f, "folded") {
			if one.Value != nil && !slices.Contains(unitsOfRule(one.Rule), one.Unit) {
				t.Errorf("%s: a finding of %s in %q, bounds are in %q", path, one.Rule, one.Unit, unitsOfRule(one.Rule))
			}
		}
	}
}
