package gltf

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh"
)

// boards are the cases that every check of this package runs over.
func boards(t testing.TB) map[string]*mesh.Assembly {
	strip180 := strip{length: 60, height: 10, thickness: 0.3, steps: 16, fraction: 1, bends: []bendSpec{{30, 30, 180, 3}}}
	placed := oblique3()
	placed.place = fold.Placement{Turn: [3]float64{20, -35, 130}, Move: mgl64.Vec3{12, -7, 30}}
	half := oblique3()
	half.fraction = 0.5
	still := strip180
	still.fraction = 0
	turn := strip{length: 60, height: 10, thickness: 0.3, steps: 40, fraction: 1, bends: []bendSpec{{30, 33, -360, 1}}}
	fine := strip180
	fine.steps = 300
	return map[string]*mesh.Assembly{
		"strip180": strip180.assembly(t), "oblique3": oblique3().assembly(t), "placed": placed.assembly(t),
		"half": half.assembly(t), "flat": still.assembly(t), "turn": turn.assembly(t), "comb": comb(t, 1), "fine": fine.assembly(t),
	}
}

// eachBoard runs a check on every board, in the housing's and in the board's frame.
func eachBoard(t *testing.T, check func(t *testing.T, r reader, a *mesh.Assembly, sceneFromBoard mgl64.Mat4)) {
	for name, a := range boards(t) {
		t.Run(name, func(t *testing.T) {
			check(t, written(t, Scene{Assembly: a}), a, a.Folded.Tree.HousingFromBoard())
		})
		t.Run(name+"-board", func(t *testing.T) {
			check(t, written(t, Scene{Assembly: a, BoardFrame: true}), a, mgl64.Ident4())
		})
	}
}

// compare demands that every vertex of every body appears within tolerance (mm) of where its point belongs.
func compare(t *testing.T, r reader, a *mesh.Assembly, time, tolerance float64, where func(b *mesh.Body) []mgl64.Vec3) {
	t.Helper()
	worst := 0.0
	for i := range a.Bodies {
		b := &a.Bodies[i]
		want := where(b)
		at := map[[3]float32]int{}
		for k, p := range b.Flat {
			at[[3]float32{float32(p[0] / 1000), float32(p[2] / 1000), float32(-p[1] / 1000)}] = k
		}
		s := r.shape(b.Name, time)
		if len(s.points) < len(b.Flat) {
			t.Fatalf("%s: %d vertices for %d points", b.Name, len(s.points), len(b.Flat))
		}
		for v, p := range s.points {
			q := s.stored[v]
			k, ok := at[[3]float32{float32(q[0]), float32(q[1]), float32(q[2])}]
			if !ok {
				t.Fatalf("%s: vertex %d is no point of the body", b.Name, v)
			}
			worst = max(worst, p.Sub(want[k]).Len())
		}
	}
	if !(worst <= tolerance) {
		t.Errorf("at %g s: worst error %g mm, want %g", time, worst, tolerance)
	}
}

func applied(m mgl64.Mat4, points []mgl64.Vec3) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(points))
	for i, p := range points {
		out[i] = fold.Apply(m, p)
	}
	return out
}

// checkMotion demands that the nodes stand folded, and that the animation starts flat, ends folded and goes the exact way.
func checkMotion(t *testing.T, r reader, a *mesh.Assembly, sceneFromBoard mgl64.Mat4) {
	t.Helper()
	still := func(b *mesh.Body) []mgl64.Vec3 { return applied(sceneFromBoard, b.Points) }
	compare(t, r, a, -1, 1e-5, still)
	compare(t, r, a, duration, 5e-5, still)
	for _, f := range []float64{0, 0.37, 0.5, 0.991} {
		angles := slices.Clone(a.Folded.Angles)
		for i := range angles {
			angles[i] *= f
		}
		part, err := a.Folded.Tree.Place(angles)
		if err != nil {
			t.Fatal(err)
		}
		compare(t, r, a, f*duration, 1e-4, func(b *mesh.Body) []mgl64.Vec3 {
			return applied(sceneFromBoard, folded(part, &a.Folded.Tree.Bodies[b.Source], b.Flat))
		})
	}
}

func TestFolding(t *testing.T) { eachBoard(t, checkMotion) }

func TestBodiesAreClosed(t *testing.T) { eachBoard(t, checkClosed) }

// checkClosed demands that every body is closed by position alone, with each edge run once each way, and holds the volume
// of its mesh, but for float32: points are rounded by up to 8e-6 mm at 130 mm from the origin, all over the surface.
func checkClosed(t *testing.T, r reader, a *mesh.Assembly, _ mgl64.Mat4) {
	t.Helper()
	for i := range a.Bodies {
		b := &a.Bodies[i]
		s := r.shape(b.Name, -1)
		type point [3]float32
		edges := map[[2]point]int{}
		volume := 0.0
		key := func(v int) point { q := s.stored[v]; return point{float32(q[0]), float32(q[1]), float32(q[2])} }
		for k := 0; k < len(s.triangles); k += 3 {
			c := s.triangles[k : k+3]
			volume += s.points[c[0]].Dot(s.points[c[1]].Cross(s.points[c[2]])) / 6
			for e := range 3 {
				edges[[2]point{key(c[e]), key(c[(e+1)%3])}]++
			}
		}
		for e, n := range edges {
			if n != 1 || edges[[2]point{e[1], e[0]}] != 1 {
				t.Fatalf("%s: edge %v runs %d times, back %d times", b.Name, e, n, edges[[2]point{e[1], e[0]}])
			}
		}
		if want := meshVolume(b.Points, b.Triangles); math.Abs(volume-want) > 8e-6*b.Area() {
			t.Errorf("%s: volume %g, want %g", b.Name, volume, want)
		}
	}
}

