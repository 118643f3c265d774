package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// TestScheduleUnits: a board written in mm, mil or inches gives the same table, and its text speaks the design's own units.
func TestScheduleUnits(t *testing.T) {
	const form = `foldfit: 1
units: %[1]s
outline: [[0, 0], [%[2]v, 0], [%[2]v, %[3]v], [0, %[3]v]]
datum: [%[4]v, %[4]v]
stackups: {film: {layers: [{material: polyimide, thickness: 50 um}, {material: copper-ra, thickness: 18 um}, {material: polyimide, thickness: 25 um}]}}
flex: film
hinges: {neck: {line: [[%[5]v, 0], [%[6]v, %[3]v]], angle: 135, radius: %[4]v, formed: bench, tolerance: {angle: 4, line: %[4]v}}}
`
	dir := t.TempDir()
	write := func(units string, unit float64) (table string) {
		mm := func(v float64) float64 { return v / unit }
		file := filepath.Join(dir, units+".csv")
		design := fmt.Sprintf(form, units, mm(63.5), mm(12.7), mm(2.54), mm(30.48), mm(33.02))
		r := call(t, design, "check", "-", "--schedule", file)
		// Copper and films by sum(E t y) / sum(E t) from the top face: 0.0577 mm; (2.54 + 0.0577) mm times 135 degrees are 6.121 mm.
		word := map[string]string{"mm": "inside radius 2.54, width 6.12 mm", "mil": "inside radius 100.0, width 241.0 mil", "in": "inside radius 0.1000, width 0.2410 in"}[units]
		if r.code != exitGood || !holds(r.out, word) {
			t.Errorf("%s: status %d, want %q in\n%s%s", units, r.code, word, r.out, r.err)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	mm, mil, inch := write("mm", 1), write("mil", 0.0254), write("in", 25.4)
	if mil != mm || inch != mm {
		t.Errorf("the tables differ:\n%s%s%s", mm, mil, inch)
	}
}
