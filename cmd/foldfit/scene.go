package main

import (
	"io"

	"foldfit/export/gltf"
	"foldfit/export/stl"
	"foldfit/mesh"
)

// writeGLB writes board and enclosure in the housing's frame, or in the board's, with a mark at every contact measured.
func (r *results) writeGLB(w io.Writer, boardFrame bool) error {
	return gltf.Write(w, gltf.Scene{Assembly: r.assembly, Walls: r.walls, Gaps: r.Gaps, BoardFrame: boardFrame, Version: version})
}

// writeSTL writes the board alone in the housing's frame, or in the board's.
func (r *results) writeSTL(w io.Writer, boardFrame bool) error {
	meshes := make([]mesh.Mesh, len(r.assembly.Bodies))
	place := r.Tree.HousingFromBoard()
	for i, b := range r.assembly.Bodies {
		meshes[i] = b.Mesh
		if !boardFrame {
			meshes[i] = b.Mesh.Moved(place)
		}
	}
	return stl.Write(w, meshes)
}
