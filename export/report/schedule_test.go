package report

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/flat"
	"foldfit/fold/rule"
	"foldfit/fold/stackup"
)

// slanted is a strip with rigid ends, an oblique hinge between them and one that stays flat. The flex has its copper off the
// middle: 0.03 mm of film, 0.02 mm of copper, 0.05 mm of film.
func slanted(change func(*fold.Design)) *fold.Design {
	rect := func(x0, x1 float64) flat.Loop { l, _ := flat.Rect(x0, 0, x1, 10, 0); return l }
	d := &fold.Design{Name: "Slanted", Outline: rect(0, 60), Flex: "thin", Datum: flat.Pt{X: -5, Y: 2},
		Stackups: []stackup.Stackup{
			{Name: "thin", CopperLayers: 1, Layers: []stackup.Layer{{Material: "polyimide", Thickness: 0.03, Modulus: 2.5},
				{Material: "copper-ra", Thickness: 0.02, Modulus: 117, Copper: true, Coverage: 1}, {Material: "polyimide", Thickness: 0.05, Modulus: 2.5}}},
			{Name: "hard", Rigid: true, Layers: []stackup.Layer{{Thickness: 0.8, Modulus: 22}}}},
		Sections: []fold.Section{{Name: "left", Stackup: "hard", Area: rect(0, 20)}, {Name: "right", Stackup: "hard", Area: rect(40, 60)}},
		Base:     fold.Base{Section: "left"},
		Hinges: []fold.Hinge{{Name: "still", Line: [2]flat.Pt{{X: 50}, {X: 50, Y: 10}}, Radius: 1, Written: 1},
			{Name: "turn", Line: [2]flat.Pt{{X: 28}, {X: 32, Y: 10}}, Angle: -120, Written: -1, Radius: 1.5, Use: "install", Formed: "fabricator", TolAngle: 3}}}
	if change != nil {
		change(d)
	}
	return d
}

// runOf divides a design.
func runOf(t *testing.T, d *fold.Design) Run {
	t.Helper()
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatal(problems)
	}
	return Run{Tree: tree, Posture: "folded", Version: "test"}
}

// table reads the CSV back: the cells of each hinge by heading.
func table(t *testing.T, r Run) []map[string]string {
	t.Helper()
	var data bytes.Buffer
	if err := ScheduleCSV(&data, r); err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(&data).ReadAll() // wants as many cells in every line as there are headings
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range records[1:] {
		one := map[string]string{}
		for i, heading := range records[0] {
			if _, twice := one[heading]; twice {
				t.Errorf("two columns are called %q", heading)
			}
			one[heading] = cells[i]
		}
		out = append(out, one)
	}
	return out
}

// near wants a cell to hold a number.
func near(t *testing.T, row map[string]string, heading string, want, by float64) {
	t.Helper()
	got, err := strconv.ParseFloat(row[heading], 64)
	if err != nil || math.Abs(got-want) > by {
		t.Errorf("%s is %q, want %.5f", heading, row[heading], want)
	}
}

// slantedNeutral is the height of its neutral surface above the bottom face, by hand from sum(E t y) / sum(E t).
const slantedNeutral = (2.5*0.05*0.025 + 117*0.02*0.06 + 2.5*0.03*0.085) / (2.5*0.05 + 117*0.02 + 2.5*0.03)

// TestScheduleByHand: positions, widths and strain of an oblique hinge from its own geometry, written out here.
func TestScheduleByHand(t *testing.T) {
	row := table(t, runOf(t, slanted(nil)))[0]
	neutral := 1.5 + slantedNeutral // the bottom lies inside
	width, length := neutral*120*math.Pi/180, math.Sqrt(4*4+10*10)
	near(t, row, "neutral radius mm", neutral, 0.0006)
	near(t, row, "bend area width mm", width, 0.0006)
	near(t, row, "flex width mm", length, 0.0006)
	near(t, row, "rotation deg", 120, 0)
	near(t, row, "thickness mm", 0.1, 0)
	near(t, row, "ratio", 15, 0)
	near(t, row, "ratio asked", 6, 0)
	near(t, row, "copper strain %", 100*max(math.Abs(0.05-slantedNeutral), math.Abs(0.07-slantedNeutral))/neutral, 0.006)
	// Half a width along the line's normal (10, -4): the near border lies toward the left, which is the base. The datum is (-5, 2).
	dx, dy := width/2*10/length, width/2*-4/length
	for _, c := range []struct {
		name string
		side float64
	}{{"line", 0}, {"near tangent", -1}, {"far tangent", 1}} {
		near(t, row, c.name+" x1 mm", 28+5+c.side*dx, 0.0006)
		near(t, row, c.name+" y1 mm", 0-2+c.side*dy, 0.0006)
		near(t, row, c.name+" x2 mm", 32+5+c.side*dx, 0.0006)
		near(t, row, c.name+" y2 mm", 10-2+c.side*dy, 0.0006)
	}
	// A wide strip of EI/(1 - nu^2) on the neutral radius, in N.mm: GPa are 1000 N/mm2.
	ei := 0.0
	for _, l := range [][3]float64{{2.5, 0, 0.05}, {117, 0.05, 0.07}, {2.5, 0.07, 0.1}} {
		ei += 1000 * l[0] * (math.Pow(l[2]-slantedNeutral, 3) - math.Pow(l[1]-slantedNeutral, 3)) / 3
	}
	moment := ei / (1 - 0.34*0.34) / neutral * length
	near(t, row, "holding moment N.mm", moment, 0.05*moment)
	for heading, want := range map[string]string{"hinge": "turn", "bends": "turn", "toward": "bottom", "stack-up": "thin", "copper layers": "1", "use": "install",
		"formed": "fabricator", "step": "", "cycles": "", "life mean cycles": "", "angle tolerance deg": "3.00", "line tolerance mm": "", "ratio and strain of": "drawn cylinder"} {
		if row[heading] != want {
			t.Errorf("%s is %q, want %q", heading, row[heading], want)
		}
	}
}

