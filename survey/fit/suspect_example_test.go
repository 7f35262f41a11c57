package fit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/observe"
	"asfound/survey/testsite"
	"asfound/survey/testsite/little"
)

// weighed returns a fit of the test site's job whose explanations, alike but for
// that, take the named readings for wrong with the given weights; "": none.
func weighed(t *testing.T, p *problem, weights map[string]float64) (*Fit, *Component) {
	t.Helper()
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	f := &Fit{log: p.log, GlobalP: 0.5}
	for _, id := range heaviestFirst(weights) {
		one := c
		one.Weight = weights[id]
		if id != "" {
			one.Explanation = one.Explanation.blundered(observe.Gross(id))
		}
		f.components = append(f.components, one)
	}
	return f, &c
}

// A reading is called wrong where some reading is, more likely than not; then the
// ones that hardly may be are not named. Its odds are the weight of the
// explanations that say so, and how much likelier that makes everything is their
// ratio to the rest.
func TestSuspectsByWeight(t *testing.T) {
	p := taped(t, nil)
	f, c := weighed(t, p, map[string]float64{"": 0.7, "ra": 0.3})
	p.suspect(f, c)
	assert.Empty(t, f.Suspects, "more likely nothing is wrong")

	f, c = weighed(t, p, map[string]float64{"": 0.2, "ra": 0.5, "rb": 0.2, "rc": 0.1})
	p.suspect(f, c)
	require.Len(t, f.Suspects, 2)
	assert.Equal(t, "ra rb", f.Suspects[0].Reading+" "+f.Suspects[1].Reading)
	assert.InDelta(t, 0.5, f.Suspects[0].Odds, 1e-12)
	assert.InDelta(t, 1, f.Suspects[0].Better, 1e-12)
	assert.InDelta(t, 0.25, f.Suspects[1].Better, 1e-12, "0.2 to 0.8")
	assert.InDelta(t, 1, f.Suspects[0].Cause, 1e-12, "there is one cause")
	assert.Nil(t, f.Doubtful)

	// All fits but one reading: without it nothing is amiss.
	f, c = weighed(t, p, map[string]float64{"ra": 1})
	f.GlobalP = 1e-6
	p.suspect(f, c)
	require.NotNil(t, f.Doubtful)
	assert.Equal(t, finding.OneDoesNotFit.New(finding.Readings("ra")), *f.Doubtful)
}

// How far a reading lies off the others: what it is off the fit, over its share of
// redundancy, for the fit has gone along with it by the rest. 10.3 m where the fit
// has 10.1 m and half of it shows are 0.4 m off.
func TestOffByHand(t *testing.T) {
	f := &Fit{Residuals: []Residual{
		{Reading: "x", Observed: 99, Fitted: 1, Standardized: 9, Redundancy: 1},
		{Reading: "r", Observed: 10.3, Fitted: 10.1, Standardized: 3, Redundancy: 0.5}, {Reading: "r", Observed: 10.3, Fitted: 10, Standardized: 1, Redundancy: 1},
		{Reading: "s", Observed: 10.1, Fitted: 10.3, Standardized: -3, Redundancy: 0.5},
		{Reading: "b", Observed: 46, Fitted: 45, Standardized: 2, Redundancy: 0.25, Degrees: true},
	}}
	for id, want := range map[string]finding.Finding{"r": finding.OffLong.New(finding.Number("off", 0.4)), "s": finding.OffShort.New(finding.Number("off", 0.4)), "b": finding.OffTurned.New(finding.Number("off", 4))} {
		got := offBy(f, id)
		assert.Equal(t, want.Code, got.Code)
		assert.InDelta(t, want.Numbers["off"], got.Numbers["off"], 1e-9)
	}
}

