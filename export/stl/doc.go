// Package stl writes triangle meshes as one binary STL file. It knows bytes; it does not know boards.
package stl
