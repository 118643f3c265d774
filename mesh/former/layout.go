package former

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// Sizes of the plate that blocks are laid out on, mm.
const (
	rowLength = 200.0
	apart     = 5.0
)

// Layout returns the blocks' meshes beside each other on one plate, z = 0 the bed, in rows from the origin on, 5 mm apart, a row up to
// 200 mm long where a block is not longer by itself.
func Layout(blocks []Block) []mesh.Mesh {
	out := make([]mesh.Mesh, len(blocks))
	x, y, row := 0.0, 0.0, 0.0
	for i, b := range blocks {
		low, high := b.Mesh.Box()
		size := high.Sub(low)
		if x > 0 && x+size[0] > rowLength {
			x, y, row = 0, y+row+apart, 0
		}
		out[i] = b.Mesh.Place(mgl64.Translate3D(x-low[0], y-low[1], 0))
		x, row = x+size[0]+apart, max(row, size[1])
	}
	return out
}
