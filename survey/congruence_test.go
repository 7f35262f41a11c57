package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/geo"
)

// Landmarks seen from the back of the paper are laid by a flip, whatever turn
// and shift go with it; those seen from the front never are, nor are two, which
// lie as well either way.
func TestCongruence(t *testing.T) {
	house := []geo.Vec{{}, {X: 12}, {X: 12, Y: 8}, {Y: 8}}
	rapid.Check(t, func(t *rapid.T) {
		turn := geo.Degrees(rapid.Float64Range(-180, 180).Draw(t, "turn"))
		shift := geo.Vec{X: rapid.Float64Range(-50, 50).Draw(t, "x"), Y: rapid.Float64Range(-50, 50).Draw(t, "y")}
		flip := rapid.Bool().Draw(t, "flip")
		n := rapid.IntRange(2, 4).Draw(t, "landmarks")
		there := func(v geo.Vec) geo.Vec {
			if flip {
				v.X = -v.X
			}
			return v.Rotate(turn).Add(shift)
		}
		var to []geo.Vec
		for _, v := range house[:n] {
			to = append(to, there(v))
		}
		m := congruence(house[:n], to)
		assert.Equal(t, flip && n > 2, m.flip)
		for i, v := range house[:n] {
			assert.InDelta(t, 0, m.move(v).Dist(to[i]), 1e-9)
		}
		if n > 2 {
			box := geo.Vec{X: 5, Y: -10}
			assert.InDelta(t, 0, m.move(box).Dist(there(box)), 1e-9)
		}
	})
}
