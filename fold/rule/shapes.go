package rule

import (
	"foldfit/fold"
	"foldfit/fold/bending"
)

// shapes is what the flex of every bend does, worked out once for all rules.
type shapes struct {
	stands []bending.Flex // in the posture judged
	works  []work         // the same for all postures
}

// work is a bend as drawn, and its two ends where its hinge is dynamic.
type work struct {
	drawn    bending.Drawn
	from, to bending.Flex
}

// withShapes returns the boards with the shapes of their flex.
func withShapes(boards []Board) []Board {
	t := boards[0].Tree
	works := make([]work, len(t.Bends))
	for i := range t.Bends {
		works[i] = workOf(t, i)
	}
	var out []Board
	for _, b := range boards {
		s := &shapes{works: works}
		for i := range t.Bends {
			s.stands = append(s.stands, works[i].drawn.Judged(b.angle(&t.Bends[i])))
		}
		b.shapes = s
		out = append(out, b)
	}
	return out
}

// workOf returns bend i as drawn, with its ends where its hinge is dynamic.
func workOf(t *fold.Tree, i int) work {
	w := work{drawn: bending.Of(t, i)}
	if h := &t.Design.Hinges[t.Bends[i].Hinge]; h.Use == "dynamic" {
		from, to := bending.Ends(h)
		w.from, w.to = w.drawn.Judged(from), w.drawn.Judged(to)
	}
	return w
}

// flex returns the flex of bend i in the posture judged.
func (b Board) flex(i int) bending.Flex {
	if b.shapes != nil {
		return b.shapes.stands[i]
	}
	return bending.Of(b.Tree, i).Judged(b.angle(&b.Tree.Bends[i]))
}

// work returns bend i as drawn, with its two ends where its hinge is dynamic.
func (b Board) work(i int) work {
	if b.shapes != nil {
		return b.shapes.works[i]
	}
	return workOf(b.Tree, i)
}

// tightest returns the end at which the flex has the smaller radius.
func (w work) tightest() bending.Flex {
	if w.to.Radius() <= w.from.Radius() {
		return w.to
	}
	return w.from
}
