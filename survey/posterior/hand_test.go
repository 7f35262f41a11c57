package posterior

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/fit"
	"asfound/survey/observe"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

// The half-width of a strip of 75 % with a variance of 0.1025 m² and 25 % with
// one of 0.6025 m², from SciPy:
//
//	brentq(lambda r: .75*exp(-r*r/.205) + .25*exp(-r*r/1.205) - .05, 0, 9)
const stripOfTwo = 1.3931157833

func near(t *testing.T, want, got geo.Vec, why ...any) {
	t.Helper()
	assert.InDelta(t, want.X, got.X, 1e-4, why...)
	assert.InDelta(t, want.Y, got.Y, 1e-4, why...)
}

func spotOf(part string, s asbuilt.Spot) asbuilt.SpotName {
	return asbuilt.SpotName{Part: part, Spot: s}
}

// laid is the fit of the test site with a layout by hand: two metres a drawing
// unit, the sheet turned a quarter counter-clockwise and its middle at (100, 50).
// So what is drawn at (x, y) lies at A + (−2y, 2x), A being corner A, drawn at the
// origin, but for how far off it was drawn: off, in metres on the ground, by part.
func laid(t *testing.T, off map[string]geo.Vec, change func(*survey.Job)) *fit.Fit {
	t.Helper()
	j := testsite.Taped()
	if change != nil {
		change(j)
	}
	f, err := fit.Solve(t.Context(), j)
	require.NoError(t, err)
	for i := range f.Components() {
		n, y := f.Components()[i].Network, f.Components()[i].Solution.Y
		clear(y[n.Lay:])
		y[n.Lay+observe.LayE], y[n.Lay+observe.LayN] = 100, 50
		y[n.Lay+observe.LayTurn], y[n.Lay+observe.LayScale] = math.Pi/2, math.Log(2)
		for part, v := range off {
			k := n.Node + 2*n.Drawing.Spots[spotOf(part, asbuilt.Center)]
			y[k], y[k+1] = v.Y, -v.X // a quarter clockwise: to the axes of the sheet
		}
	}
	return f
}

// A thing that is not in the fit moves as the corners of the house did, the nearer
// the more: by the inverse square of the distance (Shepard, A two-dimensional
// interpolation function for irregularly-spaced data, 1968). A thing on a spot
// moves with the spot.
func TestLaidByHand(t *testing.T) {
	f := laid(t, map[string]geo.Vec{"A": {X: 0.01}, "B": {Y: 0.02}, "box": {X: 0.3, Y: -0.4}}, nil)
	p := Of(f)
	// Everything is counted from A, which lies 1 cm east of its place on the sheet.
	at := func(x, y float64) geo.Vec { return geo.Vec{X: -2*y - 0.01, Y: 2 * x} }
	a, box := spotOf("A", asbuilt.Center), spotOf("box", asbuilt.Center)
	near(t, geo.Vec{}, p.Laid(asbuilt.Position{}, asbuilt.Landmark, &a), "a landmark is its own place")
	near(t, at(2.5, -10).Add(geo.Vec{X: 0.3, Y: -0.4}), p.Laid(asbuilt.Position{X: 2.5, Y: -10}, asbuilt.Box, &box), "a box moves as a whole")
	near(t, at(0, 0).Add(geo.Vec{X: 0.01}), p.Laid(asbuilt.Position{}, asbuilt.Building, nil), "on corner A it moves as A did")
	// The middle of the house is as far from all four corners: a quarter of (1, 0) + (0, 2) cm.
	near(t, at(6, 4.5).Add(geo.Vec{X: 0.0025, Y: 0.005}), p.Laid(asbuilt.Position{X: 6, Y: 4.5}, asbuilt.Building, nil))
	// At (3, 0) A is 6 m away, B 18 m, C √648 m, D √360 m: weights of 1/36, 1/324,
	// 1/648, 1/360, that is 90, 10, 5, 9 of 114.
	near(t, at(3, 0).Add(geo.Vec{X: 0.9 / 114, Y: 2 * 0.1 / 114}), p.Laid(asbuilt.Position{X: 3}, asbuilt.Building, nil))
	none := spotOf("nothing", asbuilt.Center)
	near(t, at(3, 0).Add(geo.Vec{X: 0.9 / 114, Y: 2 * 0.1 / 114}), p.Laid(asbuilt.Position{X: 3}, asbuilt.Building, &none))
}

