package depth

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

func solve(t testing.TB, f *field) *Model {
	t.Helper()
	m, err := Solve(t.Context(), f.job, f)
	require.NoError(t, err)
	return m
}

func (m *Model) ask(t testing.TB, f *field, part string, u float64, feature survey.Feature) Depth {
	t.Helper()
	d, ok := m.At(part, f.spot(part, u), feature)
	require.True(t, ok)
	require.False(t, math.IsNaN(d.Mean) || math.IsNaN(d.Sigma))
	require.Positive(t, d.Sigma)
	return d
}

// A record of 2 ft and nothing known of today must allow for 2.5 ft of fill,
// and yet not call it likely.
func TestRecordAlone(t *testing.T) {
	f := newField(4, 20, 2.4, 0.61)
	m := solve(t, f)
	for _, p := range []string{"L1", "L4"} {
		d := m.ask(t, f, p, 0.5, survey.Crown)
		assert.InDelta(t, 0.61+fillMean, d.Mean, 0.03)
		assert.Greater(t, d.Mean+1.96*d.Sigma, 0.61+0.76)
		assert.Less(t, d.Mean+d.Sigma, 0.61+0.76)
	}
	_, _, ok := m.Fill()
	assert.False(t, ok, "nothing tells of fill")
	assert.Equal(t, survey.Top, m.ask(t, f, "L1", 0.5, "").Feature)

	unrecorded := newField(4, 20, 2.4, math.NaN())
	d := solve(t, unrecorded).ask(t, unrecorded, "L2", 0.5, survey.Crown)
	assert.InDelta(t, practice.Cover.Mean+fillMean, d.Mean, 0.1)
	assert.Greater(t, d.Sigma, math.Hypot(fillSigma, practice.Cover.Sigma)*0.8)
}

// One depth anywhere moves every other, and narrows it: much in the next trenches,
// less at the box, 7.5 m off, and little at the other end, 10 m off, where the fill
// may have ended.
func TestOneDepthMovesAll(t *testing.T) {
	f := newField(5, 20, 2.4, 0.61)
	before := solve(t, f)
	f.found("L2", 0.3, 1.25, survey.Crown)
	after := solve(t, f)
	for _, tt := range []struct {
		part        string
		u           float64
		least, most float64 // standard deviation after, of that before
	}{
		{"L1", 0.3, 0.35, 0.5}, {"L3", 0.3, 0.35, 0.5}, {"L5", 0.3, 0.6, 0.75}, {"box", 0, 0.7, 0.8},
		{"L1", 0.8, 0.8, 0.9}, {"L3", 0.8, 0.8, 0.9}, {"L5", 0.8, 0.8, 0.9},
	} {
		b, a := before.ask(t, f, tt.part, tt.u, ""), after.ask(t, f, tt.part, tt.u, "")
		assert.Greater(t, a.Mean, b.Mean+0.2, tt.part)
		assert.Less(t, a.Sigma, tt.most*b.Sigma, "%s %g", tt.part, tt.u)
		assert.Greater(t, a.Sigma, tt.least*b.Sigma, "%s %g", tt.part, tt.u)
	}
	fill, sigma, ok := after.Fill()
	require.True(t, ok)
	assert.InDelta(t, 0.64, fill, 2*sigma)
	assert.Less(t, sigma, 0.2)
}

// Two laterals found on a slope that was levelled: they lie level with one
// another, so the third follows within centimetres, though the slope makes it
// deeper than either.
func TestTwoDepthsAndLevelsForetellTheThird(t *testing.T) {
	f := newField(3, 20, 2.4, math.NaN())
	height := func(v geo.Vec) float64 { return 100 + 0.03*v.Y }
	crown := func(u float64) float64 { return 99.0 - 0.002*20*u }
	for _, id := range []string{"L3", "L2"} {
		for _, u := range []float64{0, 1} {
			v := f.spot(id, u)
			f.found(id, u, height(v)-crown(u), survey.Crown)
			f.level(v, height(v))
		}
	}
	third := f.spot("L1", 0.5)
	wide := solve(t, f).ask(t, f, "L1", 0.5, survey.Crown)
	f.level(third, height(third))
	d := solve(t, f).ask(t, f, "L1", 0.5, survey.Crown)
	assert.InDelta(t, height(third)-crown(0.5), d.Mean, 0.04)
	assert.Less(t, d.Sigma, 0.07)
	assert.Less(t, d.Sigma, 0.9*wide.Sigma, "without its level it is wider")
}

