package gltf

import (
	"fmt"
	"math"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/fold"
	"foldfit/mesh/clash"
)

// Contacts are marked by shape, not by colour alone: the edges of an octahedron around the place, and a pole from it to a
// tag above everything, which carries the contact's number on its four sides. Numbers count the contacts from 1 in the
// order of Scene.Gaps.

// mostMarks is how many contacts are marked, the first ones; beyond, the tags would only hide each other. The node
// `contacts` tells how many there are.
const mostMarks = 99

// addContacts marks the contacts of the scene.
func (b *builder) addContacts() error {
	var hits []*clash.Gap
	for i := range b.Gaps {
		if b.Gaps[i].Rule == "contact" {
			hits = append(hits, &b.Gaps[i])
		}
	}
	if len(hits) == 0 {
		return nil
	}
	marked := hits[:min(len(hits), mostMarks)]
	root := &lib.Node{Name: "contacts", Extras: extras{"count": len(hits), "marked": len(marked)}}
	stand(root, motion(b.sceneFromHousing))
	parent := b.addNode(noNode, root)
	if b.Program != nil {
		b.marks = append(b.marks, parent)
	}
	box := b.bounds()
	for i, g := range marked {
		if err := b.addMark(parent, i, g, box); err != nil {
			return err
		}
	}
	return nil
}

// addMark adds the mark of contact i, in the housing's frame.
func (b *builder) addMark(parent, i int, g *clash.Gap, box bounds) error {
	number := i + 1
	name := fmt.Sprintf("contact-%d", number)
	lines, plate := mark(g, number, box)
	dark, err := checked(name, lines.points, lines.triangles, nil)
	if err != nil {
		return err
	}
	pale, err := checked(name, plate.points, plate.triangles, nil)
	if err != nil {
		return err
	}
	m := b.addMesh(name, b.primitive(dark, lookMark), b.primitive(pale, lookTag))
	b.addNode(parent, &lib.Node{Name: name, Mesh: lib.Index(m), Extras: extras{
		"kind": "contact", "number": number, "between": g.Between, "depth_mm": tidy(-g.Gap),
	}})
	return nil
}

// bounds is the box around the board and its enclosure, in the housing's frame.
type bounds struct{ low, high mgl64.Vec3 }

func (b *builder) bounds() bounds {
	inf := math.Inf(1)
	box := bounds{mgl64.Vec3{inf, inf, inf}, mgl64.Vec3{-inf, -inf, -inf}}
	for i := range b.Assembly.Bodies {
		for _, p := range b.Assembly.Bodies[i].Points {
			box.add(fold.Apply(b.moment.HousingFromBoard, p))
		}
	}
	for i := range b.Walls {
		housingFromPiece, there := b.standing(&b.Walls[i])
		for _, p := range b.Walls[i].Mesh.Points {
			if there {
				box.add(fold.Apply(housingFromPiece, p))
			}
		}
	}
	return box
}

func (b *bounds) add(p mgl64.Vec3) {
	for i := range 3 {
		b.low[i], b.high[i] = min(b.low[i], p[i]), max(b.high[i], p[i])
	}
}

// mark returns the lines of a mark and the plate of its tag, in mm. Sizes follow the scene's; neighbours' tags stand at
// different heights.
func mark(g *clash.Gap, number int, box bounds) (lines, plate bars) {
	size := box.high.Sub(box.low).Len()
	thin := size / 1000
	at := g.At[0].Add(g.At[1]).Mul(0.5)
	reach := max(size/60, -0.75*g.Gap)
	high := size / 30
	top := at
	top[2] = max(box.high[2], at[2]+reach) + high*(0.5+1.25*float64((number-1)%4))

	lines.octahedron(at, reach, thin)
	lines.bar(at.Add(mgl64.Vec3{0, 0, reach}), top, thin)
	text := strconv.Itoa(number)
	half := digitWidth*high*float64(len(text))/2 + thin
	plate.bar(top, top.Add(mgl64.Vec3{0, 0, high}), half)
	for side := range 4 {
		lines.digits(text, top, side, half, high, thin)
	}
	return lines, plate
}

