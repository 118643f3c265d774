// Package enclosure reads the meshes of housing pieces from bytes (STL, OBJ, GLB, glTF, 3MF), mends what can be mended
// without guessing, and says how sound they are. It does not know boards' shapes, gaps or files on disk.
package enclosure
