// Package clash knows gaps: the distance or the penetration between the bodies of a folded board and its enclosure, which
// pairs are judged, and what is required of them. It does not know files or terminals.
//
// From the ground up: vec, tree (triangles in a hierarchy of boxes), tridist and triint (two triangles), distance (two
// surfaces), inside (a point and a closed surface), shrink, span, walk, directions, descent, pockets, convex and depth (the least
// shift that separates two bodies), measure (one signed gap), area, carve and rest (a surface without what lies over some
// area of the flat); then wall, member, chord, faces (what of a mesh lies opposite a body), filter, free and cut (which
// bodies and parts of them are compared), required and judge (what they must keep), effort (how much work they may take), seat,
// touchdown and seatfindings (where touching is wanted), motionspeed, motionactor, motionboxes, motionbands, motionstraight,
// motiontrack, motionseats, motionmeasure, motionrest, motionsearch, motionloops, motionfindings, motionsweeper and motion (the same
// pairs followed through programs), check and findings.
package clash
