package flat

// Intersect returns the pieces of the area common to a and b. Arcs stay arcs. Edges within Snap of each other count as
// one, so an overlap not deeper than Snap is none.
func Intersect(a, b Region) []Region { return overlay(a, b, false) }

// Subtract returns the pieces of a that are not in b; see Intersect.
func Subtract(a, b Region) []Region { return overlay(a, b, true) }

// overlay splits both borders where they meet, keeps the pieces that bound the wanted area and chains them.
func overlay(a, b Region, minus bool) []Region {
	if !a.Box().Grow(Snap).Meets(b.Box()) {
		if minus {
			return piecesOf(a)
		}
		return nil
	}
	n := newNodes()
	la, lb := splitBoth(n, a, b)
	twins := map[[2]int][]link{}
	for _, l := range lb {
		key := [2]int{min(l.from, l.to), max(l.from, l.to)}
		twins[key] = append(twins[key], l)
	}
	var keep []link
	taken := map[[2]int][]Pt{} // borders of a that coincide with one of b
	inB := newProbe(b, lb)
	for _, l := range la {
		if twin, ok := findTwin(twins, l); ok {
			same := twin.from == l.from
			if same != minus {
				keep = append(keep, l)
			}
			key := [2]int{min(l.from, l.to), max(l.from, l.to)}
			taken[key] = append(taken[key], l.Mid())
			inB.forget()
			continue
		}
		if inB.at(l) != minus {
			keep = append(keep, l)
		}
	}
	inA := newProbe(a, la)
	for _, l := range lb {
		if isTaken(taken, l) {
			inA.forget()
			continue
		}
		if inA.at(l) {
			if minus {
				l = link{l.Rev(), l.to, l.from, l.tag}
			}
			keep = append(keep, l)
		}
	}
	return assemble(keep)
}

// splitBoth cuts the borders of a and b where they meet.
func splitBoth(n *nodes, a, b Region) (la, lb []link) {
	ea, eb := a.Edges(), b.Edges()
	atA, atB := make([][]Pt, len(ea)), make([][]Pt, len(eb))
	pairs(ea, eb, func(i, j int) {
		ps := meet(ea[i], eb[j])
		atA[i] = append(atA[i], ps...)
		atB[j] = append(atB[j], ps...)
	})
	for i, e := range ea {
		la = n.split(la, e, atA[i], 0)
	}
	for j, e := range eb {
		lb = n.split(lb, e, atB[j], 1)
	}
	return la, lb
}

// findTwin returns the link of the other border that runs along l, either way.
func findTwin(twins map[[2]int][]link, l link) (link, bool) {
	mid := l.Mid()
	for _, t := range twins[[2]int{min(l.from, l.to), max(l.from, l.to)}] {
		if t.Mid().Dist(mid) <= 4*Snap {
			return t, true
		}
	}
	return link{}, false
}

func isTaken(taken map[[2]int][]Pt, l link) bool {
	mid := l.Mid()
	for _, p := range taken[[2]int{min(l.from, l.to), max(l.from, l.to)}] {
		if p.Dist(mid) <= 4*Snap {
			return true
		}
	}
	return false
}

// probe answers whether links of one border lie inside a region; it asks again only after a node on the region's border.
type probe struct {
	region Region
	border map[int]bool
	last   int // node where the last answer ended, -1 for none
	inside bool
}

func newProbe(r Region, links []link) *probe {
	p := &probe{region: r, border: make(map[int]bool, len(links)), last: -1}
	for _, l := range links {
		p.border[l.from] = true
	}
	return p
}

func (p *probe) forget() { p.last = -1 }

func (p *probe) at(l link) bool {
	if p.last != l.from || p.border[l.from] {
		p.inside = p.region.Contains(l.Mid())
	}
	p.last = l.to
	return p.inside
}

// assemble chains links to pieces; borders that do not close (only possible for input that is no region) give nothing.
func assemble(links []link) []Region {
	loops, err := chain(links)
	if err != nil {
		return nil
	}
	var out []Region
	for _, p := range pieces(loops) {
		out = append(out, regionOf(p))
	}
	return out
}

// piecesOf returns the connected pieces of r.
func piecesOf(r Region) []Region {
	n := newNodes()
	var links []link
	for _, e := range r.Edges() {
		links = n.split(links, e, nil, 0)
	}
	return assemble(links)
}
