package adjust

// dot returns the scalar product of the first n of x and y. There is no
// assembly in a browser: with one sum each addition would wait for the last, so
// there are four. That rounds differently, as the assembly on other machines
// does.
func dot(n int, x, y []float64) float64 {
	x, y = x[:n], y[:n]
	var a, b, c, d float64
	for len(x) >= 4 && len(y) >= 4 {
		a += x[0] * y[0]
		b += x[1] * y[1]
		c += x[2] * y[2]
		d += x[3] * y[3]
		x, y = x[4:], y[4:]
	}
	for i, v := range x {
		a += v * y[i]
	}
	return a + b + (c + d)
}
