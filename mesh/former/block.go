package former

import (
	"fmt"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
	"foldfit/mesh"
)

// Block is a bending block. The mesh stands on z = 0, one closed body.
type Block struct {
	Spec
	Mesh    mesh.Mesh
	Written bool // its name is engraved
}

// Build returns the block of a spec. The nose is a prism whose edges lie on the cylinder of the forming radius and whose faces lie
// at most chord mm inside of it. The writing (name, angle, radius; on a bar as much as there is room for) is engraved 0.4 mm deep
// into a face that looks up.
func Build(s Spec, pen Pen, chord float64) (Block, error) {
	p := s.profile(chord)
	var layers []layer
	var letters [][]flat.Pt
	if s.Style == Base {
		layers, letters = s.onBase(p, pen)
	} else {
		layers, letters = s.upright(p, pen)
	}
	m, err := stack(layers)
	if err != nil {
		return Block{}, fmt.Errorf("former:%s: %w", s.Name, err)
	}
	m.Name, m.Chord = "former:"+s.Name, chord
	return Block{s, m, letters != nil}, m.Check()
}

// layer is a slab of a block between two heights: counter-clockwise loops around its material, clockwise ones around holes. Top
// holds the loops of the part of its upper face that no further layer covers.
type layer struct {
	from, to   float64
	loops, top [][]flat.Pt
}

// onBase returns the layers of a block with a base plate, and its writing on that.
func (s *Spec) onBase(p profile, pen Pen) ([]layer, [][]flat.Pt) {
	letters, frame := writing(pen, s.lines(), footWriting)
	outline, at := plate(box(p.stem), frame)
	letters = shifted(letters, at)
	surface := append([][]flat.Pt{outline}, reversed(letters)...)
	layers := []layer{
		{from: 0, to: base - groove, loops: [][]flat.Pt{outline}, top: letters},
		{from: base - groove, to: base, loops: surface, top: append(slices.Clone(surface), reversed([][]flat.Pt{p.stem})...)},
	}
	return append(layers, s.pillars(p, base, s.floor()+s.Width+margin, nil)...), letters
}

// upright returns the layers of a block that stands on its own end, and its writing on the other.
func (s *Spec) upright(p profile, pen Pen) ([]layer, [][]flat.Pt) {
	letters := onto(p.page, p.right, pen, s.lines())
	if letters == nil {
		letters = onto(p.page, p.right, pen, s.lines()[:1])
	}
	return s.pillars(p, 0, s.floor()+s.Width+margin, letters), letters
}

// pillars returns the layers of stem, nose and finger between two heights, with writing on the upper end.
func (s *Spec) pillars(p profile, from, to float64, letters [][]flat.Pt) []layer {
	outlines := [][]flat.Pt{p.body}
	var layers []layer
	if s.Slot > 0 {
		layers = []layer{{from: from, to: s.floor(), loops: [][]flat.Pt{p.stem}, top: [][]flat.Pt{p.slot}}}
		from, outlines = s.floor(), append(outlines, p.finger)
	}
	if letters == nil {
		return append(layers, layer{from: from, to: to, loops: outlines, top: outlines})
	}
	surface := append(slices.Clone(outlines), reversed(letters)...)
	return append(layers, layer{from: from, to: to - groove, loops: outlines, top: letters},
		layer{from: to - groove, to: to, loops: surface, top: surface})
}

// lines returns what is written on a block.
func (s *Spec) lines() []string {
	name := []rune(s.Name)
	if len(name) > 20 {
		name = append(name[:19], '…')
	}
	return []string{string(name), fmt.Sprintf("%.1f° R%.2f", s.Angle, s.Radius)}
}

// plate returns the outline of a base below a stem and where its writing begins: beside the stem, on the inside of the bend.
func plate(stem flat.Box, frame flat.Box) (outline []flat.Pt, at flat.Pt) {
	const edge, least = 3.0, 24.0
	middle := stem.Min.Mid(stem.Max)
	wide := max(stem.Max.X-stem.Min.X, frame.Max.X, least-2*edge)/2 + edge
	low, high := stem.Min.Y-frame.Max.Y-2*edge, stem.Max.Y+edge
	low = min(low, high-least)
	outline = []flat.Pt{{X: middle.X - wide, Y: low}, {X: middle.X + wide, Y: low}, {X: middle.X + wide, Y: high}, {X: middle.X - wide, Y: high}}
	return outline, flat.Pt{X: middle.X - frame.Max.X/2, Y: stem.Min.Y - frame.Max.Y - edge}
}

// reversed returns loops run the other way.
func reversed(loops [][]flat.Pt) [][]flat.Pt {
	out := make([][]flat.Pt, len(loops))
	for i, l := range loops {
		out[i] = slices.Clone(l)
		slices.Reverse(out[i])
	}
	return out
}

// builder collects a mesh; equal points become one.
type builder struct {
	at map[mgl64.Vec3]int32
	m  mesh.Mesh
}

func (b *builder) point(p flat.Pt, z float64) int32 {
	v := mgl64.Vec3{p.X + 0, p.Y + 0, z}
	i, known := b.at[v]
	if !known {
		i = int32(len(b.m.Points))
		b.at[v] = i
		b.m.Points = append(b.m.Points, v)
	}
	return i
}

// face adds a level face, seen from above or from below.
func (b *builder) face(loops [][]flat.Pt, z float64, below bool) error {
	triangles, err := mesh.Triangulate(loops)
	if err != nil {
		return err
	}
	points := slices.Concat(loops...)
	for _, t := range triangles {
		i, j, k := b.point(points[t[0]], z), b.point(points[t[1]], z), b.point(points[t[2]], z)
		if below {
			j, k = k, j
		}
		b.m.Triangles = append(b.m.Triangles, [3]int32{i, j, k})
	}
	return nil
}

// stack returns the closed mesh of layers on each other, each within the one below.
func stack(layers []layer) (mesh.Mesh, error) {
	b := builder{at: map[mgl64.Vec3]int32{}}
	if err := b.face(layers[0].loops, layers[0].from, true); err != nil {
		return mesh.Mesh{}, err
	}
	for _, l := range layers {
		for _, loop := range l.loops {
			for i, p := range loop {
				q := loop[(i+1)%len(loop)]
				low, right, high, left := b.point(p, l.from), b.point(q, l.from), b.point(q, l.to), b.point(p, l.to)
				b.m.Triangles = append(b.m.Triangles, [3]int32{low, right, high}, [3]int32{low, high, left})
			}
		}
		if err := b.face(l.top, l.to, false); err != nil {
			return mesh.Mesh{}, err
		}
	}
	return b.m, nil
}