// mirrored is the slanted strip seen in a mirror: x counts the other way.
func mirrored(d *fold.Design) {
	turn := func(p flat.Pt) flat.Pt { return flat.Pt{X: 60 - p.X, Y: p.Y} }
	d.Sections[0].Area, d.Sections[1].Area = d.Sections[1].Area, d.Sections[0].Area
	for i := range d.Hinges {
		l := d.Hinges[i].Line
		d.Hinges[i].Line = [2]flat.Pt{turn(l[0]), turn(l[1])}
	}
	d.Datum = turn(d.Datum)
}

// TestScheduleMirrored: in a mirror x counts the other way from the datum and all else stays; with the datum moved by a step
// all positions move back by it.
func TestScheduleMirrored(t *testing.T) {
	plain := table(t, runOf(t, slanted(nil)))[0]
	mirror := table(t, runOf(t, slanted(mirrored)))[0]
	moved := table(t, runOf(t, slanted(func(d *fold.Design) { d.Datum = d.Datum.Add(flat.Pt{X: 3, Y: -4}) })))[0]
	for heading, cell := range plain {
		axis := strings.TrimSuffix(heading, " mm")
		axis = axis[max(0, len(axis)-2):]
		v, _ := strconv.ParseFloat(cell, 64)
		// The line runs by growing x, so that its ends change places.
		other := strings.NewReplacer("x1", "x2", "x2", "x1", "y1", "y2", "y2", "y1").Replace(heading)
		switch axis {
		case "x1", "x2":
			near(t, mirror, other, -v, 0.0011)
			near(t, moved, heading, v-3, 0.0011)
		case "y1", "y2":
			near(t, mirror, other, v, 0.0011)
			near(t, moved, heading, v+4, 0.0011)
		default:
			if mirror[heading] != cell || moved[heading] != cell {
				t.Errorf("%s: %q, mirrored %q, with another datum %q", heading, cell, mirror[heading], moved[heading])
			}
		}
	}
}

// TestScheduleCSVAgainstJSON: the table and the results for programs hold the same numbers.
func TestScheduleCSVAgainstJSON(t *testing.T) {
	r := runOf(t, slanted(func(d *fold.Design) {
		h := &d.Hinges[1]
		h.Use, h.Cycles, h.Between, h.TolLine, h.Radius = "dynamic", 5000, &[2]float64{20, 110}, 0.4, 4
	}))
	row, h := table(t, r)[0], decode(t, r)["hinges"].([]any)[1].(map[string]any)
	value := func(path string) float64 {
		var at any = h
		for _, key := range strings.Split(path, ".") {
			if i, err := strconv.Atoi(key); err == nil {
				at = at.([]any)[i]
			} else {
				at = at.(map[string]any)[key]
			}
		}
		v, ok := at.(float64)
		if !ok {
			t.Errorf("%s is %v", path, at)
		}
		return v
	}
	for heading, path := range map[string]string{"moved mm": "moved", "bend area width mm": "width", "flex width mm": "flat_width", "inside radius mm": "radius",
		"neutral radius mm": "neutral_radius", "thickness mm": "thickness", "free inside radius mm": "free.radius", "free of drawn": "free.of_drawn",
		"free loop reaches further mm": "free.wider", "IPC-2223 radius mm": "elongation.quoted", "line tolerance mm": "tolerance.line"} {
		near(t, row, heading, value(path), 0.0006)
	}
	for heading, path := range map[string]string{"ratio": "ratio", "ratio asked": "ratio_asked", "cycles": "cycles", "from deg (+ toward top)": "between.0",
		"to deg (+ toward top)": "between.1", "angle tolerance deg": "tolerance.angle", "copper layers": "copper_layers"} {
		near(t, row, heading, value(path), 0.006)
	}
	for heading, path := range map[string]string{"copper strain %": "copper_strain", "elongation %": "elongation.limit", "springback keeps low %": "springback.kept.0",
		"springback keeps high %": "springback.kept.1"} {
		near(t, row, heading, 100*value(path), 0.6)
	}
	for heading, path := range map[string]string{"life low cycles": "life.low", "life mean cycles": "life.cycles", "life high cycles": "life.high", "holding moment N.mm": "moment"} {
		near(t, row, heading, value(path), 0.05*value(path))
	}
	if value("between.0") != -20 || value("between.1") != -110 {
		t.Errorf("between %v: the hinge counts toward the bottom", h["between"])
	}
	// The strain range is that of the largest change of curvature: 90 degrees over the width, at the copper's far face.
	reach := max(math.Abs(0.05-slantedNeutral), math.Abs(0.07-slantedNeutral))
	if want := reach * (math.Pi / 2) / value("width"); math.Abs(value("life.strain_range")-want) > 1e-12 {
		t.Errorf("strain range %v, want %v", value("life.strain_range"), want)
	}
}

