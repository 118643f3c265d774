package enclosure

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// Bounds of a 3MF file.
const (
	mostInflated = 1 << 29 // bytes of all parts read, unpacked
	leastPacked  = 1 << 26 // of those, what a small file may unpack to; a larger one
	mostPacked   = 32      // to that and so many times its own size: meshes take a tenth of their text when packed
	mostElements = 8_000_000
	mostNested   = 64 // components within components
)

// package3MF is an opened 3MF file.
type package3MF struct {
	files map[string]*zip.File // by path in lower case, without the first slash
	left  int64                // bytes that may still be unpacked
	parts map[string]*part3MF
	most  int64  // what may be unpacked in all
	total amount // of all meshes read
	other int    // elements that are no points or triangles
	raw
	skipped int // objects that are no part of the piece
}

// read3MF reads a 3MF file: what its build lists, components and copies resolved, as one mesh. Objects of the types
// support, solidsupport and other are left out and counted in a note. A file that needs an extension that changes shapes is
// refused. The root part names the unit.
func read3MF(src []byte) (raw, error) {
	archive, err := zip.NewReader(bytes.NewReader(src), int64(len(src)))
	if err != nil {
		return raw{}, fmt.Errorf("the 3MF file cannot be unpacked: %v", err)
	}
	p := package3MF{files: map[string]*zip.File{}, left: min(mostInflated, leastPacked+mostPacked*int64(len(src))), parts: map[string]*part3MF{}}
	p.format, p.most = "3MF", p.left
	for _, f := range archive.File {
		p.files[partName(f.Name)] = f
	}
	root, err := p.rootName()
	if err != nil {
		return raw{}, err
	}
	if err := p.build(root); err != nil {
		return raw{}, err
	}
	if p.skipped > 0 {
		p.notes = append(p.notes, fmt.Sprintf("has %s that support or accompany the piece, which were not read", count(p.skipped, "object")))
	}
	if len(p.tris) == 0 {
		return raw{}, fmt.Errorf("the build of the 3MF file holds no triangles")
	}
	p.parts = nil
	p.weld()
	return p.raw, nil
}

// partName returns a path as parts are listed by.
func partName(path string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(path, "\\", "/"), "/"))
}

// rootName returns the name of the part that the package names as its model.
func (p *package3MF) rootName() (string, error) {
	name := "3d/3dmodel.model"
	err := p.tags("_rels/.rels", func(r *tagReader, _ []byte) error {
		var target, typ string
		err := r.attributes(func(name, value []byte) error {
			switch string(name) {
			case "Target":
				target = string(value)
			case "Type":
				typ = string(value)
			}
			return nil
		})
		if strings.HasSuffix(typ, "/2013/01/3dmodel") {
			name = partName(target)
		}
		return err
	})
	if err != nil && p.files["_rels/.rels"] != nil {
		return "", err
	}
	if p.files[name] == nil {
		return "", fmt.Errorf("the archive holds no part %.80s: it is no 3MF file, or it is damaged", name)
	}
	return name, nil
}

// tags calls yield with each tag that begins an element in a part, its attributes not yet read.
func (p *package3MF) tags(name string, yield func(r *tagReader, name []byte) error) error {
	f := p.files[name]
	switch {
	case f == nil:
		return fmt.Errorf("the archive holds no part %.80s", name)
	case f.Flags&1 != 0:
		return fmt.Errorf("part %.80s is encrypted", name)
	}
	in, err := f.Open()
	if err != nil {
		return fmt.Errorf("part %.80s cannot be unpacked: %v", name, err)
	}
	defer in.Close()
	limited := &io.LimitedReader{R: in, N: p.left}
	r := newTagReader(limited)
	for {
		tag, err := r.next()
		p.left = limited.N
		switch {
		case p.left <= 0:
			return fmt.Errorf("the 3MF file unpacks to more than %d MB: simplify the mesh", p.most>>20)
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return fmt.Errorf("part %.80s: %v", name, err)
		case r.close:
			continue
		}
		if err := yield(r, tag); err != nil {
			return fmt.Errorf("part %.80s: %w", name, err)
		}
	}
}

// build reads the root part and gathers what its build lists.
func (p *package3MF) build(root string) error {
	top, err := p.part(root)
	if err != nil {
		return err
	}
	p.unit, p.unitWords = top.unit, "the 3MF file says "+top.unitWord
	var sum amount
	for _, item := range top.items {
		a, err := p.measure(item, 1)
		if err != nil {
			return err
		}
		sum = sum.plus(a)
		if err := sum.check(p.total); err != nil {
			return err
		}
	}
	p.points, p.tris = make([]mgl64.Vec3, 0, sum.points), make([][3]int32, 0, sum.triangles)
	for _, item := range top.items {
		p.place(item, mgl64.Ident4())
	}
	return nil
}

// measure returns how much a placed object comes to, and makes sure that all it needs is there.
func (p *package3MF) measure(c placed3MF, depth int) (amount, error) {
	part, err := p.part(c.part)
	if err != nil {
		return amount{}, err
	}
	o := part.objects[c.id]
	switch {
	case o == nil:
		return amount{}, fmt.Errorf("part %.80s: object %.40q is placed, but there is none", c.part, c.id)
	case part.unit != p.unit:
		return amount{}, fmt.Errorf("part %.80s is in another unit (%s) than the part that uses it", c.part, part.unitWord)
	case depth > mostNested:
		return amount{}, fmt.Errorf("part %.80s: object %.40q lies in more than %d others, or in itself", c.part, c.id, mostNested)
	case o.measured:
		return o.amount, nil
	case o.aside():
		return amount{copies: 1}, nil
	}
	sum := amount{int64(len(o.tris)), int64(len(o.points)), 1}
	for _, k := range o.components {
		a, err := p.measure(k, depth+1)
		if err != nil {
			return amount{}, err
		}
		if sum = sum.plus(a); sum.tooMuch() {
			return amount{}, errTooMuch
		}
	}
	o.amount, o.measured = sum, true
	return sum, nil
}

// place adds a measured object.
func (p *package3MF) place(c placed3MF, fileFromParent mgl64.Mat4) {
	o := p.parts[c.part].objects[c.id]
	if o.aside() {
		p.skipped++
		return
	}
	fileFromObject := fileFromParent.Mul4(c.parentFromObject)
	p.add(o.points, o.tris, fileFromObject)
	for _, k := range o.components {
		p.place(k, fileFromObject)
	}
}
