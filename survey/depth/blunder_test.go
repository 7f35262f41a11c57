package depth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
)

// dug is a level field with five holes of one depth, the third written so.
func dug(t testing.TB, written string, depth float64) (f *field, third string) {
	f = newField(5, 20, 2.4, 0.61)
	for i, id := range []string{"L1", "L2", "L3", "L4", "L5"} {
		r := f.found(id, []float64{0.2, 0.8, 0.5, 0.1, 0.9}[i], depth+0.01*float64(i%2), survey.Crown)
		if i == 2 {
			third = r
			l, err := geo.ParseLength(written, geo.Foot)
			require.NoError(t, err)
			f.job.Readings[i].Depth = &l
		}
	}
	return f, third
}

// A depth in the wrong unit or with two digits swapped is named with what
// was meant, nothing else is doubted, and every depth stays what it would be with
// the right figure. 47 in are 1.1938 m, 3.9 ft 1.18872 m (25.4 mm an inch, by
// definition).
func TestBlundersAreNamed(t *testing.T) {
	for _, tt := range []struct {
		name, written, says string
		code                finding.Code
		meant               float64
	}{
		{"inches as feet", "47 ft", "fits as 47 in: another unit meant?", finding.UnitMixed, 1.1938},
		{"feet as inches", "3.9 in", "fits as 3.9 ft: another unit meant?", finding.UnitMixed, 1.18872},
		{"metres as feet", "1.19 ft", "fits as 1.19 m: another unit meant?", finding.UnitMixed, 1.19},
		{"feet as metres", "3.9 m", "fits as 3.9 ft: another unit meant?", finding.UnitMixed, 1.18872},
		{"centimetres as metres", "119 m", "fits as 119 cm: another unit meant?", finding.UnitMixed, 1.19},
		{"digits swapped", "9.3 ft", "fits as 3.9 ft: two digits swapped?", finding.DigitsChanged, 1.18872},
		{"a figure that nothing explains", "8.8 ft", "does not fit the other depths: measure it again", finding.DepthOff, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f, bad := dug(t, tt.written, 1.19)
			right, _ := dug(t, "1.19 m", 1.19)
			m, want := solve(t, f), solve(t, right)
			suspects := m.Suspects()
			require.Len(t, suspects, 1, "one is wrong, one is doubted")
			s := suspects[0]
			assert.Equal(t, bad, s.Reading)
			assert.Greater(t, s.Chance, 0.9)
			assert.Equal(t, tt.code, s.Cause.Code)
			assert.InDelta(t, tt.meant, s.Meant, 1e-9)
			assert.InDelta(t, 1.19, s.Fitted, 0.2)
			assert.Equal(t, tt.says, s.Cause.Says(finding.English(geo.Foot)))
			for _, id := range []string{"box", "L1", "L3", "L5"} {
				for _, u := range []float64{0, 1} {
					a, b := m.ask(t, f, id, u, ""), want.ask(t, right, id, u, "")
					assert.InDelta(t, b.Mean, a.Mean, b.Sigma, "%s %g", id, u)
					assert.Less(t, a.Sigma, 1.5*b.Sigma, "%s %g", id, u)
				}
			}
		})
	}
	f, _ := dug(t, "1.19 m", 1.19)
	assert.Empty(t, solve(t, f).Suspects(), "all is well")
}

// Two holes that agree outvote what is usual, and a lone depth that is not is
// doubted: 2.6 m of cover, where 2 ft are recorded.
func TestDeepTwice(t *testing.T) {
	f := newField(3, 20, 2.4, 0.61)
	f.found("L2", 0.4, 2.6, survey.Crown)
	assert.Len(t, solve(t, f).Suspects(), 1)
	f.found("L2", 0.5, 2.61, survey.Crown)
	f.found("L1", 0.4, 2.59, survey.Crown)
	m := solve(t, f)
	assert.Empty(t, m.Suspects())
	assert.InDelta(t, 2.6, m.ask(t, f, "L2", 0.45, survey.Crown).Mean, 0.1)
}

// The weight that the leave-one-out formulas give to a blunder is the weight that
// it has once worked out. With an error of any size only the evidence of the other
// readings is left, times the density of such an error.
func TestBlundersAsPredicted(t *testing.T) {
	f, _ := dug(t, "4.9 ft", 1.19)
	f.level(geo.Vec{}, 7)
	f.level(geo.Vec{X: 9}, 7.3)
	m := solve(t, f)
	n := 0
	for k := range suppositions {
		b := m.beliefs[k]
		b.weight = suppositions[k].weight
		for _, c := range m.candidates(&b) {
			s, err := m.blundered(t.Context(), c)
			require.NoError(t, err)
			assert.InDelta(t, c.total, s.total(), 1e-4, "%v", c.blunder)
			n++
			if !c.blunder.out {
				continue
			}
			left := belief{weight: b.weight, ground: b.ground, mean: b.mean, prior: b.prior}
			require.NoError(t, left.condition(t.Context(), slices.Delete(slices.Clone(m.obs), c.at, c.at+1), m.rows))
			// evidence leaves out 0.5 ln 2π of every reading, of one more than here
			want := left.evidence + math.Log(left.weight) + math.Log(0.004*c.blunder.dense) + 0.5*math.Log(2*math.Pi)
			assert.InDelta(t, want, s.total(), 1e-4)
		}
	}
	assert.Greater(t, n, 8)
}

// With a wrong depth in, the order of the log changes nothing, and a wrong row
// that is struck out leaves what was known without it.
func TestBlunderOrderAndVoid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newSite(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "site"), 1)))
		rng := rand.New(rand.NewPCG(3, rapid.Uint64().Draw(t, "holes")))
		for range rapid.IntRange(1, 4).Draw(t, "n") {
			s.dig(rng, rapid.Bool().Draw(t, "shot"))
		}
		ask := func() (all []Depth) {
			m, err := Solve(t.Context(), s.job, s)
			require.NoError(t, err)
			for _, id := range []string{"box", "L1", "L2", "L3"} {
				d, ok := m.At(id, s.spot(id, 1), "")
				require.True(t, ok)
				all = append(all, d)
			}
			return all
		}
		before := ask()
		id := s.found("L1", 0.5, 0, survey.Crown)
		l, err := geo.ParseLength(fmt.Sprintf("%d ft", rapid.IntRange(20, 60).Draw(t, "inches")), geo.Foot)
		require.NoError(t, err)
		s.job.Readings[len(s.job.Readings)-1].Depth = &l
		with := ask()
		slices.Reverse(s.job.Readings)
		assert.Equal(t, with, ask())
		slices.Reverse(s.job.Readings)
		s.log(survey.Reading{Kind: survey.Void, Target: id})
		assert.Equal(t, before, ask())
	})
}

// The density of an error of any size sums to 1, by the trapezoid rule; the tail
// beyond 1000 m, 2 · 1/(4 · 1000), in closed form.
func TestGrossIsADensity(t *testing.T) {
	sum := 0.0
	for i := -1_000_000; i < 1_000_000; i++ {
		sum += 0.5 * 0.001 * (gross(0.001*float64(i)) + gross(0.001*float64(i+1)))
	}
	assert.InDelta(t, 1-2.0/4000, sum, 1e-6)
}
