package fit

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/observe"
	"asfound/survey/testsite"
)

// Of logarithms of weight the heaviest first, none below the given share of the
// first, never more than asked for, and always the first.
func TestHeaviestByHand(t *testing.T) {
	same := func(v *float64) float64 { return *v }
	for _, tt := range []struct {
		most  int
		least float64
		want  []float64
	}{
		{9, 1e-3, []float64{5, 4, 0}}, // e⁻⁵ is 0.0067, e⁻⁷ 0.0009
		{2, 1e-3, []float64{5, 4}},
		{9, 0.1, []float64{5, 4}},
		{0, 0.5, []float64{5}},
	} {
		assert.Equal(t, tt.want, heaviest([]float64{0, 5, -2, 4}, same, tt.most, tt.least))
	}
	assert.Empty(t, heaviest(nil, same, 3, 0.1))
}

// Explanations are one where they read sheet and log alike, whatever order they
// came about in, and differ in each of what they suppose.
func TestKeyOfAnExplanation(t *testing.T) {
	gross := observe.Gross
	base := Explanation{}.with("x", "L1", 4).blundered(gross("a")).blundered(gross("b"))
	assert.Equal(t, base.Key(), Explanation{}.blundered(gross("b")).with("x", "L1", 2).blundered(gross("a")).Key())
	met := observe.Blunder{Reading: "y", Met: "L3"}
	assert.Equal(t, "L3", base.blundered(&met).Met["y"], "of another trench")
	assert.Equal(t, "L1", base.blundered(&met).Met["x"])
	for _, other := range []Explanation{base.with("x", "L2", 4), base.turn("P"), base.blundered(gross("c")), {Fault: drawing.Hypothesis{Kind: drawing.Mirrored}}, {}} {
		assert.NotEqual(t, base.Key(), other.Key())
	}
	assert.Len(t, base.Blunders, 2, "none of these changed it")
	assert.Empty(t, base.turned)
}

// What a wrong scale is called. Feet taken for metres make everything 0.3048 times
// as large (the international foot), a plan of 1 : 300 noted as 1 : 200 one and a
// half times.
func TestScaleFindingByHand(t *testing.T) {
	for _, tt := range []struct {
		factor       float64
		unit         geo.Unit
		want         finding.Code
		noted, drawn float64
	}{
		{1 / 0.3048, geo.Foot, finding.SheetMetric, 0, 0},
		{0.3048, geo.Metre, finding.SheetImperial, 0, 0},
		{0.33, geo.Foot, finding.SheetRatio, 300, 100},
		{1.5, geo.Metre, finding.SheetRatio, 200, 300},
		{0.5, geo.Foot, finding.SheetRatio, 200, 100},
		{0.8, geo.Foot, finding.SheetRatio, 500, 400}, // not 3 : 4, which is 6 % off
		{1.25, geo.Foot, finding.SheetRatio, 400, 500},
		{6, geo.Foot, finding.SheetScaled, 0, 0},
	} {
		got := scaleFinding(tt.factor, tt.unit)
		require.Equal(t, tt.want, got.Code, "%v", tt.factor)
		if tt.want == finding.SheetRatio || tt.want == finding.SheetScaled {
			assert.InDelta(t, tt.factor, got.Numbers["factor"], 1e-12)
		}
		assert.InDelta(t, tt.noted, got.Numbers["noted"], 1e-9)
		assert.InDelta(t, tt.drawn, got.Numbers["drawn"], 1e-9)
	}
}

