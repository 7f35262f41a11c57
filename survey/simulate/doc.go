// Package simulate invents sites whose truth is known: a lot with a house, a
// tank, a box and laterals, a sketch of it drawn as badly as sketches are, and
// the readings of a crew, with as much mess in them as an Order asks for. The
// claims of the fit are checked with it, and it scores the answers: Assess
// gives one site, Tally the shares over many.
//
// The sketches are not drawn from the fit's own error model: errors are
// uniform, two-sided exponential and rounded to the grid of squared paper,
// spacings are evened out as a draughtsman does, and the field is turned about
// its corner, not its middle. Only the general size of the errors is that of
// the trust. The ground waves and the fill may end at an edge, which the
// model's ground does not. Everything follows from the seed, and the mess comes
// on top: the same lot with and without it can be compared.
package simulate
