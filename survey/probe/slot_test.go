package probe

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

// Where metres of slot cost next to nothing, the plan has a machine cut slots;
// where they are very dear, holes.
func TestSlotsWhereTheyAreCheap(t *testing.T) {
	s := simulate.Invent(simulate.Order{Seed: 3, Trust: asbuilt.Roughly, Mix: simulate.Tapes})
	machine, _ := survey.ToolNamed("excavator")
	for _, tt := range []struct {
		minutes float64
		slot    bool
	}{{0.05, true}, {500, false}} {
		machine.Slot = tt.minutes
		s.Job.Settings.Tools = []survey.Tool{machine}
		solved, err := fit.Solve(t.Context(), s.Job)
		assert.NoError(t, err)
		loc, err := locate.Locate(t.Context(), s.Job, solved)
		assert.NoError(t, err)
		plan, err := Options{Holes: 1, Levels: -1}.Plan(t.Context(), loc, must.Have(loc.Posterior.Draws(t.Context(), 800)))
		assert.NoError(t, err)
		if assert.NotEmpty(t, plan.Holes) {
			h := plan.Holes[0]
			assert.Equal(t, tt.slot, h.Slot(), "%+v", h)
			if tt.slot {
				assert.GreaterOrEqual(t, len(h.ToTies), 2)
				assert.Greater(t, h.To.Dist(h.At), 1.4)
			}
		}
	}
}
