package encounter

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

// Chances of stabs against stabs that are made: rims off by a uniform deviation, tops
// by a normal one, hits and stones by their rates; fixed seed, to four standard errors
// and what the depth's ramp is off.
func TestStabsByStabbing(t *testing.T) {
	s := site()
	s.Rods = survey.Rodding{Hits: 0.8, Stones: 0.05}
	tool, _ := survey.ToolNamed("rod")
	at := []geo.Vec{{X: 0.1, Y: 0.1}, {X: 0.7, Y: 0.1}, {X: 5, Y: 0.4}, {X: 5, Y: 0.6}, {X: 3, Y: 2}}
	stabs := Stabs{At: at, Sigma: 0.03, Stop: 0.7, Tool: &tool}
	s.Ready(&stabs, 0)
	chance := make([]float64, len(at))
	s.Feel(0, geo.Vec{}, &stabs, chance)
	moved := make([]float64, len(at))
	s.Feel(0, geo.Vec{X: 40}, &stabs, moved)
	rng := rand.New(rand.NewPCG(6, 6))
	const n = 30000
	over := 0.0
	for k, v := range at {
		got := 0.0
		for range n {
			felt := rng.Float64() < 0.05
			for i := range s.Objects {
				o := &s.Objects[i]
				in, _ := o.Inside(0, &Hole{At: v, Radius: tool.Radius}, 1)
				top := 0.6 + 0.15*rng.NormFloat64() - practice.BottomOut*(2*rng.Float64()-1)
				if in+o.OutFor(0.03)*(2*rng.Float64()-1) > 0 && top < 0.7 && rng.Float64() < 0.8 {
					felt = true
					if o.Sought {
						over += 1.0 / n
					}
				}
			}
			if felt {
				got += 1.0 / n
			}
		}
		assert.InDelta(t, got, chance[k], 4*0.5/math.Sqrt(n)+0.01, "%v", v)
		assert.InDelta(t, 0.05, moved[k], 1e-9, "nothing lies there, moved by 40 m")
	}
	assert.InDelta(t, over, s.Over(0, &stabs), 0.03, "one stab alone lies over the box")
}

// What stabs felt is as likely as all of them one by one, however many there are.
func TestLikelyStabs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 300).Draw(t, "stabs")
		chance, felt, want := make([]float64, n), make([]bool, n), 0.0
		for k := range n {
			chance[k], felt[k] = rapid.Float64Range(0.001, 0.99).Draw(t, "chance"), rapid.Bool().Draw(t, "felt")
			p := chance[k]
			if !felt[k] {
				p = 1 - p
			}
			want += math.Log(p)
		}
		assert.InDelta(t, want, Likely(chance, felt), 1e-9*float64(n))
	})
}

// By the table: 5 minutes to lay out, and for each stab 0.7, 1 a metre and 0.5 a
// square metre of its depth.
func TestMinutesOfStabs(t *testing.T) {
	tool, _ := survey.ToolNamed("rod")
	assert.InDelta(t, 5+12*(0.7+0.8+0.5*0.64), (&Stabs{At: make([]geo.Vec, 12), Stop: 0.8, Tool: &tool}).Minutes(), 1e-12)
}
