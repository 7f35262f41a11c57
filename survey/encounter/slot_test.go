package encounter

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// A slot of 0.4 m across lines of 0.9 m, by plane geometry.
func TestWhatASlotMeets(t *testing.T) {
	line := Object{Body: Body{Line: true, Reach: 0.45}, Kind: asbuilt.Lateral, pieces: pieces([][]geo.Vec{{{}, {X: 10}}}, 1)}
	box := Object{Body: Body{Reach: 0.34}, Kind: asbuilt.Box, spots: []geo.Vec{{X: -2}}}
	for _, tt := range []struct {
		name     string
		o        *Object
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
			in, spot := tt.o.Inside(0, &Hole{At: tt.at, Slot: tt.slot, Radius: 0.2}, 1)
			assert.InDelta(t, tt.in, in, 1e-9)
			assert.Equal(t, tt.spot, spot)
		})
	}
}

// A slot costs a hole, and the table's minutes for each metre and metre of
// depth more.
func TestMinutesOfASlot(t *testing.T) {
	machine, _ := survey.ToolNamed("excavator")
	h := Hole{Tool: &machine, Slot: geo.Vec{X: 3, Y: 4}}
	assert.InDelta(t, machine.Minutes(1.2)+3*5*1.2, h.Minutes(1.2), 1e-9)
}

// What a hole takes, by hand: to its stop depth where it is empty, to 0.8 of that
// where it meets something, and 20 minutes more to repair a line that a machine
// has cut; a shovel cuts none.
func TestMinutesOfWhatIsMet(t *testing.T) {
	machine, _ := survey.ToolNamed("excavator")
	shovel, _ := survey.ToolNamed("shovel")
	for _, tool := range []survey.Tool{machine, shovel} {
		h := Hole{Tool: &tool, Stop: 1}
		assert.InDelta(t, tool.Start+tool.PerMetre+tool.PerSquare, h.MinutesOf(None), 1e-9)
		met := tool.Start + 0.8*tool.PerMetre + 0.64*tool.PerSquare
		assert.InDelta(t, met, h.MinutesOf(Sought), 1e-9)
		if tool.Slot > 0 {
			met += 20
		}
		assert.InDelta(t, met, h.MinutesOf(Trench), 1e-9)
	}
}