// A level at the hole fixes the height of the pipe; the ground above another
// place along it still decides the depth there.
func TestGroundMoves(t *testing.T) {
	f := newField(1, 20, 2.4, math.NaN())
	f.found("L1", 0, 0.60, survey.Crown)
	f.level(f.spot("L1", 0), 50.00)
	f.level(f.spot("L1", 1), 50.30)
	d := solve(t, f).ask(t, f, "L1", 1, survey.Crown)
	assert.InDelta(t, 0.60+0.30+practice.LateralGrade.Mean*20, d.Mean, 0.03)
	assert.Less(t, d.Sigma, 0.07)
}

// Depths of laterals that follow a slope turn the belief to stepped trenches.
func TestStructure(t *testing.T) {
	share := func(f *field) (weight float64) {
		m := solve(t, f)
		for i, b := range m.beliefs {
			if suppositions[i].structure == stepped {
				weight += b.weight
			}
		}
		return weight
	}
	prior := 0.0
	for _, s := range suppositions {
		if s.structure == stepped {
			prior += s.weight
		}
	}
	for _, tt := range []struct {
		name    string
		stepped float64 // fall of the pipes per metre across
		least   float64
		most    float64
	}{
		{"level", 0, 0, 0.5 * prior},
		{"stepped", 0.08, 0.95, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := newField(5, 20, 2.4, 0.61)
			assert.InDelta(t, prior, share(f), 1e-12, "nothing tells")
			for _, id := range []string{"L1", "L3", "L5"} {
				v := f.spot(id, 0.1)
				f.level(v, 20+tt.stepped*v.Y)
				f.found(id, 0.1, 0.7, survey.Crown)
			}
			got := share(f)
			assert.GreaterOrEqual(t, got, tt.least)
			assert.LessOrEqual(t, got, tt.most)
		})
	}
}

// The features of one trench lie as far apart as practice has them.
func TestFeatures(t *testing.T) {
	f := newField(2, 20, 2.4, 0.61)
	f.found("L1", 0.5, 1.00, survey.Invert)
	m := solve(t, f)
	crown := m.ask(t, f, "L1", 0.5, survey.Crown)
	assert.InDelta(t, 1.00-practice.PipeOutside, crown.Mean, 0.01)
	assert.InDelta(t, 1.00-practice.TopAboveInvert(asbuilt.Gravel), m.ask(t, f, "L1", 0.5, survey.Top).Mean, 0.02)
	assert.InDelta(t, 1.00+practice.BottomBelowInvert(asbuilt.Gravel), m.ask(t, f, "L1", 0.5, survey.Bottom).Mean, 0.02)
	assert.Less(t, crown.Sigma, 0.05)
	assert.Greater(t, m.ask(t, f, "L1", 0.5, survey.Bottom).Sigma, crown.Sigma, "how much stone lies under it is not known")
}

// The order of the log and heights above the sea change nothing.
func TestOrderAndDatum(t *testing.T) {
	make := func(up float64) *field {
		f := newField(3, 20, 2.4, 0.61)
		for i, id := range []string{"L1", "L3"} {
			f.found(id, 0.5, 0.8+0.1*float64(i), survey.Crown)
			f.level(f.spot(id, 0.5), up+0.1*float64(i))
		}
		return f
	}
	low, high, turned := make(0), make(2000), make(0)
	slices.Reverse(turned.job.Readings)
	want := solve(t, low).ask(t, low, "L2", 0.3, "")
	for _, f := range []*field{high, turned} {
		got := solve(t, f).ask(t, f, "L2", 0.3, "")
		assert.InDelta(t, want.Mean, got.Mean, 1e-9)
		assert.InDelta(t, want.Sigma, got.Sigma, 1e-9)
	}
}

// Recorded inverts bear on depth by their differences alone.
func TestRecordedInverts(t *testing.T) {
	f := newField(2, 20, 2.4, math.NaN())
	f.job.Sketch.Parts[1].Invert, f.job.Sketch.Parts[2].Invert = metres(431.50), metres(431.10)
	f.found("L1", 0, 0.80, survey.Invert)
	f.level(f.spot("L1", 0), 10)
	f.level(f.spot("L2", 0), 10)
	d := solve(t, f).ask(t, f, "L2", 0, survey.Invert)
	assert.InDelta(t, 1.20, d.Mean, 0.06)
	assert.Less(t, d.Sigma, 0.10)
}

