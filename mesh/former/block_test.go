package former

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Every block is one closed body; its volume by the divergence of its triangles is that of its cross-sections times their
// heights; no triangle looks down except on the bed; and two runs agree in every digit.
func TestBodies(t *testing.T) {
	styles := map[Style]bool{}
	for name, s := range shapes {
		for _, b := range blocks(t, strip(t, s), Options{}, 1) {
			styles[b.Style] = true
			if again := blocks(t, strip(t, s), Options{}, 1)[0]; !reflect.DeepEqual(again, b) {
				t.Errorf("%s: two runs give two blocks", name)
			}
			if err := b.Mesh.Check(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			low, high := b.Mesh.Box()
			if low[2] != 0 || math.Abs(high[2]-b.floor()-b.Width-margin) > 1e-9 {
				t.Errorf("%s: from %g to %g", name, low[2], high[2])
			}
			if v, want := b.Mesh.Volume(), sections(b.Mesh.Triangles, b.Mesh.Points); math.Abs(v-want) > 1e-9*want {
				t.Errorf("%s: volume %g, by its sections %g", name, v, want)
			}
			for _, x := range b.Mesh.Triangles {
				p, q, r := b.Mesh.Points[x[0]], b.Mesh.Points[x[1]], b.Mesh.Points[x[2]]
				n := q.Sub(p).Cross(r.Sub(p))
				if bed := p[2] == 0 && q[2] == 0 && r[2] == 0; n[2] < -1e-9*n.Len() && !bed {
					t.Errorf("%s: a face at %.2f looks down", name, p[2])
				}
			}
		}
	}
	if len(styles) != 3 {
		t.Errorf("only the styles %v are tried", styles)
	}
}

// sections sums area times height between the heights at which a body changes: the area of a section is that of the outline in
// which its walls cut a level, by the shoelace formula over the walls alone.
func sections(triangles [][3]int32, points []mgl64.Vec3) float64 {
	var levels []float64
	for _, p := range points {
		levels = append(levels, p[2])
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	sum := 0.0
	for i := 1; i < len(levels); i++ {
		z, area := (levels[i-1]+levels[i])/2, 0.0
		for _, t := range triangles {
			var cut []flat.Pt
			up := false // whether the first crossing goes up: the order of the two along the outline
			for k := range 3 {
				a, b := points[t[k]], points[t[(k+1)%3]]
				if (a[2] < z) != (b[2] < z) {
					f := (z - a[2]) / (b[2] - a[2])
					if len(cut) == 0 {
						up = a[2] < z
					}
					cut = append(cut, flat.Pt{X: a[0] + f*(b[0]-a[0]), Y: a[1] + f*(b[1]-a[1])})
				}
			}
			if len(cut) == 2 {
				if up {
					cut[0], cut[1] = cut[1], cut[0]
				}
				area += cut[0].Cross(cut[1]) / 2
			}
		}
		sum += area * (levels[i] - levels[i-1])
	}
	return sum
}

// The flex's inside face lies on the block at the forming angle: on the cylinder of the nose, whose edges lie on it, and on both
// faces; the slot is as wide as the flex and 0.1 more.
func TestFlexLiesOnIt(t *testing.T) {
	for name, s := range shapes {
		tree := strip(t, s)
		for _, b := range blocks(t, tree, Options{}, 1) {
			bend, m := &tree.Bends[0], b.BlockFromFlat
			angle, inside := math.Copysign(b.Angle, s.angle), bend.Faces[1]
			if s.angle < 0 {
				inside = bend.Faces[0]
			}
			soup := corners(b)
			for i := range 41 {
				st := -b.Near + (b.Near+bend.Width+b.Far)*float64(i)/40
				for _, y := range []float64{-4.9, 0, 4.9} {
					p := bend.Middle().Add(bend.Dir.Mul(st - bend.Width/2)).Add(bend.Dir.Left().Mul(y))
					plane := bend.NearFromStation(angle, max(0, min(bend.Width, st)))
					at := fold.Apply(m.Mul4(plane), mgl64.Vec3{p.X, p.Y, inside})
					if d := off(soup, at); d > chord+1e-6 {
						t.Fatalf("%s: station %.2f of the inside face lies %.4f from the block", name, st, d)
					}
					if st > 0 && st < bend.Width {
						if r := math.Hypot(at[0], at[1]+b.Radius); math.Abs(r-b.Radius) > 1e-9 {
							t.Fatalf("%s: station %.2f lies at radius %.6f, the nose has %.6f", name, st, r, b.Radius)
						}
					}
				}
			}
			if b.Slot > 0 && math.Abs(b.Slot-bend.Thickness()-0.1) > 1e-12 {
				t.Errorf("%s: slot %g", name, b.Slot)
			}
			onCylinder := 0
			for _, p := range b.Mesh.Points {
				if r := math.Hypot(p[0], p[1]+b.Radius); math.Abs(r-b.Radius) < 1e-9 && p[1] <= 1e-9 {
					onCylinder++
				}
			}
			if onCylinder < 4 {
				t.Errorf("%s: %d points of the mesh lie on the nose", name, onCylinder)
			}
		}
	}
}

// corners returns the triangles of a block by their corners.
func corners(b Block) [][3]mgl64.Vec3 {
	out := make([][3]mgl64.Vec3, len(b.Mesh.Triangles))
	for i, t := range b.Mesh.Triangles {
		out[i] = [3]mgl64.Vec3{b.Mesh.Points[t[0]], b.Mesh.Points[t[1]], b.Mesh.Points[t[2]]}
	}
	return out
}

// off returns the distance from a point to the surface.
func off(soup [][3]mgl64.Vec3, p mgl64.Vec3) float64 {
	least := math.Inf(1)
	for _, t := range soup {
		least = min(least, distanceTo(t, p))
	}
	return least
}

// While the flex is wound onto the nose, nothing of the board gets into the block: both sections, their components and the flex, at
// many points, from the flat board to the forming angle.
func TestNothingIsInTheWay(t *testing.T) {
	for name, s := range shapes {
		tree := strip(t, s)
		for _, b := range blocks(t, tree, Options{}, 1) {
			bend, soup := &tree.Bends[0], corners(b)
			angle := math.Copysign(b.Angle, s.angle)
			for _, share := range []float64{0, 0.31, 0.77, 1} {
				wound := share * bend.Width // straight from there on
				for i := range tree.Bodies {
					for _, p := range grains(&tree.Bodies[i]) {
						st := max(0, min(wound, bend.Station(flat.Pt{X: p[0], Y: p[1]})))
						at := fold.Apply(b.BlockFromFlat.Mul4(bend.NearFromStation(angle, st)), p)
						if d := depthIn(soup, at); d > chord+1e-6 {
							t.Fatalf("%s, wound to %.0f %%: %s is %.3f deep in the block at %.2f", name, 100*share, tree.Bodies[i].Name, d, at)
						}
					}
				}
			}
		}
	}
}

// grains returns points of a body, on both faces.
func grains(b *fold.Body) []mgl64.Vec3 {
	box := b.Region.Box()
	var out []mgl64.Vec3
	const n = 6
	for i := range n + 1 {
		for k := range n + 1 {
			u, v := 0.001+0.998*float64(i)/n, 0.001+0.998*float64(k)/n // not on the border
			p := flat.Pt{X: box.Min.X + (box.Max.X-box.Min.X)*u, Y: box.Min.Y + (box.Max.Y-box.Min.Y)*v}
			if !b.Region.Contains(p) {
				continue
			}
			for _, z := range b.Faces {
				out = append(out, mgl64.Vec3{p.X, p.Y, z})
			}
		}
	}
	return out
}

// A board seen in a mirror gets the mirrored block, apart from the writing; and a board turned over the same block.
func TestMirrored(t *testing.T) {
	silent := func(string, float64) [][2]flat.Pt { return nil }
	for name, s := range shapes {
		over := s
		over.angle = -s.angle
		specs, _ := Specs(strip(t, s), Options{})
		others, _ := Specs(strip(t, over), Options{})
		a, err := Build(specs[0], silent, chord)
		b, err2 := Build(others[0], silent, chord)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if v, w := a.Mesh.Volume(), b.Mesh.Volume(); math.Abs(v-w) > 1e-9*v {
			t.Errorf("%s: volume %g, turned over %g", name, v, w)
		}
		mirror := specs[0]
		mirror.Mirrored = !mirror.Mirrored
		c, err := Build(mirror, silent, chord)
		if err != nil {
			t.Fatal(err)
		}
		reflected := points(c.Mesh.Points, -1)
		if !slices.Equal(points(a.Mesh.Points, 1), reflected) {
			t.Errorf("%s: the mirrored block has other corners", name)
		}
	}
}

// points returns rounded points with x times sign, sorted.
func points(list []mgl64.Vec3, sign float64) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(list))
	for i, p := range list {
		out[i] = mgl64.Vec3{math.Round(sign*p[0]*1e6) + 0, math.Round(p[1]*1e6) + 0, math.Round(p[2]*1e6) + 0}
	}
	slices.SortFunc(out, func(a, b mgl64.Vec3) int { return slices.Compare(a[:], b[:]) })
	return out
}

// Blocks on one plate keep apart and stand on the bed.
func TestLayout(t *testing.T) {
	var list []Block
	for _, name := range []string{"30", "90", "180", "wide", "135", "short", "90 parts"} {
		list = append(list, blocks(t, strip(t, shapes[name]), Options{}, 1)...)
	}
	list = append(list, list...)
	plate := Layout(list)
	for i := range plate {
		low, high := plate[i].Box()
		if low[2] != 0 || low[0] < -1e-9 || low[1] < -1e-9 || math.Abs(plate[i].Volume()-list[i].Mesh.Volume()) > 1e-6 {
			t.Errorf("block %d stands at %v", i, low)
		}
		for k := range i {
			l, h := plate[k].Box()
			if apart := max(l[0]-high[0], low[0]-h[0], l[1]-high[1], low[1]-h[1]); apart < 5-1e-9 {
				t.Errorf("blocks %d and %d are %.3f apart", k, i, apart)
			}
		}
	}
}
