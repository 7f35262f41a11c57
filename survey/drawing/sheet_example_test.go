package drawing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/testsite"
)

// noScale is a sheet whose unit says nothing.
func noScale(parts ...asbuilt.Part) *asbuilt.Sketch {
	return &asbuilt.Sketch{Plane: asbuilt.Paper, Ratio: 1, Trust: asbuilt.Roughly, Parts: parts}
}

// The scale of a sheet that has none, by hand: the median of what is written over
// what is drawn; else laterals of 60 ft; else a lot of 40 m.
func TestScaleOfASheetWithoutOne(t *testing.T) {
	// Drawn 3 + 4 = 7 units round a bend and written 14 m: 2 m a unit.
	bent := testsite.Trench("L1", 0.6, geo.Vec{}, geo.Vec{X: 3}, geo.Vec{X: 3, Y: 4})
	bent.Length = testsite.Metres(14)
	scale, sd := priorScale(noScale(bent))
	assert.InDelta(t, 2, scale, 1e-12)
	assert.GreaterOrEqual(t, sd, 0.35)

	// A tie of 0.5 m along 5 units, another of 7.5 m along 3: 0.1 and 2.5, with
	// the lateral 2 in the middle. One that is 0 is none.
	box := testsite.Box("box", 0.6, 0, 5)
	box.Ties = []asbuilt.Tie{{At: asbuilt.Center, From: "A", Distance: *testsite.Metres(0.5)}, {At: asbuilt.Center, From: "B", Distance: *testsite.Metres(7.5)},
		{At: asbuilt.Center, From: "A"}, {At: asbuilt.Center, From: "nobody", Distance: *testsite.Metres(1000)}}
	marks := []asbuilt.Part{box, testsite.Landmark("A", 0, 0), testsite.Landmark("B", 3, 5)}
	scale, _ = priorScale(noScale(append(marks, bent)...))
	assert.InDelta(t, 2, scale, 1e-12)
	scale, _ = priorScale(noScale(marks...))
	assert.InDelta(t, 1.3, scale, 1e-12, "of two the mean: (0.1 + 2.5)/2")

	bent.Length = nil
	scale, _ = priorScale(noScale(bent, testsite.Trench("L2", 0.6, geo.Vec{}, geo.Vec{X: 9})))
	assert.InDelta(t, 60*0.3048/8, scale, 0.01, "laterals of 7 and 9 units are 60 ft")

	scale, sd = priorScale(noScale(testsite.Part("house", asbuilt.Building, asbuilt.Polygon, geo.Vec{X: -1, Y: -1}, geo.Vec{X: 2, Y: 3})))
	assert.InDelta(t, 40./5, scale, 1e-12, "a sheet 5 units across shows a lot of 40 m")
	assert.Equal(t, 1.0, sd)
}

// A sheet whose north note or wall is wrong, by plane geometry: the house of the
// test site is 12 m by 9 m about (6, 4.5). Its box at (2, −10) lies (−4, −14.5)
// from there: a quarter turn counter-clockwise makes that (14.5, −4).
func TestFieldOffAnotherWall(t *testing.T) {
	s := testsite.Sketch(asbuilt.Roughly)
	place := func(d *Drawing, part string) geo.Vec {
		corner := d.Nodes[d.Spots[asbuilt.SpotName{Part: "A", Spot: asbuilt.Center}]].At
		return d.Nodes[d.Spots[asbuilt.SpotName{Part: part, Spot: asbuilt.Center}]].At.Sub(corner).v
	}
	for quarter, want := range []geo.Vec{{X: 2, Y: -10}, {X: 20.5, Y: 0.5}, {X: 10, Y: 19}, {X: -8.5, Y: 8.5}} {
		at := place(New(s, Hypothesis{Kind: Walled, Quarter: quarter}), "box")
		assert.Less(t, at.Dist(want), 1e-9, "quarter %d: %v", quarter, at)
	}
	at := place(New(s, Hypothesis{Kind: Walled, Quarter: 1}), "C")
	assert.Less(t, at.Dist(geo.Vec{X: 12, Y: 9}), 1e-9, "the house stays")
	at = place(New(s, Hypothesis{Kind: Mirrored}), "box")
	assert.Less(t, at.Dist(geo.Vec{X: -2, Y: -10}), 1e-9)
}

