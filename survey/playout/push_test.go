package playout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/survey/encounter"
	"asfound/testdata/must"
)

// A plan that opens the tank and pushes first: the tank is one hole; where it gets
// there one and a half more are dug on average, else the next hole meets the box.
func TestPlaysPushFirst(t *testing.T) {
	s := boxes(make([]geo.Vec, 3000)) // at the origin in every draw
	first := &Step{Push: &Push{Opens: true, Minutes: 75, Chance: 0.85, Holes: 1.5, Hole: 30}, Hole: encounter.Hole{Tool: &spade, Radius: 0.15, Sigma: 0.02}}
	r := must.Have(Play(t.Context(), s, first, Options{Plays: 2000}))
	require.Len(t, r.Count, 3)
	assert.Equal(t, 2000, r.Found)
	assert.InDelta(t, 0.85*2.5+0.15*2, r.Mean(), 0.05)
	mean := 0.0
	for _, m := range r.Minutes {
		mean += m / 2000
	}
	assert.InDelta(t, 75+0.85*1.5*30+0.15*spade.Minutes(0), mean, 2)
	first.Push.Opens = false
	assert.InDelta(t, 0.85*1.5+0.15, must.Have(Play(t.Context(), s, first, Options{Plays: 2000})).Mean(), 0.05)
}
