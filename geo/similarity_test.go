package geo_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
)

// The coefficients of the conformal transformation by the normal equations as
// the books write them, a X − b Y + c = E and b X + a Y + d = N (Ghilani & Wolf,
// Adjustment Computations, ch. 18), solved for these points in exact fractions
// (Python's fractions module).
func TestHelmertAgainstNormalEquations(t *testing.T) {
	from := []geo.Vec{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 8}, {X: 1, Y: 9}}
	to := []geo.Vec{{X: 100.1, Y: 49.9}, {X: 117.2, Y: 67.3}, {X: 105.6, Y: 78.4}, {X: 88.6, Y: 63.8}}
	move, ok := geo.FitHelmert(from, to, nil).Similarity()
	require.True(t, ok)
	a, b := 1.407664233577, 1.448296836983
	got := move(geo.Vec{X: 1}).Sub(move(geo.Vec{}))
	assert.InDelta(t, a, got.X, 1e-9)
	assert.InDelta(t, b, got.Y, 1e-9)
	turn, ok := geo.FitHelmert(from, to, nil).Turn()
	require.True(t, ok)
	assert.InDelta(t, math.Atan2(b, a), turn.Radians(), 1e-9)
}

// The worked example of the same chapter, every printed digit: the coefficients,
// and four places that the book transforms (inputs and outputs from memory).
func TestHelmertOfTheBook(t *testing.T) {
	from := []geo.Vec{{X: 121.622, Y: -128.066}, {X: 141.228, Y: 187.718}, {X: 175.802, Y: 135.728}}
	to := []geo.Vec{{X: 1049422.40, Y: 51089.20}, {X: 1049413.95, Y: 49659.30}, {X: 1049244.95, Y: 49884.95}}
	move, ok := geo.FitHelmert(from, to, nil).Similarity()
	require.True(t, ok)
	zero := move(geo.Vec{})
	got := move(geo.Vec{X: 1}).Sub(zero)
	assert.InDelta(t, -4.51249, got.X, 5e-6)
	assert.InDelta(t, -0.25371, got.Y, 5e-6)
	assert.InDelta(t, 1050003.715, zero.X, 5e-4)
	assert.InDelta(t, 50542.131, zero.Y, 5e-4)
	for _, tt := range [][4]float64{{174.148, -120.262, 1049187.361, 51040.629}, {513.520, -192.130, 1047637.713, 51278.829},
		{754.444, -67.706, 1046582.113, 50656.241}, {972.788, 120.994, 1045644.713, 49749.336}} {
		at := move(geo.Vec{X: tt[0], Y: tt[1]})
		assert.InDelta(t, tt[2], at.X, 6e-4)
		assert.InDelta(t, tt[3], at.Y, 6e-4)
	}
}

// A place that counts twice counts as two.
func TestHelmertWeights(t *testing.T) {
	from := []geo.Vec{{}, {X: 3}, {X: 3, Y: 4}}
	to := []geo.Vec{{X: 1}, {X: 1, Y: 3.2}, {X: -3, Y: 2.9}}
	twice, _ := geo.FitHelmert(append(from, from[2]), append(to, to[2]), nil).Similarity()
	heavy, _ := geo.FitHelmert(from, to, []float64{1, 1, 2}).Similarity()
	assert.InDelta(t, 0, twice(geo.Vec{X: 7, Y: -5}).Dist(heavy(geo.Vec{X: 7, Y: -5})), 1e-12)
}

func TestHelmertUndetermined(t *testing.T) {
	_, ok := geo.FitHelmert([]geo.Vec{{X: 1}}, []geo.Vec{{Y: 2}}, nil).Similarity()
	assert.False(t, ok)
	assert.Equal(t, geo.Vec{X: 1, Y: 2}, geo.Rigid([]geo.Vec{{X: 1}}, []geo.Vec{{Y: 2}}).Move(geo.Vec{X: 2}))
	assert.Equal(t, geo.Vec{X: 2}, geo.Rigid(nil, nil).Move(geo.Vec{X: 2}))
}

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
		m := geo.Congruence(house[:n], to, 0.3)
		assert.Equal(t, flip && n > 2, m.Flip)
		for i, v := range house[:n] {
			assert.InDelta(t, 0, m.Move(v).Dist(to[i]), 1e-9)
		}
		if n > 2 {
			box := geo.Vec{X: 5, Y: -10}
			assert.InDelta(t, 0, m.Move(box).Dist(there(box)), 1e-9)
		}
	})
}
