package designfile

import (
	"reflect"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// limitsFormat is the description of a file of limits.
var limitsFormat = describe(reflect.TypeFor[limits](), "").without("file")

// ParseLimits reads a file of limits: the keys of a design's limits without file, at the top of the file. Plain lengths are
// in mm. It returns what could be read, with file as the source, and every problem found, in the order of the file.
// Nothing on disk is touched.
func ParseLimits(file string, src []byte) (fold.Limits, []finding.Problem) {
	r := &reader{file: file, plain: lengths[0]}
	out := fold.Limits{Source: file}
	if root := r.open(src, nil); root != nil {
		var in limits
		r.read(root, limitsFormat, reflect.ValueOf(&in).Elem())
		r.fillLimits(&in, &out)
	}
	list := r.all()
	for i := range list {
		if list[i].What == emptyFile {
			list[i].Hint = "a file of limits says for example bend-ratio: 12"
		}
	}
	return out, list
}

// limits fills what the rules ask for.
func (b *builder) limits() {
	in := b.file.Limits
	if in == nil {
		return
	}
	b.fillLimits(in, &b.design.Limits)
	b.path = []step{{key: b.file.key("limits")}}
	if in.File.at != nil && b.pathInside(in.File, "file") {
		b.design.Limits.File, b.design.Limits.Place = in.File.s, b.place(in.File.at)
	}
	b.path = nil
}

// fillLimits fills the profile and the single limits that could be read.
func (r *reader) fillLimits(in *limits, out *fold.Limits) {
	out.Profile = in.Profile.s
	for _, l := range []struct {
		rule  string
		value number
	}{{"bend-ratio", in.BendRatio}, {"bend-strain", in.BendStrain}, {"inside-corner", in.InsideCorner}} {
		if in.has(l.rule) {
			out.Overrides = append(out.Overrides, fold.LimitValue{Rule: l.rule, Value: l.value.v, Place: r.place(in.key(l.rule))})
		}
	}
}