// What may be wrong with a sheet is listed from a fiftieth on, the likeliest first,
// by the weight of all explanations of the kind; each has its own words.
func TestSheetFaultsByWeight(t *testing.T) {
	p := taped(t, nil)
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	f := &Fit{log: p.log}
	for _, one := range []struct {
		kind    drawing.Fault
		quarter int
		weight  float64
	}{{drawing.Sound, 0, 0.5}, {drawing.Turned, 3, 0.15}, {drawing.Turned, 1, 0.1}, {drawing.Mirrored, 0, 0.2}, {drawing.Walled, 1, 0.03}, {drawing.Other, 0, 0.01}} {
		k := c
		k.Explanation.Fault, k.Weight = drawing.Hypothesis{Kind: one.kind, Quarter: one.quarter}, one.weight
		f.components = append(f.components, k)
	}
	f.explainSheet()
	require.Len(t, f.Sheet, 3)
	for i, want := range []SheetFault{
		{drawing.Turned, 0.25, finding.SheetTurned.New(finding.Number("turn", 270))},
		{drawing.Mirrored, 0.2, finding.SheetMirrored.New()},
		{drawing.Walled, 0.03, finding.SheetWalled.New()},
	} {
		assert.Equal(t, want.Fault, f.Sheet[i].Fault)
		assert.InDelta(t, want.Odds, f.Sheet[i].Odds, 1e-12)
		assert.Equal(t, want.Finding, f.Sheet[i].Finding)
	}
	assert.Len(t, f.Warnings, 3)
	// A sheet of one metre a unit that the fit lays at three halves of that.
	c.Explanation.Fault = drawing.Hypothesis{Kind: drawing.Scaled}
	c.Solution.Y[c.Network.Lay+observe.LayScale] = math.Log(1.5)
	assert.InDelta(t, 1.5, c.faultFinding().Numbers["factor"], 1e-12)
	c.Explanation.Fault = drawing.Hypothesis{Kind: drawing.Other}
	assert.Equal(t, finding.SheetOther.New(), c.faultFinding())
}

// What was left open is said by the weights of the explanations: which of several
// laterals a hole met, and on which side of two tapes it lies; of a hole that
// nothing is known of but its tapes, that a side was taken.
func TestExplainByWeight(t *testing.T) {
	p := taped(t, func(j *survey.Job) {
		j.Readings = append(j.Readings, survey.Reading{ID: "x", Kind: survey.Found, Point: "H3", Target: "lateral"},
			survey.Reading{ID: "y", Kind: survey.Empty, Point: "H4"}, survey.Reading{ID: "z", Kind: survey.Tape, From: "A", To: "stake", Value: testsite.Metres(9)})
		for _, h := range []string{"H3", "H4"} {
			j.Readings = append(j.Readings, survey.Reading{ID: "x" + h, Kind: survey.Tape, From: "A", To: h, Value: testsite.Metres(12)})
		}
	})
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	ambiguous := map[string]geo.Vec{"H2": {}, "H3": {}, "H4": {}, "stake": {}}
	for _, tt := range []struct {
		turned float64 // weight of H3 on the other side
		parts  []string
		want   []finding.Code
	}{
		{0.3, []string{"L2", "L1"}, []finding.Code{finding.MetOneOf, finding.SideOpen, finding.SideTaken}},
		{0.99, []string{"L1"}, []finding.Code{finding.MetOneOf, finding.SideTaken}},
		{0, []string{"L2"}, []finding.Code{finding.MetOneOf, finding.SideTaken}},
	} {
		f := &Fit{log: p.log}
		add := func(e Explanation, weight float64) {
			k := c
			k.Explanation, k.Weight = e, weight
			f.components = append(f.components, k)
		}
		e := Explanation{Fault: p.faults[0]}
		add(e.with("x", "L1", 4).turn("H3"), tt.turned)
		add(e.with("x", "L2", 4), 0.99-tt.turned)
		add(e.with("x", "L4", 4), 0.01)
		f.explain(ambiguous)
		var got []finding.Code
		for _, w := range f.Warnings {
			got = append(got, w.Code)
			if w.Code == finding.MetOneOf {
				assert.Equal(t, tt.parts, w.Parts, "the likeliest first, none under a fiftieth")
			}
			if w.Code == finding.SideOpen {
				assert.InDelta(t, 0.3, w.Numbers["odds"], 1e-9)
			}
		}
		// H4 met nothing, so its side is said to be taken only where it matters:
		// an empty hole is judged where it lies.
		assert.ElementsMatch(t, tt.want, got, "%+v", tt)
		assert.InDelta(t, tt.turned, f.MetOdds("x")["L1"], 1e-12)
		assert.InDelta(t, 0.01, f.MetOdds("x")["L4"], 1e-12)
	}
	f := &Fit{log: p.log}
	assert.Nil(t, f.MetOdds("ra"), "a tape met nothing")
	assert.Nil(t, f.MetOdds("rg"), "it is known what H1 met")
}

