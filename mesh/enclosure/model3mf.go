package enclosure

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// part3MF is one model part of a 3MF file.
type part3MF struct {
	name     string
	prefix   string  // of the names of its elements, with the colon
	unit     float64 // mm
	unitWord string
	objects  map[string]*object3MF
	items    []placed3MF
	current  *object3MF // the object being read
}

// object3MF is a mesh or an assembly of components.
type object3MF struct {
	kind       string
	points     []mgl64.Vec3
	tris       [][3]int32
	components []placed3MF
	amount     amount
	measured   bool
}

// placed3MF is a component or an item of the build.
type placed3MF struct {
	part, id         string
	parentFromObject mgl64.Mat4
}

// aside reports whether an object is no part of the piece.
func (o *object3MF) aside() bool {
	return o.kind == "support" || o.kind == "solidsupport" || o.kind == "other"
}

// units3MF are the unit words of 3MF, in mm.
var units3MF = map[string]float64{"micron": 0.001, "millimeter": 1, "centimeter": 10, "inch": 25.4, "foot": 304.8, "meter": 1000}

// harmless are what the names of extensions contain that leave the shapes alone or are read.
var harmless = []string{"/production/", "/material/", "/trianglesets/"}

// part returns a model part, read once.
func (p *package3MF) part(name string) (*part3MF, error) {
	if q := p.parts[name]; q != nil {
		return q, nil
	}
	q := &part3MF{name: name, objects: map[string]*object3MF{}}
	root := true
	err := p.tags(name, func(r *tagReader, tag []byte) error {
		if root {
			root = false
			return q.model(r, tag)
		}
		return q.element(p, r, tag)
	})
	if err != nil {
		return nil, err
	}
	if root {
		return nil, fmt.Errorf("part %.80s holds no model", name)
	}
	p.parts[name] = q
	return q, nil
}

