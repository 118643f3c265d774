// Package proximity knows two triangle surfaces, each placed by a rigid motion: their exact distance, whether they touch,
// which of their triangles do, and which side of a surface a point lies on. It does not know boards, rules or files.
//
// From the ground up: xyz, triangle and meet (two triangles), order and block (triangles sorted so that near ones that
// face the same way share a leaf), grain (across which axis they are halved), frame (the axes that fit a surface's faces),
// surface and build (a packed tree of boxes), pose, query, mask, search and slab (branch and bound over two trees), leaf,
// contacts, winding.
package proximity
