package enclosure

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

const (
	binaryHeader = 84 // 80 bytes of text, then the number of triangles
	binaryFacet  = 50 // normal, three corners, one word
)

// ReadSTL reads an STL file, binary or text, into a welded mesh in mm and reports its health. scale is the size in mm of
// the file's unit; STL files do not name it.
//
// A file is binary if its size is that of the triangles its header counts (a binary header may begin with "solid").
// Otherwise it is text if it begins with "solid" and not a broken binary file. After the last facet of a binary file fewer
// than 50 bytes, or any number of zeros, are ignored and counted in Health.Trailing; more contradicts the header and is
// refused. In text files words may have any case, several solids become one mesh, and the stored normals are not read:
// they are often wrong, the order of the corners decides.
//
// Corners with identical coordinates become one point. Where that leaves open edges (up to 2 million), corners at them within
// 1e-5 of the mesh's diagonal are welded as well, if that closes more than it leaves open (text files with rounded
// numbers). Zero-area and repeated triangles are dropped and counted. Single triangles that disagree with their neighbours
// about the outside are turned (Health.Turned), then closed shells that are inside out, each with all that lies within it
// (Health.Inverted).
//
// Numbers that are not finite, coordinates beyond 1e5 mm, counts that do not fit the size, files without triangles and
// files of more than MostTriangles are errors that say the line or the byte. The chord error is not known to STL:
// Mesh.Chord is 0.
func ReadSTL(name string, src []byte, scale float64) (mesh.Mesh, Health, error) {
	if !(scale > 0) {
		return mesh.Mesh{}, Health{}, fmt.Errorf("the unit of the mesh is %g mm: it must be a positive number", scale)
	}
	r, err := readSTL(src)
	if err != nil {
		return mesh.Mesh{}, Health{}, err
	}
	return r.finish(name, scale)
}

// binarySize returns the size of a binary file with the triangles that its header counts, -1 if it has none.
func binarySize(src []byte) int64 {
	n := binaryCount(src)
	if n <= 0 {
		return -1
	}
	return binaryHeader + binaryFacet*int64(n)
}

// binaryCount returns the triangles that a binary file's header counts, -1 if it has no room for a header.
func binaryCount(src []byte) int {
	if len(src) < binaryHeader {
		return -1
	}
	return int(binary.LittleEndian.Uint32(src[80:]))
}

// readSTL reads an STL file of either kind.
func readSTL(src []byte) (raw, error) {
	n, size := binaryCount(src), binarySize(src)
	switch {
	case len(src) == 0:
		return raw{}, fmt.Errorf("the file is empty")
	case size != int64(len(src)) && looksLikeText(src):
		return readText(src)
	case n < 0:
		return raw{}, fmt.Errorf("not an STL file: %d bytes, and it does not begin with the word solid", len(src))
	case n == 0:
		return raw{}, fmt.Errorf("byte 80: the header counts no triangles")
	case size > int64(len(src)):
		return raw{}, fmt.Errorf("byte 80: the header counts %d triangles, which take %d bytes; the file has %d", n, size, len(src))
	case n > MostTriangles:
		return raw{}, fmt.Errorf("byte 80: %d triangles; at most %d are read: simplify the mesh", n, MostTriangles)
	}
	rest := src[size:]
	if len(rest) >= binaryFacet && len(bytes.Trim(rest, "\x00")) > 0 {
		return raw{}, fmt.Errorf("byte 80: the header counts %d triangles, but %d bytes follow the last of them", n, len(rest))
	}
	points, tris, err := readBinary(src, n, workersFor(n))
	if err != nil {
		return raw{}, err
	}
	return raw{format: "binary STL", points: points, tris: tris, trailing: len(rest), grain: grainAt(farthest(points))}, nil
}

// readBinary reads and welds n facets; the caller has checked the size. The result does not depend on the number of workers.
func readBinary(src []byte, n, workers int) (points []mgl64.Vec3, tris [][3]int32, err error) {
	tris = make([][3]int32, n)
	parts := newWelders[[3]float32](workers, 3*n)
	faults := make([]error, workers)
	inParallel(workers, func(w int) {
		faults[w] = readFacets(tris, &parts[w], src, n*w/workers, n*(w+1)/workers)
	})
	for _, err := range faults {
		if err != nil {
			return nil, nil, err
		}
	}
	stored, final := unite(parts)
	points = make([]mgl64.Vec3, len(stored))
	inParallel(workers, func(w int) {
		for i := len(stored) * w / workers; i < len(stored)*(w+1)/workers; i++ {
			p := &stored[i]
			points[i] = mgl64.Vec3{float64(p[0]), float64(p[1]), float64(p[2])}
		}
		if w == 0 {
			return
		}
		for i := n * w / workers; i < n*(w+1)/workers; i++ {
			t := &tris[i]
			*t = [3]int32{final[w][t[0]], final[w][t[1]], final[w][t[2]]}
		}
	})
	return points, tris, nil
}

// readFacets reads and welds the facets with the numbers from <= number < upto.
func readFacets(tris [][3]int32, to *welder[[3]float32, float32], src []byte, from, upto int) error {
	var corners [3 * (together / 3)][3]float32
	var numbers [len(corners)]int32
	for from < upto {
		n := min(upto-from, len(corners)/3)
		if err := readCorners(corners[:3*n], src, from); err != nil {
			return err
		}
		to.add(corners[:3*n], numbers[:])
		for i := range n {
			tris[from+i] = [3]int32(numbers[3*i:])
		}
		from += n
	}
	return nil
}

// readCorners fills in the corners of the facets from number first on.
func readCorners(corners [][3]float32, src []byte, first int) error {
	at := binaryHeader + binaryFacet*first
	for i := range corners {
		if i%3 == 0 {
			at += 12 // the normal
		}
		b := src[at : at+12 : at+12]
		p := &corners[i]
		for k := range p {
			bits := uint32(b[4*k]) | uint32(b[4*k+1])<<8 | uint32(b[4*k+2])<<16 | uint32(b[4*k+3])<<24
			if bits&0x7f800000 == 0x7f800000 {
				return fmt.Errorf("byte %d: a corner of triangle %d is not a finite number", at+4*k, first+i/3+1)
			}
			p[k] = math.Float32frombits(bits)
		}
		at += 12
		if i%3 == 2 {
			at += 2 // the attribute
		}
	}
	return nil
}
