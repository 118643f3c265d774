package draw

import "foldfit/fold/flat"

// Move returns the group shifted by d.
func (g Group) Move(d flat.Pt) Group {
	out := g
	out.Items = make([]Item, len(g.Items))
	for i, it := range g.Items {
		out.Items[i] = it.move(d)
	}
	if g.Clip != nil {
		out.Clip = &flat.Box{Min: g.Clip.Min.Add(d), Max: g.Clip.Max.Add(d)}
	}
	return out
}

func (it Item) move(d flat.Pt) Item {
	runs := make([]Run, len(it.Runs))
	for i, r := range it.Runs {
		runs[i] = Run{make([]flat.Edge, len(r.Edges)), r.Closed}
		for k, e := range r.Edges {
			e.P, e.Q, e.C = e.P.Add(d), e.Q.Add(d), e.C.Add(d)
			runs[i].Edges[k] = e
		}
	}
	it.Runs = runs
	if it.Text != nil {
		t := *it.Text
		t.At = t.At.Add(d)
		it.Text = &t
	}
	return it
}

// Window returns what a group shows inside a box: lines and areas are clipped at its border, writing that does not lie inside as
// a whole is left out, never cut. ok is false where nothing is left.
func (g Group) Window(f *Face, b flat.Box) (out Group, ok bool) {
	out = Group{ID: g.ID, Title: g.Title, Clip: &b}
	for _, it := range g.Items {
		box := it.Bounds(f)
		if it.Text != nil && inside(box, b) || it.Text == nil && box.Meets(b) {
			out.Items = append(out.Items, it)
		}
	}
	return out, len(out.Items) > 0
}

// Bounds returns the box about an item, without the width of its pen.
func (it Item) Bounds(f *Face) flat.Box {
	if it.Text != nil {
		w, h := f.Size(it.Text.Lines, it.Text.Size)
		top := it.Text.At.Y + Rise*it.Text.Size
		return flat.Box{Min: flat.Pt{X: it.Text.At.X, Y: top - h}, Max: flat.Pt{X: it.Text.At.X + w, Y: top}}
	}
	var all []flat.Edge
	for _, r := range it.Runs {
		all = append(all, r.Edges...)
	}
	return flat.Loop(all).Box()
}

func inside(a, b flat.Box) bool {
	return b.Min.X <= a.Min.X && a.Max.X <= b.Max.X && b.Min.Y <= a.Min.Y && a.Max.Y <= b.Max.Y
}
