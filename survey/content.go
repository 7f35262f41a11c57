package survey

import (
	"math"

	"asfound/geo"
)

// Content returns how much of the belief lies within the smallest ellipse of
// the shape of Ellipse, about At, that reaches the place at (frame coordinates,
// metres): a probability, 0.95 on Ellipse itself. Where beliefs are honest, the
// content up to the truth is uniform from 0 to 1 over many sites, so that
// regions of any content are judged at once (probability integral transform;
// Dawid, J. R. Statist. Soc. A 147, 1984).
func (g Gauss) Content(at geo.Vec) float64 {
	if g.draws != nil {
		return contentOf(g.draws, g.Cov, at.Sub(g.At))
	}
	return contentTo(g.lobes, at.Sub(g.At))
}

// ContentFromLandmarks returns the same probability for FromLandmarks: at is
// where the place lies once the true landmarks are laid on those believed.
func (g Gauss) ContentFromLandmarks(at geo.Vec) float64 {
	if g.draws != nil {
		return contentOf(g.near, g.Relative, at.Sub(g.At))
	}
	return contentTo(g.tied, at.Sub(g.At))
}

// contentTo returns the probability that a mixture has within the ellipse, of
// the shape of its covariance, that is centred on its mean and passes through
// off.
func contentTo(lobes []lobe, off geo.Vec) float64 {
	s := shapeOf(lobes)
	if s.a <= 0 {
		return 1
	}
	return s.within(math.Hypot(off.Dot(s.major)/math.Sqrt(s.a), off.Dot(s.minor)/math.Sqrt(s.b)))
}

// MetOdds returns the probability of each part that a hole logged under a kind
// alone may have met, by part id; nil where the reading is no such hole.
func (f *Fit) MetOdds(reading string) map[string]float64 {
	for i := range f.book.readings {
		r := &f.book.readings[i]
		if r.ID != reading || r.Kind != Found || f.book.job.Sketch.Part(r.Target) != nil {
			continue
		}
		if f.book.pipe(r) {
			return f.lineOdds(r, f.book.lines(r))
		}
		_, weight := f.odds(func(e explanation) string { return e.met[reading] })
		return weight
	}
	return nil
}
