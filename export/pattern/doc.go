// Package pattern draws the flat board at true scale, to be printed, cut out and folded as a paper or film mock-up.
//
// The page is composed as a display list of package draw, which writes it: composing knows the board and no file format.
// Shapes come from the exact flat geometry of the divided board, arcs stay arcs; only the placing of labels looks at
// chords. The package never sees triangles.
package pattern
