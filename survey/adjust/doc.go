// Package adjust is weighted non-linear least squares with Gaussian priors: it
// finds the unknowns y that minimise
//
//	Φ(y) = ½ Σ r(y)² + ½ (y−y₀)ᵀ P⁻¹ (y−y₀)
//
// where r is a whitened misclosure, (observed − model)/σ, and P the prior
// covariance. It knows nothing of drawings or fields: what the unknowns mean is
// up to the caller. With a prior on every unknown the problem has an answer for
// any number of observations, none included.
//
// The step is Gauss–Newton, damped as by Levenberg and Marquardt when it does
// not descend, on the information matrix scaled to a unit diagonal and
// factorised by Cholesky. Source: Nocedal & Wright, Numerical Optimization,
// ch. 10; Koch, Parameter Estimation and Hypothesis Testing in Linear Models,
// ch. 3. Normal equations square the condition number: a problem without priors
// keeps half of the digits that an orthogonal factorisation would.
package adjust
