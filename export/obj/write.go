package obj

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"foldfit/mesh"
)

// Write writes each mesh as an object of its own with its name: lengths in mm with z up as they stand in the meshes, to nine
// significant digits; the format itself says neither, a comment does. Blanks in a name become underscores. Meshes without a
// triangle between them, or a corner that is not a finite number are an error, and nothing is written.
func Write(w io.Writer, meshes []mesh.Mesh) error {
	count := 0
	for i := range meshes {
		count += len(meshes[i].Triangles)
		for _, p := range meshes[i].Points {
			for _, x := range p {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					return fmt.Errorf("%s: a corner of its mesh is not a number", meshes[i].Name)
				}
			}
		}
	}
	if count == 0 {
		return fmt.Errorf("there are no triangles to write")
	}
	out := bufio.NewWriterSize(w, 1<<16)
	out.WriteString("# millimetres, z up, written by foldfit\n")
	first := int64(1) // corners are counted through all objects, from 1
	for i := range meshes {
		object(out, &meshes[i], first)
		first += int64(len(meshes[i].Points))
	}
	return out.Flush() // the first error of any write
}

// object writes one mesh, whose first point has that number.
func object(out *bufio.Writer, m *mesh.Mesh, first int64) {
	fmt.Fprintf(out, "o %s\n", strings.Join(strings.Fields(m.Name), "_"))
	var line []byte
	for _, p := range m.Points {
		line = append(line[:0], 'v')
		for _, x := range p {
			line = strconv.AppendFloat(append(line, ' '), x+0, 'g', 9, 64)
		}
		out.Write(append(line, '\n'))
	}
	for _, t := range m.Triangles {
		line = append(line[:0], 'f')
		for _, i := range t {
			line = strconv.AppendInt(append(line, ' '), int64(i)+first, 10)
		}
		out.Write(append(line, '\n'))
	}
}
