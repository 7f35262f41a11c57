package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/observe"
	"asfound/survey/testsite"
)

// What the leave-one-out formulas promise for a blunder is what a fit with it
// weighs: a tape 12 cm long, three standard deviations, is judged from the fit as it
// is, one a foot long from a fit without it, which is handed back.
func TestScreenIsBorneOutByFits(t *testing.T) {
	for _, tt := range []struct {
		long float64 // metres
		left int     // fits without a reading
		off  float64 // of the logarithm of a weight
	}{{0.12, 0, 0.5}, {0.3048, 1, 0.5}} {
		j, err := testsite.Braced()
		require.NoError(t, err)
		wrong := ""
		for i := range j.Readings {
			if r := &j.Readings[i]; r.From == "B" && r.To == "H2" {
				v := *r.Value
				v.Metres += tt.long
				r.Value, wrong = &v, r.ID
			}
		}
		prepared, err := Prepare(j.Sketch)
		require.NoError(t, err)
		p := &problem{prepared, observe.NewLog(j), t.Context()}
		c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
		require.NoError(t, err)
		left, all := p.screen(&c)
		var out []Component
		for _, n := range left {
			if n.Explanation.Blunders[wrong] != nil {
				out = append(out, n)
			}
		}
		require.Len(t, out, tt.left)
		seen := 0
		for _, a := range all {
			if a.explanation.Blunders[wrong] == nil {
				continue
			}
			seen++
			n, _, err := p.solve(a.explanation, a.from.Solution.Y)
			require.NoError(t, err)
			assert.InDelta(t, n.logWeight, a.estimate, tt.off, "%v", a.explanation.Key())
			assert.Greater(t, a.estimate, c.logWeight+math.Log(blunderOdds))
		}
		assert.Positive(t, seen)
		if tt.left > 0 { // left out, the reading weighs its odds over the range that any error may take
			b := out[0].Explanation.Blunders[wrong]
			assert.True(t, b.Out)
			assert.InDelta(t, math.Log(b.Odds)-b.Volume, out[0].logWeight-withoutReading(t, j, wrong).logWeight, 0.05)
		}
		// A reading that is taken for wrong already is not taken for wrong again.
		again := c
		again.Explanation = again.Explanation.blundered(observe.Gross(wrong))
		_, all = p.screen(&again)
		for _, a := range all {
			assert.True(t, a.explanation.Blunders[wrong].Out)
		}
	}
}

// withoutReading returns the fit of a job that never had a reading.
func withoutReading(t *testing.T, j *survey.Job, id string) Component {
	t.Helper()
	k := *j
	k.Readings = nil
	for _, r := range j.Readings {
		if r.ID != id {
			k.Readings = append(k.Readings, r)
		}
	}
	prepared, err := Prepare(k.Sketch)
	require.NoError(t, err)
	p := &problem{prepared, observe.NewLog(&k), t.Context()}
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	return c
}

// The readings of a component, each with all its numbers: a baseline has two, what
// is written on the sheet stands for itself.
func TestGroupsByHand(t *testing.T) {
	p := taped(t, func(j *survey.Job) {
		j.Readings = []survey.Reading{
			{ID: "a", Kind: survey.Tape, From: "A", To: "B", Value: testsite.Metres(12)},
			{ID: "b", Kind: survey.Baseline, From: "A", To: "B", Point: "P", Value: testsite.Metres(5), Offset: testsite.Metres(6)},
			{ID: "c", Kind: survey.Tape, From: "A", To: "P", Value: testsite.Metres(7.81)},
		}
		j.Sketch.Part("L1").Length = testsite.Metres(20)
	})
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	rows := map[string]int{}
	for _, g := range c.groups() {
		id := g.observations[0].ID()
		for _, o := range g.observations {
			assert.Equal(t, id, o.ID())
		}
		rows[id] += len(g.rows)
		for _, i := range g.rows {
			assert.Equal(t, id, c.Network.Rows[i].Of.ID())
		}
	}
	assert.Equal(t, map[string]int{"a": 1, "b": 2, "c": 1, "sketch:L1.length": 1}, rows)
	assert.Equal(t, adjust.Converged, c.Solution.Status)
}
