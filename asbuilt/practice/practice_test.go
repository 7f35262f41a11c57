package practice_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/finding"
)

const inch, foot = 0.0254, 0.3048 // metres, 85 FR 62698

// TestDimensions holds the numbers against what the sources print, in their
// own units.
func TestDimensions(t *testing.T) {
	// ASTM D2729: the socket of a 4-inch pipe is 4.235 in at its entrance and
	// 4.210 in at its bottom, each to 0.009 in. The pipe must go in and hold.
	assert.Less(t, practice.PipeOutside, (4.235+0.009)*inch)
	assert.Greater(t, practice.PipeOutside, (4.210-0.009)*inch)

	// Lake County IL 171.103: trenches are 12 to 36 in wide. Rapid City SD
	// 13.20.500 and Hamden CT 50.16: at most 36.
	for _, bed := range []asbuilt.Bed{"", asbuilt.Gravel, asbuilt.Chamber, asbuilt.Pipe} {
		assert.GreaterOrEqual(t, practice.TrenchWidth(bed), 12*inch-1e-12, bed)
		assert.LessOrEqual(t, practice.TrenchWidth(bed), 36*inch+1e-12, bed)
	}
	// ToolBase inventory: chambers are 20 to 40 in wide and 12 in high.
	assert.GreaterOrEqual(t, practice.TrenchWidth(asbuilt.Chamber), 20*inch)
	assert.InDelta(t, 12*inch, practice.TopAboveInvert(asbuilt.Chamber)+practice.BottomBelowInvert(asbuilt.Chamber), 0.001)

	// Rapid City SD 13.20.500: at least 2 in of stone over the pipe and 6 below.
	assert.InDelta(t, practice.PipeOutside+2*inch, practice.TopAboveInvert(asbuilt.Gravel), 1e-9)
	assert.InDelta(t, 6*inch, practice.BottomBelowInvert(asbuilt.Gravel), 1e-9)
	// UPC summary, Southborough MA, Hamden CT: 12 in below. It must be within
	// two standard deviations.
	assert.Less(t, 12*inch, practice.BottomBelowInvert(asbuilt.Gravel)+2*practice.BottomSigma(asbuilt.Gravel))
	assert.Equal(t, practice.PipeOutside, practice.TopAboveInvert(asbuilt.Pipe))
	for _, bed := range []asbuilt.Bed{asbuilt.Gravel, asbuilt.Chamber, asbuilt.Pipe} {
		assert.Positive(t, practice.TopSigma(bed), bed)
		assert.Positive(t, practice.BottomSigma(bed), bed)
	}
}

// TestPriors holds the priors against the limits that codes print: within two
// standard deviations, or the prior would deny what the code demands.
func TestPriors(t *testing.T) {
	holds := func(p practice.Prior, low, high float64, source string) {
		t.Helper()
		assert.LessOrEqual(t, p.Mean-2*p.Sigma, low, source)
		assert.GreaterOrEqual(t, p.Mean+2*p.Sigma, high, source)
		assert.NotEmpty(t, p.Source)
	}
	// A trench bottom at 18 to 36 in with 6 in of stone and a pipe leaves 7.8
	// to 25.8 in over the crown.
	holds(practice.Cover, 18*inch-6*inch-practice.PipeOutside, 36*inch-6*inch-practice.PipeOutside, "Rapid City SD 13.20.500")
	holds(practice.Cover, 12*inch, 12*inch, "Southborough MA, least cover of the crown")
	holds(practice.LateralGrade, 0.5/1200, 4.0/1200, "Rapid City SD 13.20.500: 0.5 to 4 in in 100 ft")
	holds(practice.LateralGrade, 0, 0, "Switzerland County IN: level")
	holds(practice.LateralGrade, 0.005, 0.005, "Southborough MA: at least 0.005")
	holds(practice.HeaderGrade, 1.0/96, 1.0/48, "IPC 704.1: 1/8 to 1/4 in in a foot")
	holds(practice.BoxCover, 12*inch, 24*inch, "common practice, no published source")
	holds(practice.TankCover, 6*inch, 24*inch, "common practice, no published source")
	holds(practice.BoxOutlet, 0, 0, "Ramsey MN 8.30: equal inverts")
	holds(practice.BoxLid, (12-4)*inch, 12*inch, "Ramsey MN 8.30: outlets 4 in above the floor, of a box of 12 to 16 in")
	for _, p := range []practice.Prior{practice.RecordedCover, practice.Fill} {
		assert.Positive(t, p.Sigma)
		assert.Contains(t, p.Source, "no published source")
	}
}

func TestSetbacks(t *testing.T) {
	// As North Carolina rule .1950(a) is quoted by others.
	want := map[asbuilt.Kind]float64{asbuilt.Well: 100 * foot, asbuilt.Water: 50 * foot, asbuilt.Boundary: 10 * foot, asbuilt.Building: 5 * foot}
	for _, s := range practice.Setbacks() {
		assert.InDelta(t, want[s.From], s.Distance, 1e-9, s.From)
		assert.NotEmpty(t, s.Source)
		delete(want, s.From)
	}
	assert.Empty(t, want)
}

func TestWrittenBeforeUsual(t *testing.T) {
	p := &asbuilt.Part{Bed: asbuilt.Chamber}
	assert.Equal(t, practice.TrenchWidth(asbuilt.Chamber), practice.Width(p))
	assert.Equal(t, practice.BoxSize, practice.BoxSide(p))
	p.Width, p.Size = &geo.Length{Metres: 0.7}, &geo.Length{Metres: 0.4}
	assert.Equal(t, 0.7, practice.Width(p))
	assert.Equal(t, 0.4, practice.BoxSide(p))
}

