// Package depth is the vertical half of the adjustment: how deep everything
// lies below today's ground, and how sure that is.
//
// Everything vertical is linear: a depth is the ground's height less a pipe's,
// so one set of Gaussian beliefs is conditioned on all readings at once. The
// ground is a plane and an exponential random field (collocation; Moritz,
// Advanced Physical Geodesy, part B; simple kriging in Isaaks & Srivastava,
// Applied Geostatistics, ch. 12). What the record says of cover was true of the
// ground of its day; the fill since then is a mean of the field and a departure
// from it. That is smooth where a field was filled on one side only, or not at all
// beyond where anyone dug, or rough.
//
// Two things are not known beforehand and decide how much one depth says about
// another: whether the laterals lie level with one another or each follows its
// own ground, and whether the ground and the fill are even. So there are four
// beliefs, weighted by how well each predicted the readings, and the answer is
// the mean and standard deviation of their mixture. Within each belief a
// reading never widens anything; a reading that surprises may widen the
// mixture, because it moves weight to a looser belief.
//
// A reading may hold a blunder: another unit, two digits swapped, an error of any
// size. The likely ones make beliefs of their own, so that one wrong depth moves
// little once others contradict it, and is named.
//
// An empty hole is not a Gaussian observation and is not used here.
package depth
