// Package former knows bending blocks: for each hinge a printable body with a nose of the forming radius, faces for the straight
// flex on both sides of it, the far one of them the stop, and a slot that holds the near one. It knows divided boards and how
// they spring back; no files and no lettering.
//
// A block is drawn across the hinge and printed upright, the hinge's direction up: x runs from the near flat to the far one (or
// back, for a block that begins beyond the other end of the hinge), y away from the block to the flex's outside, z along the
// hinge, with the near tangent line at x = y = 0. It is a stack of layers, each within the one below, so that every wall is upright
// and nothing overhangs: a base plate where there is one, a stem beside the flex, and above that body and finger, the slot between
// them open towards the top.
package former
