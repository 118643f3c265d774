package former

import (
	"math"
	"slices"

	"foldfit/fold/flat"
)

// Pen returns the single strokes of a line of writing of that size (em, mm): it begins at the origin and stands on y = 0.
type Pen func(line string, size float64) [][2]flat.Pt

// Sizes of the writing, em in mm, the largest that has room; the stroke is a fixed share of it within what prints.
var sizes = []float64{7, 6, 5, 4, 3.5}

// strokeWidth returns how wide the grooves are.
func strokeWidth(size float64) float64 { return max(0.5, min(0.8, 0.1*size)) }

// writing returns the area of the grooves of lines under each other, as loops around what is cut away (holes clockwise), with
// the lower left corner of the whole at the origin, and its size.
func writing(pen Pen, lines []string, size float64) ([][]flat.Pt, flat.Box) {
	var areas []flat.Loop
	all := flat.EmptyBox()
	for i, line := range lines {
		down := flat.Pt{Y: -1.3 * size * float64(i)}
		for _, s := range pen(line, size) {
			l := thick(s[0].Add(down), s[1].Add(down), strokeWidth(size))
			areas, all = append(areas, l), all.Join(l.Box())
		}
	}
	if len(areas) == 0 {
		return nil, flat.Box{}
	}
	plate, _ := flat.Rect(all.Min.X-1, all.Min.Y-1, all.Max.X+1, all.Max.Y+1, 0)
	rest := flat.Region{plate}
	for _, l := range areas { // one by one: a region must not overlap itself
		rest = slices.Concat(flat.Subtract(rest, flat.Region{l})...)
	}
	var out [][]flat.Pt
	for _, l := range rest {
		if l.Box().Min.X > all.Min.X-0.5 { // all but the plate's own outline
			out = append(out, l.Rev().Points(0.01))
		}
	}
	return shifted(out, flat.Pt{X: -all.Min.X, Y: -all.Min.Y}), flat.Box{Max: all.Max.Sub(all.Min)}
}

// thick returns a stroke with eight-cornered ends as a convex loop.
func thick(p, q flat.Pt, width float64) flat.Loop {
	var points []flat.Pt
	for k := range 8 {
		sn, cs := math.Sincos((float64(k) + 0.5) * math.Pi / 4)
		d := flat.Pt{X: cs, Y: sn}.Mul(width / 2 / math.Cos(math.Pi/8))
		points = append(points, p.Add(d), q.Add(d))
	}
	hull := flat.Hull(points)
	l := make(flat.Loop, len(hull))
	for i, h := range hull {
		l[i] = flat.Line(h, hull[(i+1)%len(hull)])
	}
	return l.CCW()
}

// shifted returns loops moved by d.
func shifted(loops [][]flat.Pt, d flat.Pt) [][]flat.Pt {
	out := make([][]flat.Pt, len(loops))
	for i, l := range loops {
		out[i] = make([]flat.Pt, len(l))
		for k, p := range l {
			out[i][k] = p.Add(d)
		}
	}
	return out
}

// onto returns the writing in the middle of a convex polygon, half a wall or more from its edge and with lines in that direction, as
// large as there is room for; nil where there is none.
func onto(polygon []flat.Pt, right flat.Pt, pen Pen, lines []string) [][]flat.Pt {
	b := box(polygon)
	for _, size := range sizes {
		loops, frame := writing(pen, lines, size)
		loops = turnedTo(shifted(loops, frame.Max.Mul(-0.5)), right)
		for _, at := range []flat.Pt{b.Min.Mid(b.Max), centre(polygon)} {
			if placed := shifted(loops, at); within(placed, polygon, Wall/2) {
				return placed
			}
		}
	}
	return nil
}

// turnedTo returns loops turned about the origin, x to that direction.
func turnedTo(loops [][]flat.Pt, right flat.Pt) [][]flat.Pt {
	out := make([][]flat.Pt, len(loops))
	for i, l := range loops {
		out[i] = make([]flat.Pt, len(l))
		for k, p := range l {
			out[i][k] = right.Mul(p.X).Add(right.Left().Mul(p.Y))
		}
	}
	return out
}

// centre returns the mean of a polygon's corners.
func centre(l []flat.Pt) flat.Pt {
	var sum flat.Pt
	for _, p := range l {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(len(l)))
}

// within reports whether loops lie at least a distance inside a convex counter-clockwise polygon.
func within(loops [][]flat.Pt, polygon []flat.Pt, distance float64) bool {
	for i, p := range polygon {
		in := polygon[(i+1)%len(polygon)].Sub(p).Unit().Left()
		for _, l := range loops {
			for _, q := range l {
				if q.Sub(p).Dot(in) < distance {
					return false
				}
			}
		}
	}
	return true
}