func sheet(parts ...asbuilt.Part) *asbuilt.Sketch {
	return &asbuilt.Sketch{Unit: geo.Foot, Ratio: 1, Trust: asbuilt.ToScale, Parts: parts}
}

func lateral(id string, x0, x1, y float64) asbuilt.Part {
	return asbuilt.Part{ID: id, Kind: asbuilt.Lateral, Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: []asbuilt.Position{{X: x0, Y: y}, {X: x1, Y: y}}}}}
}

func box() asbuilt.Part {
	return asbuilt.Part{ID: "D", Kind: asbuilt.Box, Outlets: 3, Shapes: []asbuilt.Shape{{Form: asbuilt.Point, Vertices: []asbuilt.Position{{}}}}}
}

func feet(f float64) *geo.Length {
	l, _ := geo.Bare(f, geo.Foot)
	return &l
}

func TestCautions(t *testing.T) {
	grade := 0.02
	for _, tt := range []struct {
		name string
		s    *asbuilt.Sketch
		want string // of the only caution; empty: none
	}{
		{"usual", sheet(box(), lateral("L1", 1, 61, 0), lateral("L2", 1, 61, 8)), ""},
		{"a lateral of exactly 100 ft", sheet(box(), with(lateral("L1", 1, 101, 0), func(p *asbuilt.Part) { p.Length = feet(100) })), ""},
		{"wide", sheet(with(lateral("L1", 1, 61, 0), func(p *asbuilt.Part) { p.Width = feet(4) })), "lateral L1: a trench width of 4 (1.22 m) is unusual; the usual range is 0.30 m to 0.91 m: 12 to 36 in (Lake County IL"},
		{"long as written", sheet(with(lateral("L1", 1, 121, 0), func(p *asbuilt.Part) { p.Length = feet(120) })), "lateral L1: a lateral length of 120 (36.58 m) is unusual"},
		{"long as drawn", sheet(lateral("L1", 1, 121, 0)), "lateral L1: a lateral length of 36.58 m as drawn is unusual"},
		{"a chamber row may be longer", sheet(with(lateral("L1", 1, 121, 0), func(p *asbuilt.Part) { p.Bed = asbuilt.Chamber })), ""},
		{"written against drawn", sheet(with(lateral("L1", 1, 91, 0), func(p *asbuilt.Part) { p.Length = feet(60) })), "lateral L1: written 60 (18.29 m), drawn 27.43 m on a sheet that is said to be to scale"},
		{"deep", sheet(with(lateral("L1", 1, 61, 0), func(p *asbuilt.Part) { p.Cover = feet(6) })), "lateral L1: a cover of 6 (1.83 m) is unusual"},
		{"steep", sheet(with(lateral("L1", 1, 61, 0), func(p *asbuilt.Part) { p.Grade = &grade })), "lateral L1: a grade of 0.02 is unusual"},
		{"a large box", sheet(with(box(), func(p *asbuilt.Part) { p.Size = feet(6) })), "box D: a side of a box of 6 (1.83 m) is unusual"},
		{"outlets", sheet(with(box(), func(p *asbuilt.Part) { p.Outlets = 1 }), lateral("L1", 1, 61, 0), lateral("L2", 1, 61, 8)), "box D: it feeds 2 laterals as drawn, more than its outlets: 1"},
		{"drawn from the distal end", sheet(box(), lateral("L1", 61, 1, 0)), "lateral L1: its last vertex lies much nearer to box D than its first"},
		{"under a house", sheet(box(), asbuilt.Part{ID: "house", Kind: asbuilt.Building, Shapes: []asbuilt.Shape{{Form: asbuilt.Polygon, Vertices: asbuilt.Positions(geo.Vec{X: -5, Y: -5}, geo.Vec{X: 5, Y: -5}, geo.Vec{X: 5, Y: 5}, geo.Vec{X: -5, Y: 5})}}}), "box D is drawn within a building"},
		{"beside a house", sheet(box(), asbuilt.Part{ID: "house", Kind: asbuilt.Building, Shapes: []asbuilt.Shape{{Form: asbuilt.Polygon, Vertices: asbuilt.Positions(geo.Vec{X: 50, Y: 50}, geo.Vec{X: 60, Y: 50}, geo.Vec{X: 60, Y: 60})}}}), ""},
		{"crowded", sheet(box(), lateral("L1", 1, 61, 0), lateral("L2", 1, 61, 3)), "lateral L1: drawn 0.91 m from lateral L2, centre to centre"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := practice.Cautions(tt.s)
			if tt.want == "" {
				assert.Empty(t, got)
				return
			}
			assert.Condition(t, func() bool {
				return len(got) > 0 && strings.HasPrefix(got[0].Says(finding.English(geo.Metre)), tt.want)
			}, "%q", got)
		})
	}
	rough := sheet(lateral("L1", 1, 121, 0), lateral("L2", 1, 121, 1))
	rough.Trust = asbuilt.Roughly
	assert.Empty(t, practice.Cautions(rough), "what is drawn says nothing on a sheet that is not to scale")
	assert.Empty(t, practice.Cautions(sheet()))
}

func with(p asbuilt.Part, change func(*asbuilt.Part)) asbuilt.Part {
	change(&p)
	return p
}