// The old sheet is laid on the corners as they lie: where these form a house a
// tenth larger about its middle, (6, 4.5), everything is a tenth farther from that
// middle, 2.2 m a unit. One corner alone tells no scale: the sheet stays as the
// fit has it.
func TestAsDrawnByHand(t *testing.T) {
	off := map[string]geo.Vec{}
	for id, v := range map[string]geo.Vec{"A": {X: -6, Y: -4.5}, "B": {X: 6, Y: -4.5}, "C": {X: 6, Y: 4.5}, "D": {X: -6, Y: 4.5}} {
		off[id] = geo.Vec{X: -0.2 * v.Y, Y: 0.2 * v.X}
	}
	p := Of(laid(t, off, nil))
	for _, v := range []geo.Vec{{}, {X: 6, Y: 4.5}, {X: 2, Y: -10}} {
		near(t, geo.Vec{X: -2.2 * v.Y, Y: 2.2 * v.X}, p.AsDrawn(asbuilt.Position(v)))
	}

	one := laid(t, map[string]geo.Vec{"A": {X: 1}}, func(j *survey.Job) { // of the corners, A alone
		j.Readings = nil
		j.Sketch.Parts = append(j.Sketch.Parts[:1:1], j.Sketch.Parts[4:]...)
	})
	near(t, geo.Vec{X: 20 - 1, Y: 4}, Of(one).AsDrawn(asbuilt.Position{X: 2, Y: -10}), "A lies 1 m east of where it is drawn")

	// On the earth nothing is moved to the first corner.
	one.Frame.Kind = survey.Geodetic
	middle := one.Components()[0].Network.Drawing.Centre
	near(t, geo.Vec{X: 100 + 2*middle.Y, Y: 50 - 2*middle.X}, Of(one).AsDrawn(asbuilt.Position{}))
}

// two is a belief of two explanations, by hand: 3 to 1 that the box lies at (4, −3)
// and a trench along y = 0, each against the landmarks P (0, 0) and Q (10, 0); or
// elsewhere. Places: P, Q, the box, the two ends of the trench.
func two(kind survey.FrameKind, other []geo.Vec) *mixture {
	d := &drawing.Drawing{Nodes: make([]drawing.Node, 5), Lines: map[string][]int{"L": {3, 4}},
		Spots: map[asbuilt.SpotName]int{spotOf("box", asbuilt.Center): 2, spotOf("L", asbuilt.Start): 3, spotOf("L", asbuilt.End): 4}}
	n := &observe.Network{Drawing: d}
	root := func(x, y float64) [2][]float64 { return [2][]float64{{x, 0}, {0, y}} }
	abs := [][2][]float64{root(1, 1), root(1, 1), root(1.3, 1.1), root(1, 1), root(1, 1)}
	tied := [][2][]float64{root(0, 0), root(0, 0), root(0.3, 0.2), root(0.5, 0.2), root(0.5, 0.2)}
	wide := [][2][]float64{root(0, 0), root(0, 0), root(0.5, 0.4), root(0.5, 0.2), root(0.5, 0.6)}
	return &mixture{
		fit: &fit.Fit{Frame: survey.Frame{Kind: kind}}, datum: []int{0, 1}, shift: geo.Vec{X: 10, Y: 20},
		members: []member{
			{c: &fit.Component{Weight: 0.75, Network: n}, at: []geo.Vec{{}, {X: 10}, {X: 4, Y: -3}, {}, {X: 10}},
				spread: func() spread { return spread{abs, tied} }},
			{c: &fit.Component{Weight: 0.25, Network: n}, at: other, explanation: 1, spread: func() spread { return spread{abs, wide} }},
		},
		explanations: []*fit.Explanation{{Fault: drawing.Hypothesis{Kind: drawing.Sound}}, {Fault: drawing.Hypothesis{Kind: drawing.Mirrored}}},
	}
}

