package pattern

import (
	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// view takes flat coordinates to those of the printed side: seen from the bottom, x runs the other way; for creasing, parts of the
// board are shifted before that.
type view struct {
	mirrored bool
	sheet    *stretch // nil = the board as it is
}

// view returns how the printed side is seen.
func (o Options) view() view { return view{o.Side == fold.Bottom, o.sheet} }

// board returns the whole board.
func (v view) board(t *fold.Tree) flat.Region {
	if v.sheet != nil {
		return v.region(v.sheet.board)
	}
	return v.region(t.Board)
}

// ofFlat returns a region of a flat.
func (v view) ofFlat(i int, r flat.Region) flat.Region {
	if v.sheet == nil || i < 0 {
		return v.region(r)
	}
	out := make(flat.Region, len(r))
	for k, l := range r {
		for _, e := range l {
			out[k] = append(out[k], v.sheet.ofFlat(i, e))
		}
	}
	return v.region(out)
}

// ofBend returns a region of a bend area.
func (v view) ofBend(i int, r flat.Region) flat.Region {
	if v.sheet == nil {
		return v.region(r)
	}
	out := make(flat.Region, len(r))
	for k, l := range r {
		for _, e := range l {
			out[k] = append(out[k], v.sheet.ofBend(i, e)...)
		}
	}
	return v.region(out)
}

// shifted returns a loop that stands as a whole where p is.
func (v view) shifted(l flat.Loop, p flat.Pt) flat.Loop {
	if v.sheet == nil {
		return v.loop(l)
	}
	d := v.sheet.place(p)
	out := make(flat.Loop, len(l))
	for i, e := range l {
		out[i] = flat.Edge{P: e.P.Add(d), Q: e.Q.Add(d), C: e.C.Add(d), R: e.R, Sweep: e.Sweep}
	}
	return v.loop(out)
}

func (v view) pt(p flat.Pt) flat.Pt {
	if v.mirrored {
		p.X = 0 - p.X
	}
	return p
}

func (v view) edge(e flat.Edge) flat.Edge {
	if !v.mirrored {
		return e
	}
	return flat.Edge{P: v.pt(e.P), Q: v.pt(e.Q), C: v.pt(e.C), R: e.R, Sweep: 0 - e.Sweep}
}

// loop keeps the sense of rotation: counter-clockwise stays counter-clockwise.
func (v view) loop(l flat.Loop) flat.Loop {
	if !v.mirrored {
		return l
	}
	out := make(flat.Loop, len(l))
	for i, e := range l {
		out[i] = v.edge(e)
	}
	return out.Rev()
}

func (v view) region(r flat.Region) flat.Region {
	out := make(flat.Region, len(r))
	for i, l := range r {
		out[i] = v.loop(l)
	}
	return out
}

func (v view) lines(list [][2]flat.Pt) [][2]flat.Pt {
	out := make([][2]flat.Pt, len(list))
	for i, s := range list {
		out[i] = [2]flat.Pt{v.pt(s[0]), v.pt(s[1])}
	}
	return out
}

// longestLabel is how many characters of a user's words a label shows.
const longestLabel = 40

// short returns plain s, cut to what a label has room for.
func short(s string) string { return draw.Cut(draw.Plain(s), longestLabel) }