// Without a reading what is sought lies where a job without that reading has it:
// the box, against the four corners.
func TestSoughtWithoutAReading(t *testing.T) {
	const id = "rd" // A to H1
	with := taped(t, nil)
	f, c := weighed(t, with, map[string]float64{id: 1})
	with.suspect(f, c)
	require.Len(t, f.Suspects, 1)
	s := f.Suspects[0]
	assert.Equal(t, "box", s.Sought)
	left := taped(t, func(j *survey.Job) {
		j.Readings = slices.DeleteFunc(j.Readings, func(r survey.Reading) bool { return r.ID == id })
	})
	o, _, err := left.solve(Explanation{Fault: left.faults[0]}, nil)
	require.NoError(t, err)
	d := c.Network.Drawing
	box := d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
	at, was := o.Places(), c.Places()
	move := geo.Rigid(Pick(at, d.Marks), Pick(was, d.Marks)).Move
	off := move(at[box]).Sub(was[box])
	require.Greater(t, off.Norm(), 1e-3)
	assert.InDelta(t, off.Norm(), s.Moves, 1e-4)
	assert.InDelta(t, geo.Bearing(geo.Vec{}, off).Degrees(), s.Toward.Degrees(), 0.5)
	// What is sought may be named by its kind or its id; what is not drawn moves nowhere.
	for seek, want := range map[string]string{"box": "box", "lateral": "L1", "L3": "L3", "landmark": "A", "nothing": ""} {
		with.log.Job.Settings.Seek = seek
		var s Suspect
		with.without(f, c, id, &s)
		assert.Equal(t, want, s.Sought)
		assert.Equal(t, want != "", s.Moves > 0)
	}
}

// What stands for the misfit of a whole fit: twice the cost over the degrees of
// freedom, one where there is nothing to judge.
func TestResidualsOfNothing(t *testing.T) {
	p := taped(t, func(j *survey.Job) { j.Readings = nil })
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	var f Fit
	f.residuals(&c)
	assert.Zero(t, f.Readings)
	assert.InDelta(t, 1, f.VarianceFactor, 0)
	assert.InDelta(t, 1, f.GlobalP, 0)
	assert.True(t, c.fits(0.99))
	assert.False(t, (&Component{}).fits(0), "nothing was fitted")
	assert.False(t, f.HasReadings())
	for id, want := range map[string]bool{"ra": true, "sketch:L2.length": false} {
		assert.Equal(t, want, (&Fit{Residuals: []Residual{{Reading: id}}}).HasReadings())
	}
}

// What a supposition adds: the components of a fit under all suppositions weigh
// what their evidence and the odds of each say (MacKay, ch. 28).
func TestSpreadByEvidence(t *testing.T) {
	p := taped(t, nil)
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	all, err := p.spread([]Component{c})
	require.NoError(t, err)
	require.Greater(t, len(all), 1)
	sum := 0.0
	for i := range all {
		sum += all[i].Weight
		k := slices.IndexFunc(drawing.Suppositions, func(s drawing.Supposition) bool {
			return math.Abs(all[i].logWeight-all[i].evidence()-math.Log(s.Odds)) < 1e-9
		})
		assert.GreaterOrEqual(t, k, 0, "its weight is evidence and odds")
		assert.InDelta(t, all[i].logWeight-all[0].logWeight, math.Log(all[i].Weight/all[0].Weight), 1e-9)
		assert.Equal(t, adjust.Converged, all[i].Solution.Status)
	}
	assert.InDelta(t, 1, sum, 1e-12)
}

