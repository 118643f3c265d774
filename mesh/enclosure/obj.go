package enclosure

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"
)

// objWords are the statements of OBJ files that may come first in one.
var objWords = []string{"v", "vn", "vt", "vp", "f", "o", "g", "s", "l", "p", "mtllib", "usemtl", "mg", "cstype", "deg", "lod"}

// looksLikeOBJ reports whether the first line that is no comment begins with an OBJ statement.
func looksLikeOBJ(src []byte) bool {
	s := scanner{src: bytes.TrimPrefix(src[:min(len(src), 1<<16)], byteOrderMark)}
	for {
		w := s.next()
		if len(w) == 0 || w[0] != '#' {
			for _, known := range objWords {
				if string(w) == known {
					return true
				}
			}
			return false
		}
		s.endLine()
	}
}

// objReader gathers the points and triangles of an OBJ file.
type objReader struct {
	s       scanner // over the line in hand
	points  []mgl64.Vec3
	tris    [][3]int32
	face    []int32
	cut     polygonCutter
	skipped int // lines, points and curves
}

// readOBJ reads an OBJ file: all objects and groups become one mesh. Faces of any number of corners are cut into triangles,
// indices below 0 count back from the last point. Normals, texture coordinates, materials, colours behind the coordinates,
// lines and points are left out; lines, points and free-form shapes are counted in a note.
func readOBJ(src []byte) (raw, error) {
	src = bytes.TrimPrefix(src, byteOrderMark)
	if bytes.Contains(src, []byte("\\\n")) || bytes.Contains(src, []byte("\\\r\n")) {
		src = bytes.ReplaceAll(bytes.ReplaceAll(src, []byte("\\\r\n"), []byte(" \v")), []byte("\\\n"), []byte(" \v"))
	}
	r := objReader{
		points: make([]mgl64.Vec3, 0, min(bytes.Count(src, []byte("\nv "))+1, mostPoints)),
		tris:   make([][3]int32, 0, min(bytes.Count(src, []byte("\nf "))+1, MostTriangles)),
	}
	for at := 0; at < len(src); {
		end := len(src)
		if n := bytes.IndexAny(src[at:min(len(src), at+256)], "\r\n"); n >= 0 {
			end = at + n
		} else if n := bytes.IndexAny(src[at:], "\r\n"); n >= 0 {
			end = at + n
		}
		r.s = scanner{src: src[:end], at: at}
		if err := r.line(); err != nil {
			return raw{}, err
		}
		at = end + 1
	}
	if len(r.tris) == 0 {
		return raw{}, fmt.Errorf("the file holds no faces")
	}
	out := raw{format: "OBJ", points: r.points, tris: r.tris}
	if r.skipped > 0 {
		out.notes = append(out.notes, fmt.Sprintf("has %s of lines, points or curved shapes, which were not read", count(r.skipped, "statement")))
	}
	if r.cut.crossed > 0 {
		out.notes = append(out.notes, fmt.Sprintf("has %s whose sides cross or overlap; fans of triangles stand for them", count(r.cut.crossed, "face")))
	}
	out.weld()
	return out, nil
}

// line reads one statement.
func (r *objReader) line() error {
	switch string(r.s.next()) {
	case "v":
		return r.vertex()
	case "f", "fo":
		return r.polygon()
	case "l", "p", "curv", "curv2", "surf":
		r.skipped++
	}
	return nil
}

// vertex reads a point; a weight or a colour may follow and is left out.
func (r *objReader) vertex() error {
	if len(r.points) >= mostPoints {
		return r.s.fail("more than %d points: simplify the mesh", mostPoints)
	}
	var p mgl64.Vec3
	for k := range 3 {
		var err error
		if p[k], err = r.s.number(); err != nil {
			return err
		}
	}
	r.points = append(r.points, p)
	return nil
}

// polygon reads a face and cuts it into triangles.
func (r *objReader) polygon() error {
	r.face = r.face[:0]
	for {
		w := r.s.next()
		if len(w) == 0 || w[0] == '#' {
			break
		}
		k, err := r.corner(w)
		if err != nil {
			return err
		}
		r.face = append(r.face, k)
	}
	if len(r.face) < 3 {
		return r.s.fail("a face of %s; it takes three", count(len(r.face), "corner"))
	}
	if len(r.tris)+len(r.face)-2 > MostTriangles {
		return r.s.fail("more than %d triangles: simplify the mesh", MostTriangles)
	}
	r.tris = r.cut.triangles(r.tris, r.points, r.face)
	return nil
}

// corner returns the point that a word like 7, 7/1, 7//3, 7/1/3 or -2 names.
func (r *objReader) corner(w []byte) (int32, error) {
	name, _, _ := bytes.Cut(w, []byte("/"))
	n, err := strconv.ParseInt(string(name), 10, 32)
	if err != nil {
		return 0, r.s.fail("corner %s is not the number of a point", show(w))
	}
	k := n - 1
	if n < 0 {
		k = int64(len(r.points)) + n
	}
	if k < 0 || k >= int64(len(r.points)) {
		return 0, r.s.fail("corner %s names no point; %d stand before it", show(w), len(r.points))
	}
	return int32(k), nil
}
