// Package gltf writes a folded board and its enclosure as one binary glTF 2.0 file (GLB). It knows glTF's axes, units and
// node tree; it does not know how a board is folded or meshed.
//
// Frames: the board's millimetres with z out of the top side become metres with y up, (x, y, z) -> (x, z, -y)/1000. The
// scene has a root node `board` that carries the placement into the housing's frame, a root node `housing` for the
// enclosure, and the skinned mesh of each bend, which glTF wants at the root.
//
// The node tree is the fold tree. Below `board` stands `flat:NAME` for each flat, its bodies below it as meshes in flat
// coordinates. A bend has a node `bend-joints:NAME` on the flat that carries it, with one joint for each station of its
// mesh; the flats beyond hang on the joint where the bend area ends. So each vertex of a bend follows exactly one joint,
// and turning the joints folds the whole board behind them. Enclosure pieces that ride on the board hang on its flats and
// joints too; one that a sequence moves hangs on a node `path:NAME` below `housing`.
//
// Contacts are marked below `contacts`, other gaps drawn below `gaps`, in the housing's frame and as the scene stands.
package gltf
