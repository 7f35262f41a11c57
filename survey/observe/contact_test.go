package observe

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/testsite"
)

// metAt returns the contact of a hole 0.15 m in radius with a box of a written
// side or a tank, which is 2.7 m by 1.6 m.
func metAt(t *testing.T, kind asbuilt.Kind, spot asbuilt.Spot) Contact {
	part := asbuilt.Part{ID: "p", Kind: kind}
	if kind == asbuilt.Box {
		part.Size = testsite.Metres(0.5)
	}
	k, ok := newContact(&survey.Reading{Kind: survey.Found, Spot: spot}, &part, 0.15)
	require.True(t, ok)
	return k
}

// The density of where a hole lies on a part, and the Gaussian that stands for
// it, against a million holes dug at random: the share in each cell of a grid
// over the quarter of the plan, and the mean squared distance from the middle.
// The round corners of the plan grown by a hole are Gaussians here: 1 % of the
// densest cell.
func TestContactAgainstBruteForce(t *testing.T) {
	for _, kind := range []asbuilt.Kind{asbuilt.Box, asbuilt.Tank} {
		long, wide := 0.5, 0.5
		out := 0.0
		if kind == asbuilt.Tank {
			long, wide, out = 2.7, 1.6, 0.1
		}
		for _, spot := range []asbuilt.Spot{asbuilt.On, asbuilt.Edge, asbuilt.Corner} {
			k := metAt(t, kind, spot)
			soft := math.Hypot(0.08, out)
			if spot == asbuilt.On {
				soft = math.Hypot(0.046, out)
			}
			rng := rand.New(rand.NewPCG(1, 1))
			u := func() float64 { return 2*rng.Float64() - 1 }
			const cell, n = 0.1, 1000000
			count := map[[2]int]float64{}
			square := 0.0
			for range n {
				x, y := 0.0, 0.0
				switch spot {
				case asbuilt.On:
					for {
						x, y = (long/2+0.15)*u(), (wide/2+0.15)*u()
						if math.Hypot(max(0, math.Abs(x)-long/2), max(0, math.Abs(y)-wide/2)) < 0.15 {
							break
						}
					}
				case asbuilt.Edge:
					x, y = long/2*u(), math.Copysign(wide/2, u())
					if rng.Float64() < wide/(long+wide) {
						x, y = math.Copysign(long/2, u()), wide/2*u()
					}
				default:
					x, y = math.Copysign(long/2, u()), math.Copysign(wide/2, u())
				}
				x, y = x+soft*rng.NormFloat64(), y+soft*rng.NormFloat64()
				square += (x*x + y*y) / n
				count[[2]int{int(math.Abs(x) / cell), int(math.Abs(y) / cell)}] += 1.0 / n
			}
			assert.InEpsilon(t, square/2, k.Sigma*k.Sigma, 0.01, "%s, %s: the Gaussian has the second moment", kind, spot)
			densest := 0.0
			for _, share := range count {
				densest = max(densest, share)
			}
			sum := 0.0
			for i := range 30 {
				for j := range 30 {
					share := 0.0
					const fine = 10
					for a := range fine {
						for b := range fine {
							share += 4 * k.Density((float64(i)+(float64(a)+0.5)/fine)*cell, -(float64(j)+(float64(b)+0.5)/fine)*cell)
						}
					}
					share *= cell * cell / fine / fine
					sum += share
					bound := 5*math.Sqrt(densest/n) + 0.002*densest
					if spot == asbuilt.On {
						bound += 0.01 * densest
					}
					assert.InDelta(t, count[[2]int{i, j}], share, bound, "%s, %s, cell %d, %d", kind, spot, i, j)
				}
			}
			assert.InDelta(t, 1, sum, 0.005, "%s, %s", kind, spot)
		}
	}
}

// The ratio to the Gaussian is never above its bound.
func TestContactBound(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, kind := range []asbuilt.Kind{asbuilt.Box, asbuilt.Tank} {
		for _, spot := range []asbuilt.Spot{asbuilt.On, asbuilt.Edge, asbuilt.Corner} {
			k := metAt(t, kind, spot)
			most := k.Most()
			for range 20000 {
				x, y := 3*k.Sigma*rng.NormFloat64(), 3*k.Sigma*rng.NormFloat64()
				require.LessOrEqual(t, k.Density(x, y)/k.Gaussian(x*x+y*y), most, "%s, %s at %g, %g", kind, spot, x, y)
			}
		}
	}
}

// Where the crew says how far off the middle may be, or felt it, that is all.
func TestNoContact(t *testing.T) {
	box := &asbuilt.Part{ID: "box", Kind: asbuilt.Box}
	for _, r := range []survey.Reading{{Spot: asbuilt.Center}, {Sigma: testsite.Metres(0.3)}, {Spot: asbuilt.On, Sigma: testsite.Metres(0.3)}} {
		_, ok := newContact(&r, box, 0.15)
		assert.False(t, ok)
	}
	_, ok := newContact(&survey.Reading{}, &asbuilt.Part{Kind: asbuilt.Port}, 0.15)
	assert.False(t, ok)
}