// TestScheduleEveryHingeOnce: each hinge that bends has one line, in the table and in words; one of angle 0 has none and that is said.
func TestScheduleEveryHingeOnce(t *testing.T) {
	r := runOf(t, slanted(nil))
	if rows := table(t, r); len(rows) != 1 || rows[0]["hinge"] != "turn" {
		t.Errorf("%v", rows)
	}
	s := text(t, r, TextOptions{})
	inOrder(t, s, "Bend schedule", "right folds 120 deg toward bottom about turn", "still stays flat: its angle is 0")
	if strings.Count(s, "about turn") != 1 || strings.Contains(s, "about still") {
		t.Error(s)
	}
	list := decode(t, r)["hinges"].([]any)
	if still := list[0].(map[string]any); len(list) != 2 || still["tangents"] != nil || still["ratio"] != nil || still["use"] != "install" {
		t.Errorf("%v", list)
	}
	bare := Run{Tree: &fold.Tree{Design: &fold.Design{Name: "Bare"}}}
	if rows := table(t, bare); rows != nil {
		t.Errorf("%v", rows)
	}
	inOrder(t, text(t, bare, TextOptions{}), "Bend schedule none: the design has no hinges")
}

// TestScheduleBySteps: hinges stand in the order in which the sequence first bends them, in the results in that of the design.
func TestScheduleBySteps(t *testing.T) {
	d := slanted(func(d *fold.Design) {
		d.Hinges[0] = d.Hinges[1]
		d.Hinges[0].Name, d.Hinges[0].Angle, d.Hinges[0].Line = "late", 30, [2]flat.Pt{{X: 37}, {X: 37, Y: 10}}
		d.Sequence = []fold.Step{{Board: true}, {Bend: []fold.HingeAngle{{Hinge: "turn", Angle: -130}}}, {Bend: []fold.HingeAngle{{Hinge: "late", Angle: 30}, {Hinge: "turn", Angle: -120}}}}
	})
	var names, steps []string
	for _, row := range table(t, runOf(t, d)) {
		names, steps = append(names, row["hinge"]), append(steps, row["step"])
	}
	if !slices.Equal(names, []string{"turn", "late"}) || !slices.Equal(steps, []string{"2", "3"}) {
		t.Error(names, steps)
	}
	if first := decode(t, runOf(t, d))["hinges"].([]any)[0].(map[string]any); first["name"] != "late" || first["step"] != 3.0 {
		t.Errorf("%v", first)
	}
}

// TestScheduleFormedFree: flex that is left to its free shape is judged by that one's radius, in the words as in the numbers.
func TestScheduleFormedFree(t *testing.T) {
	straight := func(d *fold.Design) {
		d.Hinges[1].Line, d.Hinges[1].Formed = [2]flat.Pt{{X: 30}, {X: 30, Y: 10}}, "free"
	}
	r := runOf(t, slanted(straight))
	doc := decode(t, r)
	h, b := doc["hinges"].([]any)[1].(map[string]any), doc["bends"].([]any)[0].(map[string]any)
	free := h["free"].(map[string]any)["radius"].(float64)
	if want := free / 0.1; math.Abs(h["ratio"].(float64)-want) > 1e-9 || b["ratio"] != h["ratio"] || h["formed_free"] != true || b["inside_radius"] == free {
		t.Errorf("ratio %v of hinge and %v of bend, want %v", h["ratio"], b["ratio"], want)
	}
	if h["springback"] != nil {
		t.Error("springback of what nobody forms")
	}
	inOrder(t, text(t, r, TextOptions{}), "ratio "+short(free/0.1, 1)+" (free shape)", "made: install use; left to its free shape")
	// Without rigid ends nothing holds it: that is said, and the drawn cylinder is judged.
	loose := runOf(t, slanted(func(d *fold.Design) { straight(d); d.Sections, d.Base = nil, fold.Base{} }))
	inOrder(t, text(t, loose, TextOptions{}), "ratio 15", "free: not known: another bend or the board's end", "which is not known: ratio and strain are those of the drawn cylinder")
}