// Corners A to D run counter-clockwise round the drawn house; where the crew's
// names run one corner on, its A is the sheet's B.
func TestOtherNamesOfCorners(t *testing.T) {
	s := testsite.Sketch(asbuilt.Roughly)
	s.Parts = append(s.Parts, testsite.Part("house", asbuilt.Building, asbuilt.Polygon, geo.Vec{}, geo.Vec{X: 12}, geo.Vec{X: 12, Y: 9}, geo.Vec{Y: 9}))
	d := New(s, Hypothesis{Kind: Named, Quarter: 1})
	crew, sheet := d.CornerNamed()
	assert.Equal(t, "A B", crew+" "+sheet)
	for crew, sheet := range map[string]string{"A": "B", "B": "C", "C": "D", "D": "A"} {
		assert.Equal(t, crew, d.CrewName(sheet))
	}
	assert.Equal(t, "box", d.CrewName("box"))
	crew, sheet = New(s, Hypothesis{}).CornerNamed()
	assert.Empty(t, crew+sheet)
}

// The faults of a sheet and how badly it may be drawn are whole: their odds add
// up to one. The one to start from is the sheet as its trust has it.
func TestOddsAddUp(t *testing.T) {
	sum := 0.0
	for _, s := range Suppositions {
		sum += s.Odds
	}
	assert.InDelta(t, 1, sum, 1e-12)
	assert.Equal(t, 1.0, Suppositions[Usual].Sheet)
	s := testsite.Sketch(asbuilt.Roughly)
	s.Up = new(asbuilt.Up)
	s.Parts = append(s.Parts, testsite.Part("house", asbuilt.Building, asbuilt.Polygon, geo.Vec{}, geo.Vec{X: 12}, geo.Vec{X: 12, Y: 9}, geo.Vec{Y: 9}))
	sum = 0
	kinds := map[Fault]int{}
	for _, h := range Hypotheses(s) {
		sum += h.Odds
		kinds[h.Kind]++
		assert.Positive(t, h.Odds)
	}
	assert.InDelta(t, 1, sum, 1e-12)
	assert.Equal(t, map[Fault]int{Sound: 1, Mirrored: 1, Turned: 3, Walled: 3, Named: 3, Scaled: 1, Other: 1}, kinds, "three quarter turns each")
}

// The mixture over Block stands in for Student's t of four degrees of freedom:
// of a quantity of standard deviation 1 it leaves outside t's published two-sided
// quantiles (Abramowitz & Stegun, table 26.10) what t leaves. Each share is within
// a fifth of what the table says, from 50 % to 2 %.
func TestBlockIsStudent(t *testing.T) {
	for outside, quantile := range map[float64]float64{0.5: 0.741, 0.2: 1.533, 0.1: 2.132, 0.05: 2.776, 0.02: 3.747} {
		got := 0.0
		for _, s := range Suppositions {
			got += s.Odds * math.Erfc(quantile*blockUsual/s.Block/math.Sqrt2)
		}
		assert.InEpsilon(t, outside, got, 0.2, "outside %.3f", quantile)
	}
}

// House corners say nothing of where the field was put: what is learned of Sheet
// changes the odds of Block by nothing.
func TestBlockIsApartFromTheSheet(t *testing.T) {
	sheet, block := map[float64]float64{}, map[float64]float64{}
	for _, s := range Suppositions {
		sheet[s.Sheet] += s.Odds
		block[s.Block] += s.Odds
	}
	for _, s := range Suppositions {
		assert.InDelta(t, sheet[s.Sheet]*block[s.Block], s.Odds, 1e-12)
	}
	assert.Len(t, Suppositions, len(sheet)*len(block))
}

// A table is the prior at a scale within a twentieth of the one that was asked
// for: what may go wrong grows with the scale, so that its determinant lies
// between theirs.
func TestTableOfAScale(t *testing.T) {
	sheet := NewSheet(testsite.Sketch(asbuilt.Roughly), Hypothesis{})
	rapid.Check(t, func(t *rapid.T) {
		scale := rapid.Float64Range(0.2, 5).Draw(t, "scale")
		tb, err := sheet.At(scale)
		require.NoError(t, err)
		_, got, err := tb.Of(Usual)
		require.NoError(t, err)
		det := func(scale float64) float64 {
			_, det, ok := Inverse(NewDiscrepancy(sheet.Drawing, scale).Covariance(Suppositions[Usual], 1))
			require.True(t, ok)
			return det
		}
		assert.GreaterOrEqual(t, got, det(scale*math.Exp(-0.0501)))
		assert.LessOrEqual(t, got, det(scale*math.Exp(0.0501)))
	})
}

