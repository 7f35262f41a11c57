// Package depth is the vertical half of the adjustment: how deep everything
// lies below today's ground, and how sure that is.
//
// Everything vertical is linear: a depth is the ground's height less a pipe's,
// so one set of Gaussian beliefs is conditioned on all readings at once. The
// ground is a plane and an exponential random field (collocation; Moritz,
// Advanced Physical Geodesy, part B; simple kriging in Isaaks & Srivastava,
// Applied Geostatistics, ch. 12). What the record says of cover was true of the
// ground of its day; the fill since then is a mean of the field and
// what it differs from that by: smoothly, because a field may be filled on one
// side only, or not at all beyond where anyone dug, or roughly.
//
// Two things are not known beforehand and decide how far one depth tells of
// another: whether the laterals lie level with one another or each lies as deep
// as its own ground asks, and whether the ground and the fill are even. So
// there are four beliefs, weighed by how well each foretold the readings, and
// what is answered is the mean and standard deviation of their mixture. Within
// each belief a reading never widens anything; a reading that surprises may
// widen the mixture, because it moves weight to a looser belief.
//
// A reading may hold a slip: another unit, two digits changed over, an error of
// any size. The beliefs are worked out with the likely ones too, so that one
// wrong depth moves little once others contradict it, and is named.
//
// An empty hole is not a Gaussian observation and is not used here.
package depth