// Mean, covariance and strip of a mixture of two, by the law of total variance:
// the box lies (−1, −0.75) and (3, 2.25) off its mean (5, −2.25), so 0.75 · 1 +
// 0.25 · 9 = 3 m² are added in x, 2.25 between, 1.6875 in y.
func TestMixtureByHand(t *testing.T) {
	m := two(survey.Local, []geo.Vec{{}, {X: 10}, {X: 8}, {Y: 1}, {X: 10, Y: 1}})
	near(t, geo.Vec{X: 15, Y: 17.75}, m.expected(2))
	r := m.region(2)
	near(t, geo.Vec{X: 15, Y: 17.75}, r.At)
	want := geo.Cov{XX: 3 + 0.75*0.09 + 0.25*0.25, XY: 2.25, YY: 1.6875 + 0.75*0.04 + 0.25*0.16}
	same := func(want, got geo.Cov) {
		t.Helper()
		assert.InDelta(t, want.XX, got.XX, 1e-9)
		assert.InDelta(t, want.XY, got.XY, 1e-9)
		assert.InDelta(t, want.YY, got.YY, 1e-9)
	}
	same(want, r.Cov)
	same(want, r.Relative)
	assert.Equal(t, r.Ellipse, r.FromLandmarks, "in a frame of its own the two are one")
	assert.InDelta(t, 0.95, r.Content(r.At.Add(geo.Vec{X: math.Sin(r.Ellipse.Bearing.Radians()), Y: math.Cos(r.Ellipse.Bearing.Radians())}.Scale(r.Ellipse.SemiMajor))), 1e-5)
	same(geo.Cov{XX: 0.75*0.09 + 0.25*0.25, YY: 0.75*0.04 + 0.25*0.16}, m.relative(2))

	// Of the trench the explanations lie 0.25 m and 0.75 m to either side of the
	// mean: variances of 0.04 + 0.0625 and 0.04 + 0.5625 across its start.
	s := m.strip([]int{3, 4})
	near(t, geo.Vec{X: 10, Y: 20.25}, s.At[0])
	near(t, geo.Vec{X: 20, Y: 20.25}, s.At[1])
	assert.InEpsilon(t, stripOfTwo, s.Half[0], 1e-5)
	assert.Greater(t, s.Half[1], s.Half[0], "where one of the two is less sure")

	// The worse axis of the worse end: east, 0.75 · 0.25 + 0.25 · 0.25 at either;
	// north at the end 0.75 · 0.04 + 0.25 · 0.36.
	p := &Posterior{belief: m, mix: m}
	assert.InDelta(t, 0.5, p.Sigma("L"), 1e-9)
	assert.InDelta(t, math.Sqrt(0.13), p.Sigma("box"), 1e-9)
	assert.Zero(t, p.Sigma("nothing"))
}

// On the earth, explanations that lie apart there are judged against the
// landmarks. The other one is turned a quarter counter-clockwise and lies a
// hundred metres off, but against its landmarks only the box is 1 m farther east:
// of 0.75 · 0.25² + 0.25 · 0.75² = 0.1875 m² that way.
func TestMixtureOnTheEarth(t *testing.T) {
	m := two(survey.Geodetic, []geo.Vec{{X: 100, Y: 50}, {X: 100, Y: 60}, {X: 103, Y: 55}, {X: 100, Y: 50}, {X: 100, Y: 60}})
	r := m.region(2)
	assert.InDelta(t, 0.1875+0.13, r.Relative.XX, 1e-9)
	assert.InDelta(t, 0.07, r.Relative.YY, 1e-9)
	assert.InDelta(t, 0, r.Relative.XY, 1e-9)
	assert.InDelta(t, 1.3*1.3+0.1875*99*99, r.Cov.XX, 1e-6, "0.75 · 0.25 · (103 − 4)²")
	assert.InDelta(t, 1.1*1.1+0.1875*58*58, r.Cov.YY, 1e-6)
	assert.Less(t, r.Landmarks95, 2.0)
	assert.Greater(t, r.Radius95, 50.0)
	s := m.strip([]int{3, 4})
	assert.Len(t, s.Half, 2)
	m.datum = nil
	assert.Greater(t, m.region(2).Landmarks95, 50.0, "without landmarks there is nothing to judge it by")
}

// The strip of a trench that two explanations have in the same place against
// their landmarks is that of one Gaussian of 0.2 m: 2.4477 · 0.2 m.
func TestStripOnTheEarth(t *testing.T) {
	m := two(survey.Geodetic, []geo.Vec{{X: 3}, {X: 13}, {X: 7, Y: -3}, {X: 3}, {X: 13}})
	assert.InEpsilon(t, 2.4477468*0.2, m.strip([]int{3, 4}).Half[0], 1e-5)
}

