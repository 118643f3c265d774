package fold

import "testing"

func TestNameMatches(t *testing.T) {
	cases := []struct {
		written, full string
		want          bool
	}{
		{"U1", "component:U1", true}, {"component:U1", "component:U1", true}, {"section:U1", "component:U1", false},
		{"main", "section:main.2", true}, {"section:main", "section:main.2", true}, {"main.2", "section:main.2", true}, {"main.3", "section:main.2", false},
		{"neck", "hinge:neck", true}, {"neck", "bend:neck.2", true}, {"main", "section:mainland", false},
		{"*", "bend:neck", true}, {"U*", "component:U12", true}, {"U*", "component:J1", false}, {"component:*", "component:J1", true},
		{"*:tray", "enclosure:tray", true}, {"a*b*c", "component:aXbYc", true}, {"a*b*c", "component:aXbY", false},
		{"[U]1", "component:U1", false}, {"U?", "component:U1", false},
		{"", "component:U1", false}, {"U", "component:U1", false}, {"tray", "tray", true}, {"tray", "", false},
	}
	for _, c := range cases {
		if got := NameMatches(c.written, c.full); got != c.want {
			t.Errorf("%q means %s: %v", c.written, c.full, got)
		}
	}
}
