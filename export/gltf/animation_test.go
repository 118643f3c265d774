package gltf

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Between its keys the animation stays within 0.1 um of the exact motion for each 100 mm of a bend's width, and its joints
// turn as the flex does. The exact motion is fold's.
func TestErrorBetweenKeys(t *testing.T) {
	for _, angle := range []float64{90, 180, 270, 359, -360, 7} {
		radius := 100/(math.Abs(angle)*math.Pi/180) - 0.15 // 100 mm wide
		st := strip{length: 300, height: 10, thickness: 0.3, steps: 4, fraction: 1, bends: []bendSpec{{150, 150, angle, radius}}}
		a := st.assembly(t)
		r := written(t, Scene{Assembly: a})
		bend := &a.Folded.Tree.Bends[0]
		place, turn := 0.0, 0.0
		for k := range 721 {
			f := float64(k) / 720
			world := r.worlds(f * duration)
			for j, s := range a.Bodies[1].Stations {
				m := bend.NearFromStation(angle*f, s)
				want := fold.Apply(m, mgl64.Vec3{bend.Origin.X + s, bend.Origin.Y, 0})
				got := world[r.doc.Skins[0].Joints[j]]
				place = max(place, zUp(got.Col(3).Vec3()).Mul(1000).Sub(want).Len())
				turn = max(turn, zUp(got.Col(0).Vec3()).Sub(fold.Turn(m, mgl64.Vec3{1, 0, 0})).Len())
			}
		}
		t.Logf("angle %g: worst error %.4f um, %.2g rad", angle, place*1000, turn)
		if place > 1e-4 || turn > 2e-7 {
			t.Errorf("angle %g: worst error %g mm, %g rad", angle, place, turn)
		}
	}
}

// Key times rise to the end; neighbouring keys are near enough for the short way to be the right one.
func TestKeys(t *testing.T) {
	st := strip{length: 60, height: 10, thickness: 0.3, steps: 40, fraction: 1, bends: []bendSpec{{30, 33, -360, 1}}}
	r := written(t, Scene{Assembly: st.assembly(t)})
	for _, s := range r.doc.Animations[0].Samplers {
		times, _ := r.floats(s.Input)
		if times[0] != 0 || times[len(times)-1] != duration {
			t.Errorf("times run from %g to %g", times[0], times[len(times)-1])
		}
		for k := 1; k < len(times); k++ {
			if times[k] <= times[k-1] {
				t.Errorf("time %g after %g", times[k], times[k-1])
			}
		}
		if s.Interpolation != lib.InterpolationLinear {
			continue
		}
		q, _ := r.floats(s.Output)
		for k := 4; k < len(q); k += 4 {
			if dot := q[k]*q[k-4] + q[k+1]*q[k-3] + q[k+2]*q[k-2] + q[k+3]*q[k-1]; dot < math.Cos(5.01*math.Pi/180) {
				t.Errorf("keys %d and %d are %g degrees apart", k/4-1, k/4, 2*math.Acos(dot)*180/math.Pi)
			}
		}
	}
}

// The series meet the closed formulas, and the derivatives the differences.
func TestUnroll(t *testing.T) {
	for _, a := range []float64{0, 1e-9, -3e-5, 0.0099999, 0.0100001, -0.01, 0.5, -2, 6.28} {
		x, y := unroll(a)
		// Exact to rounding without cancellation: (1-cos a)/a = sin^2(a/2)/(a/2).
		wantX, wantY := 1.0, 0.0
		if a != 0 {
			wantX, wantY = math.Sin(a)/a, math.Sin(a/2)*math.Sin(a/2)/(a/2)
		}
		if math.Abs(x-wantX) > 1e-14 || math.Abs(y-wantY) > 1e-14 {
			t.Errorf("unroll(%g) = %g, %g, want %g, %g", a, x, y, wantX, wantY)
		}
		const h = 1e-4
		x0, y0 := unroll(a - h)
		x1, y1 := unroll(a + h)
		dx, dy := unrollRate(a)
		if math.Abs(dx-(x1-x0)/(2*h)) > 1e-8 || math.Abs(dy-(y1-y0)/(2*h)) > 1e-8 {
			t.Errorf("unrollRate(%g) = %g, %g, differences give %g, %g", a, dx, dy, (x1-x0)/(2*h), (y1-y0)/(2*h))
		}
	}
}

