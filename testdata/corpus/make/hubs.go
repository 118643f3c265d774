package main

import (
	"fmt"
	"math"
	"strings"
)

// hub is a regular polygon with an arm on every side.
type hub struct {
	name, about string
	sides       int
	radius      float64 // of the corners, mm
	turn        float64 // degrees
	arm, narrow float64 // length of an arm, and how much narrower it is than its side, on each edge
	decimals    int
	tangent     bool // hinges by their tangent lines on the hub's edges; else by their middle lines
	angle       float64
	pending     string
}

// hubs returns the star hubs.
func hubs() []file {
	var out []file
	for _, h := range []hub{
		{"hub-3", "Three arms on a triangle; the hinges begin on its edges.", 3, 14, 20, 16, 0, 3, true, 90, ""},
		{"hub-4", "Four full-width wings on a square, hinges as lines with three decimals.", 4, 15, 45, 15, 0, 3, false, 90, ""},
		{"hub-5", "Five arms, a little narrower than the sides, hinges begin on the edges; four decimals.", 5, 16, 7, 18, 1.5, 4, true, 75, ""},
		{"hub-6", "Six arms, hinges as lines with four decimals.", 6, 18, 13, 20, 0.8, 4, false, 60, ""},
		{"hub-7", "Seven full-width arms on an odd polygon, hinges as lines with six decimals.", 7, 20, 31, 17, 0, 6, false, 80, ""},
		{"hub-8", "Eight arms 0.05 apart at the hub, hinges as lines with six decimals.", 8, 20, 5, 15, 0.025, 6, false, 85, ""},
		{"hub-4-turned", "Four full-width wings on a square that lies askew, hinges as lines with four decimals.", 4, 15, 62, 15, 0, 4, false, 90, ""},
		{"hub-7-rounded", "Seven full-width arms, hinges as lines with four decimals.", 7, 20, 31, 17, 0, 4, false, 80, ""},
		{"hub-8-rounded", "Eight arms 0.05 apart at the hub, hinges as lines with four decimals.", 8, 20, 50, 15, 0.025, 4, false, 85, ""},
	} {
		out = append(out, file{"good/" + h.name + ".yaml", []byte(h.yaml())})
	}
	return out
}

const (
	hubInside = 1.5 // inside radius of its hinges, mm
	hubFlex   = 0.1 // thickness of its flex, mm
)

// yaml writes the design: a rigid hub, rigid arms that begin 0.3 mm behind the bend areas.
func (h hub) yaml() string {
	width := (hubInside + hubFlex/2) * h.angle * math.Pi / 180
	var outline, sections, hinges, corners []string
	for k := range h.sides {
		p, q := h.corner(k), h.corner(k+1)
		u, n := frame(p, q)
		a, b := p.to(u, h.narrow), q.to(u, -h.narrow)
		outline = append(outline, h.point(p))
		if h.narrow > 0 {
			outline = append(outline, h.point(a))
		}
		outline = append(outline, h.point(a.to(n, h.arm)), h.point(b.to(n, h.arm)))
		if h.narrow > 0 {
			outline = append(outline, h.point(b))
		}
		corners = append(corners, h.point(p))
		at := width + 0.3
		sections = append(sections, fmt.Sprintf("  arm%d: {stackup: plate, area: [%s, %s, %s, %s]}", k+1,
			h.point(a.to(n, at)), h.point(a.to(n, h.arm)), h.point(b.to(n, h.arm)), h.point(b.to(n, at))))
		line := fmt.Sprintf("tangent: [%s, %s], into: %s", h.point(p), h.point(q), h.point(p.to(u, 2).to(n, 1)))
		if !h.tangent {
			line = fmt.Sprintf("line: [%s, %s]", h.point(a.to(n, width/2)), h.point(b.to(n, width/2)))
		}
		hinges = append(hinges, fmt.Sprintf("  h%d: {%s, angle: %g, radius: %g}", k+1, line, h.angle, hubInside))
	}
	head := "# verdict: incomplete\n"
	if h.pending != "" {
		head += "# pending: " + h.pending + "\n"
	}
	return head + fmt.Sprintf("# count: bends %d\n# count: flats %d\n# %s Made by the program in make.\n", h.sides, h.sides+1, h.about) +
		"foldfit: 1\ntitle: {name: Star hub}\noutline:\n  - " + strings.Join(outline, "\n  - ") +
		fmt.Sprintf("\nstackups:\n  film: {thickness: %g, copper-layers: 2}\n  plate: {thickness: 0.8, rigid: true}\nflex: film\n", hubFlex) +
		fmt.Sprintf("sections:\n  hub: {stackup: plate, area: [%s]}\n", strings.Join(corners, ", ")) + strings.Join(sections, "\n") +
		"\nbase: hub\nhinges:\n" + strings.Join(hinges, "\n") + "\nclearance: {board: 0.2}\n"
}

// xy is a point or direction in the flat.
type xy struct{ x, y float64 }

// to returns the point at distance d from p along the unit direction u.
func (p xy) to(u xy, d float64) xy { return xy{p.x + d*u.x, p.y + d*u.y} }

// frame returns the unit direction from p to q and that to its right: out of a polygon run counter-clockwise.
func frame(p, q xy) (u, n xy) {
	l := math.Hypot(q.x-p.x, q.y-p.y)
	u = xy{(q.x - p.x) / l, (q.y - p.y) / l}
	return u, xy{u.y, -u.x}
}

// corner returns corner k of the polygon.
func (h hub) corner(k int) xy {
	s, c := math.Sincos((h.turn + 360*float64(k)/float64(h.sides)) * math.Pi / 180)
	return xy{h.radius * c, h.radius * s}
}

// point writes a point with the hub's decimals.
func (h hub) point(p xy) string {
	number := func(v float64) string {
		s := fmt.Sprintf("%.*f", h.decimals, v)
		if strings.Trim(s, "-0.") == "" {
			return "0"
		}
		return s
	}
	return "[" + number(p.x) + ", " + number(p.y) + "]"
}
