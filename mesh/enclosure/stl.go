package enclosure

import (
	"bytes"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// MostTriangles is the largest number of triangles that a file may hold; with it a read stays under about 1 GB.
const MostTriangles = 5_000_000

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
// Corners with identical coordinates become one point. Where that leaves open edges, corners within 1e-5 of the mesh's
// diagonal are welded as well, if that closes more than it leaves open (text files with rounded numbers). Zero-area and
// repeated triangles are dropped and counted. A closed mesh that is inside out as a whole is turned and Health.Flipped
// says so. Numbers that are not finite, coordinates beyond 1e5 mm, counts that do not fit the size, files without
// triangles and files of more than MostTriangles are errors that say the line or the byte. The chord error is not known
// to STL: Mesh.Chord is 0.
func ReadSTL(name string, src []byte, scale float64) (mesh.Mesh, Health, error) {
	var h Health
	if !(scale > 0) || math.IsInf(scale, 0) {
		return mesh.Mesh{}, h, fmt.Errorf("the unit of the mesh is %g mm: it must be a positive number", scale)
	}
	corners, trailing, err := readCorners(src)
	if err != nil {
		return mesh.Mesh{}, h, err
	}
	for i := range corners {
		corners[i] = corners[i].Mul(scale)
	}
	if err := checkSize(corners); err != nil {
		return mesh.Mesh{}, h, err
	}
	m := mesh.Mesh{Name: name, Kind: fold.KindEnclosure}
	m.Points, m.Triangles, h = assemble(corners)
	h.Trailing = trailing
	if len(m.Triangles) == 0 {
		return mesh.Mesh{}, h, fmt.Errorf("all %d triangles have no area", h.Degenerate)
	}
	return m, h, nil
}

// readCorners returns the corners of all triangles in file order, three each, in the file's unit.
func readCorners(src []byte) (corners []mgl64.Vec3, trailing int, err error) {
	n, size := -1, int64(-1)
	if len(src) >= binaryHeader {
		count := uint32(src[80]) | uint32(src[81])<<8 | uint32(src[82])<<16 | uint32(src[83])<<24
		n, size = int(count), binaryHeader+binaryFacet*int64(count)
	}
	text := looksLikeText(src)
	switch {
	case len(src) == 0:
		return nil, 0, fmt.Errorf("the file is empty")
	case size != int64(len(src)) && text:
		corners, err = readText(src)
		return corners, 0, err
	case n < 0:
		return nil, 0, fmt.Errorf("not an STL file: %d bytes, and it does not begin with the word solid", len(src))
	case n == 0:
		return nil, 0, fmt.Errorf("byte 80: the header counts no triangles")
	case size > int64(len(src)):
		return nil, 0, fmt.Errorf("byte 80: the header counts %d triangles, which take %d bytes; the file has %d", n, size, len(src))
	case n > MostTriangles:
		return nil, 0, fmt.Errorf("byte 80: %d triangles; at most %d are read: simplify the mesh", n, MostTriangles)
	}
	rest := src[size:]
	if len(rest) >= binaryFacet && len(bytes.Trim(rest, "\x00")) > 0 {
		return nil, 0, fmt.Errorf("byte 80: the header counts %d triangles, but %d bytes follow the last of them", n, len(rest))
	}
	corners, err = readBinary(src, n)
	return corners, len(rest), err
}

// readBinary reads n facets; the caller has checked the size.
func readBinary(src []byte, n int) ([]mgl64.Vec3, error) {
	corners := make([]mgl64.Vec3, 0, 3*n)
	for i := range n {
		at := binaryHeader + binaryFacet*i + 12
		for range 3 {
			var p mgl64.Vec3
			for k := range 3 {
				b := src[at : at+4 : at+4]
				p[k] = float64(math.Float32frombits(uint32(b[0]) | uint32(b[1])<<8 | uint32(b[2])<<16 | uint32(b[3])<<24))
				if math.IsNaN(p[k]) || math.IsInf(p[k], 0) {
					return nil, fmt.Errorf("byte %d: a corner of triangle %d is not a finite number", at, i+1)
				}
				at += 4
			}
			corners = append(corners, p)
		}
	}
	return corners, nil
}

// checkSize refuses coordinates (mm) that lie too far off.
func checkSize(corners []mgl64.Vec3) error {
	for i, p := range corners {
		for k := range 3 {
			if math.Abs(p[k]) > flat.Far {
				return fmt.Errorf("triangle %d: %c = %.4g mm lies beyond %g mm; check the units of the mesh", i/3+1, 'x'+rune(k), p[k], flat.Far)
			}
		}
	}
	return nil
}
