// Package stackup knows laminates: layers from top to bottom, materials, and what bending does to them. It does not know
// the board's shape, hinges or files. Lengths are mm, angles degrees, strains fractions (+ in tension), moduli GPa, stresses
// MPa, forces N, densities g/cm3.
//
// The model throughout is that of a laminated plate on a cylinder: layers bonded without slip, cross-sections plane, every
// layer linear elastic with one modulus (springback alone lets layers yield), nothing pressed through the thickness, no heat,
// moisture or time. Loose plies, bonded at their ends only, are such laminates each by itself, one over the other on cylinders
// about one axis, without friction. Within it the formulas are exact. Real films creep, real adhesives shear and real foil is softer than
// bulk copper, so no figure that rests on moduli is better than the materials' spread (Material.Low, Material.High).
//
// What a stack-up cannot tell is reported as not known (a second result false), never as a number: moduli of a sheet given
// by its thickness alone, copper where there is none, radii and limits that make no sense.
package stackup