// A header joins what it ends nearest to, and belongs to the tank where it begins
// within a metre of that.
func TestWhereAHeaderJoins(t *testing.T) {
	for _, tt := range []struct {
		from, to geo.Vec
		group    Group
		joins    string
	}{
		{geo.Vec{X: 5, Y: 0.5}, geo.Vec{X: 20.3, Y: 0}, Tank, "near"},
		{geo.Vec{X: 1, Y: 3.9}, geo.Vec{X: 20.35, Y: 0}, Tank, "far"},
		{geo.Vec{X: 4.1, Y: 1.9}, geo.Vec{X: 20.5, Y: 0}, Tank, "far"},
		{geo.Vec{X: 3, Y: 3}, geo.Vec{X: 19.5, Y: 0}, Field, "near"}, // in the bight
		{geo.Vec{X: 6.9, Y: 1}, geo.Vec{X: 21.4, Y: 0}, Tank, ""},
		{geo.Vec{X: 7.1, Y: 1}, geo.Vec{X: 18.9, Y: 0}, Field, ""},
		{geo.Vec{X: -1.1, Y: 2}, geo.Vec{X: 20.6, Y: 0}, Field, "far"},
	} {
		s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: asbuilt.Roughly, Parts: []asbuilt.Part{
			testsite.Part("tank", asbuilt.Tank, asbuilt.Polygon, geo.Vec{}, geo.Vec{X: 6}, geo.Vec{X: 6, Y: 1.5}, geo.Vec{X: 1.5, Y: 1.5}, geo.Vec{X: 1.5, Y: 5}, geo.Vec{Y: 5}),
			testsite.Box("near", 0.3, 20, 0), testsite.Box("far", 0.3, 20.65, 0),
			testsite.Part("H", asbuilt.Header, asbuilt.Line, tt.from, tt.to),
		}}
		d := New(s, Hypothesis{})
		line := d.Lines["H"]
		assert.Equal(t, tt.group, d.Nodes[line[0]].Group, "from %v", tt.from)
		joins := ""
		for _, id := range []string{"near", "far"} {
			if d.Spots[asbuilt.SpotName{Part: id, Spot: asbuilt.Center}] == line[1] {
				joins = id
			}
		}
		assert.Equal(t, tt.joins, joins, "to %v", tt.to)
	}
}

// The outline of a box that is drawn as a point is a square of its side about its
// centre, along the laterals; of a tank, one no wider than a usual tank is long and
// no narrower than it is wide; what is drawn keeps its form.
func TestOutlines(t *testing.T) {
	s := testsite.Sketch(asbuilt.Roughly)
	s.Ratio = 2 // two metres a unit
	box := s.Part("box")
	box.Size = testsite.Metres(0.8)
	d := New(s, Hypothesis{})
	side := func(ring []Drawn) float64 {
		require.Len(t, ring, 4)
		var sum Drawn
		for i, v := range ring {
			next := ring[(i+1)%4].Sub(v).v
			assert.InDelta(t, ring[1].Dist(ring[0]), next.Norm(), 1e-12, "four sides alike")
			assert.InDelta(t, 0, next.X*next.Y, 1e-12, "along the laterals and across")
			sum = sum.Add(v)
		}
		assert.InDelta(t, 0, sum.v.Norm(), 1e-12, "about its centre")
		return 2 * ring[1].Dist(ring[0])
	}
	assert.InDelta(t, 0.8, side(d.Outline(box)), 1e-12)
	point := testsite.Part("tank", asbuilt.Tank, asbuilt.Point, geo.Vec{X: 5, Y: -3})
	wide := side(d.Outline(&point))
	assert.GreaterOrEqual(t, wide, practice.TankWidth)
	assert.LessOrEqual(t, wide, practice.TankLength)

	ring := d.Outline(s.Part("tank"))
	require.Len(t, ring, 4)
	assert.Less(t, ring[0].v.Dist(geo.Vec{X: -1.25, Y: -0.75}), 1e-12)
	assert.Less(t, ring[2].v.Dist(geo.Vec{X: 1.25, Y: 0.75}), 1e-12)
}

