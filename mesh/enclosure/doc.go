// Package enclosure reads the meshes of housing pieces from bytes and says how sound they are. It does not know boards'
// shapes, gaps or files on disk.
package enclosure
