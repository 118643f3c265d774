// Package elastica knows the shape that a thin strip takes between clamps. The strip is uniform, flat when nothing holds it,
// does not stretch, and bends in one plane; its own weight and any permanent set are left out. It does not know boards,
// stack-ups, layers or files.
//
// Along such a strip the internal force P is the same everywhere and the bending moment is EI times the curvature k, so that
// with the heading t (dx = cos t ds, dy = sin t ds)
//
//	k' = Px sin t - Py cos t          k(s) = k(0) + Px y(s) - Py x(s)          k^2/2 + Px cos t + Py sin t = const
//
// (Euler 1744; P in units of EI). EI cancels out of the shape: it depends on lengths and headings alone. Forces are given as
// P/EI (1/length^2), moments as M/EI = k (1/length), energies as U/EI (1/length).
//
// Lengths are in any one unit and belong to the neutral surface; angles are degrees, counter-clockwise positive. What is
// mirror symmetric has closed answers in elliptic integrals (Symmetric and its special cases, Cantilever, TwoPlates); Clamps
// is the general case, and Hinge asks what becomes of a drawn bend that is held only where its run-outs end.
//
// The general case is a minimum of energy over piecewise polynomial headings, found by Newton's method that goes downhill only;
// shooting, which is shorter, loses all digits in taut strips. The first integral above then says whether the elements are fine
// enough, and they are halved until it holds to 1e-10.
//
// Not modelled: contact of the strip with itself or with anything else. A shape whose curve crosses itself is returned as it is.
package elastica
