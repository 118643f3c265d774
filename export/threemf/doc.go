// Package threemf writes triangle meshes as one 3MF file: a packed folder with a model in XML. It knows the format's core; it does
// not know boards.
package threemf
