package enclosure

import (
	"testing"

	"foldfit/mesh"
)

// million returns a welded torus of about a million triangles.
func million(b *testing.B) mesh.Mesh {
	b.Helper()
	points, numbers := weldSame(torus(1_000_000), 1)
	return mesh.Mesh{Points: points, Triangles: distinct(threes(numbers))}
}

// bench reads src; the bytes that it allocates bound the memory that a read takes beyond its input.
func bench(b *testing.B, file string, src []byte) {
	b.Helper()
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		if _, h, err := Read("m", file, src, 0); err != nil || !h.Closed || h.Triangles < 990_000 {
			b.Fatal(h.Line(), err)
		}
	}
}

func BenchmarkReadSTL1M(b *testing.B)     { bench(b, "a.stl", binarySTL("", torus(1_000_000))) }
func BenchmarkReadSTL1260k(b *testing.B)  { bench(b, "a.stl", binarySTL("", torus(1_260_000))) }
func BenchmarkReadTextSTL1M(b *testing.B) { bench(b, "a.stl", textSTL("", "%.6e", torus(1_000_000))) }
func BenchmarkReadOBJ1M(b *testing.B)     { bench(b, "a.obj", objOf(million(b))) }
func BenchmarkReadGLB1M(b *testing.B)     { bench(b, "a.glb", glbOf(million(b), `{"mesh":0}`)) }
func BenchmarkReadGLTF1M(b *testing.B)    { bench(b, "a.gltf", gltfOf(million(b), `{"mesh":0}`)) }
func BenchmarkRead3MF1M(b *testing.B) {
	bench(b, "a.3mf", threeMF(model3MF("millimeter", object3MFOf(1, million(b)), `<item objectid="1"/>`)))
}
