// Package clash knows gaps: the distance or the penetration between the bodies of a folded board and its enclosure, which
// pairs are judged, and what is required of them. It does not know files or terminals.
package clash
