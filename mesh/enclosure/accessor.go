package enclosure

import (
	"encoding/binary"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
)

// elements is a checked accessor: count elements, each stride bytes after the one before.
type elements struct {
	data       []byte
	count      int
	stride     int
	component  gltf.ComponentType
	normalized bool
}

// elements returns an accessor whose every byte lies in its buffer.
func (g *gltfReader) elements(n int, typ gltf.AccessorType) (elements, error) {
	if n < 0 || n >= len(g.doc.Accessors) || g.doc.Accessors[n] == nil {
		return elements{}, fmt.Errorf("accessor %d is named, but there is none", n)
	}
	a := g.doc.Accessors[n]
	size := a.ComponentType.ByteSize()
	if typ == gltf.AccessorVec3 {
		size *= 3
	}
	switch {
	case a.Type != typ:
		return elements{}, fmt.Errorf("accessor %d has elements of the wrong kind", n)
	case a.Sparse != nil || a.BufferView == nil:
		return elements{}, fmt.Errorf("accessor %d is sparse, which is not read: write plain meshes", n)
	case a.Count < 0 || a.ByteOffset < 0:
		return elements{}, fmt.Errorf("accessor %d has a count or an offset below 0", n)
	}
	view, stride, err := g.view(*a.BufferView)
	if err != nil {
		return elements{}, err
	}
	if stride == 0 {
		stride = size
	}
	if stride < size {
		return elements{}, fmt.Errorf("accessor %d: elements of %d bytes overlap at steps of %d", n, size, stride)
	}
	if a.Count > 0 && (a.ByteOffset > len(view)-size || a.Count-1 > (len(view)-size-a.ByteOffset)/stride) {
		return elements{}, fmt.Errorf("accessor %d: %d elements of %d bytes reach beyond the %d bytes of their view", n, a.Count, size, len(view))
	}
	return elements{view[min(a.ByteOffset, len(view)):], a.Count, stride, a.ComponentType, a.Normalized}, nil
}

// view returns the bytes of a buffer view and the step between elements, 0 for none.
func (g *gltfReader) view(n int) ([]byte, int, error) {
	if n < 0 || n >= len(g.doc.BufferViews) || g.doc.BufferViews[n] == nil {
		return nil, 0, fmt.Errorf("buffer view %d is named, but there is none", n)
	}
	v := g.doc.BufferViews[n]
	data, err := g.buffer(v.Buffer)
	if err != nil {
		return nil, 0, err
	}
	if v.ByteOffset < 0 || v.ByteLength < 0 || v.ByteStride < 0 || v.ByteStride > 252 || v.ByteOffset > len(data) || v.ByteLength > len(data)-v.ByteOffset {
		return nil, 0, fmt.Errorf("buffer view %d reaches beyond the %d bytes of its buffer", n, len(data))
	}
	return data[v.ByteOffset : v.ByteOffset+v.ByteLength], v.ByteStride, nil
}

// number returns component k of element i.
func (e *elements) number(i, k int) float64 {
	b := e.data[i*e.stride:]
	v, most := 0.0, 1.0
	switch e.component {
	case gltf.ComponentFloat:
		return float64(math.Float32frombits(binary.LittleEndian.Uint32(b[4*k:])))
	case gltf.ComponentByte:
		v, most = float64(int8(b[k])), math.MaxInt8
	case gltf.ComponentUbyte:
		v, most = float64(b[k]), math.MaxUint8
	case gltf.ComponentShort:
		v, most = float64(int16(binary.LittleEndian.Uint16(b[2*k:]))), math.MaxInt16
	case gltf.ComponentUshort:
		v, most = float64(binary.LittleEndian.Uint16(b[2*k:])), math.MaxUint16
	case gltf.ComponentUint:
		v, most = float64(binary.LittleEndian.Uint32(b[4*k:])), math.MaxUint32
	}
	if e.normalized {
		return max(v/most, -1)
	}
	return v
}

// measure decodes the placed meshes, each once, and makes room for all copies.
func (g *gltfReader) measure(placed []placedMesh) error {
	var sum amount
	for _, p := range placed {
		if g.meshes[p.mesh] == nil {
			m, err := g.mesh(p.mesh)
			if err != nil {
				return fmt.Errorf("mesh %d: %w", p.mesh, err)
			}
			g.meshes[p.mesh] = m
		}
		sum = sum.plus(g.meshes[p.mesh].amount)
		if err := sum.check(g.decoded); err != nil {
			return err
		}
	}
	g.points, g.tris = make([]mgl64.Vec3, 0, sum.points), make([][3]int32, 0, sum.triangles)
	return nil
}

