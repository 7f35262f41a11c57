package playout

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/testdata/must"
)

// A box that lies at one of seven places takes (7 + 1)/2 holes after the plan's own,
// which can meet nothing. A rod that is nearly always right, put down once at each,
// shows which it is: one hole, and the plan's is not dug. A rod that feels nothing
// leaves the search as it was, and its minutes are lost.
func TestPlaysOfARod(t *testing.T) {
	rod, _ := survey.ToolNamed("rod")
	for _, tt := range []struct {
		rates survey.Rodding
		mean  float64
	}{{survey.Rodding{Hits: 0.999, Stones: 0.001}, 1}, {survey.Rodding{Hits: 0.001, Stones: 0.001}, 4}} {
		s := boxes(apart(2520, count(7)...))
		s.Rod, s.Rods = &rod, tt.rates
		step := before()
		step.Stabs = &encounter.Stabs{Sigma: 0.02, Stop: 1, Tool: &rod}
		for k := range 7 {
			step.Stabs.At = append(step.Stabs.At, geo.Vec{X: 5 * float64(k)})
		}
		r := must.Have(Play(t.Context(), s, step, Options{Plays: 210}))
		assert.Equal(t, 210, r.Found)
		assert.InDelta(t, tt.mean, r.Mean(), 0.3, "a rod that is wrong once in 200 plays misleads for long")
		least := 5 + 7*rod.Minutes(1) + spade.Minutes(0)
		for _, m := range r.Minutes {
			assert.Greater(t, m, least-1e-9)
		}
	}
}
