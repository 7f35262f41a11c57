package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/observe"
	"asfound/survey/testsite"
)

// tiedBox is a sheet that is not to scale: its box is drawn 0.5 m within the wall from
// A to B, and its two ties, 3 m along that wall and 3.5 m off it, are met on either side.
func tiedBox(house bool) *survey.Job {
	box := testsite.Box("box", 0.6, 3, 0.5)
	for from, d := range map[string]float64{"A": math.Hypot(3, 3.5), "B": math.Hypot(9, 3.5)} {
		box.Ties = append(box.Ties, asbuilt.Tie{At: asbuilt.Center, From: from, Distance: *testsite.Metres(d)})
	}
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: asbuilt.NotToScale, Parts: []asbuilt.Part{
		testsite.Landmark("A", 0, 0), testsite.Landmark("B", 12, 0), testsite.Landmark("C", 12, 9), testsite.Landmark("D", 0, 9), box}}
	if house {
		s.Parts = append(s.Parts, testsite.Part("house", asbuilt.Building, asbuilt.Polygon, geo.Vec{}, geo.Vec{X: 12}, geo.Vec{X: 12, Y: 9}, geo.Vec{Y: 9}))
	}
	j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: s}
	for i, t := range []struct {
		from, to string
		d        float64
	}{{"A", "B", 12}, {"B", "C", 9}, {"A", "C", 15}, {"A", "D", 9}} {
		j.Readings = append(j.Readings, survey.Reading{ID: "t" + string(rune('a'+i)), Kind: survey.Tape, From: t.from, To: t.to, Value: testsite.Metres(t.d)})
	}
	return j
}

// Two ties place a box on either side of the line between their landmarks. By the
// sheet alone the one is about as likely as the other, which is said; a house that
// stands on the one side leaves the other.
func TestTiesCrossTwice(t *testing.T) {
	south := func(f *Fit) (odds float64) {
		for i := range f.components {
			c := &f.components[i]
			at := c.Placed()
			k := c.Network.Drawing.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
			a, b := at.Where(0), at.Where(1)
			across := b.Sub(a).Unit().Right().Dot(at.Where(observe.Place(k)).Sub(a))
			if len(c.Explanation.Blunders) == 0 {
				assert.InDelta(t, 3.5, math.Abs(across), 1.5, "the ties hold on either side")
			}
			if across > 0 {
				odds += c.Weight
			}
		}
		return odds
	}
	open, err := Solve(t.Context(), tiedBox(false))
	require.NoError(t, err)
	assert.InDelta(t, 0.4, south(open), 0.25)
	said := finding.With(open.Warnings, finding.TiesOpen)
	require.Len(t, said, 1)
	assert.Equal(t, []string{"box"}, said[0].Parts)
	assert.InDelta(t, min(south(open), 1-south(open)), said[0].Numbers["odds"], 1e-9)

	beside, err := Solve(t.Context(), tiedBox(true))
	require.NoError(t, err)
	assert.Greater(t, south(beside), 0.9)
	assert.InDelta(t, math.Log(south(open)/(1-south(open)))-math.Log(underBuildingOdds), math.Log(south(beside)/(1-south(beside))), 0.5,
		"the house changes the odds by what is said of boxes under houses")

	third := tiedBox(true) // a third tie, from C, to the place under the house
	for i := range third.Sketch.Parts {
		if p := &third.Sketch.Parts[i]; p.ID == "box" {
			p.Ties = append(p.Ties, asbuilt.Tie{At: asbuilt.Center, From: "C", Distance: *testsite.Metres(math.Hypot(9, 5.5))})
		}
	}
	under, err := Solve(t.Context(), third)
	require.NoError(t, err)
	assert.Less(t, south(under), 0.05, "what is written is believed: a house may have been built over it")
	assert.Empty(t, finding.With(under.Warnings, finding.TiesOpen))
}
