package gltf

import lib "github.com/qmuntal/gltf"

// look is how a kind of body appears.
type look int

const (
	lookRigid look = iota
	lookFilm
	lookStiffener
	lookComponent
	lookEnclosure
	lookMark
	lookTag
	lookGap
	lookShort
	looks
)

// finish is a look in numbers. Colours are linear, as glTF wants them.
type finish struct {
	name      string
	color     [4]float64
	roughness float64
	glow      float64 // share of the colour that shows without light
	bothSides bool
}

// finishes: slate for rigid sections, pale film for flex, and a clear grey for what surrounds the board. Marks stand out
// by shape first; their deep red glows a little so that they are seen in the dark of a housing.
var finishes = [looks]finish{
	lookRigid:     {name: "rigid", color: [4]float64{0.066, 0.095, 0.121, 1}, roughness: 0.75},
	lookFilm:      {name: "film", color: [4]float64{0.82, 0.58, 0.27, 1}, roughness: 0.45},
	lookStiffener: {name: "stiffener", color: [4]float64{0.36, 0.39, 0.30, 1}, roughness: 0.7},
	lookComponent: {name: "component", color: [4]float64{0.30, 0.31, 0.34, 1}, roughness: 0.6},
	lookEnclosure: {name: "enclosure", color: [4]float64{0.47, 0.56, 0.62, 0.18}, roughness: 0.35, bothSides: true},
	lookMark:      {name: "contact mark", color: [4]float64{0.50, 0.02, 0.02, 1}, roughness: 0.9, glow: 0.4},
	lookTag:       {name: "contact tag", color: [4]float64{0.93, 0.92, 0.88, 1}, roughness: 0.9, glow: 0.3},
	lookGap:       {name: "gap", color: [4]float64{0.03, 0.16, 0.55, 1}, roughness: 0.9, glow: 0.5},
	lookShort:     {name: "gap too small", color: [4]float64{0.45, 0.02, 0.42, 1}, roughness: 0.9, glow: 0.5},
}

// material returns the number of the material for a look, adding it when it is first asked for.
func (b *builder) material(l look) int {
	if b.looks[l] == nil {
		b.doc.Materials = append(b.doc.Materials, finishes[l].material())
		b.looks[l] = lib.Index(len(b.doc.Materials) - 1)
	}
	return *b.looks[l]
}

func (f finish) material() *lib.Material {
	m := &lib.Material{
		Name:        f.name,
		DoubleSided: f.bothSides,
		PBRMetallicRoughness: &lib.PBRMetallicRoughness{
			BaseColorFactor: &f.color,
			MetallicFactor:  lib.Float(0),
			RoughnessFactor: lib.Float(f.roughness),
		},
	}
	for i := range m.EmissiveFactor {
		m.EmissiveFactor[i] = f.glow * f.color[i]
	}
	if f.color[3] < 1 {
		m.AlphaMode = lib.AlphaBlend
	}
	return m
}
