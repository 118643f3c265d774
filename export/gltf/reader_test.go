package gltf

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"
)

// reader evaluates a GLB file by the rules of the glTF 2.0 specification (node tree, skins, animation samplers), with
// nothing from the writer: numbers are read from the buffer byte by byte.
type reader struct {
	t   testing.TB
	doc *lib.Document
}

// written writes the scene and reads it back. With FOLDFIT_GLB_DIR set it leaves the file there for other checkers.
func written(t testing.TB, s Scene) reader {
	t.Helper()
	var buf bytes.Buffer
	if err := Write(&buf, s); err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("FOLDFIT_GLB_DIR"); dir != "" {
		name := strings.ReplaceAll(t.Name(), "/", "-") + ".glb"
		if err := os.WriteFile(filepath.Join(dir, name), buf.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	doc := new(lib.Document)
	if err := lib.NewDecoder(&buf).Decode(doc); err != nil {
		t.Fatal(err)
	}
	return reader{t, doc}
}

// floats returns an accessor of float32 as numbers, n to an element.
func (r reader) floats(accessor int) (list []float64, n int) {
	a := r.doc.Accessors[accessor]
	v := r.doc.BufferViews[*a.BufferView]
	if a.ComponentType != lib.ComponentFloat || v.ByteStride != 0 {
		r.t.Fatalf("accessor %d: not packed floats", accessor)
	}
	n = a.Type.Components()
	data := r.doc.Buffers[0].Data[v.ByteOffset+a.ByteOffset:]
	for i := range a.Count * n {
		list = append(list, float64(math.Float32frombits(binary.LittleEndian.Uint32(data[4*i:]))))
	}
	return list, n
}

// integers returns an accessor of whole numbers.
func (r reader) integers(accessor int) (list []int) {
	a := r.doc.Accessors[accessor]
	v := r.doc.BufferViews[*a.BufferView]
	data := r.doc.Buffers[0].Data[v.ByteOffset+a.ByteOffset:]
	for i := range a.Count * a.Type.Components() {
		switch a.ComponentType {
		case lib.ComponentUbyte:
			list = append(list, int(data[i]))
		case lib.ComponentUshort:
			list = append(list, int(binary.LittleEndian.Uint16(data[2*i:])))
		case lib.ComponentUint:
			list = append(list, int(binary.LittleEndian.Uint32(data[4*i:])))
		}
	}
	return list
}

// vectors returns an accessor of VEC3.
func (r reader) vectors(accessor int) []mgl64.Vec3 {
	list, n := r.floats(accessor)
	if n != 3 {
		r.t.Fatalf("accessor %d: %d numbers an element", accessor, n)
	}
	out := make([]mgl64.Vec3, len(list)/3)
	for i := range out {
		out[i] = mgl64.Vec3{list[3*i], list[3*i+1], list[3*i+2]}
	}
	return out
}

// trs is the place of a node relative to its parent.
type trs struct {
	place mgl64.Vec3
	turn  mgl64.Quat
	scale mgl64.Vec3
}

// locals returns the nodes' places at a time of the animation `fold`; a negative time asks for the nodes as they stand.
func (r reader) locals(time float64) []trs {
	out := make([]trs, len(r.doc.Nodes))
	for i, n := range r.doc.Nodes {
		q := n.RotationOrDefault()
		out[i] = trs{n.Translation, mgl64.Quat{W: q[3], V: mgl64.Vec3{q[0], q[1], q[2]}}, n.ScaleOrDefault()}
		if n.MatrixOrDefault() != lib.DefaultMatrix {
			r.t.Fatalf("node %s: by matrix", n.Name)
		}
	}
	if time < 0 || len(r.doc.Animations) == 0 {
		return out
	}
	for _, c := range r.doc.Animations[0].Channels {
		s := r.doc.Animations[0].Samplers[c.Sampler]
		v := r.sample(s, time)
		switch c.Target.Path {
		case lib.TRSTranslation:
			out[*c.Target.Node].place = mgl64.Vec3{v[0], v[1], v[2]}
		case lib.TRSScale:
			out[*c.Target.Node].scale = mgl64.Vec3{v[0], v[1], v[2]}
		case lib.TRSRotation:
			out[*c.Target.Node].turn = mgl64.Quat{W: v[3], V: mgl64.Vec3{v[0], v[1], v[2]}}.Normalize()
		}
	}
	return out
}

// sample evaluates a sampler as appendix C of the specification says.
func (r reader) sample(s *lib.AnimationSampler, time float64) []float64 {
	times, _ := r.floats(s.Input)
	values, n := r.floats(s.Output)
	time = min(max(time, times[0]), times[len(times)-1])
	k := 0
	for k < len(times)-2 && time > times[k+1] {
		k++
	}
	if s.Interpolation == lib.InterpolationStep {
		if len(times) > 1 && time >= times[k+1] {
			k++
		}
		return values[k*n : (k+1)*n]
	}
	span := times[k+1] - times[k]
	u := (time - times[k]) / span
	at := func(i int) []float64 { return values[i*n : (i+1)*n] }
	if s.Interpolation == lib.InterpolationCubicSpline {
		out := make([]float64, n)
		p0, m0, m1, p1 := at(3*k+1), at(3*k+2), at(3*k+3), at(3*k+4)
		for i := range out {
			out[i] = (2*u*u*u-3*u*u+1)*p0[i] + span*(u*u*u-2*u*u+u)*m0[i] + (-2*u*u*u+3*u*u)*p1[i] + span*(u*u*u-u*u)*m1[i]
		}
		return out
	}
	if n == 3 {
		p, q := mgl64.Vec3(at(k)), mgl64.Vec3(at(k+1))
		mid := p.Mul(1 - u).Add(q.Mul(u))
		return mid[:]
	}
	return slerp(at(k), at(k+1), u)
}

// slerp turns from p to q the short way.
func slerp(p, q []float64, u float64) []float64 {
	dot := p[0]*q[0] + p[1]*q[1] + p[2]*q[2] + p[3]*q[3]
	sign := 1.0
	if dot < 0 {
		dot, sign = -dot, -1
	}
	a := math.Acos(min(dot, 1))
	if a < 1e-9 {
		return p
	}
	f, g := math.Sin((1-u)*a)/math.Sin(a), sign*math.Sin(u*a)/math.Sin(a)
	return []float64{f*p[0] + g*q[0], f*p[1] + g*q[1], f*p[2] + g*q[2], f*p[3] + g*q[3]}
}

// worlds returns each node's motion into the scene's frame.
func (r reader) worlds(time float64) []mgl64.Mat4 {
	local := r.locals(time)
	out := make([]mgl64.Mat4, len(local))
	seen := make([]bool, len(local))
	var walk func(i int, m mgl64.Mat4)
	walk = func(i int, m mgl64.Mat4) {
		if seen[i] {
			r.t.Fatalf("node %d has two parents", i)
		}
		seen[i] = true
		p := local[i]
		out[i] = m.Mul4(mgl64.Translate3D(p.place[0], p.place[1], p.place[2])).Mul4(p.turn.Mat4()).Mul4(mgl64.Scale3D(p.scale[0], p.scale[1], p.scale[2]))
		for _, c := range r.doc.Nodes[i].Children {
			walk(c, out[i])
		}
	}
	for _, i := range r.doc.Scenes[*r.doc.Scene].Nodes {
		walk(i, mgl64.Ident4())
	}
	for i, ok := range seen {
		if !ok {
			r.t.Fatalf("node %s is not in the scene", r.doc.Nodes[i].Name)
		}
	}
	return out
}

// meshNode returns the one node of a name that has a mesh.
func (r reader) meshNode(name string) int {
	found := -1
	for i, n := range r.doc.Nodes {
		if n.Name == name && n.Mesh != nil {
			if found >= 0 {
				r.t.Fatalf("two nodes %s", name)
			}
			found = i
		}
	}
	if found < 0 {
		r.t.Fatalf("no node %s", name)
	}
	return found
}

// shape is a body as it appears: its vertices as stored, and in the scene turned back to mm and z up.
type shape struct {
	stored, points []mgl64.Vec3
	normals        []mgl64.Vec3 // in the scene, z up
	triangles      []int
}

// shape returns the first primitive of the named body at a time of the animation.
func (r reader) shape(name string, time float64) shape {
	i := r.meshNode(name)
	node, world := r.doc.Nodes[i], r.worlds(time)
	p := r.doc.Meshes[*node.Mesh].Primitives[0]
	s := shape{stored: r.vectors(p.Attributes[lib.POSITION]), triangles: r.integers(*p.Indices)}
	motions := r.skin(node, p, world)
	var normals []mgl64.Vec3
	if accessor, ok := p.Attributes[lib.NORMAL]; ok {
		normals = r.vectors(accessor)
	}
	for v, q := range s.stored {
		m := world[i]
		if motions != nil {
			m = motions[v]
		}
		s.points = append(s.points, zUp(m.Mul4x1(q.Vec4(1)).Vec3()).Mul(1000))
		if normals != nil {
			s.normals = append(s.normals, zUp(m.Mul4x1(normals[v].Vec4(0)).Vec3()))
		}
	}
	return s
}

func zUp(p mgl64.Vec3) mgl64.Vec3 { return mgl64.Vec3{p[0], -p[2], p[1]} }

// skin returns for each vertex of a skinned mesh the weighted joint motion; nil without a skin.
func (r reader) skin(node *lib.Node, p *lib.Primitive, world []mgl64.Mat4) []mgl64.Mat4 {
	if node.Skin == nil {
		return nil
	}
	skin := r.doc.Skins[*node.Skin]
	bind, _ := r.floats(*skin.InverseBindMatrices)
	joints := r.integers(p.Attributes[lib.JOINTS_0])
	weights, _ := r.floats(p.Attributes[lib.WEIGHTS_0])
	var out []mgl64.Mat4
	for v := 0; v < len(joints); v += 4 {
		sum := mgl64.Mat4{}
		for k := range 4 {
			if weights[v+k] != 0 {
				inverse := mgl64.Mat4(bind[16*joints[v+k] : 16*joints[v+k]+16])
				sum = sum.Add(world[skin.Joints[joints[v+k]]].Mul4(inverse).Mul(weights[v+k]))
			}
		}
		out = append(out, sum)
	}
	return out
}
