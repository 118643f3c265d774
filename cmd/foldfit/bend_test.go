package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foldfit/fold/elastica"
	"foldfit/fold/stackup"
)

// answer is what the tests read of the JSON of foldfit bend.
type answer struct {
	Format, Inside string
	Width, K       float64
	Neutral        float64 `json:"neutral_radius"`
	Limit          struct {
		Ratio, Radius float64
		Kept          bool
	}
	Copper     []struct{ Inside, Outside float64 }
	Most       *float64 `json:"copper_strain"`
	Outside    float64  `json:"outside_strain"`
	Elongation *struct {
		Radius float64
		Quoted *float64
	}
	Film       struct{ Radius float64 }
	Hold       *struct{ Stiffness, Moment, Squeeze float64 }
	Springback *struct{ Retained [2]float64 }
	Life       *struct{ Cycles, Low, High float64 }
	Free       *struct {
		Radius, Further, Ratio, At, Length float64
		Neutral                            float64 `json:"neutral_radius"`
		OfDrawn                            float64 `json:"of_drawn"`
	}
	Table []struct {
		Radius, Width, Ratio float64
		Copper               float64 `json:"copper_strain"`
		Outside              float64 `json:"outside_strain"`
		Cycles               float64
		Free                 float64 `json:"free_radius"`
	}
	NotKnown []string `json:"not_known"`
}

// ask runs foldfit bend with --json.
func ask(t *testing.T, args string) answer {
	t.Helper()
	r := call(t, "", strings.Fields("bend --json "+args)...)
	if r.code != exitGood || r.err != "" {
		t.Fatalf("bend %s: status %d %s", args, r.code, r.err)
	}
	var a answer
	if err := json.Unmarshal([]byte(r.out), &a); err != nil {
		t.Fatal(err, r.out)
	}
	if a.Format != "foldfit-bend/1" {
		t.Errorf("format %q", a.Format)
	}
	return a
}

// layers writes a stack file of layers given as "material um" from the top, and returns its name.
func layers(t *testing.T, list ...string) string {
	t.Helper()
	text := "layers:\n"
	for _, l := range list {
		material, um, _ := strings.Cut(l, " ")
		text += fmt.Sprintf("  - {material: %s, thickness: %s um}\n", material, um)
	}
	name := filepath.Join(t.TempDir(), "stack.yaml")
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return name
}

// The worked stacks: a double-sided flex between covers, and a covered single-sided one.
var (
	stackA = []string{"polyimide 25", "adhesive 25", "copper-ra 18", "polyimide 25", "copper-ra 18", "adhesive 25", "polyimide 25"}
	stackB = []string{"polyimide 25", "adhesive 13", "copper-ra 18", "adhesive 25", "polyimide 25"}
)

