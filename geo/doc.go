// Package geo holds where things are: points of a plane, angles, lengths with
// their units, covariances and the ellipses drawn from them. It knows nothing
// of wastewater and does no input or output.
//
// Conventions used everywhere in asfound:
//
//   - Lengths are metres once read. Feet exist only at the edges, in Length
//     (which keeps what was written) and in the Format functions.
//   - A plane point is a Vec: X east (or right on paper), Y north (or up).
//   - A bearing is clockwise from north (the +Y axis), 0 ≤ bearing < 360°.
//     A rotation in formulas is counter-clockwise, as in mathematics.
//   - "95 %" is a probability of 0.95 that the true point lies inside.
package geo
