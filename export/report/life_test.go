package report

import (
	"testing"

	"foldfit/fold/finding"
)

func TestCycleRange(t *testing.T) {
	for want, v := range map[string][3]num{
		"over 10 million cycles":                                    {2e7, 2e9, 2e8},
		"1200 to 120000 cycles about a mean of 12000":               {1.234e3, 1.234e5, 1.234e4},
		"2000000 to over 10 million cycles about a mean of 9000000": {2e6, 2e8, 9e6},
	} {
		if got := cycleRange(v[0], v[1], v[2]); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestMarginOfLife(t *testing.T) {
	f := finding.Finding{Value: finding.Number(8512), Limit: finding.Number(100000), Unit: "cycles"}
	if got := plain(speech{}.where(f, false)); got != "value 8500 cycles, limit 100000 cycles, margin a factor of 11.7" {
		t.Error(got)
	}
}

func TestBoundsSpeakTheUnits(t *testing.T) {
	f := finding.Finding{Value: finding.Number(0.254), Limit: finding.Number(0), Unit: "mm", Accepted: &finding.Accepted{DownTo: finding.Number(0.508), By: "a", Because: "b"}}
	if got := plain(speech{"mil"}.concededWords(f)); got != "accepted by concession (by a: b), up to 20.0 mil" {
		t.Error(got)
	}
}