// close to a wanted value, by an absolute tolerance.
func closeTo(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// TestBendDoubleSided: strains, rule radii and life of stack A. The values were worked independently of this program from
// the transformed section (strain to 1e-4 %), the elongation formula of IPC-2223 as commonly quoted and Engelmaier's relation.
func TestBendDoubleSided(t *testing.T) {
	file := layers(t, stackA...)
	a := ask(t, "--angle 180 --radius 1 --width 12 --stack "+file)
	closeTo(t, "copper strain", *a.Most, 0.028228, 5e-7)
	closeTo(t, "inner copper", a.Copper[0].Inside, -0.028228, 5e-7)
	closeTo(t, "outer copper", a.Copper[1].Outside, 0.028228, 5e-7)
	closeTo(t, "outside film", a.Outside, 0.074503, 5e-7)
	closeTo(t, "K", a.K, 0.5, 1e-12)
	closeTo(t, "stiffness", a.Hold.Stiffness, 2.6960, 5e-5)
	wide := a.Hold.Stiffness * 12 / (1 - 0.34*0.34)
	closeTo(t, "moment", a.Hold.Moment, wide/1.0805, 1e-9)
	closeTo(t, "squeeze", a.Hold.Squeeze, wide*2.87108/(2.161*2.161), 1e-4)
	closeTo(t, "elongation 10 %", *a.Elongation.Quoted, 0.2245, 1e-9)
	closeTo(t, "the model, symmetric", a.Elongation.Radius, 0.2245, 1e-9)
	if s := a.Springback.Retained; !(s[0] > 0 && s[0] < s[1] && s[1] < 1) {
		t.Errorf("springback keeps %v", s)
	}
	if a.Life != nil {
		t.Error("a life for a bend that does not work")
	}

	a = ask(t, "--angle 180 --radius 1 --use dynamic --stack "+file)
	closeTo(t, "limit", a.Limit.Radius, 16.1, 1e-9)
	closeTo(t, "elongation 0.3 %", *a.Elongation.Quoted, 10.0862, 1e-4)
	closeTo(t, "life", a.Life.Cycles, 257, 1.3)
	closeTo(t, "band", a.Life.High/a.Life.Low, 100, 1e-9)
	closeTo(t, "limit of the profile strict", ask(t, "--strict --angle 180 --radius 1 --stack "+file).Limit.Radius, 12*0.161, 1e-12)

	a = ask(t, "--angle 90 --radius 1.61 --radii 0.966,1.61,1.932,3.22,3.864,16.1 --stack "+file)
	if !a.Limit.Kept {
		t.Error("a ratio met exactly is not kept")
	}
	for i, want := range []float64{2.914, 1.804, 1.516, 0.924, 0.773, 0.1885} {
		closeTo(t, fmt.Sprint("copper % at ratio ", a.Table[i].Ratio), 100*a.Table[i].Copper, want, 5e-4)
	}
	back := ask(t, fmt.Sprintf("--angle 90 --radius %.12f --stack %s", a.Film.Radius, file))
	closeTo(t, "film at its least radius", back.Outside, 0.03, 1e-9)
}

// TestBendTurnedOver: bent toward the bottom a stack-up is the one turned over, bent toward the top.
func TestBendTurnedOver(t *testing.T) {
	turned := slices.Clone(stackB)
	slices.Reverse(turned)
	a := ask(t, "--angle 150 --radius 1 --side bottom --run-out 1,2 --stack "+layers(t, stackB...))
	b := ask(t, "--angle 150 --radius 1 --run-out 2,1 --stack "+layers(t, turned...))
	top := ask(t, "--angle 150 --radius 1 --stack "+layers(t, stackB...))
	closeTo(t, "K toward the top", top.K, 0.4472, 5e-5)
	closeTo(t, "K toward the bottom", a.K, 0.5528, 5e-5)
	closeTo(t, "outer copper toward the top", top.Copper[0].Outside, 0.008203, 5e-7)
	closeTo(t, "inner copper toward the top", top.Copper[0].Inside, -0.008982, 5e-7)
	for what, v := range map[string][2]float64{
		"K": {a.K, b.K}, "width": {a.Width, b.Width}, "strain": {*a.Most, *b.Most}, "outside": {a.Outside, b.Outside}, "moment": {a.Hold.Moment, b.Hold.Moment},
		"retained": {a.Springback.Retained[0], b.Springback.Retained[0]}, "free": {a.Free.Radius, b.Free.Radius}, "further": {a.Free.Further, b.Free.Further},
		"place from the other end": {a.Free.At, b.Free.Length - b.Free.At},
	} {
		if math.Abs(v[0]-v[1]) > 1e-6 {
			t.Errorf("%s: %g one way, %g the other", what, v[0], v[1])
		}
	}
}

// TestBendPlain: 180 degrees about 1.5 mm, 0.2 mm thick, are pi 1.6 mm of flex, and no layers give no copper.
func TestBendPlain(t *testing.T) {
	a := ask(t, "--angle 180 --radius 1.5 --thickness 0.2 --copper-layers 2 --use dynamic")
	closeTo(t, "width", a.Width, 5.02655, 5e-6)
	closeTo(t, "face strain t/(2R+t)", a.Outside, 0.2/3.2, 1e-12)
	if a.Most != nil || a.Hold != nil || a.Life != nil || a.Springback != nil || a.Elongation != nil || a.Free != nil || len(a.Copper) > 0 || len(a.NotKnown) == 0 {
		t.Errorf("%+v", a)
	}
}

// TestBendFree: a U of 0.16 mm drawn about 1.5 mm, between run-outs that let its ends lie straight, is the U between two
// sliding plates; in general it is the clamped U of the package elastica.
func TestBendFree(t *testing.T) {
	plates, err := elastica.TwoPlates(3.16)
	if err != nil {
		t.Fatal(err)
	}
	run := (plates.Arc - math.Pi*1.58) / 2
	call := func(run float64) answer {
		return ask(t, fmt.Sprintf("--angle 180 --radius 1.5 --thickness 0.16 --copper-layers 1 --run-out %.15g,%.15g", run, run))
	}
	a := call(run)
	closeTo(t, "neutral radius", a.Free.Neutral, 1.3187, 5e-5)
	closeTo(t, "inside radius", a.Free.Radius, 1.2387, 5e-5)
	closeTo(t, "ratio", a.Free.Ratio, 7.7, 0.05)
	closeTo(t, "of drawn", a.Free.OfDrawn, 1.2387/1.5, 5e-5)
	closeTo(t, "further", a.Free.Further, plates.Reach-run-1.58, 1e-8)
	if math.Abs(run-0.98) > 0.005 {
		t.Errorf("README speaks of run-outs of 0.98 mm, they are %g", run)
	}
	for _, run := range []float64{0.2, 1, 3} {
		u, err := elastica.ClampedU(3.16, math.Pi*1.58+2*run)
		if err != nil {
			t.Fatal(err)
		}
		least, _ := u.MinRadius()
		a := call(run)
		closeTo(t, "clamped U", a.Free.Neutral, least, 1e-8)
		closeTo(t, "reach", a.Free.Further, u.Reach-run-1.58, 1e-8)
	}
	if a := call(0); a.Free.OfDrawn < 1-1e-12 || a.Free.OfDrawn > 1+1e-12 || math.Abs(a.Free.Further) > 1e-12 {
		t.Errorf("held at its tangent lines: %+v", *a.Free)
	}
}

// TestBendTable: with the radius all figures go one way, and the line of the radius asked for holds its answer.
func TestBendTable(t *testing.T) {
	a := ask(t, "--angle 120 --radius 1.5 --use dynamic --run-out 1,1 --radii 0.5,1,1.5,2,4,8,20 --stack "+layers(t, stackA...))
	for i := 1; i < len(a.Table); i++ {
		lo, hi := a.Table[i-1], a.Table[i]
		if !(lo.Width < hi.Width && lo.Ratio < hi.Ratio && lo.Copper > hi.Copper && lo.Outside > hi.Outside && lo.Cycles < hi.Cycles && lo.Free < hi.Free) {
			t.Errorf("from %g to %g mm: %+v, then %+v", lo.Radius, hi.Radius, lo, hi)
		}
	}
	if r := a.Table[2]; r.Width != a.Width || r.Copper != *a.Most || r.Outside != a.Outside || r.Cycles != a.Life.Cycles || r.Free != a.Free.Radius {
		t.Errorf("%+v is not the answer %+v", r, a)
	}
}

// TestBendExtremes: the corners of what the flags allow give numbers, not defects, in JSON and in text.
func TestBendExtremes(t *testing.T) {
	thin, thick := layers(t, "polyimide 0.01", "copper-ra 0.01"), layers(t, "fr4 4000", "copper-ed 500", "fr4 4000")
	etched := filepath.Join(t.TempDir(), "etched.yaml")
	if err := os.WriteFile(etched, []byte("layers: [{material: copper-ra, thickness: 18 um, coverage: 0}]"), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, flex := range []string{"--stack " + thin, "--stack " + thick, "--stack " + etched, "--thickness 0.001", "--thickness 100"} {
		for _, shape := range []string{"--angle 0.1 --radius 0.001", "--angle 0.1 --radius 1000", "--angle 360 --radius 0.001", "--angle 360 --radius 1000"} {
			for _, more := range []string{"", "--run-out 3,0 --use dynamic --radii 1,1000", "--run-out 0.001,1 --side bottom --width 0.01 --use dynamic"} {
				args := strings.Fields(strings.Join([]string{"bend", shape, flex, more}, " "))
				for _, args := range [][]string{args, append(slices.Clone(args), "--json")} {
					r := call(t, "", args...)
					if r.code != exitGood || strings.Contains(r.out, "NaN") || strings.Contains(r.out, "Inf") {
						t.Errorf("%v: status %d %s%s", args, r.code, r.err, clip(r.out))
					}
				}
			}
		}
	}
}

// TestBendSources: every figure of the text is followed by its source.
func TestBendSources(t *testing.T) {
	r := call(t, "", strings.Fields("bend --angle 180 --radius 1 --use dynamic --run-out 1,1 --stack "+layers(t, stackA...))...)
	for _, words := range []string{"bend allowance", "transformed section", "limit: common practice", "plane sections", "lower bound", "upper bound", "Engelmaier",
		"our extension of the sheet-metal formula", "Euler 1744", "Cautions"} {
		if !holds(r.out, words) {
			t.Errorf("%q is missing in\n%s", words, r.out)
		}
	}
	if yield := fmt.Sprint(stackup.PolyimideYield, " MPa"); !holds(r.out, yield) {
		t.Errorf("%q is missing", yield)
	}
}
