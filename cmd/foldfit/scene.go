package main

import (
	"io"

	"foldfit/export/gltf"
	"foldfit/export/obj"
	"foldfit/export/stl"
	"foldfit/export/threemf"
	"foldfit/mesh"
)

// writeGLB writes board and enclosure in the housing's frame, or in the board's, with a mark at every contact and a line at
// every gap listed; it plays the sequence that leads there. Pieces that ride on the board stand where it has taken them; one
// that cannot be placed, which a check says, is left out.
func (s *shape) writeGLB(w io.Writer, boardFrame bool) error {
	return gltf.Write(w, gltf.Scene{Assembly: s.assembly, Walls: s.walls, Gaps: s.gaps, Program: s.program(), State: s.state,
		BoardFrame: boardFrame, Version: version})
}

// boardAlone returns the board's meshes in the housing's frame, or in the board's.
func (s *shape) boardAlone(boardFrame bool) []mesh.Mesh {
	meshes := make([]mesh.Mesh, len(s.assembly.Bodies))
	place := s.folded.Tree.HousingFromBoard()
	if s.state != nil {
		place = s.state.HousingFromBoard
	}
	for i, b := range s.assembly.Bodies {
		meshes[i] = b.Mesh
		if !boardFrame {
			meshes[i] = b.Mesh.Place(place)
		}
	}
	return meshes
}

// writeSTL writes the board alone as triangles.
func (s *shape) writeSTL(w io.Writer, boardFrame bool) error {
	return stl.Write(w, s.boardAlone(boardFrame))
}

// write3MF writes the board alone, an object for each body.
func (s *shape) write3MF(w io.Writer, boardFrame bool) error {
	return threemf.Write(w, s.boardAlone(boardFrame))
}

// writeOBJ writes the board alone, an object for each body.
func (s *shape) writeOBJ(w io.Writer, boardFrame bool) error {
	return obj.Write(w, s.boardAlone(boardFrame))
}
