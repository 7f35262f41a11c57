// Package depth is the vertical half of the adjustment: how deep everything
// lies below today's ground, and how sure that is.
//
// Everything vertical is linear: a depth is the ground's height less a pipe's,
// so one set of Gaussian beliefs is conditioned on all readings at once. The
// ground is a plane and an exponential random field (collocation; Moritz,
// Advanced Physical Geodesy, part B; simple kriging in Isaaks & Srivastava,
// Applied Geostatistics, ch. 12). What the record says of cover was true of the
// ground of its day; the fill since then is an unknown common to the field,
// spread more or less evenly.
//
// Two things are not known beforehand and decide how much one depth says about
// another: whether the laterals lie level with one another or each follows its
// own ground, and whether the ground and the fill are even. So there are four
// beliefs, weighted by how well each predicted the readings, and the answer is
// the mean and standard deviation of their mixture. Within each belief a
// reading never widens anything; a reading that surprises may widen the
// mixture, because it moves weight to a looser belief.
//
// An empty hole is not a Gaussian observation and is not used here.
package depth
