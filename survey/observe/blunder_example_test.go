package observe

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/testsite"
)

// tried returns what a length would be under each of its blunders, in metres,
// by the codes that name them, the amount with them.
func tried(t *testing.T, written string, u geo.Unit) map[string]float64 {
	t.Helper()
	l, err := geo.ParseLength(written, u)
	require.NoError(t, err)
	at := map[string]float64{}
	change := func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(d *distance) { d.value = correct(d.value) })
	}
	for _, b := range lengthBlunders(l, u, change) {
		as := func(metres float64) float64 { return b.Change(&distance{value: metres}).(*distance).value }
		at[b.Cause.Key()] = as(l.Metres)
		assert.Positive(t, b.Odds)
		assert.Less(t, b.Odds, 0.01)
		assert.InDelta(t, -as(l.Metres), as(-l.Metres), 1e-12, "an offset to the left is as far")
	}
	return at
}

// What a tape of 34' 6" (10.5156 m) should have read under each blunder that
// crews make (common practice, no published source), by hand: 1 ft is 0.3048 m.
func TestBlundersOfALength(t *testing.T) {
	const ft = 0.3048
	amount := func(c finding.Code, v string) string { return c.New(finding.Word("amount", v)).Key() }
	at := tried(t, `34' 6"`, geo.Foot)
	for says, feet := range map[string]float64{
		finding.FootLong.New().Key():            33.5,
		finding.FootShort.New().Key():           35.5,
		amount(finding.TenLong, "10 ft"):        24.5,
		amount(finding.TenShort, "10 ft"):       44.5,
		amount(finding.TapeShort, "50 ft"):      84.5,
		amount(finding.TapeShort, "100 ft"):     134.5,
		amount(finding.InchesTenths, "34.6 ft"): 34.6,
		amount(finding.DigitsChanged, `43' 6"`): 43.5,
		finding.InMetres.New().Key():            34.5 / ft,
	} {
		if assert.Contains(t, at, says) {
			assert.InDelta(t, feet*ft, at[says], 1e-9, says)
		}
	}
	assert.Len(t, at, 9)

	at = tried(t, "12.05 m", geo.Metre)
	for says, metres := range map[string]float64{
		finding.MetreLong.New().Key():     11.05,
		finding.MetreShort.New().Key():    13.05,
		amount(finding.TenLong, "10 m"):   2.05,
		amount(finding.TenShort, "10 m"):  22.05,
		amount(finding.TapeShort, "30 m"): 42.05,
		finding.InFeet.New().Key():        12.05 * ft,
	} {
		if assert.Contains(t, at, says) {
			assert.InDelta(t, metres, at[says], 1e-9, says)
		}
	}
}

// What else a reading may hold, by hand: for each what the observation becomes.
func TestBlundersOfOtherReadings(t *testing.T) {
	j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: testsite.Sketch(asbuilt.Roughly), Readings: []survey.Reading{
		{ID: "base", Kind: survey.Baseline, From: "A", To: "B", Point: "P", Value: testsite.Metres(5), Offset: testsite.Metres(3)},
		{ID: "bearing", Kind: survey.Bearing, From: "A", To: "P", Azimuth: geo.Degrees(40), North: survey.TrueNorth},
		{ID: "needle", Kind: survey.Bearing, From: "A", To: "P", Azimuth: geo.Degrees(40), North: survey.MagneticNorth},
		{ID: "slope", Kind: survey.Tape, From: "A", To: "P", Value: testsite.Metres(17)},
		{ID: "a", Kind: survey.Level, Point: "A", Value: testsite.Metres(100)},
		{ID: "p", Kind: survey.Level, Point: "P", Value: testsite.Metres(108)},
		{ID: "l", Kind: survey.Found, Point: "P", Target: "L2"},
	}}
	j.Settings.Unit = geo.Metre
	j.Settings.Declination = geo.Degrees(10)
	log, d := NewLog(j), drawing.New(j.Sketch, drawing.Hypothesis{})
	blunder := func(id string, code finding.Code, parts ...string) (Observation, *Blunder) {
		for i := range log.Readings {
			if log.Readings[i].ID != id {
				continue
			}
			o := log.Observe(d, i, Explanation{})
			for _, b := range log.Blunders(d, Explanation{}, []Observation{o}) {
				if b.Cause.Code == code && slices.Equal(b.Cause.Parts, parts) {
					if b.Change != nil {
						o = b.Change(o)
					}
					return o, b
				}
			}
		}
		require.Fail(t, "no such blunder", "%s: %s", id, code)
		return nil, nil
	}
	// Left for right: the offset turns over, the station stays.
	g, _ := blunder("base", finding.LeftForRight)
	assert.Equal(t, [2]float64{5, -3}, [2]float64{g.(*offsets).station, g.(*offsets).offset})
	// From the other end: B to A, and what was right is left.
	g, _ = blunder("base", finding.Backwards)
	assert.Equal(t, [2]float64{5, -3}, [2]float64{g.(*offsets).station, g.(*offsets).offset})
	assert.Equal(t, Place(d.Spots[asbuilt.SpotName{Part: "B", Spot: asbuilt.Center}]), g.(*offsets).p)
	assert.Equal(t, Place(d.Spots[asbuilt.SpotName{Part: "A", Spot: asbuilt.Center}]), g.(*offsets).q)
	// Turned round: 220°.
	g, _ = blunder("bearing", finding.TurnedRound)
	assert.InDelta(t, 220, g.(*direction).value*180/math.Pi, 1e-9)
	// A magnetic 40° noted as true is 50° true where the needle points 10° east.
	g, _ = blunder("bearing", finding.MagneticNorth)
	assert.InDelta(t, 50, g.(*direction).value*180/math.Pi, 1e-9)
	// A true 40° noted as magnetic: the needle would have read 30°.
	g, _ = blunder("needle", finding.TrueNorth)
	assert.InDelta(t, 30, g.(*direction).value*180/math.Pi, 1e-9)
	// 17 m along a slope that rises 8 m is 15 m on the level.
	g, s := blunder("slope", finding.SlopeDistance)
	assert.InDelta(t, 15, g.(*distance).value, 1e-9)
	assert.Equal(t, "15.00 m", s.Instead)
	// The neighbouring trench: L1 and L3 are a spacing off and share 4/4 against
	// L4's 1/4, which is two off: odds by the square of how far.
	_, one := blunder("l", finding.OtherTrench, "L1", "L2")
	_, three := blunder("l", finding.OtherTrench, "L3", "L2")
	_, four := blunder("l", finding.OtherTrench, "L4", "L2")
	assert.InDelta(t, 0.03*4/9, one.Odds, 1e-12)
	assert.InDelta(t, one.Odds, three.Odds, 1e-12)
	assert.InDelta(t, one.Odds/4, four.Odds, 1e-12)
	assert.Equal(t, "L4", four.Met)
	// An error of any size is spread over 30 √(2π) = 75.2 m a row, or a circle.
	_, any := blunder("base", "")
	assert.InDelta(t, 2*math.Log(30*math.Sqrt(2*math.Pi)), any.Volume, 1e-9)
	_, any = blunder("bearing", "")
	assert.InDelta(t, math.Log(2*math.Pi), any.Volume, 1e-9)
	assert.True(t, any.Out)
}
