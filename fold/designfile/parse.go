package designfile

import (
	"path"
	"reflect"
	"strings"

	"go.yaml.in/yaml/v4"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// Options changes how Parse reads. The zero value reads the file as it is and keeps mesh paths inside its folder.
type Options struct {
	AllowOutside bool     // mesh files may lie outside the design's folder
	Set          []string // edits made before reading, such as "hinges.neck.angle=45"; list items count from 1
}

// Parse reads the design file src, whose name (for messages, and for the design's name) is file. It returns the design,
// notes on what was decided on the user's behalf, and every problem found, in the order of the file; with problems the
// design is what could be read: items with a problem are left out, every name in it stands for something in it, and
// Incomplete says whether the board's shape suffers. The design is never nil.
//
// Nothing on disk is touched; mesh paths are judged by their text alone, so whoever opens them must still mind symbolic
// links. Numbers are converted to mm with one rounding. Input beyond 10 MB, 300 000 values or 64 levels is refused
// before it can cost time.
func Parse(file string, src []byte, o Options) (*fold.Design, []string, []finding.Problem) {
	r := &reader{file: file}
	b := &builder{reader: r, options: o, design: &fold.Design{Name: stem(file), Loop: fold.DefaultLoop, Where: fold.Places{File: file}}}
	b.design.Title.Name = b.design.Name
	b.design.Units = fold.MM
	root := r.open(src, o.Set)
	if root == nil {
		b.design.Incomplete = true
		return b.design, nil, r.all()
	}
	r.plain, b.design.Units = unitsOf(root)
	r.catalog(root)
	if r.read(root, format, reflect.ValueOf(&b.file).Elem()) || b.file.at != nil {
		b.build()
	} else {
		b.design.Incomplete = true
	}
	return b.design, b.notes, r.all()
}

// open turns bytes into the top node, with the edits made; nil if there is none.
func (r *reader) open(src []byte, edits []string) *yaml.Node {
	if p := scan(r.file, src); p != nil {
		r.problems = append(r.problems, *p)
		return nil
	}
	root, p := load(r.file, src)
	if p != nil {
		r.problems = append(r.problems, *p)
		return nil
	}
	r.edited = map[*yaml.Node]string{}
	for _, e := range edits {
		r.edit(root, e)
	}
	return root
}

// all returns the problems in the order of the file, and how many more there are.
func (r *reader) all() []finding.Problem {
	list := finding.SortProblems(r.problems)
	if r.more > 0 {
		list = append(list, finding.Problem{Place: list[len(list)-1].Place, What: "and " + plural(r.more, "more problem"), Hint: "mend these first"})
	}
	return list
}

// stem returns the file's name without folder and extension, "design" for standard input.
func stem(file string) string {
	s := path.Base(strings.ReplaceAll(file, `\`, "/"))
	if s = strings.TrimSuffix(s, path.Ext(s)); s == "" || s == "-" || s == "." || s == "/" {
		return "design"
	}
	return s
}

// unitsOf looks up the design's units, which must be known before the first length is read. A wrong word counts as mm;
// reading the key tells of it.
func unitsOf(root *yaml.Node) (unit, fold.Units) {
	if root.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(root.Content); i += 2 {
			v := root.Content[i+1]
			if v.Kind == yaml.AliasNode {
				v = v.Alias
			}
			if root.Content[i].Value != "units" {
				continue
			}
			for _, u := range lengths {
				if u.name == v.Value && contains([]string{"mil", "in"}, u.name) {
					return u, fold.Units(u.name)
				}
			}
			break
		}
	}
	return lengths[0], fold.MM
}
