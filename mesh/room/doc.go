// Package room knows whether there is room to form a bend over a rod: what a rod of twice the inside radius meets when it is
// laid along the hinge on the concave side. It does not know whether a rod is used, which limits hold, or the enclosure.
package room
