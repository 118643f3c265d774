// Package stackup knows laminates: layers from top to bottom, thickness, neutral surface. It does not know the board's
// shape, hinges or files. Lengths are mm, moduli GPa, densities g/cm3.
package stackup
