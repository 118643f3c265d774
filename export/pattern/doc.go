// Package pattern draws the flat board at true scale, to be printed, cut out and folded as a paper or film mock-up.
//
// The page is composed as a display list of package draw, which writes it: composing knows the board and no file format.
// Shapes come from the exact flat geometry of the divided board, arcs stay arcs; only the placing of labels, and arcs within
// bend areas that are stretched for creasing, look at chords. Machines get layers of plain lines instead of the page. The package
// never sees triangles.
package pattern
