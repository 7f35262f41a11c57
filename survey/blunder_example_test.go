package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
)

// tried returns what a length would be under each of its blunders, in metres,
// by the words that name them.
func tried(t *testing.T, written string, u geo.Unit) map[string]float64 {
	t.Helper()
	l, err := geo.ParseLength(written, u)
	require.NoError(t, err)
	at := map[string]float64{}
	for _, s := range lengthSlips(l, u) {
		o := observation{value: l.Metres}
		s.change(&o)
		at[s.says] = o.value
		assert.Positive(t, s.odds)
		assert.Less(t, s.odds, 0.01)
		m := observation{value: -l.Metres} // an offset to the left
		s.change(&m)
		assert.InDelta(t, -o.value, m.value, 1e-12, "the other side is as far")
	}
	return at
}

// What a tape of 34' 6" (10.5156 m) should have read under each blunder that
// crews make (common practice, no published source), by hand: 1 ft is 0.3048 m.
func TestBlundersOfALength(t *testing.T) {
	const ft = 0.3048
	at := tried(t, `34' 6"`, geo.Foot)
	for says, feet := range map[string]float64{
		"reads 1.00 ft long: tape held at the 1 ft mark?":  33.5,
		"reads 1.00 ft short: a foot dropped?":             35.5,
		"reads 10 ft long: a tens figure misread?":         24.5,
		"reads 10 ft short: a tens figure misread?":        44.5,
		"reads 50 ft short: a tape length not counted?":    84.5,
		"reads 100 ft short: a tape length not counted?":   134.5,
		"fits as 34.6 ft: inches and tenths changed over?": 34.6,
		`fits as 43' 6": digits changed over?`:             43.5,
		"fits as metres: the other side of the tape read?": 34.5 / ft,
	} {
		if assert.Contains(t, at, says) {
			assert.InDelta(t, feet*ft, at[says], 1e-9, says)
		}
	}
	assert.Len(t, at, 9)

	at = tried(t, "12.05 m", geo.Metre)
	for says, metres := range map[string]float64{
		"reads 1 m long: tape held at the 1 m mark?":     11.05,
		"reads 1 m short: a metre dropped?":              13.05,
		"reads 10 m long: a tens figure misread?":        2.05,
		"reads 10 m short: a tens figure misread?":       22.05,
		"reads 30 m short: a tape length not counted?":   42.05,
		"fits as feet: the other side of the tape read?": 12.05 * ft,
	} {
		if assert.Contains(t, at, says) {
			assert.InDelta(t, metres, at[says], 1e-9, says)
		}
	}
}

// What else a reading may hold, by hand: for each what the observation becomes.
func TestBlundersOfOtherReadings(t *testing.T) {
	j := &Job{Settings: DefaultSettings(), Sketch: smallSketch(asbuilt.Roughly), Readings: []Reading{
		{ID: "base", Kind: Baseline, From: "A", To: "B", Point: "P", Value: metres(5), Offset: metres(3)},
		{ID: "bearing", Kind: Bearing, From: "A", To: "P", Azimuth: geo.Degrees(40), North: TrueNorth},
		{ID: "needle", Kind: Bearing, From: "A", To: "P", Azimuth: geo.Degrees(40), North: MagneticNorth},
		{ID: "slope", Kind: Tape, From: "A", To: "P", Value: metres(17)},
		{ID: "a", Kind: Level, Point: "A", Value: metres(100)},
		{ID: "p", Kind: Level, Point: "P", Value: metres(108)},
		{ID: "l", Kind: Found, Point: "P", Target: "L2"},
	}}
	j.Settings.Unit = geo.Metre
	j.Settings.Declination = geo.Degrees(10)
	b := newBook(j)
	d := newDrawing(j.Sketch, fault{})
	blunder := func(id, says string) (changed []observation, s *slip) {
		for i := range b.readings {
			if b.readings[i].ID != id {
				continue
			}
			group := b.observe(d, i, explanation{})
			for _, s := range b.slips(d, explanation{}, group) {
				if s.says == says {
					for k := range group {
						if s.change != nil {
							s.change(&group[k])
						}
					}
					return group, s
				}
			}
		}
		require.Fail(t, "no such blunder", "%s: %s", id, says)
		return nil, nil
	}
	// Left for right: the offset turns over, the station stays.
	g, _ := blunder("base", "fits on the other side of its line: left and right changed over?")
	assert.Equal(t, [2]float64{5, -3}, [2]float64{g[0].value, g[1].value})
	// From the other end: B to A, and what was right is left.
	g, _ = blunder("base", "fits when measured from B, not from A")
	assert.Equal(t, [2]float64{5, -3}, [2]float64{g[0].value, g[1].value})
	assert.Equal(t, place(d.spots[SpotName{"B", asbuilt.Center}]), g[0].p)
	assert.Equal(t, place(d.spots[SpotName{"A", asbuilt.Center}]), g[1].q)
	// Turned round: 220°.
	g, _ = blunder("bearing", "fits turned round: read from the other end?")
	assert.InDelta(t, 220, g[0].value*180/math.Pi, 1e-9)
	// A magnetic 40° noted as true is 50° true where the needle points 10° east.
	g, _ = blunder("bearing", "fits as counted from magnetic north")
	assert.InDelta(t, 50, g[0].value*180/math.Pi, 1e-9)
	// A true 40° noted as magnetic: the needle would have read 30°.
	g, _ = blunder("needle", "fits as counted from true north: was the declination set on the compass?")
	assert.InDelta(t, 30, g[0].value*180/math.Pi, 1e-9)
	// 17 m along a slope that rises 8 m is 15 m on the level.
	g, s := blunder("slope", "fits as a slope distance: the tape was not held level?")
	assert.InDelta(t, 15, g[0].value, 1e-9)
	assert.Equal(t, "15.00 m", s.instead)
	// The neighbouring trench: L1 and L3 are a spacing off and share 4/4 against
	// L4's 1/4, which is two off: odds by the square of how far.
	_, one := blunder("l", "fits as L1, not L2")
	_, three := blunder("l", "fits as L3, not L2")
	_, four := blunder("l", "fits as L4, not L2")
	assert.InDelta(t, 0.03*4/9, one.odds, 1e-12)
	assert.InDelta(t, one.odds, three.odds, 1e-12)
	assert.InDelta(t, one.odds/4, four.odds, 1e-12)
	assert.Equal(t, "L4", four.met)
	// An error of any size is spread over 30 √(2π) = 75.2 m a row, or a circle.
	_, any := blunder("base", "")
	assert.InDelta(t, 2*math.Log(30*math.Sqrt(2*math.Pi)), any.volume, 1e-9)
	_, any = blunder("bearing", "")
	assert.InDelta(t, math.Log(2*math.Pi), any.volume, 1e-9)
	assert.True(t, any.out)
}