// bars is a set of closed bars with square sections.
type bars struct {
	points    []mgl64.Vec3
	triangles [][3]int32
}

// barFaces are the sides of a bar whose corners 0 to 3 lie around its start and 4 to 7 around its end.
var barFaces = [12][3]int32{
	{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7},
	{0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7},
}

// bar adds a bar from p to q, half is half its side.
func (b *bars) bar(p, q mgl64.Vec3, half float64) {
	aside, across := crosswise(q.Sub(p))
	aside, across = aside.Mul(half), across.Mul(half)
	first := int32(len(b.points))
	for _, end := range []mgl64.Vec3{p, q} {
		b.points = append(b.points,
			end.Sub(aside).Sub(across), end.Add(aside).Sub(across), end.Add(aside).Add(across), end.Sub(aside).Add(across))
	}
	for _, t := range barFaces {
		b.triangles = append(b.triangles, [3]int32{first + t[0], first + t[1], first + t[2]})
	}
}

// octahedron adds the twelve edges of an octahedron about at.
func (b *bars) octahedron(at mgl64.Vec3, reach, thin float64) {
	ring := [4]mgl64.Vec3{{reach, 0, 0}, {0, reach, 0}, {-reach, 0, 0}, {0, -reach, 0}}
	for i, r := range ring {
		b.bar(at.Add(r), at.Add(ring[(i+1)%4]), thin)
		b.bar(at.Add(r), at.Add(mgl64.Vec3{0, 0, reach}), thin)
		b.bar(at.Add(r), at.Add(mgl64.Vec3{0, 0, -reach}), thin)
	}
}

// digitWidth is the advance of a digit as a share of its height.
const digitWidth = 0.7

// strokes are the lines that digits are made of, from (x, y) to (x, y) in half widths and half heights of a digit:
// top, middle, bottom, upper left, upper right, lower left, lower right.
var strokes = [7][4]float64{
	{-1, 1, 1, 1}, {-1, 0, 1, 0}, {-1, -1, 1, -1}, {-1, 0, -1, 1}, {1, 0, 1, 1}, {-1, -1, -1, 0}, {1, -1, 1, 0},
}

// digitStrokes names the strokes of each digit.
var digitStrokes = [10][]int{
	{0, 2, 3, 4, 5, 6}, {4, 6}, {0, 1, 2, 4, 5}, {0, 1, 2, 4, 6}, {1, 3, 4, 6},
	{0, 1, 2, 3, 6}, {0, 1, 2, 3, 5, 6}, {0, 4, 6}, {0, 1, 2, 3, 4, 5, 6}, {0, 1, 2, 3, 4, 6},
}

// digits writes a number on one side of a tag that stands on base: side 0 looks to the front (-y), the others follow
// counter-clockwise seen from above.
func (b *bars) digits(text string, base mgl64.Vec3, side int, half, high, thin float64) {
	right := [4]mgl64.Vec3{{1, 0, 0}, {0, 1, 0}, {-1, 0, 0}, {0, -1, 0}}[side]
	up := mgl64.Vec3{0, 0, 1}
	face := base.Add(right.Cross(up).Mul(half)).Add(up.Mul(high / 2))
	w, h := 0.2*high, 0.34*high
	for i, d := range text {
		at := face.Add(right.Mul(digitWidth * high * (float64(i) - float64(len(text)-1)/2)))
		for _, k := range digitStrokes[d-'0'] {
			s := strokes[k]
			b.bar(at.Add(right.Mul(s[0]*w)).Add(up.Mul(s[1]*h)), at.Add(right.Mul(s[2]*w)).Add(up.Mul(s[3]*h)), 1.5*thin)
		}
	}
}