// TestScheduleSpringback: formed by hand it opens; the angle to form, times the share that it keeps, is the angle that is wanted.
func TestScheduleSpringback(t *testing.T) {
	r := runOf(t, slanted(func(d *fold.Design) { d.Hinges[1].Angle = -20 }))
	h := decode(t, r)["hinges"].([]any)[1].(map[string]any)["springback"].(map[string]any)
	kept, form := h["kept"].([]any), h["form"].([]any)
	for i := range 2 {
		if f, ok := form[i].(float64); ok && math.Abs(f*kept[1-i].(float64)-20) > 1e-9 {
			t.Errorf("formed to %v it keeps %v", f, kept[1-i])
		}
	}
	if form[0] == nil || kept[0].(float64) > kept[1].(float64) {
		t.Errorf("%v", h)
	}
}

// TestScheduleTightestBend: of the bends of one hinge the thicker one is judged, and both are held by one moment.
func TestScheduleTightestBend(t *testing.T) {
	d := slanted(func(d *fold.Design) {
		d.Hinges = d.Hinges[1:]
		d.Hinges[0].Line = [2]flat.Pt{{X: 30, Y: -1}, {X: 30, Y: 11}}
		d.Cutouts = []flat.Loop{func() flat.Loop { l, _ := flat.Rect(24, 4, 36, 6, 0); return l }()}
		thick := d.Stackups[0]
		thick.Name, thick.Layers = "thick", slices.Clone(thick.Layers)
		thick.Layers[2].Thickness = 0.1
		d.Stackups = append(d.Stackups, thick)
		upper, _ := flat.Rect(20, 5, 40, 10, 0)
		d.Sections = append(d.Sections, fold.Section{Name: "upper", Stackup: "thick", Area: upper})
	})
	r := runOf(t, d)
	s := r.Schedule().Hinges[0]
	if len(s.Bends) != 2 || s.Flex().Stack.Name != "thick" || math.Abs(s.FlexWidth-8) > 1e-9 {
		t.Fatalf("bends %v, judged %s, %v wide", s.Bends, s.Flex().Stack.Name, s.FlexWidth)
	}
	sum := 0.0
	for i := range r.Tree.Bends {
		m, _ := bending.At(r.Tree, i, -120).Moment()
		sum += m
	}
	if s.Moment == nil || math.Abs(*s.Moment-sum) > 1e-9 {
		t.Errorf("moment %v, want %v", s.Moment, sum)
	}
	inOrder(t, text(t, r, TextOptions{}), "bends turn and turn.2", "flex: thick")
}

// TestScheduleFigures: every name under which the schedule sends its reader to the rules is one of theirs.
func TestScheduleFigures(t *testing.T) {
	var names []string
	for _, r := range rule.Documented() {
		names = append(names, r.ID)
	}
	for _, f := range rule.Figures() {
		names = append(names, f.ID)
	}
	for _, name := range figureNames {
		if !slices.Contains(names, name) {
			t.Errorf("foldfit rules %s says nothing", name)
		}
	}
}

// TestSchedulePage: the page shows every hinge in a line with units, and all facts of it.
func TestSchedulePage(t *testing.T) {
	r := runOf(t, slanted(func(d *fold.Design) { d.Units = fold.Mil }))
	var out bytes.Buffer
	if err := Page(&out, r, nil, ""); err != nil {
		t.Fatal(err)
	}
	h := r.Schedule().Hinges[0]
	pieces := []string{"Bend schedule", "Inside radius, mil", `<td>turn</td><td class="n">120</td><td>bottom</td><td class="n">59.1</td>`, "<caption>right folds 120 deg toward bottom about turn"}
	for _, f := range h.facts(flat.Pt{X: -5, Y: 2}, speech{fold.Mil}) {
		pieces = append(pieces, "<th>"+f.Label+"</th><td>"+f.Words)
	}
	inOrder(t, out.String(), append(pieces, "still stays flat")...)
}

// BenchmarkSchedule: one bend with its free shape and the least radius that passes.
func BenchmarkSchedule(b *testing.B) {
	tree, _ := fold.Divide(slanted(nil))
	b.ReportAllocs()
	for b.Loop() {
		Run{Tree: tree}.Schedule()
	}
}
