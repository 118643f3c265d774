package main

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
	"foldfit/mesh"
)

// solid collects triangles and welds their points.
type solid struct {
	mesh.Mesh
	at map[mgl64.Vec3]int32
}

func newSolid(name string) *solid {
	return &solid{Mesh: mesh.Mesh{Name: name}, at: map[mgl64.Vec3]int32{}}
}

func (s *solid) point(p mgl64.Vec3) int32 {
	for i := range p {
		p[i] = math.Round(p[i]*1e4)/1e4 + 0 // 0.1 um: what the file can hold
	}
	if i, ok := s.at[p]; ok {
		return i
	}
	s.at[p] = int32(len(s.Points))
	s.Points = append(s.Points, p)
	return s.at[p]
}

func (s *solid) triangle(a, b, c mgl64.Vec3) {
	t := [3]int32{s.point(a), s.point(b), s.point(c)}
	if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
		s.Triangles = append(s.Triangles, t)
	}
}

// layer is a slab of a stack: a region between two heights.
type layer struct {
	z0, z1 float64
	area   flat.Region
}

// stack adds slabs that lie on each other, from the bottom up, as one closed body. Where a border of one slab meets that of
// the next, both must have a corner.
func (s *solid) stack(chord float64, layers ...layer) error {
	var below flat.Region
	for i := 0; i <= len(layers); i++ {
		var here flat.Region
		z := layers[max(i-1, 0)].z1
		if i < len(layers) {
			here, z = layers[i].area, layers[i].z0
		}
		if err := s.cap(flat.Subtract(below, here), z, true, chord); err != nil {
			return err
		}
		if err := s.cap(flat.Subtract(here, below), z, false, chord); err != nil {
			return err
		}
		below = here
	}
	for _, l := range layers {
		for _, loop := range l.area {
			ps := loop.Points(chord)
			for i, p := range ps {
				q := ps[(i+1)%len(ps)]
				s.triangle(up(p, l.z0), up(q, l.z0), up(q, l.z1))
				s.triangle(up(p, l.z0), up(q, l.z1), up(p, l.z1))
			}
		}
	}
	return nil
}

// cap adds horizontal faces over the regions, seen from above or from below.
func (s *solid) cap(regions []flat.Region, z float64, fromAbove bool, chord float64) error {
	for _, r := range regions {
		var loops [][]flat.Pt
		var all []flat.Pt
		for _, l := range r {
			loops = append(loops, l.Points(chord))
			all = append(all, l.Points(chord)...)
		}
		ts, err := mesh.Triangulate(loops)
		if err != nil {
			return err
		}
		for _, t := range ts {
			if !fromAbove {
				t[1], t[2] = t[2], t[1]
			}
			s.triangle(up(all[t[0]], z), up(all[t[1]], z), up(all[t[2]], z))
		}
	}
	return nil
}

func up(p flat.Pt, z float64) mgl64.Vec3 { return mgl64.Vec3{p.X, p.Y, z} }

// turn adds the body swept when a closed profile (radius, height), run counter-clockwise, goes round the z axis in n steps.
func (s *solid) turn(n int, profile ...[2]float64) {
	at := func(p [2]float64, k int) mgl64.Vec3 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k%n) / float64(n))
		return mgl64.Vec3{p[0] * cos, p[0] * sin, p[1]}
	}
	for i, p := range profile {
		q := profile[(i+1)%len(profile)]
		for k := range n {
			s.triangle(at(p, k), at(p, k+1), at(q, k+1))
			s.triangle(at(p, k), at(q, k+1), at(q, k))
		}
	}
}
