package main

import (
	"io"

	"foldfit/export/gltf"
	"foldfit/export/stl"
	"foldfit/mesh"
	"foldfit/mesh/clash"
)

// writeGLB writes board and enclosure in the housing's frame, or in the board's, with a mark at every contact measured.
// Pieces that ride on the board stand where it has taken them; one that cannot be placed, which a check says, is left out.
func (s *shape) writeGLB(w io.Writer, boardFrame bool) error {
	var walls []clash.Wall
	for _, wall := range s.walls {
		if stands, err := clash.StandWall(s.folded, wall); err == nil {
			walls = append(walls, stands)
		}
	}
	return gltf.Write(w, gltf.Scene{Assembly: s.assembly, Walls: walls, Gaps: s.gaps, BoardFrame: boardFrame, Version: version})
}

// writeSTL writes the board alone in the housing's frame, or in the board's.
func (s *shape) writeSTL(w io.Writer, boardFrame bool) error {
	meshes := make([]mesh.Mesh, len(s.assembly.Bodies))
	place := s.folded.Tree.HousingFromBoard()
	for i, b := range s.assembly.Bodies {
		meshes[i] = b.Mesh
		if !boardFrame {
			meshes[i] = b.Mesh.Place(place)
		}
	}
	return stl.Write(w, meshes)
}
