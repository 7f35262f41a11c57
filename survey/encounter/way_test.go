package encounter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
)

// The way along a pipe that runs 6 m east and then 4 m south, by hand: from (2, 1)
// to a box at (7, −3) it is 4 m to the corner and 3 m down, and 1 m from there.
func TestWayByHand(t *testing.T) {
	nan := geo.Vec{X: math.NaN()}
	o := Object{Body: pipe, pieces: pieces([][]geo.Vec{{{}, {X: 6}, {X: 6, Y: -4}}, {nan, nan, nan}}, 2)}
	east, south := geo.Vec{X: 1}, geo.Vec{Y: -1}
	for _, tt := range []struct {
		name     string
		from, to geo.Vec
		want     Way
	}{
		{"round the corner", geo.Vec{X: 2, Y: 1}, geo.Vec{X: 7, Y: -3}, Way{7, 1, east}},
		{"and back", geo.Vec{X: 7, Y: -3}, geo.Vec{X: 2, Y: 1}, Way{7, 1, south.Scale(-1)}},
		{"past its end", geo.Vec{X: 6, Y: -2}, geo.Vec{X: 6, Y: -9}, Way{2, 5, south}},
		{"there already", geo.Vec{X: 3, Y: 0.1}, geo.Vec{X: 3, Y: -2}, Way{0, 2, geo.Vec{}}},
	} {
		y, ok := o.Way(0, tt.from, tt.to)
		assert.True(t, ok, tt.name)
		assert.InDelta(t, tt.want.Along, y.Along, 1e-12, tt.name)
		assert.InDelta(t, tt.want.Gap, y.Gap, 1e-12, tt.name)
		assert.Less(t, y.Toward.Dist(tt.want.Toward), 1e-12, "%s: %v", tt.name, y.Toward)
	}
	_, ok := o.Way(1, geo.Vec{}, geo.Vec{X: 1})
	assert.False(t, ok, "a draw without the line")
	_, ok = o.Way(0, geo.Vec{}, nan)
	assert.False(t, ok, "nowhere to go")
	disc := Object{spots: []geo.Vec{{}}}
	_, ok = disc.Way(0, geo.Vec{}, geo.Vec{X: 1})
	assert.False(t, ok, "no line")
}
