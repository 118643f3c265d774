// Package tolerance knows what a measured gap of a folded board is worth: how much of it each hinge takes when its angle or
// its line is off, from exact derivatives, and what is left at the ends of the hinges' tolerances. It does not know
// triangles, how gaps are measured, or what is a good gap.
//
// A gap is the distance of two points. Each of them is fixed to the board's material or to a piece that rides on it, and
// moves as that does; where a gap is the least distance of two bodies and a single pair of points has it, its derivative is
// that of those two points (Danskin's theorem), however the nearest points wander over the bodies.
package tolerance
