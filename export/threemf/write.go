package threemf

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"time"

	"foldfit/mesh"
)

// The parts of the package beside the model: what the extensions mean, and which part is the model.
const (
	types = xml.Header + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>` + "\n"
	relations = xml.Header + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>` + "\n"
)

// packed is the time that every part carries: the earliest that the packing can say.
var packed = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// Write writes each mesh as an object of its own with its name, and builds each once where it stands: lengths in mm, to nine
// significant digits. The format wants closed meshes; that is the caller's affair. Meshes without a triangle between them, a mesh
// without any, or a corner that is not a finite number are an error, and nothing is written.
func Write(w io.Writer, meshes []mesh.Mesh) error {
	if len(meshes) == 0 {
		return fmt.Errorf("there are no triangles to write")
	}
	for i := range meshes {
		if err := check(&meshes[i]); err != nil {
			return err
		}
	}
	z := zip.NewWriter(w)
	for _, part := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{"[Content_Types].xml", text(types)}, {"_rels/.rels", text(relations)},
		{"3D/3dmodel.model", func(w io.Writer) error { return model(w, meshes) }},
	} {
		f, err := z.CreateHeader(&zip.FileHeader{Name: part.name, Method: zip.Deflate, Modified: packed})
		if err != nil {
			return err
		}
		if err := part.write(f); err != nil {
			return err
		}
	}
	return z.Close()
}

// check returns what keeps a mesh from being written.
func check(m *mesh.Mesh) error {
	if len(m.Triangles) == 0 {
		return fmt.Errorf("%s: there are no triangles to write", m.Name)
	}
	for _, p := range m.Points {
		for _, x := range p {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return fmt.Errorf("%s: a corner of its mesh is not a number", m.Name)
			}
		}
	}
	return nil
}

// text returns what writes a fixed part.
func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// model writes the objects, numbered from 1, and the list of what is built.
func model(w io.Writer, meshes []mesh.Mesh) error {
	out := bufio.NewWriterSize(w, 1<<16)
	out.WriteString(xml.Header + `<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">` + "\n")
	out.WriteString("<metadata name=\"Application\">foldfit</metadata>\n<resources>\n")
	for i := range meshes {
		object(out, i+1, &meshes[i])
	}
	out.WriteString("</resources>\n<build>\n")
	for i := range meshes {
		fmt.Fprintf(out, "<item objectid=\"%d\"/>\n", i+1)
	}
	out.WriteString("</build>\n</model>\n")
	return out.Flush() // the first error of any write
}

// object writes one mesh.
func object(out *bufio.Writer, id int, m *mesh.Mesh) {
	fmt.Fprintf(out, `<object id="%d" type="model" name="`, id)
	_ = xml.EscapeText(out, []byte(m.Name))
	out.WriteString("\"><mesh>\n<vertices>\n")
	var line []byte
	for _, p := range m.Points {
		line = append(line[:0], "<vertex"...)
		for k, x := range p {
			line = append(line, ' ', "xyz"[k], '=', '"')
			line = append(strconv.AppendFloat(line, x+0, 'g', 9, 64), '"')
		}
		out.Write(append(line, "/>\n"...))
	}
	out.WriteString("</vertices>\n<triangles>\n")
	for _, t := range m.Triangles {
		line = append(line[:0], "<triangle"...)
		for k, i := range t {
			line = append(line, ' ', 'v', "123"[k], '=', '"')
			line = append(strconv.AppendInt(line, int64(i), 10), '"')
		}
		out.Write(append(line, "/>\n"...))
	}
	out.WriteString("</triangles>\n</mesh></object>\n")
}
