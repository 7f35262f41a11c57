// Package posterior is what is believed of every point once the readings are
// in: a mixture of Gaussians as the fit leaves it, or a sample after evidence
// that fits no Gaussian, behind one set of questions. A belief never changes:
// evidence makes another of it.
package posterior
