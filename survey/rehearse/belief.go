package rehearse

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"asfound/geo"
)

// belief is what a player believes: draws by weight, each moved a little.
type belief []particle

type particle struct {
	draw   int
	shift  geo.Vec // metres by which the whole draw is moved
	weight float64
}

// keep is how many particles are kept once they have to be drawn anew.
const keep = 300

// after returns the belief after a hole at v has met something.
func (g *ground) after(b belief, v geo.Vec, r float64, met int, rng *rand.Rand) belief {
	next := make(belief, 0, len(b))
	sum, squares := 0.0, 0.0
	for _, p := range b {
		c := g.chances(p.draw, v.Sub(p.shift), r)
		p.weight *= c[met] + stray
		sum += p.weight
		squares += p.weight * p.weight
		next = append(next, p)
	}
	for i := range next {
		next[i].weight /= sum
	}
	effective := sum * sum / squares
	if effective < 0.4*float64(len(b)) || effective < keep/2 {
		return g.anew(next, effective, rng)
	}
	return next
}

// anew draws particles in proportion to their weight and moves each a little
// towards the mean and about it, so that mean and spread stay as they are but
// no two are the same: the kernel smoothing with shrinkage of Liu and West
// (2001), here of where the whole field lies.
func (g *ground) anew(b belief, effective float64, rng *rand.Rand) belief {
	t := &g.things[0]
	var mean geo.Vec
	for _, p := range b {
		mean = mean.Add(t.place(p.draw, 0.5).Add(p.shift).Scale(p.weight))
	}
	var xx, xy, yy float64
	for _, p := range b {
		d := t.place(p.draw, 0.5).Add(p.shift).Sub(mean)
		xx, xy, yy = xx+p.weight*d.X*d.X, xy+p.weight*d.X*d.Y, yy+p.weight*d.Y*d.Y
	}
	h := 0.5 * math.Pow(max(effective, 1), -1.0/6)
	a := math.Sqrt(1 - h*h)
	// Root of the covariance, by hand: two by two.
	lx := math.Sqrt(max(xx, 1e-6))
	lxy := xy / lx
	ly := math.Sqrt(max(yy-lxy*lxy, 1e-6))
	out := make(belief, 0, keep)
	sum, k := 0.0, 0
	for i := range keep {
		at := (float64(i) + rng.Float64()) / keep
		for k < len(b)-1 && sum+b[k].weight < at {
			sum += b[k].weight
			k++
		}
		p := b[k]
		here := t.place(p.draw, 0.5).Add(p.shift)
		u, w := rng.NormFloat64(), rng.NormFloat64()
		to := mean.Add(here.Sub(mean).Scale(a)).Add(geo.Vec{X: h * lx * u, Y: h * (lxy*u + ly*w)})
		if !to.Finite() {
			to = here
		}
		p.shift, p.weight = p.shift.Add(to.Sub(here)), 1.0/keep
		out = append(out, p)
	}
	return out
}

// search returns how many holes a blind search takes on average, one cell of a
// hole's footprint after another, the likeliest first: Σ k p(k) (Stone, Theory
// of Optimal Search, 1975). weight is by particle.
func (c *cellar) search(weight []float64) float64 {
	clear(c.sum)
	for i, w := range weight {
		c.sum[c.cell[i]] += w
	}
	p := append(c.sorted[:0], c.sum...)
	slices.SortFunc(p, func(a, b float64) int { return cmp.Compare(b, a) })
	c.sorted = p
	all, out := 0.0, 0.0
	for k, w := range p {
		if w <= 0 {
			break
		}
		all += w
		out += w * float64(k+1)
	}
	if all == 0 {
		return 0
	}
	return out / all
}

// cellar holds the cells of the particles of a belief.
type cellar struct {
	cell        []int
	sum, sorted []float64
}

// cells divides where what is sought may lie into squares of a hole's
// footprint, the squares shifted by the given share of one.
func (g *ground) cells(b belief, phase geo.Vec) *cellar {
	t := &g.things[0]
	side := math.Sqrt(math.Pi) * (t.reach + g.tool.Radius)
	index := map[[2]int]int{}
	c := &cellar{cell: make([]int, len(b))}
	for i, p := range b {
		v := t.place(p.draw, 0.5).Add(p.shift)
		k := [2]int{int(math.Floor(v.X/side + phase.X)), int(math.Floor(v.Y/side + phase.Y))}
		n, ok := index[k]
		if !ok {
			n = len(index)
			index[k] = n
		}
		c.cell[i] = n
	}
	c.sum = make([]float64, len(index))
	return c
}

// toGo returns how many holes there are to go where a blind search takes v: as
// the plan counts them.
func toGo(v float64) float64 {
	const blind = 4
	if v <= blind {
		return v
	}
	return blind * (1 + math.Log(v/blind))
}
