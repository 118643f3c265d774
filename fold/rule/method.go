package rule

// Method says how a figure comes about. Findings, the list of rules and the answer about one bend take their words from here.
type Method struct {
	Formula string // in words or plain ASCII
	Inputs  string // what goes into it, and where that comes from
	Source  string // whose formula it is
	Trust   string // how far the figure can be trusted, given the inputs
}

// measured returns the method of a figure that is plain geometry of the flat board.
func measured(formula, inputs string) Method {
	return Method{formula, inputs, "geometry", "exact for the nominal sizes; tolerances of outline, hinge lines and registration are left out"}
}