// mesh decodes a mesh in its own frame.
func (g *gltfReader) mesh(n int) (*part, error) {
	if n < 0 || n >= len(g.doc.Meshes) || g.doc.Meshes[n] == nil {
		return nil, fmt.Errorf("it is placed, but there is none")
	}
	m := &part{first: map[int]int32{}}
	for i, p := range g.doc.Meshes[n].Primitives {
		if p == nil {
			return nil, fmt.Errorf("primitive %d is missing", i)
		}
		if err := g.primitive(m, p); err != nil {
			return nil, fmt.Errorf("primitive %d: %w", i, err)
		}
	}
	m.weld()
	m.amount = amount{int64(len(m.tris)), int64(len(m.points)), 1}
	return m, nil
}

// primitive adds the triangles of one primitive.
func (g *gltfReader) primitive(m *part, p *gltf.Primitive) error {
	if p.Mode != gltf.PrimitiveTriangles && p.Mode != gltf.PrimitiveTriangleStrip && p.Mode != gltf.PrimitiveTriangleFan {
		g.lines++
		return nil
	}
	g.morphed = g.morphed || len(p.Targets) > 0
	at, ok := p.Attributes[gltf.POSITION]
	if !ok {
		return fmt.Errorf("it has no positions")
	}
	pos, err := g.elements(at, gltf.AccessorVec3)
	if err != nil {
		return err
	}
	corners, corner, err := g.corners(p, pos.count)
	if err != nil {
		return err
	}
	triangles := max(corners-2, 0)
	if p.Mode == gltf.PrimitiveTriangles {
		triangles = corners / 3
	}
	first, shared := m.first[at]
	if shared {
		pos.count = 0
	} else {
		first = int32(len(m.points))
		m.first[at] = first
	}
	if g.decoded = g.decoded.plus(amount{int64(triangles), int64(pos.count), 1}); g.decoded.tooMuch() {
		return errTooMuch
	}
	m.points, m.tris = slices.Grow(m.points, pos.count), slices.Grow(m.tris, triangles)
	m.triangles(p.Mode, triangles, first, corner)
	m.take(pos)
	return nil
}

// corners returns how many corners a primitive lists, and which position each is.
func (g *gltfReader) corners(p *gltf.Primitive, positions int) (n int, corner func(i int) int32, err error) {
	if p.Indices == nil {
		return positions, func(i int) int32 { return int32(i) }, nil
	}
	order, err := g.elements(*p.Indices, gltf.AccessorScalar)
	if err != nil {
		return 0, nil, err
	}
	if order.component == gltf.ComponentFloat {
		return 0, nil, fmt.Errorf("accessor %d: fractions as indices", *p.Indices)
	}
	order.normalized = false
	for i := range order.count {
		if v := order.number(i, 0); v < 0 || v >= float64(positions) {
			return 0, nil, fmt.Errorf("index %d is %.0f; there are %d positions", i, v, positions)
		}
	}
	return order.count, func(i int) int32 { return int32(order.number(i, 0)) }, nil
}

// triangles adds triangles whose corners follow each other as the mode says.
func (m *part) triangles(mode gltf.PrimitiveMode, n int, first int32, corner func(i int) int32) {
	for i := range n {
		a, b, c := 3*i, 3*i+1, 3*i+2
		switch mode {
		case gltf.PrimitiveTriangleStrip:
			a, b, c = i, i+1+i%2, i+2-i%2
		case gltf.PrimitiveTriangleFan:
			a, b, c = i+1, i+2, 0
		}
		m.tris = append(m.tris, [3]int32{first + corner(a), first + corner(b), first + corner(c)})
	}
}

// take adds positions.
func (m *part) take(pos elements) {
	from := len(m.points)
	for i := range pos.count {
		m.points = append(m.points, mgl64.Vec3{pos.number(i, 0), pos.number(i, 1), pos.number(i, 2)})
	}
	if pos.component == gltf.ComponentFloat {
		m.grain = max(m.grain, grainAt(farthest(m.points[from:])))
	}
}
