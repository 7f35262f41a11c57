package depth

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey"
)

// A depth that is a foot off in a trench that was met elsewhere stands out, and
// nothing else does but the level of the same hole, from which the adjustment
// cannot tell it.
func TestBlunderIsNamed(t *testing.T) {
	f := newField(4, 20, 2.4, math.NaN())
	var bad []string
	for i, id := range []string{"L1", "L2", "L3", "L4", "L1", "L2", "L2"} {
		u := []float64{0.1, 0.3, 0.6, 0.9, 0.8, 0.7, 0.1}[i]
		d := 0.9
		if i == 5 {
			d += 0.3048
		}
		r := []string{f.found(id, u, d, survey.Crown), f.level(f.spot(id, u), 12)}
		if i == 5 {
			bad = r
		}
	}
	m := solve(t, f)
	all := m.Residuals()
	require.Len(t, all, 14)
	sum, others, most := 0.0, 0.0, 0.0
	for _, r := range all {
		assert.GreaterOrEqual(t, r.Redundancy, 0.0)
		assert.LessOrEqual(t, r.Redundancy, 1.0)
		sum += r.Redundancy
		if r.Reading == bad[0] {
			assert.Greater(t, r.Standardized, 3.29)
			assert.Less(t, r.Fitted, r.Observed)
		}
		if !slices.Contains(bad, r.Reading) {
			others = max(others, math.Abs(r.Standardized))
		} else {
			most = max(most, math.Abs(r.Standardized))
		}
	}
	assert.Greater(t, most, others)
	assert.Less(t, others, 1.96)
	suspects := m.Suspects()
	require.NotEmpty(t, suspects)
	for _, s := range suspects {
		assert.Contains(t, bad, s.Reading)
	}
	assert.Greater(t, sum, 1.0)
	assert.Less(t, sum, 14.0)
}

// The redundancy number is what is left of a blunder in the residual, and w the
// misfit to all else over its standard deviation: both against solving again
// without the reading.
func TestResidualsAgainstLeavingOut(t *testing.T) {
	f := newField(3, 20, 2.4, 0.61)
	f.found("L1", 0.2, 0.9, survey.Crown)
	f.found("L2", 0.5, 1.0, survey.Crown)
	f.found("L1", 0.9, 0.8, survey.Crown)
	m := solve(t, f)
	likeliest := slices.MaxFunc(m.beliefs, func(a, b belief) int { return cmp.Compare(a.weight, b.weight) })
	residuals := m.Residuals()
	r := residuals[len(residuals)-1]
	last := len(m.obs) - 1
	o := m.obs[last]
	without := belief{ground: likeliest.ground, mean: likeliest.mean, prior: likeliest.prior}
	require.NoError(t, without.condition(t.Context(), m.obs[:last], m.rows))
	mean, variance := without.predict(&o.quantity)
	assert.InDelta(t, (o.value-mean)/math.Sqrt(variance+o.sigma*o.sigma), r.Standardized, 1e-9)
	fitted, _ := likeliest.predict(&o.quantity)
	assert.InDelta(t, fitted, r.Fitted, 1e-9)
	assert.InDelta(t, (o.value-fitted)/(o.value-mean), r.Redundancy, 1e-9)
}