// One ellipse describes two places badly where it is much larger than theirs. Of
// two that are correlated by 0.9 with 0.2 m per axis: area √(0.0016 − 0.001296) =
// 0.0174; half a metre either way along the longer axis add 0.125 to all three,
// √(0.165² − 0.161²) = 0.0361, twice as much. At one place they add nothing.
func TestApartByHand(t *testing.T) {
	for _, tt := range []struct {
		half float64
		want bool
	}{{0, false}, {0.5 * math.Sqrt2 / 2, true}} {
		v := geo.Vec{X: tt.half, Y: tt.half}
		m := two(survey.Local, []geo.Vec{{}, {X: 10}, geo.Vec{}.Sub(v), {}, {X: 10}})
		m.members[0].at[2] = v
		m.members[0].c.Weight, m.members[1].c.Weight = 0.5, 0.5
		root := [][2][]float64{{}, {}, {{0.2, 0}, {0.18, 0.2 * math.Sqrt(0.19)}}}
		for i := range m.members {
			m.members[i].spread = func() spread { return spread{root, root} }
		}
		assert.Equal(t, tt.want, m.apart(2))
		assert.Equal(t, tt.want, (&Posterior{belief: m, mix: m}).Apart(spotOf("box", asbuilt.Center)))
		m.explanations = m.explanations[:1]
		assert.False(t, m.apart(2), "there is one explanation")
	}
}

// A belief of draws, by hand. Four draws of the box at (±2, 0) and (0, ±1) about
// their mean have the covariance diag(2, 0.5) and lie all √2 standard deviations
// off: so do the 95 %. Of the trench's start two draws of eight lie 0.8 m off, two
// standard deviations (0.4 m) and more than any other; of its end the other six
// 2 m, 1.15 of √3 m.
func TestSampleByHand(t *testing.T) {
	m := two(survey.Local, make([]geo.Vec, 5))
	four := func(x, y, k float64) []geo.Vec {
		return []geo.Vec{{X: x + 2*k, Y: y}, {X: x - 2*k, Y: y}, {X: x, Y: y + k}, {X: x, Y: y - k}}
	}
	s := &sample{from: m, lift: geo.Vec{X: 0.5, Y: -0.5}, all: &Draws{N: 4, at: [][]geo.Vec{nil, nil, four(7, 9, 1)}, frame: [][]geo.Vec{nil, nil, four(70, 90, 3)},
		Member: []int{0, 1, 0, 0}, Shifts: [][]float64{{1, 2, 3, 4}}}}
	p := &Posterior{belief: s, mix: m}
	r := s.region(2)
	near(t, geo.Vec{X: 7.5, Y: 8.5}, r.At)
	near(t, geo.Vec{X: 7.5, Y: 8.5}, s.expected(2))
	for _, c := range []geo.Cov{r.Cov, r.Relative, s.relative(2)} {
		assert.InDelta(t, 2, c.XX, 1e-9)
		assert.InDelta(t, 0, c.XY, 1e-9)
		assert.InDelta(t, 0.5, c.YY, 1e-9)
	}
	assert.InDelta(t, 2, r.Ellipse.SemiMajor, 1e-9)
	assert.InDelta(t, 1, r.Ellipse.SemiMinor, 1e-9)
	assert.InDelta(t, 90, r.Ellipse.Bearing.Degrees(), 1e-9)
	assert.InDelta(t, 2, r.Landmarks95, 1e-9)
	assert.InDelta(t, 1, r.Content(r.At.Add(geo.Vec{X: 2.001})), 1e-9)
	assert.InDelta(t, 0, r.Content(r.At.Add(geo.Vec{X: 1.9})), 1e-9)
	assert.Equal(t, map[string]float64{"true": 0.25, "false": 0.75}, s.odds(func(e *fit.Explanation) string {
		return map[bool]string{true: "true", false: "false"}[e.Fault.Kind == drawing.Mirrored]
	}))
	assert.InDelta(t, 0.25, p.MirroredOdds(), 1e-12)
	all := p.Sample(spotOf("box", asbuilt.Center))
	require.Len(t, all, 4)
	near(t, geo.Vec{X: 9.5, Y: 8.5}, all[0])
	assert.Nil(t, p.Sample(spotOf("nothing", asbuilt.Center)))
	assert.Equal(t, s.all.Shifts, p.Shifts())
	assert.Same(t, s.all, must.Have(s.draws(t.Context(), 4)))
	m.fit.Frame.Kind = survey.Geodetic
	r = s.region(2)
	assert.InDelta(t, 18, r.Cov.XX, 1e-9, "on the earth three times as far, as the fixes have it")
	assert.InDelta(t, 6, r.Radius95, 1e-9)
	assert.InDelta(t, 6, r.Ellipse.SemiMajor, 1e-9)
	assert.InDelta(t, 2, r.FromLandmarks.SemiMajor, 1e-9)
	near(t, geo.Vec{X: 7.5, Y: 8.5}, r.At)

	start, end, held := make([]geo.Vec, 8), make([]geo.Vec, 8), make([]geo.Vec, 8)
	for i := range 8 {
		sign := float64(1 - 2*(i%2))
		if i < 2 {
			start[i].Y = 0.8 * sign
		} else {
			end[i].Y = 2 * sign
		}
		end[i].X, held[i].X = 10, 20
	}
	s.all = &Draws{N: 8, at: [][]geo.Vec{start, end, held}}
	strip := s.strip([]int{0, 1, 2})
	assert.InDelta(t, 0.8, strip.Half[0], 1e-9)
	assert.InDelta(t, 2*math.Sqrt(3), strip.Half[1], 1e-9)
	assert.Zero(t, strip.Half[2], "a vertex that is known")
	near(t, geo.Vec{X: 10.5, Y: -0.5}, strip.At[1])
}

