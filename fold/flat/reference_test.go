package flat

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
)

// polygonOf returns a piece with its arcs cut into chords as a polygon of the library that serves as reference.
func polygonOf(piece Region, chord float64) geom.Geometry {
	var rings [][]float64
	for _, l := range piece {
		var ring []float64
		for _, p := range l.Points(chord) {
			ring = append(ring, p.X, p.Y)
		}
		rings = append(rings, append(ring, ring[0], ring[1]))
	}
	return geom.NewPolygonXY(rings...).AsGeometry()
}

// TestOverlayAgainstReference compares areas with those of a port of the JTS overlay, which knows no arcs: polygons agree to
// rounding, arcs to the area between them and their chords.
func TestOverlayAgainstReference(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 1))
	rounds := 12
	if testing.Short() {
		rounds = 3
	}
	const chord = 1e-3
	polygons, arcs, refused := 0, 0, 0
	for _, sa := range sources {
		for _, sb := range sources {
			for range rounds {
				a, b := sa.make(r), sb.make(r)
				if a == nil || b == nil {
					continue
				}
				ga, gb := polygonOf(a, chord), polygonOf(b, chord)
				common, err1 := geom.Intersection(ga, gb)
				rest, err2 := geom.Difference(ga, gb)
				if err1 != nil || err2 != nil {
					refused++ // chords of touching arcs may cross
					continue
				}
				tol := 1e-9 * (a.Area() + b.Area())
				if curved := arcLen(a) + arcLen(b); curved > 0 {
					tol += chord * curved
					arcs++
				} else {
					polygons++
				}
				if sa.name == "sliver" || sb.name == "sliver" {
					tol += 2 * Snap * lenOf(a)
				}
				both, only := areaOf(Intersect(a, b)), areaOf(Subtract(a, b))
				if math.Abs(both-common.Area()) > tol || math.Abs(only-rest.Area()) > tol {
					t.Fatalf("%s and %s: common %.12f, reference %.12f; rest %.12f, reference %.12f; allowed %g\n%s\n%s",
						sa.name, sb.name, both, common.Area(), only, rest.Area(), tol, dump(a), dump(b))
				}
			}
		}
	}
	if polygons < 10*rounds || arcs < 30*rounds || refused > (polygons+arcs)/20 {
		t.Errorf("%d pairs of polygons, %d with arcs, %d refused by the reference", polygons, arcs, refused)
	}
}

// arcLen returns the length of the arcs of r.
func arcLen(r Region) float64 {
	sum := 0.0
	for _, e := range r.Edges() {
		if e.IsArc() {
			sum += e.Len()
		}
	}
	return sum
}

// TestPiecesAgainstReference demands that what comes out of overlays of polygons is valid for the reference too: simple rings,
// holes inside, touching in points only, interior connected.
func TestPiecesAgainstReference(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 2))
	n := 0
	for range 800 {
		a, b := holed(r, box(0, 0, 8, 8), 4), sources[[]int{0, 2, 5, 6, 7}[r.IntN(5)]].make(r)
		if b == nil || arcLen(a)+arcLen(b) > 0 {
			continue
		}
		for _, p := range append(Intersect(a, b), Subtract(a, b)...) {
			n++
			if err := polygonOf(p, 1).Validate(); err != nil {
				t.Fatalf("%v:\n%s\nfrom\n%s\n%s", err, dump(p), dump(a), dump(b))
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d pieces", n)
	}
}
