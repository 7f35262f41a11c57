// Package posterior is what is believed of every point once the readings are
// in: a mixture of Gaussians as the fit leaves it, or a sample after evidence
// that no Gaussian describes, behind one interface. A belief never changes:
// evidence makes a new one.
package posterior