// Which lateral a hole met is counted over the draws: in three of four it lies on
// L1, drawn along y = −7 from x = 4 to 24, in one on L2 along y = −9.4.
func TestLineOddsOfDraws(t *testing.T) {
	m := Of(unnamed(t)).mix
	d, log := m.drawing(), m.fit.Log()
	all := &Draws{N: 4, at: make([][]geo.Vec, m.members[0].c.Network.Places())}
	for k := range all.at {
		all.at[k] = make([]geo.Vec, 4)
		if k < len(d.Nodes) {
			for i := range 4 {
				all.at[k][i] = d.Nodes[k].At.Metres(1).Add(geo.Vec(d.Centre)) // as it is drawn
			}
		}
	}
	hole, ok := log.Point("H3")
	require.True(t, ok)
	for i, y := range []float64{-7.1, -6.5, -9.3, -7.2} {
		all.at[len(d.Nodes)+hole][i] = geo.Vec{X: 9, Y: y}
	}
	s := &sample{from: m, all: all}
	assert.Equal(t, map[string]float64{"L1": 0.75, "L2": 0.25}, s.nearest(log.Reading("x", survey.Found)))
	assert.Nil(t, s.nearest(&survey.Reading{Point: "H99"}))
	assert.Nil(t, s.lineOdds(&survey.Reading{ID: "y"}))
}

// What holes on lines met is weighed as evidence on the fit without those holes,
// where there is one; nothing else is.
func TestLearnFromTheRightFit(t *testing.T) {
	f := unnamed(t)
	p := Of(f)
	require.NotEmpty(t, f.WithoutLineHits())
	sure := func([]geo.Vec, []float64) float64 { return 0 }
	hit, _, err := p.Learn(t.Context(), Evidence{Hits: []Item{sure}})
	require.NoError(t, err)
	assert.Same(t, f.WithoutLineHits()[0].Network, hit.mix.members[0].c.Network)
	empty, _, err := p.Learn(t.Context(), Evidence{Items: []Item{sure}})
	require.NoError(t, err)
	assert.Same(t, f.Components()[0].Network, empty.mix.members[0].c.Network)
	none, l, err := p.Learn(t.Context(), Evidence{})
	require.NoError(t, err)
	assert.Equal(t, Learned{Left: 1, Share: 1}, l)
	assert.Equal(t, must.Have(p.Draws(t.Context(), 50)), must.Have(none.Draws(t.Context(), 50)))

	q := taped(t)
	require.Empty(t, q.fit.WithoutLineHits())
	all, l, err := q.Learn(t.Context(), Evidence{Hits: []Item{sure}})
	require.NoError(t, err)
	assert.Same(t, q.fit.Components()[0].Network, all.mix.members[0].c.Network)
	assert.True(t, l.Counts)
	assert.InDeltaSlice(t, []float64{1}, l.Hits, 1e-9)
}

