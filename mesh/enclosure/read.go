package enclosure

import (
	"bytes"
	"fmt"
	"math"
	"path"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// MostTriangles is the largest number of triangles that a file may hold, copies counted; with it a read stays under about
// 1 GB.
const MostTriangles = 5_000_000

// Other bounds of a file, copies counted.
const (
	mostPoints   = 6_000_000
	mostCopies   = 200_000
	mostRepeated = 2_000_000 // triangles or points that a file names by copies alone, beyond those that it holds
)

// raw is what a reader takes from a file: welded triangles in the file's unit and in our axes.
type raw struct {
	format    string
	unit      float64 // mm, 0 where the format has none
	unitWords string  // how the file gives it, for a message
	points    []mgl64.Vec3
	tris      [][3]int32
	grain     float64 // in the file's unit, see Health.Grain
	trailing  int
	notes     []string
}

// Read reads a mesh file into a welded mesh in mm and reports its health. The content decides which of STL (binary, text),
// OBJ, GLB, glTF and 3MF it is; the extension of file decides only what content leaves open. unit is the size in mm of the
// file's unit as the design gives it, 0 if it gives none.
//
// GLB and glTF are in metres, 3MF names its unit: there another unit than the file's is an error. STL and OBJ have none:
// without one they are read as mm, with a note. A diagonal under 1 mm or over 5 m brings a note that names the unit that
// would make it likely. The axes are the file's, x, y, z; those of GLB and glTF, whose y points up, are turned about x so
// that z does: (x, y, z) becomes (x, -z, y).
//
// All formats are welded and mended alike: see ReadSTL. Numbers that are not finite, coordinates beyond 1e5 mm, more than
// MostTriangles triangles, copies that come to more than 2 million triangles beyond those in the file, files without triangles,
// and files that need others beside them are errors that say where.
// Reading takes under 1 GB and 10 s for any input up to 10 MB. The chord error is not known to these formats: Mesh.Chord
// is 0, and normals are left out.
func Read(name, file string, data []byte, unit float64) (mesh.Mesh, Health, error) {
	k, err := kindOf(file, data)
	if err != nil {
		return mesh.Mesh{}, Health{}, err
	}
	r, err := k.read(data)
	if err != nil {
		return mesh.Mesh{}, Health{}, err
	}
	if ext := strings.ToLower(path.Ext(file)); ext != k.ext && knownExt(ext) {
		r.notes = append(r.notes, fmt.Sprintf("holds %s, though its name ends in %s", r.format, ext))
	}
	return r.finish(name, unit)
}

// kind is a format of mesh files.
type kind struct {
	ext  string
	read func(data []byte) (raw, error)
	is   func(data []byte) bool
}

// kinds lists the formats; the surest signs come first.
var kinds = []kind{
	{".glb", readGLB, func(d []byte) bool { return bytes.HasPrefix(d, []byte("glTF")) }},
	{".3mf", read3MF, func(d []byte) bool {
		return bytes.HasPrefix(d, []byte("PK\x03\x04")) || bytes.HasPrefix(d, []byte("PK\x05\x06"))
	}},
	{".stl", readSTL, func(d []byte) bool { return binarySize(d) == int64(len(d)) }},
	{".gltf", readGLTF, func(d []byte) bool {
		return bytes.HasPrefix(bytes.TrimLeft(bytes.TrimPrefix(d, byteOrderMark), " \t\r\n"), []byte("{"))
	}},
	{".stl", readSTL, looksLikeText},
	{".obj", readOBJ, looksLikeOBJ},
}

// kindOf returns the format of a file.
func kindOf(file string, data []byte) (kind, error) {
	if len(data) == 0 {
		return kind{}, fmt.Errorf("the file is empty")
	}
	for _, k := range kinds {
		if k.is(data) {
			return k, nil
		}
	}
	if bytes.HasPrefix(data, []byte("ISO-10303-21")) {
		return kind{}, fmt.Errorf("a STEP file holds exact shapes, not a mesh: write it as 3MF, GLB or STL")
	}
	for _, k := range kinds {
		if strings.ToLower(path.Ext(file)) == k.ext {
			return k, nil
		}
	}
	return kind{}, fmt.Errorf("neither its content nor its name is that of a mesh; STL, OBJ, glTF, GLB and 3MF are read")
}

// knownExt reports whether an extension is that of a mesh format.
func knownExt(ext string) bool {
	for _, k := range kinds {
		if k.ext == ext {
			return true
		}
	}
	return false
}

// weld welds the points of a reader whose format shares them by number. Points that no triangle uses are dropped.
func (r *raw) weld() {
	used := compact(r.points, r.tris)
	points, number := weldSame(used, workersFor(len(used)))
	r.points = points
	renumber(r.tris, number)
}

// finish scales, welds and examines what a reader took.
func (r *raw) finish(name string, asked float64) (mesh.Mesh, Health, error) {
	mm, from, err := r.scale(asked)
	if err != nil {
		return mesh.Mesh{}, Health{}, err
	}
	for i := range r.points {
		r.points[i] = r.points[i].Mul(mm)
	}
	if err := r.checkFar(mm); err != nil {
		return mesh.Mesh{}, Health{}, err
	}
	m := mesh.Mesh{Name: name, Kind: fold.KindEnclosure}
	var h Health
	m.Points, m.Triangles, h = assemble(r.points, r.tris, workersFor(len(r.tris)))
	if len(m.Triangles) == 0 {
		return mesh.Mesh{}, Health{}, fmt.Errorf("all %d triangles have no area", h.Degenerate)
	}
	h.Format, h.Unit, h.UnitFrom, h.Trailing, h.Grain = r.format, unitName(mm), from, r.trailing, r.grain*mm
	h.Notes = r.notes
	h.tell()
	if s := slip(h.Box[1].Sub(h.Box[0]).Len(), mm); s != "" {
		h.Notes = append(h.Notes, s)
	}
	return m, h, nil
}

// checkFar refuses coordinates (mm) that lie too far off.
func (r *raw) checkFar(mm float64) error {
	if farthest(r.points) <= flat.Far {
		return nil
	}
	for i, t := range r.tris {
		for _, n := range t {
			if err := checkPoint(r.points[n]); err != nil {
				return fmt.Errorf("triangle %d: %w", i+1, err)
			}
		}
	}
	return nil
}

// checkPoint returns an error for a point (mm) that lies too far off.
func checkPoint(p mgl64.Vec3) error {
	for k, v := range p {
		if math.IsNaN(v) {
			return fmt.Errorf("%c is not a number", 'x'+rune(k))
		}
		if math.Abs(v) > flat.Far {
			return fmt.Errorf("%c = %.4g mm lies beyond %g mm; check the units of the mesh", 'x'+rune(k), v, flat.Far)
		}
	}
	return nil
}
