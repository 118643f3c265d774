// Package bending says what bending does to the flex of one bend: radius, strain, force, life, springback and the shape it takes between
// its clamps. It knows laminates, the elastica and the bends of a divided board; no limits and no triangles.
package bending