// parents returns the name of each node's parent by the node's name.
func parents(r reader) map[string]string {
	out := map[string]string{}
	for _, n := range r.doc.Nodes {
		for _, c := range n.Children {
			out[r.doc.Nodes[c].Name] = n.Name
		}
	}
	return out
}

// The node tree is the fold tree.
func TestNodeTree(t *testing.T) {
	r := written(t, Scene{Assembly: comb(t, 1), Walls: someWalls()})
	got := parents(r)
	for child, parent := range map[string]string{
		"flat:palm": "board", "flat:thumb": "flat:palm", "flex:palm": "flat:palm", "flex:thumb": "flat:thumb",
		"bend-joints:b0": "flat:palm", "joint:b0/0": "bend-joints:b0", "joint:b0/12": "bend-joints:b0",
		"flat:low": "joint:b0/12", "flat:high": "joint:b0/12", "flex:high": "flat:high", "stiffener:pad": "flat:low",
		"component:U1": "joint:b0/13", "joint:b0/13": "bend-joints:b0", "bend:b0": "", "board": "", "housing": "",
		"enclosure:tray": "housing", "enclosure:cell": "housing",
	} {
		if got[child] != parent {
			t.Errorf("%s hangs on %q, want %q", child, got[child], parent)
		}
	}
	if n := len(r.doc.Skins[0].Joints); n != 13 {
		t.Errorf("%d joints in the skin", n)
	}
	if n := len(r.doc.Meshes); n != 7+2 {
		t.Errorf("%d meshes", n)
	}
}

// A bend whose board ends before the strip does has its stations up to there and nothing beyond.
func TestFreeEnd(t *testing.T) {
	st := strip{length: 60, height: 10, thickness: 0.3, steps: 16, fraction: 1, bends: []bendSpec{{30, 33, 180, 3}}}
	a := st.assembly(t)
	tree := a.Folded.Tree
	tree.Flats, tree.Bodies, a.Bodies = tree.Flats[:1], tree.Bodies[:2], a.Bodies[:2]
	b := &a.Bodies[1]
	*b = ladder(stationRungs(b.Flat[:4*10], b.Stations[:10]), tree.Bodies[1].Faces, true)
	b.Name, b.Source, b.Points = "bend:b0", 1, folded(a.Folded, &tree.Bodies[1], b.Flat)
	tree.Bends[0].Far, tree.Bends[0].Reach = nil, b.Stations[9]
	r := written(t, Scene{Assembly: a})
	if n := len(r.doc.Skins[0].Joints); n != 10 {
		t.Errorf("%d joints", n)
	}
	for i, p := range r.shape("bend:b0", -1).points {
		if p.Sub(nearest(p, b.Points)).Len() > 1e-5 {
			t.Fatalf("vertex %d at %v is no point of the bend", i, p)
		}
	}
}

// stationRungs turns the points of a ladder back into its rungs.
func stationRungs(points []mgl64.Vec3, stations []float64) (out []rung) {
	for k, s := range stations {
		a, b := points[4*k], points[4*k+1]
		out = append(out, rung{flat.Pt{X: a[0], Y: a[1]}, flat.Pt{X: b[0], Y: b[1]}, s})
	}
	return out
}

func nearest(p mgl64.Vec3, list []mgl64.Vec3) mgl64.Vec3 {
	best := list[0]
	for _, q := range list {
		if p.Sub(q).Len() < p.Sub(best).Len() {
			best = q
		}
	}
	return best
}