// Laterals run on average along the sum of what is drawn, whichever end of one the
// drawing began with: of two of 10 m, at 0° and 10°, that is 5°. Of three that lie
// 2 m and 3 m apart the spacing is 2.5 m in the middle.
func TestDirectionOfLaterals(t *testing.T) {
	slanted := geo.Vec{X: 10 * math.Cos(math.Pi/18), Y: 10 * math.Sin(math.Pi/18)}
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: asbuilt.Roughly, Parts: []asbuilt.Part{
		testsite.Trench("L1", 0.6, geo.Vec{}, geo.Vec{X: 10}), testsite.Trench("L2", 0.6, slanted.Add(geo.Vec{Y: 3}), geo.Vec{Y: 3})}}
	e, _ := New(s, Hypothesis{}).direction()
	assert.Less(t, e.Dist(geo.Vec{X: math.Cos(math.Pi / 36), Y: math.Sin(math.Pi / 36)}), 1e-12)

	s.Parts = []asbuilt.Part{testsite.Trench("L1", 0.6, geo.Vec{}, geo.Vec{X: 10}), testsite.Trench("L2", 0.6, geo.Vec{X: 10, Y: 2}, geo.Vec{Y: 2}), testsite.Trench("L3", 0.6, geo.Vec{Y: 5}, geo.Vec{X: 10, Y: 5})}
	e, spacing := New(s, Hypothesis{}).direction()
	assert.Less(t, e.Dist(geo.Vec{X: 1}), 1e-12)
	assert.InDelta(t, 2.5, spacing, 1e-12)
}

// Whether a place lies in a tank, by hand: of a tank drawn askew, as the square
// |x| + |y| ≤ 5, (2, 2) does and (3, 3) does not, in every quarter; beside a wall of
// it, within reach, a place does too. A tank drawn as a point reaches twice as far.
func TestInTankByHand(t *testing.T) {
	askew := noScale(testsite.Part("tank", asbuilt.Tank, asbuilt.Polygon, geo.Vec{Y: -5}, geo.Vec{X: 5}, geo.Vec{Y: 5}, geo.Vec{X: -5}))
	for _, x := range []float64{-1, 1} {
		for _, y := range []float64{-1, 1} {
			assert.True(t, inTank(askew, asbuilt.Position{X: 2 * x, Y: 2 * y}, 0.1))
			assert.True(t, inTank(askew, asbuilt.Position{X: 0.5 * x, Y: 3.9 * y}, 0.1))
			assert.True(t, inTank(askew, asbuilt.Position{X: 3.9 * x, Y: 0.5 * y}, 0.1))
			assert.False(t, inTank(askew, asbuilt.Position{X: 3 * x, Y: 3 * y}, 0.1))
			assert.True(t, inTank(askew, asbuilt.Position{X: 3 * x, Y: 3 * y}, 0.75), "1/√2 from the wall")
			assert.False(t, inTank(askew, asbuilt.Position{X: 1.5 * x, Y: 4.9 * y}, 0.1))
		}
	}
	point := noScale(testsite.Part("tank", asbuilt.Tank, asbuilt.Point, geo.Vec{X: 1}))
	assert.True(t, inTank(point, asbuilt.Position{X: 2.9}, 1))
	assert.False(t, inTank(point, asbuilt.Position{X: 3.1}, 1))
	assert.False(t, inTank(noScale(testsite.Box("box", 0.6, 0, 0)), asbuilt.Position{}, 1))
}

// Places of a drawing are counted from the middle of all its nodes; neighbouring
// laterals lie as far apart as they are drawn, though there be but two.
func TestMiddleAndSpacingByHand(t *testing.T) {
	s := testsite.Sketch(asbuilt.Roughly)
	s.Parts = s.Parts[:8] // to L2
	d := New(s, Hypothesis{})
	var sum geo.Vec
	for _, n := range d.Nodes {
		sum = sum.Add(n.At.v)
	}
	assert.Less(t, sum.Norm(), 1e-9)
	e, spacing := d.direction()
	assert.InDelta(t, 2.4, spacing, 1e-9)
	assert.InDelta(t, 1, e.X, 1e-9)
	s.Parts = s.Parts[:7]
	_, spacing = New(s, Hypothesis{}).direction()
	assert.InDelta(t, 2.5, spacing, 0.1, "of one alone the usual 8 ft")
}

// The corners of a drawn house in their order round it, as far as they are marked.
func TestCornersByHand(t *testing.T) {
	house := testsite.Part("house", asbuilt.Building, asbuilt.Polygon, geo.Vec{}, geo.Vec{X: 8}, geo.Vec{X: 8, Y: 6}, geo.Vec{Y: 6})
	c, a, b := testsite.Landmark("C", 8, 6), testsite.Landmark("A", 0, 0), testsite.Landmark("B", 8, 0)
	off := testsite.Landmark("oak", 20, 20)
	assert.Equal(t, []string{"A", "B", "C"}, cornersOf(inMetres(house, c, a, off, b)))
	assert.Equal(t, []string{"B"}, cornersOf(inMetres(house, off, b)))
	assert.Empty(t, cornersOf(inMetres(house, off)))
}

// inMetres is a sheet in metres.
func inMetres(parts ...asbuilt.Part) *asbuilt.Sketch {
	s := noScale(parts...)
	s.Unit = geo.Metre
	return s
}
