// Package obj writes triangle meshes as one OBJ file in text. It knows the format; it does not know boards.
package obj