// model reads the root element.
func (q *part3MF) model(r *tagReader, tag []byte) error {
	q.prefix = string(tag[:bytes.LastIndexByte(tag, ':')+1])
	if string(tag[len(q.prefix):]) != "model" {
		return fmt.Errorf("it begins with <%.40s>, not with a model", tag)
	}
	q.unitWord = "millimeter"
	spaces := map[string]string{}
	required := ""
	err := r.attributes(func(name, value []byte) error {
		switch n := string(name); {
		case n == "unit":
			q.unitWord = string(value)
		case n == "requiredextensions":
			required = string(value)
		case strings.HasPrefix(n, "xmlns:"):
			spaces[n[len("xmlns:"):]] = string(value)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if q.unit = units3MF[q.unitWord]; q.unit == 0 {
		return fmt.Errorf("unit %.40q is none of 3MF's", q.unitWord)
	}
	return checkRequired(required, spaces)
}

// checkRequired refuses a model that needs an extension which is not read; spaces gives the full names.
func checkRequired(required string, spaces map[string]string) error {
	for _, ext := range strings.Fields(required) {
		ok := false
		for _, h := range harmless {
			ok = ok || strings.Contains(spaces[ext], h)
		}
		if !ok {
			return fmt.Errorf("it needs the extension %.40s (%.100s), which is not read: write plain meshes", ext, spaces[ext])
		}
	}
	return nil
}

// element reads one of the other elements.
func (q *part3MF) element(p *package3MF, r *tagReader, tag []byte) error {
	name, ok := bytes.CutPrefix(tag, []byte(q.prefix))
	if !ok {
		name = nil
	}
	switch string(name) {
	case "vertex":
		p.total.points++
	case "triangle":
		p.total.triangles++
	case "object", "item", "component":
		p.total.copies++
	default:
		if p.other++; p.other > mostElements {
			return fmt.Errorf("more than %d elements that are no points or triangles: write the mesh alone", mostElements)
		}
		return nil
	}
	if p.total.tooMuch() {
		return errTooMuch
	}
	if q.current == nil && (string(name) == "vertex" || string(name) == "triangle" || string(name) == "component") {
		return fmt.Errorf("a %s outside an object", name)
	}
	switch string(name) {
	case "vertex":
		return q.vertex(r)
	case "triangle":
		return q.triangle(r)
	case "object":
		return q.object(r)
	}
	c, err := q.placed(r)
	if string(name) == "item" {
		q.items = append(q.items, c)
	} else {
		q.current.components = append(q.current.components, c)
	}
	return err
}

// object begins an object.
func (q *part3MF) object(r *tagReader) error {
	o := &object3MF{kind: "model"}
	id := ""
	err := r.attributes(func(name, value []byte) error {
		switch string(name) {
		case "id":
			id = string(value)
			return tooLong(value)
		case "type":
			o.kind = string(value)
			return tooLong(value)
		}
		return nil
	})
	if q.objects[id] != nil {
		return fmt.Errorf("two objects have the id %.40q", id)
	}
	q.objects[id], q.current = o, o
	return err
}

// vertex reads a point.
func (q *part3MF) vertex(r *tagReader) error {
	var p mgl64.Vec3
	n := 0
	err := r.attributes(func(name, value []byte) error {
		if len(name) != 1 || name[0] < 'x' || name[0] > 'z' {
			return nil
		}
		v, ok := parseNumber(value)
		if !ok {
			return fmt.Errorf("point %d: %s is not a finite number", len(q.current.points)+1, show(value))
		}
		p[name[0]-'x'] = v
		n++
		return nil
	})
	if err == nil && n != 3 {
		err = fmt.Errorf("point %d has %s", len(q.current.points)+1, count(n, "coordinate"))
	}
	q.current.points = append(q.current.points, p)
	return err
}

// triangle reads a triangle.
func (q *part3MF) triangle(r *tagReader) error {
	t := [3]int32{-1, -1, -1}
	o := q.current
	err := r.attributes(func(name, value []byte) error {
		if len(name) != 2 || name[0] != 'v' || name[1] < '1' || name[1] > '3' {
			return nil
		}
		k, err := strconv.ParseInt(string(value), 10, 32)
		if err != nil || k < 0 || k >= int64(len(o.points)) {
			return fmt.Errorf("triangle %d: corner %s names no point; there are %d", len(o.tris)+1, show(value), len(o.points))
		}
		t[name[1]-'1'] = int32(k)
		return nil
	})
	if err == nil && min(t[0], t[1], t[2]) < 0 {
		err = fmt.Errorf("triangle %d lacks a corner", len(o.tris)+1)
	}
	o.tris = append(o.tris, t)
	return err
}

// placed reads a component or an item. Its part is another one where an attribute path says so.
func (q *part3MF) placed(r *tagReader) (placed3MF, error) {
	c := placed3MF{part: q.name, parentFromObject: mgl64.Ident4()}
	err := r.attributes(func(name, value []byte) error {
		switch n := string(name); {
		case n == "objectid":
			c.id = string(value)
			return tooLong(value)
		case strings.HasSuffix(n, ":path"):
			c.part = partName(string(value))
			return tooLong(value)
		case n == "transform":
			return readTransform(&c.parentFromObject, value)
		}
		return nil
	})
	return c, err
}

// tooLong refuses a name that is no name.
func tooLong(name []byte) error {
	if len(name) > 250 {
		return fmt.Errorf("a name of %d bytes begins with %.40q", len(name), name)
	}
	return nil
}

// readTransform reads the twelve numbers of a transform: the images of the x, y and z axes, then that of the origin.
func readTransform(m *mgl64.Mat4, value []byte) error {
	s := scanner{src: value}
	for i := range 12 {
		v, ok := parseNumber(s.next())
		if !ok {
			return fmt.Errorf("transform %.100q is not twelve finite numbers", value)
		}
		m[i/3*4+i%3] = v
	}
	if len(s.next()) > 0 {
		return fmt.Errorf("transform %.100q is not twelve finite numbers", value)
	}
	return nil
}
