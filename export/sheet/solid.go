package sheet

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/mesh"
	"foldfit/mesh/clash"
)

// chord is how far (mm) the meshes that hide lines, and that sections cut, may be from the true surfaces.
const chord = 0.005

// solid is the folded board with its surroundings, in the housing's frame. Flex that is formed free has its free shape, as gaps are
// measured to it.
type solid struct {
	folded *fold.Folded
	motion mgl64.Mat4  // board to housing
	bodies []mesh.Mesh // in the order of the tree's
	walls  []mesh.Mesh
	seams  [][]seam // of the walls; nil before one is drawn
}

// shape makes the folded board's meshes; without a folded shape there are none.
func (p *page) shape() error {
	if p.run.Folded == nil {
		return nil
	}
	hinges := p.run.Tree.Design.Hinges
	form, _ := bending.Relax(p.run.Folded, func(h int) bool { return hinges[h].Formed == "free" })
	a, err := mesh.Skin(form, chord)
	if err != nil {
		return err
	}
	s := &solid{folded: form, motion: p.run.Tree.HousingFromBoard()}
	for i := range a.Bodies {
		s.bodies = append(s.bodies, a.Bodies[i].Mesh.Place(s.motion))
	}
	for _, w := range p.walls {
		if stands, err := clash.StandWall(p.run.Folded, w); err == nil { // one that cannot stand is a finding of the check
			m := stands.Mesh
			if w.Piece != nil {
				m.Name = string(fold.KindEnclosure) + ":" + w.Piece.Name
			}
			s.walls = append(s.walls, m)
		}
	}
	p.solid = s
	p.cuts = p.worstGaps()
	p.shots = [4]*picture{p.picture("front", fromFront, true), p.picture("top", fromTop, true), p.picture("right side", fromRight, true),
		p.picture("isometric", isometric, false)}
	return nil
}
