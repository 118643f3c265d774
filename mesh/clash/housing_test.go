package clash

import (
	"math"
	"slices"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// slab is a layer of a housing for tests: an area between two heights.
type slab struct {
	z0, z1 float64
	area   flat.Region
}

// cast makes one closed welded mesh of slabs that lie on each other, from the bottom up: what a modeller would export.
// Where borders of one slab meet those of the next both have the corners.
func cast(t testing.TB, name string, chord float64, slabs ...slab) Wall {
	t.Helper()
	m := mesh.Mesh{Name: name, Kind: fold.KindEnclosure, Chord: chord}
	at := map[vec]int32{}
	point := func(p flat.Pt, z float64) int32 {
		q := vec{p.X, p.Y, z}
		if _, ok := at[q]; !ok {
			at[q] = int32(len(m.Points))
			m.Points = append(m.Points, q)
		}
		return at[q]
	}
	cover := func(regions []flat.Region, z float64, up bool) {
		for _, r := range regions {
			var loops [][]flat.Pt
			for _, l := range r {
				loops = append(loops, l.Points(chord))
			}
			tris, err := mesh.Triangulate(loops)
			if err != nil {
				t.Fatal(err)
			}
			pts := slices.Concat(loops...)
			for _, k := range tris {
				if !up {
					k[1], k[2] = k[2], k[1]
				}
				m.Triangles = append(m.Triangles, [3]int32{point(pts[k[0]], z), point(pts[k[1]], z), point(pts[k[2]], z)})
			}
		}
	}
	var below flat.Region
	for i := 0; i <= len(slabs); i++ {
		var here flat.Region
		z := slabs[max(i-1, 0)].z1
		if i < len(slabs) {
			here, z = slabs[i].area, slabs[i].z0
		}
		cover(flat.Subtract(below, here), z, true)
		cover(flat.Subtract(here, below), z, false)
		below = here
	}
	for _, s := range slabs {
		for _, l := range s.area {
			ps := l.Points(chord)
			for i, p := range ps {
				q := ps[(i+1)%len(ps)]
				a, b, c, d := point(p, s.z0), point(q, s.z0), point(q, s.z1), point(p, s.z1)
				m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
			}
		}
	}
	w := Wall{Piece: &fold.Piece{Name: name, Mesh: name + ".stl"}, Mesh: m, Closed: true}
	if _, open := closedVolume(w.surface()); open > 0 {
		t.Fatalf("%s has %d open edges", name, open)
	}
	return w
}

func disc(x, y, diameter float64) flat.Loop {
	l, _ := flat.Circle(flat.Pt{X: x, Y: y}, diameter)
	return l
}

func rect(x0, y0, x1, y1 float64) flat.Loop { l, _ := flat.Rect(x0, y0, x1, y1, 0); return l }

// frame is the area between two rectangles, w apart.
func frame(x0, y0, x1, y1, w float64) flat.Region {
	return flat.Region{rect(x0, y0, x1, y1), rect(x0+w, y0+w, x1-w, y1-w).Rev()}
}

// bosses are where the board of the seat tests rests: four corners.
var bosses = [][2]float64{{5, 5}, {35, 5}, {35, 21}, {5, 21}}

// round is a disc as an STL has it: 48 chords within the circle.
func round(x, y, diameter float64) flat.Loop {
	var out []flat.Vertex
	for i := range 48 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 48)
		out = append(out, flat.Vertex{P: flat.Pt{X: x + diameter/2*c, Y: y + diameter/2*s}})
	}
	l, _ := flat.Build(out)
	return l
}

// tray is a housing in one mesh: a floor 3 under the board, walls 2 beside it, four bosses of 6 mm up to height 0 on which
// the board rests, and more posts up to a height of their own.
func tray(t testing.TB, top float64, posts ...flat.Loop) Wall {
	rest := flat.Region{}
	for _, b := range bosses {
		rest = append(rest, round(b[0], b[1], 6))
	}
	walls := frame(-3, -3, 43, 29, 1)
	posted := slices.Concat(flat.Region(posts), walls)
	slabs := []slab{{-4, -3, flat.Region{rect(-3, -3, 43, 29)}}}
	switch all := slices.Concat(rest, posted); {
	case top < 0:
		slabs = append(slabs, slab{-3, top, all}, slab{top, 0, slices.Concat(rest, walls)}, slab{0, 6, walls})
	case top == 0:
		slabs = append(slabs, slab{-3, 0, all}, slab{0, 6, walls})
	default:
		slabs = append(slabs, slab{-3, 0, all}, slab{0, top, posted}, slab{top, 6, walls})
	}
	return cast(t, "tray", 0.02, slabs...)
}
