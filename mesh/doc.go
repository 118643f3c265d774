// Package mesh knows triangles: closed, oriented, named bodies with a stated chord error, made from a folded board. It
// does not know gaps, file formats or terminals.
package mesh
