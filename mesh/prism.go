package mesh

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
)

// builder collects a body in flat coordinates.
type builder struct {
	points    []mgl64.Vec3
	triangles [][3]int32
	normals   [][3]mgl64.Vec3
}

// add appends a triangle with its corner normals.
func (b *builder) add(p, q, r int32, np, nq, nr mgl64.Vec3) {
	b.triangles = append(b.triangles, [3]int32{p, q, r})
	b.normals = append(b.normals, [3]mgl64.Vec3{np, nq, nr})
}

// wall appends the quadrilateral over a side from node i to node k, seen from outside: bottom points i and k, top points
// i + rise and k + rise.
func (b *builder) wall(i, k, rise int32, out [2]flat.Pt) {
	m, n := level(out[0]), level(out[1])
	b.add(i, k, k+rise, m, n, n)
	b.add(i, k+rise, i+rise, m, n, m)
}

// level returns a flat direction as a 3D one.
func level(d flat.Pt) mgl64.Vec3 { return mgl64.Vec3{d.X, d.Y, 0} }

// up is the normal of top faces in the flat.
var up = mgl64.Vec3{0, 0, 1}

// cap appends a triangle of the top face and its twin in the bottom face.
func (b *builder) cap(p, q, r, rise int32) {
	down := mgl64.Vec3{0, 0, -1}
	b.add(p+rise, q+rise, r+rise, up, up, up)
	b.add(r, q, p, down, down, down)
}

// prism returns the closed body over a polygon between heights faces[0] < faces[1].
func prism(poly polygon, faces [2]float64) (*builder, error) {
	loops := poly.points()
	tops, err := Triangulate(loops)
	if err != nil {
		return nil, err
	}
	b := &builder{}
	for _, z := range faces {
		for _, l := range loops {
			for _, p := range l {
				b.points = append(b.points, mgl64.Vec3{p.X, p.Y, z})
			}
		}
	}
	rise := int32(len(b.points) / 2)
	for _, t := range tops {
		b.cap(t[0], t[1], t[2], rise)
	}
	first := int32(0)
	for _, ring := range poly {
		n := int32(len(ring))
		for i, s := range ring {
			b.wall(first+int32(i), first+(int32(i)+1)%n, rise, s.out)
		}
		first += n
	}
	return b, nil
}
