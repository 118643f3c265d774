// Package flat knows the flat board: points, lines, circular arcs, closed loops of them, regions with holes, and how to
// cut, combine and measure them exactly. It does not know stack-ups, hinges' angles, the third dimension or triangles.
//
// Coordinates are millimetres, x to the right and y up, seen from the board's top side. A region lies to the left of its
// edges: outer loops run counter-clockwise, holes clockwise.
package flat
