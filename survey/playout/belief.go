package playout

import (
	"math"
	"math/rand/v2"

	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/encounter"
)

// belief is what a player believes: draws by weight, each moved a little.
type belief []particle

type particle struct {
	draw   int
	shift  geo.Vec // metres by which the whole draw is moved
	weight float64
}

// moved returns by how many metres a draw of the belief is moved at most.
func (b belief) moved() (most float64) {
	for _, q := range b {
		most = max(most, q.shift.Norm())
	}
	return most
}

// keep is how many particles are kept once they are resampled.
const keep = 300

// after returns the belief after a hole has met something.
func (p *player) after(b belief, h *hole, m encounter.Outcome, rng *rand.Rand) belief {
	return p.weighed(b, func(_ int, q particle) float64 {
		moved := h.Moved(q.shift)
		likely := p.Chances(q.draw, &moved)[m]
		if m != encounter.None { // as in the belief of the log: what was met may be something else
			likely += practice.StrayHit * (1 - likely)
		}
		return likely
	}, rng)
}

// weighed returns the belief after something that is so likely in each particle.
func (p *player) weighed(b belief, likely func(i int, q particle) float64, rng *rand.Rand) belief {
	next := make(belief, 0, len(b))
	sum, squares := 0.0, 0.0
	for i, q := range b {
		q.weight *= likely(i, q)
		sum += q.weight
		squares += q.weight * q.weight
		next = append(next, q)
	}
	for i := range next {
		next[i].weight /= sum
	}
	effective := sum * sum / squares
	if effective < 0.4*float64(len(b)) || effective < keep/2 {
		return p.resample(next, effective, rng)
	}
	return next
}

// lies returns where what is sought lies in a particle.
func (p *player) lies(q particle) geo.Vec {
	v, ok := p.Objects[p.lead].Place(q.draw, 0.5)
	if !ok {
		return geo.Vec{X: math.NaN()}
	}
	return v.Add(q.shift)
}

// resample draws particles in proportion to their weight and moves each a
// little towards the mean and about it, so that mean and spread stay as they
// are but no two are the same: the kernel smoothing with shrinkage of Liu and
// West (2001), here of where the whole field lies.
func (p *player) resample(b belief, effective float64, rng *rand.Rand) belief {
	var mean geo.Vec
	for _, q := range b {
		mean = mean.Add(p.lies(q).Scale(q.weight))
	}
	var c geo.Cov
	for _, q := range b {
		c = c.Add(geo.Outer(p.lies(q).Sub(mean)).Scale(q.weight))
	}
	h := 0.5 * math.Pow(max(effective, 1), -1.0/6)
	a := math.Sqrt(1 - h*h)
	// Root of the covariance, by hand: two by two.
	lx := math.Sqrt(max(c.XX, 1e-6))
	lxy := c.XY / lx
	ly := math.Sqrt(max(c.YY-lxy*lxy, 1e-6))
	out := make(belief, 0, keep)
	for _, q := range b.sample(keep, rng.Float64) {
		here := p.lies(q)
		u, w := rng.NormFloat64(), rng.NormFloat64()
		to := mean.Add(here.Sub(mean).Scale(a)).Add(geo.Vec{X: h * lx * u, Y: h * (lxy*u + ly*w)})
		if to.Finite() {
			q.shift = q.shift.Add(to.Sub(here))
		}
		out = append(out, q)
	}
	return out
}

// sample returns n particles of equal weight in proportion to their weight:
// systematic sampling, within each share at what within returns.
func (b belief) sample(n int, within func() float64) (some belief) {
	sum, k := 0.0, 0
	for i := range n {
		u := (float64(i) + within()) / float64(n)
		for k < len(b)-1 && sum+b[k].weight < u {
			sum += b[k].weight
			k++
		}
		q := b[k]
		q.weight = 1 / float64(n)
		some = append(some, q)
	}
	return some
}
