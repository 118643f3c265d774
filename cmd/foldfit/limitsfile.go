package main

import (
	"path/filepath"
	"slices"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// mostLimits is the largest file of limits that is read.
const mostLimits = 1 << 20

// readLimits reads the file that --limits names.
func (b *board) readLimits(path string) (fold.Limits, error) {
	in, err := readFile(path, mostLimits)
	in.path = filepath.ToSlash(path)
	if err != nil {
		return fold.Limits{}, designError(in.path, err)
	}
	b.inputs = append(b.inputs, in)
	limits, problems := parseLimits(in.path, in.data)
	if len(problems) > 0 {
		return limits, &unusable{in.path, in.data, problems}
	}
	limits.Source = filepath.Base(path) // findings do not depend on where a run was started
	for i := range limits.Overrides {
		limits.Overrides[i].Place.File = limits.Source
	}
	return limits, nil
}

// applyLimits puts the limits of a file, if one is named, on top of the design's own.
func (b *board) applyLimits(d *fold.Design, path string) error {
	if d == nil || path == "" {
		return nil
	}
	limits, err := b.readLimits(path)
	if err == nil {
		d.Limits = onTop(d.Limits, limits)
	}
	return err
}

// onTop returns limits with others on top of them: what those say takes the place of what stands below.
func onTop(below, top fold.Limits) fold.Limits {
	out := fold.Limits{Profile: top.Profile, Source: top.Source}
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

// parseLimits reads a file of limits.
func parseLimits(file string, src []byte) (fold.Limits, []finding.Problem) {
	return fold.Limits{}, []finding.Problem{{Place: finding.Place{File: file, Line: 1, Column: 1}, What: "limits files are not supported yet"}}
}
