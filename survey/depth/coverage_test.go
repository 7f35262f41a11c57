package depth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey"
)

// tally counts how often the truth lies within 95 %.
type tally struct {
	in, n         int
	sigma, square float64
}

func (c *tally) add(d Depth, truth float64) {
	z := (truth - d.Mean) / d.Sigma
	if math.Abs(z) <= 1.959963985 {
		c.in++
	}
	c.n++
	c.sigma += d.Sigma
	c.square += (truth - d.Mean) * (truth - d.Mean)
}

func (c *tally) rate() float64 { return float64(c.in) / float64(c.n) }

func (c *tally) String() string {
	return fmt.Sprintf("%5.1f %% of %4d, mean sigma %.3f m, rms error %.3f m", 100*c.rate(), c.n, c.sigma/float64(c.n), math.Sqrt(c.square/float64(c.n)))
}

// TestCoverageElsewhere holds the 95 % intervals against sites that were not
// drawn from the model.
func TestCoverageElsewhere(t *testing.T) {
	const sites = 400
	for _, shot := range []bool{false, true} {
		last := math.Inf(1)
		for _, holes := range []int{0, 1, 2, 4, 8} {
			rng := rand.New(rand.NewPCG(7, uint64(holes)))
			var all, box, recorded tally
			for range sites {
				s := newSite(rng)
				for range holes {
					s.dig(rng, shot)
				}
				m, err := Solve(t.Context(), s.job, s)
				require.NoError(t, err)
				for range 3 {
					id := fmt.Sprintf("L%d", 1+rng.IntN(len(s.lines)))
					u := rng.Float64()
					d, ok := m.At(id, s.spot(id, u), survey.Crown)
					require.True(t, ok)
					all.add(d, s.depth(id, u))
					if m.covered {
						recorded.add(d, s.depth(id, u))
					}
				}
				d, _ := m.At("box", s.spots["box"], "")
				box.add(d, s.depth("box", 0))
			}
			t.Logf("levels %-5v holes %d: laterals %v; recorded %v; box %v", shot, holes, &all, &recorded, &box)
			assert.Less(t, all.sigma, last, "more holes, narrower on the whole")
			last = all.sigma
			assert.InDelta(t, 0.95, all.rate(), 0.04)
			assert.InDelta(t, 0.95, box.rate(), 0.05)
		}
	}
}
