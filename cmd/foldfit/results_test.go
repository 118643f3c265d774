package main

import (
	"encoding/json"
	"math"
	"testing"
)

// A board with an arc, roundings between lines and an arc, three kinds of cutouts, and a bend that crosses outline and
// arc. Its numbers were computed apart from foldfit with polygon booleans and finite differences.
const arcBoard = `foldfit: 1
outline: [[0, 0], [70, 0, 2], [70, 24, 2], {arc: [35, 30], via: [52, 28]}, [0, 24]]
cutouts:
  - {circle: [5, 12], diameter: 3.2}
  - {rect: [10, 4, 14, 6], corner: 0.5}
  - [[20, 5], [22, 5], [21, 7]]
stackups:
  film: {thickness: 0.186, copper-layers: 2}
  plate: {thickness: 0.8, rigid: true}
flex: film
sections:
  main: {stackup: plate, area: {rect: [0, 0, 30, 24]}}
  wing: {stackup: plate, area: {rect: [44, 0, 70, 24]}}
hinges: {neck: {line: [[37, -1], [37, 31]], angle: 180, radius: 1.5}}
`

// TestResultsAgainstReference reads the JSON results as a program would and compares them with the reference.
func TestResultsAgainstReference(t *testing.T) {
	r := call(t, arcBoard, "check", "-", "--json")
	if r.code != exitGood {
		t.Fatalf("status %d: %s", r.code, r.err)
	}
	var got struct {
		Verdict string
		Flats   []struct {
			Name      string
			Area      float64
			Transform []float64
		}
		Bends  []struct{ Area, Width float64 }
		Bodies []struct {
			Name         string
			Area, Volume float64
		}
	}
	if err := json.Unmarshal([]byte(r.out), &got); err != nil {
		t.Fatal(err)
	}
	near := func(what string, value, want float64) {
		t.Helper()
		if math.Abs(value-want) > 1e-8 {
			t.Errorf("%s is %.10f, want %.10f", what, value, want)
		}
	}
	areas := map[string]float64{}
	for _, b := range got.Bodies {
		areas[b.Name] = b.Area
		if b.Name == "bend:neck" {
			near("volume of the bend", b.Volume, 27.7763133570)
		}
	}
	for name, want := range map[string]float64{
		"section:main": 702.1721246434, "section:wing": 622.8115553830, "flex:main": 209.9532678631, "flex:wing": 207.9687505838,
		"bend:neck": 149.3350180487,
	} {
		near("area of "+name, areas[name], want)
	}
	if len(got.Flats) != 2 || len(got.Bends) != 1 {
		t.Fatalf("%d flats and %d bends", len(got.Flats), len(got.Bends))
	}
	near("area of main", got.Flats[0].Area, 912.1253925065)
	near("area of wing", got.Flats[1].Area, 830.7803059668)
	near("width of the bend", got.Bends[0].Width, 5.0045570972)
	for i, want := range []float64{-1, 0, 0, 74, 0, 1, 0, 0, 0, 0, -1, 3.186, 0, 0, 0, 1} {
		near("wing's transform", got.Flats[1].Transform[i], want)
	}
	if got.Verdict != "incomplete" {
		t.Errorf("verdict %s on a board without an enclosure", got.Verdict)
	}
}
