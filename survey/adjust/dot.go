//go:build !wasm

package adjust

// dot returns the scalar product of the first n of x and y.
func dot(n int, x, y []float64) float64 { return blas.Ddot(n, x, 1, y, 1) }
