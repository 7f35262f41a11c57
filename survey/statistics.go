package survey

import "gonum.org/v1/gonum/stat/distuv"

// chiSquareTail returns the probability that chi-square with n degrees of
// freedom exceeds x.
func chiSquareTail(x, n float64) float64 {
	if n <= 0 {
		return 1
	}
	return distuv.ChiSquared{K: n}.Survival(x)
}