// What has no place, no number or no depth is passed over; extreme numbers give
// an answer or an error, never a NaN.
func TestPassedOver(t *testing.T) {
	empty := &field{&plan{}, &survey.Job{Sketch: &asbuilt.Sketch{}}}
	m := solve(t, empty)
	_, ok := m.At("box", geo.Vec{}, "")
	assert.False(t, ok)
	assert.Empty(t, m.Residuals())

	f := newField(3, 20, 2.4, math.NaN())
	delete(f.lines, "L2")
	delete(f.spots, "box")
	f.job.Sketch.Parts = append(f.job.Sketch.Parts, asbuilt.Part{ID: "w", Kind: asbuilt.Well})
	f.points["H1"] = geo.Vec{X: math.NaN()}
	f.points["H2"] = geo.Vec{X: 1}
	nan := metres(math.NaN())
	for _, r := range []survey.Reading{
		{Kind: survey.Found, Point: "H1", Target: "L1", Depth: metres(1)},
		{Kind: survey.Found, Point: "H2", Target: "L1", Depth: nan},
		{Kind: survey.Found, Point: "H2", Target: "w", Depth: metres(1)},
		{Kind: survey.Found, Point: "H2", Target: "lateral", Depth: metres(1)},
		{Kind: survey.Found, Point: "H2", Target: "L1"},
		{Kind: survey.Found, Point: "nowhere", Target: "L1", Depth: metres(1)},
		{Kind: survey.Level, Point: "H2", Value: nan},
		{Kind: survey.Level, Point: "H2"},
		{Kind: survey.Empty, Point: "H2", Depth: metres(3)},
	} {
		f.log(r)
	}
	m = solve(t, f)
	assert.Empty(t, m.Residuals(), "none of these says how deep anything is")
	for _, id := range []string{"L1", "L2", "box"} {
		d, ok := m.At(id, geo.Vec{X: 3}, "")
		assert.True(t, ok)
		assert.False(t, math.IsNaN(d.Mean+d.Sigma) || math.IsInf(d.Mean+d.Sigma, 0))
	}
	_, ok = m.At("w", geo.Vec{}, "")
	assert.False(t, ok)
	_, ok = m.At("L1", geo.Vec{X: math.Inf(1)}, "")
	assert.False(t, ok)

	for _, far := range []float64{1e5, 1e9, 1e200, math.MaxFloat64} {
		f := newField(2, 20, 2.4, 0.61)
		f.found("L1", 0, far, survey.Crown)
		f.level(geo.Vec{X: far, Y: far}, far)
		if m, err := Solve(t.Context(), f.job, f); err == nil {
			d, ok := m.At("L2", f.spot("L2", 0), "")
			assert.True(t, ok)
			assert.False(t, math.IsNaN(d.Mean+d.Sigma), "%g", far)
		}
	}
}

// The log may name only a kind; the fit knows which part it was.
func TestMet(t *testing.T) {
	f := newField(3, 20, 2.4, 0.61)
	f.points["H"] = f.spot("L2", 0.4)
	r := f.log(survey.Reading{Kind: survey.Found, Point: "H", Target: "lateral", Depth: metres(1.2), Feature: survey.Crown})
	f.met[r] = "L2"
	assert.InDelta(t, 1.2, solve(t, f).ask(t, f, "L2", 0.4, survey.Crown).Mean, 0.03)
}

// A part that may lie elsewhere in plan is less sure in depth where the ground
// slopes.
func TestPlaceMatters(t *testing.T) {
	f := newField(3, 20, 2.4, 0.61)
	for _, id := range []string{"L1", "L2", "L3"} {
		v := f.spot(id, 0.5)
		f.found(id, 0.5, 1, survey.Crown)
		f.level(v, 0.1*v.Y)
	}
	m := solve(t, f)
	sure := m.ask(t, f, "L2", 0.5, "")
	f.sigma = 2
	assert.Greater(t, m.ask(t, f, "L2", 0.5, "").Sigma, math.Hypot(sure.Sigma, 2*0.05))
}
