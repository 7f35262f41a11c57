package posterior

import (
	"context"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
)

// Known returns the places of the sketch, and their covariance relative to the
// landmarks as so many draws have it: the lower triangle, row by row, of x and y of
// each place in turn, metres², in the axes of the field frame. It is what the next job
// on the same lot may begin with (asbuilt.Known); nil where they are too many.
func (p *Posterior) Known(ctx context.Context, draws int) (places []asbuilt.Vertex, covariance []float64, err error) {
	if places = p.drawing().Vertices(); len(places) > asbuilt.MaxKnown {
		return nil, nil, nil
	}
	d, err := p.Draws(ctx, draws)
	if err != nil {
		return nil, nil, err
	}
	var off [][]float64 // of each coordinate: each draw less the mean
	add := func(value func(i int) float64) {
		one, mean := make([]float64, d.N), 0.0
		for i := range one {
			one[i] = value(i)
			mean += one[i] / float64(d.N)
		}
		for i := range one {
			one[i] -= mean
		}
		off = append(off, one)
	}
	for k := range places {
		at := d.at[k]
		add(func(i int) float64 { return at[i].X })
		add(func(i int) float64 { return at[i].Y })
	}
	dot := func(a, b int) (sum float64) {
		for i, v := range off[a] {
			sum += v * off[b][i] / float64(d.N-1)
		}
		return sum
	}
	stretch := make([]float64, len(places))
	for k := range places {
		stretch[k] = heavy(off[2*k], off[2*k+1], geo.Cov{XX: dot(2*k, 2*k), XY: dot(2*k, 2*k+1), YY: dot(2*k+1, 2*k+1)})
	}
	for a := range off {
		for b := range a + 1 {
			covariance = append(covariance, dot(a, b)*stretch[a/2]*stretch[b/2])
		}
	}
	return places, covariance, nil
}

// heavy returns by what factor the radius that holds a sample of places with 95 % is
// that of a Gaussian of the same covariance: a covariance alone would have forgotten
// how far the tails reach.
func heavy(x, y []float64, c geo.Cov) float64 {
	far := make([]float64, len(x))
	for i := range far {
		far[i] = math.Hypot(x[i], y[i])
	}
	slices.Sort(far)
	r := radius95(lobes{{weight: 1, cov: c}})
	if !(r > 0) {
		return 1
	}
	return far[len(far)*19/20] / r
}
