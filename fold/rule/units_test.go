package rule_test

import (
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"foldfit/fold"
	"foldfit/fold/rule"
)

var lengthIn = regexp.MustCompile(`([0-9.]+) (mm|mil|in)(?:[^a-z0-9\x60]|$)`)

// TestUnits says what is wrong with each rule's failing board in mm, mil and inches: the lengths are the same ones, to what rounding
// takes, and only those of the design's unit are spoken. Samples in backticks do not count.
func TestUnits(t *testing.T) {
	for _, r := range rule.All() {
		path := filepath.Join("testdata", r.ID, "fail.yaml")
		want := lengthsSaid(t, path, fold.MM)
		for _, u := range []fold.Units{fold.Mil, fold.Inch} {
			got := lengthsSaid(t, path, u)
			if len(got) != len(want) {
				t.Errorf("%s: %d lengths in %s, %d in mm", r.ID, len(got), u, len(want))
				continue
			}
			for i := range got {
				if math.Abs(got[i]-want[i]) > 0.0125 {
					t.Errorf("%s: %g mm in %s, %g in mm", r.ID, got[i], u, want[i])
				}
			}
		}
	}
}

// lengthsSaid returns in mm the lengths in message and hint of what is found on a board whose design is in these units.
func lengthsSaid(t *testing.T, path string, u fold.Units) []float64 {
	t.Helper()
	tree := boardAt(t, path)
	tree.Design.Units = u
	var out []float64
	for _, f := range checked(t, tree) {
		for _, m := range lengthIn.FindAllStringSubmatch(f.Message+". "+f.Hint, -1) {
			v, err := strconv.ParseFloat(m[1], 64)
			if err != nil || m[2] != string(u) {
				t.Errorf("%s: %q in a design in %s: %s %s", path, m[0], u, f.Message, f.Hint)
			}
			out = append(out, v*u.Length())
		}
	}
	return out
}
