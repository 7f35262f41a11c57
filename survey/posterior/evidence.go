package posterior

import "asfound/geo"

// Evidence is what is known of a site that no Gaussian describes: what holes
// met, and what they did not meet. Its items stand in an order that does not
// depend on that of the log.
type Evidence struct {
	Shifts int    // standard normal numbers that every draw has beside its places, as for the depth of a part
	Hits   []Item // what holes met that the fit has left out, or has a Gaussian for: then what the exact density is over that
	Items  []Item // what they did not meet
}

// Item returns the natural logarithm of the probability of one observation if
// the site were as in a draw; it is never above zero. at holds the places of
// the draw in metres by their numbers (Posterior.Place and its kin), of which
// only distances between one another mean anything; shift holds its standard
// normal numbers.
type Item func(at []geo.Vec, shift []float64) float64

// Learned is how evidence changed a belief.
type Learned struct {
	Left   float64   // probability that the belief, what holes met included, gave to what they did not meet
	Share  float64   // effective share of the earlier draws that is left after the evidence, as if weighed at once (Kish 1965)
	Hits   []float64 // probability that the belief before, the hits before it included, gave to each hit
	Items  []float64 // the same of what the holes did not meet
	Counts bool      // whether the belief now differs from that of the fit
}

// counts is the effective share below which evidence changes a belief. Above
// it, means move by less than 0.07 of a standard deviation, which does not
// justify giving up exact regions for sampled ones.
const counts = 0.995

// beliefDraws is how many draws stand for a belief that evidence has changed.
const beliefDraws = 800
