// Package survey is the readings and what they say: the observation equations,
// the one adjustment of drawing and field together, and the location of every
// part that follows from it.
//
// All results are metres in the field frame of the job (see Frame): X east, Y
// north. The package reads no clock and draws no random number whose seed does
// not come from the job, and the order of the readings does not matter.
package survey