func meshVolume(points []mgl64.Vec3, triangles [][3]int32) float64 {
	v := 0.0
	for _, t := range triangles {
		v += points[t[0]].Dot(points[t[1]].Cross(points[t[2]])) / 6
	}
	return v
}

// The volume told in a bend's extras is Pappus's: that of a fine mesh comes close to it, at any posture.
func TestBendExtras(t *testing.T) {
	for _, fraction := range []float64{0.3, 1} {
		st := strip{length: 60, height: 10, thickness: 0.3, offset: 0.05, steps: 400, fraction: fraction, bends: []bendSpec{{30, 33, 180, 1}}}
		a := st.assembly(t)
		r := written(t, Scene{Assembly: a})
		x := r.doc.Nodes[r.meshNode("bend:b0")].Extras.(map[string]any)
		got, want := x["volume_mm3"].(float64), meshVolume(a.Bodies[1].Points, a.Bodies[1].Triangles)
		if math.Abs(got-want) > 2e-5*want {
			t.Errorf("at %g: volume %g in extras, mesh %g", fraction, got, want)
		}
		rho := (1 + 0.3/2 - 0.05) / fraction
		if got, want := x["inside_radius_mm"].(float64), rho-(0.3/2-0.05); math.Abs(got-want) > 1e-6 {
			t.Errorf("at %g: inside radius %g, want %g", fraction, got, want)
		}
		if got := x["angle_deg"].(float64); got != 180*fraction {
			t.Errorf("angle %g at fraction %g", got, fraction)
		}
	}
}

// Normals stay unit vectors; on the top of a bend they point along the radius.
func TestNormals(t *testing.T) {
	a := strip{length: 60, height: 10, thickness: 0.3, steps: 16, fraction: 1, bends: []bendSpec{{30, 30, 180, 3}}}.assembly(t)
	s := written(t, Scene{Assembly: a}).shape("bend:b0", -1)
	bend := a.Folded.Tree.Bends[0]
	axis := mgl64.Vec3{bend.Origin.X, 0, 3.15}
	radial := 0
	for v, n := range s.normals {
		if math.Abs(n.Len()-1) > 1e-6 {
			t.Fatalf("normal %v", n)
		}
		out := s.points[v].Sub(axis)
		out[1] = 0
		if math.Abs(math.Abs(n.Dot(out.Normalize()))-1) < 1e-6 {
			radial++
		}
	}
	if radial != 4*17 {
		t.Errorf("%d radial normals, want %d", radial, 4*17)
	}
}

func TestSameBytes(t *testing.T) {
	first := bytes.Buffer{}
	for range 5 {
		var buf bytes.Buffer
		if err := Write(&buf, Scene{Assembly: comb(t, 1), Version: "9.9", Walls: someWalls(), Gaps: someGaps()}); err != nil {
			t.Fatal(err)
		}
		if first.Len() == 0 {
			first = buf
		}
		if !bytes.Equal(first.Bytes(), buf.Bytes()) {
			t.Fatal("two writes differ")
		}
	}
	if !bytes.Contains(first.Bytes(), []byte(`"generator":"foldfit 9.9"`)) {
		t.Error("no generator")
	}
}

func TestBadMeshIsRefused(t *testing.T) {
	for want, spoil := range map[string]func(b *mesh.Body){
		"not a number":     func(b *mesh.Body) { b.Flat[3][1] = math.NaN() },
		"has no triangles": func(b *mesh.Body) { b.Triangles = nil },
	} {
		a := oblique3().assembly(t)
		spoil(&a.Bodies[2])
		var buf bytes.Buffer
		err := Write(&buf, Scene{Assembly: a})
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), a.Bodies[2].Name) || buf.Len() > 0 {
			t.Errorf("%s: error %v, %d bytes", want, err, buf.Len())
		}
	}
}

// brokenPipe takes n bytes and fails from then on.
type brokenPipe struct{ n int }

var errPipe = errors.New("pipe broke")

func (p *brokenPipe) Write(b []byte) (int, error) {
	if p.n -= len(b); p.n < 0 {
		return 0, errPipe
	}
	return len(b), nil
}

func TestWriteErrorsAreTold(t *testing.T) {
	a := strip{length: 60, height: 10, thickness: 0.3, steps: 900, fraction: 1, bends: []bendSpec{{30, 30, 180, 3}}}.assembly(t)
	var buf bytes.Buffer
	if err := Write(&buf, Scene{Assembly: a}); err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{0, buf.Len() / 3, 2 * buf.Len() / 3, buf.Len() - 1} {
		if err := Write(&brokenPipe{n}, Scene{Assembly: a}); !errors.Is(err, errPipe) {
			t.Fatalf("broken after %d bytes: error %v", n, err)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	a := strip{length: 90, height: 20, thickness: 0.2, steps: 60, fraction: 1,
		bends: []bendSpec{{18, 24, 70, 1.4}, {45, 40, -115, 2}, {68, 70, 200, 0.8}}}.assembly(b)
	b.ReportAllocs()
	for b.Loop() {
		var buf bytes.Buffer
		if err := Write(&buf, Scene{Assembly: a}); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(buf.Len()))
	}
}
