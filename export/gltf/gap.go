package gltf

import (
	"fmt"
	"math"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/mesh/clash"
)

// A gap that was measured is a bar from one nearest point to the other; one that breaks a rule also has a square frame
// around its middle, across the bar, and another colour. Contacts have marks of their own.

// addGaps draws the judged gaps of the scene, except contacts and seats that are as they should be. In the order of
// Scene.Gaps, as many as contacts are marked at most; the node `gaps` tells how many there are.
func (b *builder) addGaps() error {
	var list []*clash.Gap
	for i := range b.Gaps {
		if g := &b.Gaps[i]; g.Judged && g.Rule != "contact" && (g.Seat == "" || g.Rule != "") {
			list = append(list, g)
		}
	}
	if len(list) == 0 {
		return nil
	}
	drawn := list[:min(len(list), mostMarks)]
	root := &lib.Node{Name: "gaps", Extras: extras{"count": len(list), "drawn": len(drawn)}}
	stand(root, motion(b.sceneFromHousing))
	parent := b.addNode(noNode, root)
	b.marks = append(b.marks, parent)
	box := b.bounds()
	size := box.high.Sub(box.low).Len()
	for _, g := range drawn {
		if err := b.addGap(parent, g, size); err != nil {
			return err
		}
	}
	return nil
}

// addGap draws one gap, in the housing's frame.
func (b *builder) addGap(parent int, g *clash.Gap, size float64) error {
	name := gapName(g)
	line, l := gapLine(g, size), lookGap
	if g.Rule != "" {
		l = lookShort
	}
	s, err := checked(name, line.points, line.triangles, nil)
	if err != nil {
		return err
	}
	m := b.addMesh(name, b.primitive(s, l))
	b.addNode(parent, &lib.Node{Name: name, Mesh: lib.Index(m), Extras: gapExtras(g)})
	return nil
}

// gapName returns the label: "gap: A - B 0.41 mm", to 0.001 mm under 0.1 mm and as the report does with as many more
// decimals as tell the gap from the required one.
func gapName(g *clash.Gap) string {
	where := "gap"
	if g.Seat != "" {
		where = "gap at seat " + g.Seat
	}
	d := 2
	if a := math.Abs(tidy(g.Gap)); a > 0 && a < 0.1 {
		d = 3
	}
	for d < 6 && rounded(g.Gap, d) == rounded(g.Required, d) && tidy(g.Gap) != tidy(g.Required) {
		d++
	}
	return fmt.Sprintf("%s: %s - %s %s mm", where, g.Between[0], g.Between[1], rounded(g.Gap, d))
}

// rounded writes a number with so many decimals; no negative zero comes out.
func rounded(v float64, decimals int) string {
	unit := math.Pow(10, float64(decimals))
	return strconv.FormatFloat(math.Round(v*unit)/unit+0, 'f', decimals, 64)
}

// gapLine returns the bar of a gap, in mm, in a scene of the given size. It is never wider than half its length, but never
// so thin that nobody finds it; where both points are one, it is a cube around it.
func gapLine(g *clash.Gap, size float64) bars {
	var out bars
	p, q := g.At[0], g.At[1]
	middle, length := p.Add(q).Mul(0.5), q.Sub(p).Len()
	half := max(min(size/1000, length/4), size/4000)
	if length < 1e-6 {
		p, q = middle.Sub(mgl64.Vec3{0, 0, half}), middle.Add(mgl64.Vec3{0, 0, half})
	}
	out.bar(p, q, half)
	if g.Rule != "" {
		out.frame(middle, q.Sub(p), size/80, size/1500)
	}
	return out
}

// frame adds the four bars of a square around at, across a direction; reach is from its middle to its sides.
func (b *bars) frame(at, along mgl64.Vec3, reach, thin float64) {
	aside, across := crosswise(along)
	u, v := aside.Mul(reach), across.Mul(reach)
	corners := [4]mgl64.Vec3{at.Sub(u).Sub(v), at.Add(u).Sub(v), at.Add(u).Add(v), at.Sub(u).Add(v)}
	for i, c := range corners {
		b.bar(c, corners[(i+1)%4], thin)
	}
}

// crosswise returns two unit vectors at right angles to a direction and to each other, right-handed with it.
func crosswise(along mgl64.Vec3) (aside, across mgl64.Vec3) {
	along = along.Normalize()
	aside = mgl64.Vec3{1, 0, 0}
	if math.Abs(along[0]) > 0.9 {
		aside = mgl64.Vec3{0, 1, 0}
	}
	aside = along.Cross(aside).Cross(along).Normalize()
	return aside, along.Cross(aside)
}
