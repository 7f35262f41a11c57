// Package depth is the vertical half of the adjustment: how deep everything
// lies below today's ground, and how sure that is.
//
// Everything vertical is linear: a depth is the ground's height less a pipe's,
// so one set of Gaussian beliefs is conditioned on all readings at once. The
// ground is a plane and an exponential random field (collocation; Moritz,
// Advanced Physical Geodesy, part B; simple kriging in Isaaks & Srivastava,
// Applied Geostatistics, ch. 12). Pipes are level with one another where one
// box feeds them, up to the fall of headers and laterals. What the record says
// of cover was true of the ground of its day; the fill since then is an unknown
// common to the field.
package depth
