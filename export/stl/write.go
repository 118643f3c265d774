package stl

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// header fills the first 80 bytes. It does not begin with the word that marks text files.
const header = "binary STL in millimetres, written by foldfit"

// Write writes all triangles of the meshes, one mesh after the other, as a binary STL: lengths in mm as they stand in the
// meshes, rounded to float32, and each triangle's unit normal by the right-hand rule (zero for one without area). The
// format keeps neither names nor shared corners; equal corners get equal bytes, so a closed mesh can be welded again.
// Meshes without a triangle between them, a corner that is no number in float32, or over 4 294 967 295 triangles are an
// error, and nothing is written.
func Write(w io.Writer, meshes []mesh.Mesh) error {
	count := 0
	for i := range meshes {
		m := &meshes[i]
		count += len(m.Triangles)
		for _, p := range m.Points {
			if !finite(p) {
				return fmt.Errorf("%s: a corner of its mesh is not a number", m.Name)
			}
		}
	}
	switch {
	case count == 0:
		return fmt.Errorf("there are no triangles to write")
	case count > math.MaxUint32:
		return fmt.Errorf("%d triangles are more than an STL file can count: use a coarser chord", count)
	}
	out := bufio.NewWriterSize(w, 1<<16)
	start := make([]byte, 80, 84)
	copy(start, header)
	out.Write(binary.LittleEndian.AppendUint32(start, uint32(count)))
	for i := range meshes {
		writeMesh(out, &meshes[i])
	}
	return out.Flush() // the first error of any write
}

// writeMesh writes 50 bytes for each triangle: normal, three corners, and an attribute word that stays 0.
func writeMesh(out *bufio.Writer, m *mesh.Mesh) {
	record := make([]byte, 0, 50)
	for _, t := range m.Triangles {
		a, b, c := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
		record = record[:0]
		for _, v := range [4]mgl64.Vec3{normal(a, b, c), a, b, c} {
			for _, x := range v {
				record = binary.LittleEndian.AppendUint32(record, math.Float32bits(float32(x+0)))
			}
		}
		out.Write(binary.LittleEndian.AppendUint16(record, 0))
	}
}

// leastArea is twice the area in mm2 below which a triangle counts as having none; its square is still a normal number.
const leastArea = 1e-150

// normal returns the unit normal of a triangle that runs counter-clockwise, zero for one without area.
func normal(a, b, c mgl64.Vec3) mgl64.Vec3 {
	n := b.Sub(a).Cross(c.Sub(a))
	l := n.Len()
	if l < leastArea || math.IsInf(l, 0) {
		return mgl64.Vec3{}
	}
	return mgl64.Vec3{n[0] / l, n[1] / l, n[2] / l}
}

// finite reports whether float32 can hold p.
func finite(p mgl64.Vec3) bool {
	for _, x := range p {
		if !(math.Abs(x) <= math.MaxFloat32) {
			return false
		}
	}
	return true
}