// The quantile of weights: the first whose running sum passes u, the last where
// rounding leaves none.
func TestChooseByHand(t *testing.T) {
	for u, want := range map[float64]int{0: 0, 0.29: 0, 0.31: 1, 0.99: 1, 1: 1} {
		assert.Equal(t, want, choose([]float64{0.3, 0.7}, u), "%v", u)
	}
}

// What a hole met: where the log names it that, else by the weights of the
// explanations, the likeliest first and of equals the first by name.
func TestMetByHand(t *testing.T) {
	f := unnamed(t)
	p := Of(f)
	assert.Equal(t, map[string]float64{"L2": 1}, p.MetOdds("rg"), "the log says so")
	assert.Equal(t, "L2", p.Met("rg"))
	assert.Nil(t, p.MetOdds("ra"), "a tape")
	assert.Empty(t, p.Met("ra"))
	odds := p.MetOdds("x")
	sum := 0.0
	for _, id := range []string{"L1", "L2", "L3", "L4"} {
		sum += odds[id]
		assert.LessOrEqual(t, odds[id], odds[p.Met("x")])
	}
	assert.InDelta(t, 1, sum, 1e-9)
	log := f.Log()
	assert.Equal(t, []string{"L1", "L2", "L3", "L4"}, p.Lines(log.Reading("x", survey.Found)))
	assert.Nil(t, p.Lines(log.Reading("rg", survey.Found)), "the fit has it")

	// Of a belief of draws, half of them on either line.
	s := &sample{from: p.mix, met: map[string]func() map[string]float64{"x": func() map[string]float64 { return map[string]float64{"L3": 0.5, "L2": 0.5} }}}
	q := &Posterior{belief: s, fit: f, mix: p.mix}
	assert.Equal(t, "L2", q.Met("x"))
	assert.Equal(t, map[string]float64{"L3": 0.5, "L2": 0.5}, q.MetOdds("x"))
}

// A direction is counted from the place of a hole, of a landmark, or from north.
func TestRunsByHand(t *testing.T) {
	p := taped(t)
	quarter := geo.Degrees(90)
	h1, ok := p.PlaceOfPoint("H1")
	require.True(t, ok)
	b, ok := p.Place(spotOf("B", asbuilt.Center))
	require.True(t, ok)
	for _, tt := range []struct {
		facing string
		place  int
		ok     bool
	}{{"H1", h1, true}, {"B", b, true}, {"nobody", 0, false}, {"true", -1, false}} { // nothing tells where north is
		_, place, ok := p.Runs(&survey.Reading{Kind: survey.Found, Point: "H2", Runs: &quarter, Facing: tt.facing})
		assert.Equal(t, tt.ok, ok, tt.facing)
		if tt.ok || tt.place < 0 {
			assert.Equal(t, tt.place, place, tt.facing)
		}
	}
	assert.True(t, p.Refers("A"))
	assert.False(t, p.Refers("box"))
	assert.Equal(t, []string{"H1", "H2"}, p.Points())
	k, ok := p.PlaceOfPoint("H2")
	assert.True(t, ok)
	assert.Equal(t, len(p.drawing().Nodes)+1, k)
	_, ok = p.ExpectedPoint("H9")
	assert.False(t, ok)
}

// Draws lie on the landmarks of the first explanation, however far off on the earth
// another has them; as positions there they stay where they are.
func TestDrawsLieOnTheFirst(t *testing.T) {
	f := laid(t, nil, nil)
	f.Frame.Kind = survey.Geodetic
	for i := range f.Components() {
		n, y := f.Components()[i].Network, f.Components()[i].Solution.Y
		y[n.Lay+observe.LayE] += 50 * float64(i)
	}
	p := Of(f)
	d := must.Have(p.Draws(t.Context(), 200))
	want := geo.Mean(fit.Pick(f.Components()[0].Places(), p.mix.datum)).Add(p.shift)
	apart := 0
	for i := range d.N {
		var at, frame geo.Vec
		for _, k := range p.mix.datum {
			at, frame = at.Add(d.at[k][i].Scale(0.25)), frame.Add(d.frame[k][i].Scale(0.25))
		}
		require.Len(t, p.mix.datum, 4)
		near(t, want, at)
		if frame.Dist(want) > 25 {
			apart++
		}
	}
	assert.InDelta(t, 1-f.Components()[0].Weight, float64(apart)/200, 0.01)
}
