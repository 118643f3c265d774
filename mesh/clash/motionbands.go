package clash

import (
	"math"

	"foldfit/fold"
	"foldfit/mesh/proximity"
)

// bandCount is into how many bands a bend is divided where its gap to a neighbour is followed.
const bandCount = 6

// band is a part of an actor that moves slower than the whole: the triangles of a bend between stations, each band half as
// long as the next, the shortest at the tangent line that stands still.
type band struct {
	surface *proximity.Surface
	box     box
	speed   float64 // what its own curving adds, mm per unit of progress
}

// lowOfBands bounds the gaps of an interval as measure does, but with a speed for each band of a bend: beside its tangent line
// a bend hardly moves, so that bodies which touch it there, or stand close, need not be looked at every few microns.
func (s *search) lowOfBands(p *spell, n *instant) float64 {
	t, goal := p.track, s.goal(p)
	half := (p.to - p.from) / 2
	a, b := n.housingFromOwn(t.a), n.housingFromOwn(t.b)
	bFromA := fold.Invert(b).Mul4(a)
	low := goal
	for _, part := range s.partsAt(n, t, nil) {
		bandsA, speedA := n.bandsOf(t.a, t.linksA, part.a)
		bandsB, speedB := n.bandsOf(t.b, t.linksB, part.b)
		for i := range bandsA {
			moved := placedBox(&bandsA[i].box, bFromA)
			for k := range bandsB {
				moves := (speedA + bandsA[i].speed + speedB + bandsB[k].speed) * half
				limit := goal + moves + t.b.grows
				if math.Sqrt(moved.distance2(&bandsB[k].box)) >= limit {
					continue
				}
				q := proximity.NewQuery(bandsA[i].surface, bandsB[k].surface)
				q.Place(a, b)
				if near, ok := q.Distance(limit); ok {
					low = min(low, near.D-t.b.grows-moves)
				}
			}
		}
	}
	return low
}

// banded reports whether one of the bodies is a bend that curves in the step, and all but its own curving moves both so little
// that bands may tell more: no farther than spare.
func (s *search) banded(p *spell, n *instant, spare float64) bool {
	t := p.track
	a, b := s.curves(t.linksA), s.curves(t.linksB)
	if t.turned || !a && !b {
		return false
	}
	linksA, linksB := t.linksA, t.linksB
	if a {
		linksA = linksA[1:]
	}
	if b {
		linksB = linksB[1:]
	}
	return (n.speed(t.a, linksA)+n.speed(t.b, linksB))*(p.to-p.from)/2 <= spare
}

// curves reports whether the links begin with a bend's own body that curves in the step.
func (s *search) curves(links []link) bool {
	return len(links) > 0 && links[0].kind == linkSelf && s.rate(s.step, s.tree.Bends[links[0].bend].Hinge) > 0
}

// bandsOf returns the bands of an actor of which the part form is compared, and the speed of all else on its way.
func (n *instant) bandsOf(a *actor, links []link, form *shape) (bands []band, speed float64) {
	if len(links) > 0 && links[0].kind == linkSelf && a.bends() && form == n.form(a) {
		return n.bands(a, &links[0]), n.speed(a, links[1:])
	}
	b := form.bounds()
	return []band{{surface: form.surface(), box: b}}, n.speed(a, links)
}

// bands returns those of a bend; they are made when first asked for.
func (n *instant) bands(a *actor, l *link) []band {
	b := &n.bent[a.bend]
	side := &b.bands[0]
	if l.back {
		side = &b.bands[1]
	}
	side.once.Do(func() { side.list = makeBands(n, a, l) })
	return side.list
}

// makeBands divides a bend's triangles by their farthest station from the tangent line that stands still.
func makeBands(n *instant, a *actor, l *link) []band {
	bend, m := &n.w.tree.Bends[l.bend], n.as(a)
	var tris [bandCount][][3]int32
	var arcs [bandCount]float64
	for _, t := range m.mesh.Triangles {
		arc := 0.0
		for _, k := range t {
			s := a.skin.Stations[a.skin.Station[k]]
			if l.back {
				s = bend.Width - s
			}
			arc = max(arc, math.Abs(s))
		}
		i := 0
		for i < bandCount-1 && arc <= bend.Width/float64(int(2)<<i) {
			i++
		}
		tris[i], arcs[i] = append(tris[i], t), max(arcs[i], arc)
	}
	var out []band
	for i := range tris {
		if s := newShape(m.points, tris[i], false); len(tris[i]) > 0 {
			out = append(out, band{s.surface(), s.bounds(), bendPace(bend, n.w.rate(n.step, bend.Hinge), arcs[i], reachOf(bend)).speed})
		}
	}
	return out
}
