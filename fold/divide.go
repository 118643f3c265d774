package fold

import "foldfit/fold/finding"

// Divide cuts the design's flat board into flats and bends.
func Divide(d *Design) (*Tree, []finding.Problem) { return nil, nil }

// BaseLevel returns where the stack-up of the base lies.
func (t *Tree) BaseLevel() Level { return Level{} }
