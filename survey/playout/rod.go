package playout

import (
	"math"
	"math/rand/v2"

	"asfound/geo"
	"asfound/survey/encounter"
)

// rod plays the stabs of a step for each truth by itself: no two grids feel the same.
// The player goes on with what it then believes.
func (p *player) rod(b belief, truths []*truth, dug int, step *Step) {
	t := step.Stabs
	p.Ready(t, b.moved())
	chance := make([][]float64, len(b))
	for i, q := range b {
		chance[i] = make([]float64, len(t.At))
		p.Feel(q.draw, q.shift, t, chance[i])
	}
	here, felt := make([]float64, len(t.At)), make([]bool, len(t.At))
	for _, one := range truths {
		if p.stopped() {
			return
		}
		p.Feel(one.draw, geo.Vec{}, t, here)
		for k := range felt {
			felt[k] = one.rng.Float64() < here[k]
		}
		one.minutes += t.Minutes()
		p.nodes++
		p.play(p.rodded(b, chance, felt, rand.New(rand.NewPCG(p.nodes, 3))), []*truth{one}, dug, nil)
	}
}

// rodded returns the belief after stabs felt what they did, by the chances of each
// particle.
func (p *player) rodded(b belief, chance [][]float64, felt []bool, rng *rand.Rand) belief {
	logs, most := make([]float64, len(b)), math.Inf(-1)
	for i := range b {
		logs[i] = encounter.Likely(chance[i], felt)
		most = max(most, logs[i])
	}
	return p.weighed(b, func(i int, _ particle) float64 { return math.Exp(logs[i] - most) }, rng)
}
