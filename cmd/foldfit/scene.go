package main

import (
	"foldfit/export/gltf"
	"foldfit/mesh"
)

// scene returns what a GLB file shows; contacts are marked only where marks says so.
func (r *results) scene(boardFrame, marks bool) gltf.Scene {
	s := gltf.Scene{Assembly: r.assembly, Walls: r.walls, BoardFrame: boardFrame, Version: version}
	if marks {
		s.Gaps = r.Gaps
	}
	return s
}

// meshes returns the meshes of the board's bodies in the housing's frame, or in the board's.
func (r *results) meshes(boardFrame bool) []mesh.Mesh {
	out := make([]mesh.Mesh, len(r.assembly.Bodies))
	place := r.Tree.HousingFromBoard()
	for i, b := range r.assembly.Bodies {
		out[i] = b.Mesh
		if !boardFrame {
			out[i] = b.Mesh.Moved(place)
		}
	}
	return out
}
