package main

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
)

// mostLimits is the largest file of limits that is read.
const mostLimits = 1 << 20

// applyLimits puts a design's limits together: those of the file that the design names, its own on top of them, and those
// of the file that the call names on top of all.
func (b *board) applyLimits(d *fold.Design, flags designFlags) ([]finding.Problem, error) {
	var problems []finding.Problem
	if d.Limits.File != "" {
		in, err := readBeside(b.folder(), d.Limits.File, flags.allowOutside, mostLimits)
		if err != nil {
			problems = append(problems, finding.Problem{Place: d.Limits.Place, What: fmt.Sprintf("limits.file: %v", err)})
		} else {
			limits, more := b.readLimits(in)
			problems = append(problems, more...)
			d.Limits = onTop(limits, d.Limits)
		}
	}
	if flags.limits != "" {
		in, err := readFile(flags.limits, mostLimits)
		in.path = filepath.ToSlash(flags.limits)
		if err != nil {
			return problems, designError(in.path, err)
		}
		limits, more := b.readLimits(in)
		problems = append(problems, more...)
		d.Limits = onTop(d.Limits, limits)
	}
	return problems, nil
}

// limitsNote says which limits were used, "" for the common ones.
func limitsNote(d *fold.Design) string {
	var parts []string
	if p := d.Limits.Profile; p != "" && p != rule.Profiles()[0].Name {
		parts = append(parts, "profile "+p)
	}
	for _, o := range d.Limits.Overrides {
		part := fmt.Sprintf("%s %g", o.Rule, o.Value)
		if o.Place.File != d.Where.File {
			part += fmt.Sprintf(" (%s:%d)", o.Place.File, o.Place.Line)
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return ""
	}
	return "limits of the rules: " + strings.Join(parts, ", ")
}

// readLimits reads a file of limits. They are known by its bare name, so that findings do not depend on where a run was
// started.
func (b *board) readLimits(in input) (fold.Limits, []finding.Problem) {
	b.inputs = append(b.inputs, in)
	limits, problems := designfile.ParseLimits(in.path, in.data)
	for i := range limits.Overrides {
		limits.Overrides[i].Place.File = path.Base(in.path)
	}
	return limits, problems
}

// onTop returns limits with others on top of them: what those say takes the place of what stands below.
func onTop(below, top fold.Limits) fold.Limits {
	out := top
	if out.Profile == "" {
		out.Profile = below.Profile
	}
	out.Overrides = slices.Clone(top.Overrides)
	for _, o := range below.Overrides {
		if !slices.ContainsFunc(top.Overrides, func(t fold.LimitValue) bool { return t.Rule == o.Rule }) {
			out.Overrides = append(out.Overrides, o)
		}
	}
	return out
}
