// Package fold knows the board as a mechanism: a Design is divided into flats and bends (Tree), a Tree placed at some
// angles is a Folded board. All of it is exact (lines, arcs, planes, cylinders, closed formulas) and immutable once made.
// It does not know files, triangles, gaps or terminals.
//
// Frames: flat coordinates are the material coordinates (mm, z = 0 on the neutral surface of the flex named by the
// design); board coordinates are those of the folded board with its base flat where it was; housing coordinates follow
// from the design's place. Angles are degrees, positive toward the top side.
package fold