// Whether an answer may be trusted, by the chance of its misfit and by the odds of
// what may be wrong with the sheet.
func TestJudge(t *testing.T) {
	done := &Component{Solution: &adjust.Solution{Status: adjust.Converged}}
	sheet := func(f drawing.Fault, odds float64) []SheetFault { return []SheetFault{{Fault: f, Odds: odds}} }
	for _, tt := range []struct {
		f    Fit
		want finding.Code
	}{
		{Fit{GlobalP: 0.3, Readings: 3}, ""},
		{Fit{GlobalP: 1e-5, Readings: 3}, finding.Contradiction},
		{Fit{GlobalP: 1e-12, Readings: 3}, finding.Impossible},
		{Fit{GlobalP: 0.3, Readings: 3, Sheet: sheet(drawing.Mirrored, 0.4)}, finding.SheetOpen},
		{Fit{GlobalP: 0.3, Readings: 3, Sheet: sheet(drawing.Mirrored, 0.95)}, ""},
		{Fit{GlobalP: 0.3, Readings: 3, Sheet: sheet(drawing.Mirrored, 0.05)}, ""},
		{Fit{GlobalP: 0.3, Readings: 0, Sheet: sheet(drawing.Mirrored, 0.4)}, ""},
		{Fit{GlobalP: 1e-5, Readings: 3, Sheet: sheet(drawing.Mirrored, 0.4)}, finding.Contradiction},
		{Fit{GlobalP: 0.3, Readings: 3, Sheet: sheet(drawing.Other, 0.6)}, finding.AnotherLot},
	} {
		tt.f.judge(done)
		if tt.want == "" {
			assert.Nil(t, tt.f.Doubtful, "%+v", tt.f)
		} else if assert.NotNil(t, tt.f.Doubtful, "%+v", tt.f) {
			assert.Equal(t, tt.want, tt.f.Doubtful.Code)
		}
	}
	f := Fit{GlobalP: 0.3}
	f.judge(&Component{Solution: &adjust.Solution{Status: adjust.TooMany}})
	assert.Equal(t, finding.NotConverged, f.Doubtful.Code, "there is no reading to look at")
	// Of 0.4 m and 0.2 m off, the first is looked at.
	f = Fit{GlobalP: 0.3, Residuals: []Residual{{Reading: "s", Observed: 10.2, Fitted: 10, Standardized: 2, Redundancy: 1}, {Reading: "r", Observed: 10, Fitted: 10.4, Standardized: -4, Redundancy: 1}}}
	f.judge(&Component{Solution: &adjust.Solution{Status: adjust.TooMany}})
	assert.Equal(t, "the adjustment did not settle (too many iterations): look first at r, which reads 0.40 m short against the other readings: measure it again", f.Doubtful.Says(finding.English("m")))
}

// One tape to a point leaves no degree of freedom, and no misfit is a surprise
// then; two fits have a point apart that lies half a metre off, not one that lies
// a hand's breadth off; what is mirrored says so.
func TestOneTapeSaysNothing(t *testing.T) {
	c := solved(t, little.Site{Parts: []asbuilt.Part{testsite.Landmark("A", 0, 0)}, Sigma: map[string]float64{"A": 0.01}, Points: map[string]little.Known{"P": {3, 4, 1000}},
		Readings: []survey.Reading{{ID: "r", Kind: survey.Tape, From: "A", To: "P", Value: testsite.Metres(5.1)}}})
	assert.Zero(t, c.degrees())
	assert.Equal(t, 1.0, c.chance())
	for off, apart := range map[float64]bool{0.1: false, 0.5: true} {
		o := Component{Network: c.Network, Solution: &adjust.Solution{Y: append([]float64{}, c.Solution.Y...)}}
		c.Network.Set(o.Solution.Y, 0, geo.Vec{X: c.Solution.Y[0] + off, Y: c.Solution.Y[1]})
		assert.Equal(t, apart, c.apartFrom(&o, 0))
	}
	for _, kind := range []drawing.Fault{drawing.Sound, drawing.Mirrored} {
		c.Weight, c.Explanation.Fault.Kind = 1, kind
		f := &Fit{log: &observe.Log{}, components: []Component{c}}
		f.layout()
		assert.Equal(t, kind == drawing.Mirrored, f.Mirrored)
	}
}
