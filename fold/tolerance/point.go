package tolerance

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Point is a point fixed to the board or to something that rides on it, in flat coordinates (mm). It moves with a flat, or
// with the tangent plane at a station of a bend. What stands in the housing is fixed to the base, which never moves.
type Point struct {
	Flat    int     // the flat that carries it, -1 where a bend does
	Bend    int     // the bend, -1 where a flat carries it
	Station float64 // arc length of the tangent plane that carries it, mm from the bend's near tangent line
	Stays   bool    // that plane keeps its station when the hinge line moves over the material (a piece that follows a hinge)
	At      flat.Pt
	Z       float64
}

// ErrFree says that a point lies on flex that is left to its free shape: its motion has no closed form.
var ErrFree = errors.New("a bend in its free shape, whose motion is not known")

// OnBody returns the point of body number i that stands at a place in board coordinates, which should lie on the body: a
// place off it by the chord error of a mesh gives the point of the material there. Exact to rounding; of a bend at 360
// degrees both ends stand at one place, and the near one is taken. A bend in its free shape is an error: its motion has
// no closed form.
func OnBody(f *fold.Folded, i int, place mgl64.Vec3) (Point, error) {
	t := f.Tree
	if i < 0 || i >= len(t.Bodies) {
		return Point{}, fmt.Errorf("there is no body %d", i)
	}
	switch b := &t.Bodies[i]; {
	case b.Bend >= 0 && f.Free(b.Bend) != nil:
		return Point{}, fmt.Errorf("%s lies in %w", b.Name, ErrFree)
	case b.Kind == fold.KindBend:
		return inBend(f, b.Bend, place), nil
	case b.Bend >= 0:
		s := t.Bends[b.Bend].Station(b.At)
		return carried(Point{Flat: -1, Bend: b.Bend, Station: s}, f.BoardFromStation(b.Bend, s), place), nil
	default:
		return carried(Point{Flat: b.Flat, Bend: -1}, f.BoardFromFlat(b.Flat), place), nil
	}
}

// OnPiece returns the point of an enclosure piece that stands at a place in board coordinates: on the flat or in the bend that
// it moves with, or fixed to the base. A piece that rides on nothing there is, or in a bend in its free shape, is an error.
func OnPiece(f *fold.Folded, p *fold.Piece, place mgl64.Vec3) (Point, error) {
	t := f.Tree
	m, err := f.BoardFromPiece(p)
	if err != nil {
		return Point{}, err
	}
	out := Point{Bend: -1}
	switch {
	case p.On != "":
		out.Flat = t.FlatOfSection(p.On)
	case p.Follows != nil:
		bend := firstBend(t, p.Follows.Hinge)
		if bend < 0 {
			out.Flat = flatLike(f, m)
			break
		}
		if share := p.Follows.Share; f.Free(bend) != nil && share > 0 && share < 1 {
			return Point{}, fmt.Errorf("%s follows %w", p.Name, ErrFree)
		}
		out = Point{Flat: -1, Bend: bend, Station: p.Follows.Share * t.Bends[bend].Width, Stays: true}
	}
	return carried(out, m, place), nil
}

// Named returns the point of the body of that name ("section:main", "enclosure:tray") at a place in the housing's frame; see
// OnBody and OnPiece. A name that nothing bears is an error.
func Named(f *fold.Folded, name string, place mgl64.Vec3) (Point, error) {
	board := fold.Apply(fold.Invert(f.Tree.HousingFromBoard()), place)
	for i := range f.Tree.Bodies {
		if f.Tree.Bodies[i].Name == name {
			return OnBody(f, i, board)
		}
	}
	if p := pieceOf(f.Tree.Design, name); p != nil {
		return OnPiece(f, p, board)
	}
	return Point{}, fmt.Errorf("no body is called %q", name)
}

// pieceOf returns the enclosure piece with that prefixed name, nil for none.
func pieceOf(d *fold.Design, name string) *fold.Piece {
	for i := range d.Enclosure {
		if string(fold.KindEnclosure)+":"+d.Enclosure[i].Name == name {
			return &d.Enclosure[i]
		}
	}
	return nil
}

// firstBend returns the first bend of the named hinge, -1 for none.
func firstBend(t *fold.Tree, hinge string) int {
	for i, h := range t.Design.Hinges {
		if h.Name == hinge && len(t.Hinges[i].Bends) > 0 {
			return t.Hinges[i].Bends[0]
		}
	}
	return -1
}

// flatLike returns the first flat that stands at a motion: the one that a piece about a hinge without a bend moves with.
func flatLike(f *fold.Folded, boardFromFlat mgl64.Mat4) int {
	for i := range f.Tree.Flats {
		if f.BoardFromFlat(i) == boardFromFlat {
			return i
		}
	}
	return 0
}

// carried sets the flat coordinates of a point that a motion takes to a place.
func carried(p Point, boardFromFlat mgl64.Mat4, place mgl64.Vec3) Point {
	q := fold.Apply(fold.Invert(boardFromFlat), place)
	p.At, p.Z = flat.Pt{X: q[0], Y: q[1]}, q[2]
	return p
}

// inBend returns the material point of bend i at a place: GEOMETRY F2 solved for it. With curvature k, the place at X across
// from the near tangent line and Z over the flat's neutral surface has turned by the direction of (1 - kZ, kX), and lies
// (1 - |that|)/k over the neutral surface, written without loss of digits as k vanishes.
func inBend(f *fold.Folded, i int, place mgl64.Vec3) Point {
	b := &f.Tree.Bends[i]
	q := fold.Apply(fold.Invert(f.BoardFromFlat(b.Parent)), place)
	p := flat.Pt{X: q[0], Y: q[1]}
	x, z := b.Station(p), q[2]-b.Height
	k := f.Angles[b.Hinge] * (math.Pi / 180) / b.Width
	up, across := 1-k*z, k*x
	r := math.Hypot(up, across)
	s, h := x, (2*z-k*(x*x+z*z))/(1+r)
	if k != 0 {
		s = wound(math.Atan2(across, up)/k, math.Abs(2*math.Pi/k), b.Width)
	}
	return Point{Flat: -1, Bend: i, Station: s, At: p.Add(b.Dir.Mul(s - x)), Z: b.Height + h}
}

// wound returns s, or s one turn further or back, whichever lies nearest to the bend area from 0 to width.
func wound(s, turn, width float64) float64 {
	best, least := s, math.Inf(1)
	for _, c := range []float64{s, s - turn, s + turn} {
		if off := max(-c, c-width, 0); off < least-1e-9 {
			best, least = c, off
		}
	}
	return best
}
