package report

import (
	"bytes"
	"strings"
	"testing"

	"foldfit/mesh/clash"
)

// TestGapBesideASeat: a pair that is seated has two gaps; the one beside the seat says so, in its own posture only.
func TestGapBesideASeat(t *testing.T) {
	r := trouble(t)
	pair := [2]string{"enclosure:tray", "section:main"}
	r.Gaps = []clash.Gap{
		{Between: pair, Kind: "enclosure", Gap: 0.6, Required: 0.5, Judged: true, Posture: "folded"},
		{Between: pair, Kind: "enclosure", Gap: 0.05, Judged: true, Posture: "folded", Seat: "boss"},
		{Between: pair, Kind: "enclosure", Gap: 0.7, Required: 0.5, Judged: true, Posture: "open"},
	}
	for i, want := range []string{"outside the seat", "", ""} {
		if s := r.remark(r.Gaps[i]); s != want {
			t.Errorf("gap %d: %q, want %q", i, s, want)
		}
	}
}

// TestPointsAreExplained: only a finding with a point of the folded board needs the note about frames.
func TestPointsAreExplained(t *testing.T) {
	r := trouble(t)
	var out bytes.Buffer
	if err := Page(&out, r, nil, ""); err != nil {
		t.Fatal(err)
	}
	inOrder(t, text(t, r, TextOptions{}), "Findings: 1 error", "Points (x, y, z) are in the housing's frame", "error contact")
	inOrder(t, out.String(), "Findings: 1 error", "Points (x, y, z) are in the housing&#39;s frame", "contact")
	if strings.Contains(out.String(), `href="#files"`) {
		t.Error("a link to no files")
	}
	r.Findings = r.Findings[1:]
	if s := text(t, r, TextOptions{}); strings.Contains(s, "Points") {
		t.Errorf("a note about points that are not there:\n%s", s)
	}
}

func TestCompareGapsThatComeAndGo(t *testing.T) {
	before, after := trouble(t), trouble(t)
	before.Gaps, after.Gaps = before.Gaps[:1], after.Gaps[1:]
	inOrder(t, compared(t, Compare(side(t, before), side(t, after), "test")),
		"enclosure component:U1 - enclosure:tray: -0.35 before, not listed now",
		"components component:U1 - section:main: 1.60 now, not listed before")
}

func TestBothPostures(t *testing.T) {
	r := opened(t)
	r.Findings, r.Unchecked, r.Postures = nil, nil, r.Postures[:2]
	if s := r.Reason(); s != "it folds and it fits, in both postures" {
		t.Errorf("reason %q", s)
	}
}