// Before any reading nothing speaks for or against a fault, so a sheet is taken to be
// sound unless it says itself that it may be mirrored: then it is so with the odds
// that it has, three in ten. Readings that contradict the sheet bring its faults up:
// one tape of 30 m along a wall drawn to scale as 12 m.
func TestFaultsAreTriedWhereTheyMatter(t *testing.T) {
	kinds := func(change func(*survey.Job)) map[string]float64 {
		p := taped(t, func(j *survey.Job) {
			j.Readings = nil
			change(j)
		})
		f, err := p.Refit(t.Context(), p.log.Job)
		require.NoError(t, err)
		return f.Odds(func(e *Explanation) string { return string(e.Fault.Kind) })
	}
	assert.Equal(t, []string{string(drawing.Sound)}, heaviestFirst(kinds(func(*survey.Job) {})))
	odds := kinds(func(j *survey.Job) { j.Sketch.MirrorUnknown = true })
	assert.Len(t, odds, 2)
	var sound, mirrored float64
	for _, h := range drawing.Hypotheses(&asbuilt.Sketch{MirrorUnknown: true}) {
		switch h.Kind {
		case drawing.Sound:
			sound = h.Odds
		case drawing.Mirrored:
			mirrored = h.Odds
		}
	}
	require.InDelta(t, 0.3, mirrored, 1e-12)
	assert.InDelta(t, mirrored/(mirrored+sound), odds[string(drawing.Mirrored)], 1e-3, "against a sound sheet")
	odds = kinds(func(j *survey.Job) {
		j.Sketch.Trust = asbuilt.ToScale
		j.Readings = append(j.Readings, survey.Reading{ID: "a", Kind: survey.Tape, From: "A", To: "B", Value: testsite.Metres(30)})
	})
	assert.Contains(t, odds, string(drawing.Scaled))
	assert.Contains(t, odds, string(drawing.Other))
}

// A mirrored sheet and a reading a foot long, both in one job, are both named.
func TestFaultAndBlunderTogether(t *testing.T) {
	j, err := testsite.Braced()
	require.NoError(t, err)
	for i := range j.Sketch.Parts {
		for k, v := range j.Sketch.Parts[i].Shapes[0].Vertices {
			j.Sketch.Parts[i].Shapes[0].Vertices[k].X = -v.X
		}
	}
	j.Sketch.Up = &asbuilt.Up{Sigma: geo.Degrees(10)}
	at, err := geodesy.New(-123.4, -48.9)
	require.NoError(t, err)
	lot := geodesy.NewSite(at, 0)
	for i, v := range []geo.Vec{{}, {X: 12}, {X: 12, Y: 9}, {Y: 9}} {
		c := string(rune('A' + i))
		j.Readings = append(j.Readings, survey.Reading{ID: "g" + c, Kind: survey.GNSS, Point: c, Position: lot.LonLat(v), Accuracy: 1.5})
	}
	wrong := ""
	for i := range j.Readings {
		if r := &j.Readings[i]; r.From == "B" && r.To == "H2" {
			long, err := geo.ParseLength(geo.FormatLength(r.Value.Metres+0.3048, geo.Foot), geo.Foot)
			require.NoError(t, err)
			r.Value, wrong = &long, r.ID
		}
	}
	f, err := Solve(t.Context(), j)
	require.NoError(t, err)
	require.NotEmpty(t, f.Sheet)
	assert.Equal(t, drawing.Mirrored, f.Sheet[0].Fault)
	assert.Greater(t, f.Sheet[0].Odds, 0.9)
	require.NotEmpty(t, f.Suspects)
	assert.Equal(t, wrong, f.Suspects[0].Reading)
	assert.Equal(t, finding.FootLong, f.Suspects[0].Blunder.Code)
}
