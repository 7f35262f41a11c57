package probe

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/simulate"
)

// A slot of 0.4 m across lines of 0.9 m, by plane geometry.
func TestWhatASlotMeets(t *testing.T) {
	line := object{kind: asbuilt.Lateral, reach: 0.45, pieces: pieces([][]geo.Vec{{{}, {X: 10}}}, 1)}
	box := object{kind: asbuilt.Box, reach: 0.34, spots: []geo.Vec{{X: -2}}}
	for _, tt := range []struct {
		name     string
		o        *object
		at, slot geo.Vec
		in       float64
		spot     asbuilt.Spot
	}{
		{"square across", &line, geo.Vec{X: 5, Y: -2}, geo.Vec{Y: 4}, 0.65, ""},
		{"ends short of it", &line, geo.Vec{X: 5, Y: -3}, geo.Vec{Y: 2}, -0.35, ""},
		{"over its end", &line, geo.Vec{X: 9.9, Y: -2}, geo.Vec{Y: 4}, 0.3, asbuilt.End},
		{"just past its end", &line, geo.Vec{X: 10.3, Y: -2}, geo.Vec{Y: 4}, -0.1, asbuilt.End},
		{"over its start", &line, geo.Vec{X: -0.1, Y: -2}, geo.Vec{Y: 4}, 0.1, asbuilt.Start},
		{"past the box", &box, geo.Vec{X: -1, Y: -2}, geo.Vec{Y: 4}, 0.34 + 0.2 - 1, ""},
		{"through the box", &box, geo.Vec{X: -2.1, Y: -2}, geo.Vec{Y: 4}, 0.34 + 0.2 - 0.1, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in, spot := tt.o.cut(0, &hole{at: tt.at, slot: tt.slot, radius: 0.2}, 1)
			assert.InDelta(t, tt.in, in, 1e-9)
			assert.Equal(t, tt.spot, spot)
		})
	}
}

// A slot costs a hole, and the table's minutes for each metre and metre of
// depth more.
func TestMinutesOfASlot(t *testing.T) {
	machine, _ := survey.ToolNamed("excavator")
	h := hole{tool: &machine, slot: geo.Vec{X: 3, Y: 4}}
	assert.InDelta(t, machine.Minutes(1.2)+3*5*1.2, h.minutes(1.2), 1e-9)
}

// Where metres of slot cost next to nothing, a machine is told to cut slots; where
// they cost the earth, holes.
func TestSlotsWhereTheyAreCheap(t *testing.T) {
	s := simulate.Invent(simulate.Order{Seed: 3, Trust: asbuilt.Roughly, Mix: simulate.Tapes})
	machine, _ := survey.ToolNamed("excavator")
	for _, tt := range []struct {
		minutes float64
		slot    bool
	}{{0.05, true}, {500, false}} {
		machine.Slot = tt.minutes
		s.Job.Settings.Tools = []survey.Tool{machine}
		solved, err := fit.Solve(s.Job)
		assert.NoError(t, err)
		loc, err := locate.Locate(s.Job, solved)
		assert.NoError(t, err)
		plan, err := Options{Holes: 1, Levels: -1}.Plan(loc, loc.Posterior.Draws(800))
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
