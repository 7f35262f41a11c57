package fit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/observe"
	"asfound/survey/testsite"
)

// here asserts that a place is where it is wanted, within a tenth of a millimetre.
func here(t *testing.T, want, got geo.Vec, why ...any) {
	t.Helper()
	assert.InDelta(t, want.X, got.X, 1e-4, why...)
	assert.InDelta(t, want.Y, got.Y, 1e-4, why...)
}

// Two circles, by the 3-4-5 triangle: about (0, 0) and (8, 0) with 5 m each they
// cross at (4, ±3). Circles of 3 and 4 m about centres 10 m apart do not meet; the
// place between them is (100 + 9 − 16)/20 = 4.65 m along, and a little to either
// side.
func TestCirclesByHand(t *testing.T) {
	left, right := circles(observe.Ring{Radius: 5}, observe.Ring{At: geo.Vec{X: 8}, Radius: 5})
	here(t, geo.Vec{X: 4, Y: 3}, left)
	here(t, geo.Vec{X: 4, Y: -3}, right)
	left, right = circles(observe.Ring{At: geo.Vec{Y: 1}, Radius: 3}, observe.Ring{At: geo.Vec{Y: 11}, Radius: 4})
	here(t, geo.Vec{Y: 5.65}, left.Lerp(right, 0.5))
	assert.Less(t, left.X, 0.0)
	assert.Greater(t, right.X, 0.0)
}

// Which crossing of several rings a point starts from, about (0, 0) and (8, 0)
// with 5 m each: of (4, 3) and (4, −3) the one that a third ring passes, else the
// nearer to where it is wanted; a third centre on the line of the two passes both
// or neither. Of three rings the two that meet squarest count: one of 7.6 m about
// (−3, 0) crosses neither of them as squarely, and is a little short.
func TestCrossByHand(t *testing.T) {
	a, b := observe.Ring{Radius: 5}, observe.Ring{At: geo.Vec{X: 8}, Radius: 5}
	up, down := geo.Vec{X: 4, Y: 3}, geo.Vec{X: 4, Y: -3}
	for _, tt := range []struct {
		name  string
		rings []observe.Ring
		want  geo.Vec
		near  geo.Vec
		third bool
	}{
		{"nearer to what is wanted", []observe.Ring{a, b}, geo.Vec{X: 9, Y: -1}, down, false},
		{"the other way", []observe.Ring{b, a}, geo.Vec{X: 9, Y: 1}, up, false},
		{"a third ring, from above", []observe.Ring{a, b, {At: geo.Vec{X: 4, Y: 10}, Radius: 7}}, geo.Vec{X: 4, Y: -2}, up, true},
		{"and from below", []observe.Ring{a, b, {At: geo.Vec{X: 4, Y: 10}, Radius: 13}}, geo.Vec{X: 4, Y: 2}, down, true},
		{"a third on their line", []observe.Ring{a, b, {At: geo.Vec{X: 20}, Radius: math.Sqrt(265)}}, geo.Vec{X: 4, Y: 2}, up, false},
		{"the squarest two", []observe.Ring{{At: geo.Vec{X: -3}, Radius: 7.6}, a, b}, geo.Vec{X: 4, Y: 2}, up, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			near, far, third := hint{Rings: tt.rings}.cross(tt.want)
			here(t, tt.near, near)
			here(t, geo.Vec{X: 4, Y: -tt.near.Y}, far)
			assert.Equal(t, tt.third, third)
		})
	}
	near, far, third := hint{Rings: []observe.Ring{a, {At: geo.Vec{X: 0.05}, Radius: 5}}}.cross(geo.Vec{X: 30, Y: 40})
	here(t, geo.Vec{X: 3, Y: 4}, near, "of one landmark: toward what is wanted, 5 m")
	here(t, near, far)
	assert.True(t, third)
}

// Where the points of a log start on the sheet of the test site, one metre a unit,
// by hand: A (0, 0), B (12, 0), C (12, 9); the middle of what is drawn of the field
// is that of the box and twelve vertices of laterals, (170/13, −138/13).
func TestStartPointsByHand(t *testing.T) {
	p := taped(t, func(j *survey.Job) {
		j.Readings = nil
		add := func(r survey.Reading) {
			r.ID = fmt.Sprintf("r%02d", len(j.Readings))
			j.Readings = append(j.Readings, r)
		}
		tape := func(from, to string, d float64) {
			add(survey.Reading{Kind: survey.Tape, From: from, To: to, Value: testsite.Metres(d)})
		}
		tape("A", "two", 10)
		tape("two", "B", 10)
		tape("A", "three", 13)
		tape("B", "three", math.Hypot(7, 12))
		tape("C", "three", math.Hypot(7, 3))
		tape("A", "one", 20)
		add(survey.Reading{Kind: survey.Found, Point: "one", Target: "box"})
		tape("two", "next", 5)
		add(survey.Reading{Kind: survey.Bearing, From: "two", To: "next", Azimuth: geo.Degrees(90), North: survey.TrueNorth})
		add(survey.Reading{Kind: survey.Found, Point: "met", Target: "tank"})
		add(survey.Reading{Kind: survey.Empty, Point: "nowhere"})
		tape("A", "some", 10)
		add(survey.Reading{Kind: survey.Baseline, From: "A", To: "B", Point: "square", Value: testsite.Metres(3), Offset: testsite.Metres(4)})
	})
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	n := c.Network
	start := func(e Explanation) (map[string]geo.Vec, map[string]geo.Vec) {
		y := make([]float64, n.Size)
		y[n.Lay+observe.LayE], y[n.Lay+observe.LayN] = n.Drawing.Centre.X, n.Drawing.Centre.Y
		ambiguous := p.startPoints(n, y, e)
		at := map[string]geo.Vec{}
		for i, pt := range n.Points {
			at[pt.Name] = n.At(y).Where(observe.HolePlace(i))
		}
		return at, ambiguous
	}
	at, ambiguous := start(Explanation{})
	middle := geo.Vec{X: 170.0 / 13, Y: -138.0 / 13}
	for name, want := range map[string]geo.Vec{
		"two":     {X: 6, Y: -8}, // on the side of the field
		"three":   {X: 5, Y: 12}, // of the third tape
		"one":     geo.Vec{X: 2, Y: -10}.Unit().Scale(20),
		"next":    {X: 11, Y: -8}, // east of two
		"met":     {X: 5.25, Y: -3.25},
		"nowhere": middle,
		"some":    middle.Unit().Scale(10),
		"square":  {X: 3, Y: -4}, // right of A to B
	} {
		here(t, want, at[name], name)
	}
	require.Len(t, ambiguous, 1)
	here(t, geo.Vec{X: 6, Y: 8}, ambiguous["two"])
	at, ambiguous = start(Explanation{}.turn("two"))
	here(t, geo.Vec{X: 6, Y: 8}, at["two"])
	here(t, geo.Vec{X: 6, Y: -8}, ambiguous["two"])
	here(t, geo.Vec{X: 11, Y: 8}, at["next"], "what hangs on it goes with it")
}

// fixed is the test site's problem with fixes of the named corners: the lot is
// turned by 40° counter-clockwise. The sheet is drawn at ten metres a unit.
func fixed(t *testing.T, corners string, change func(*survey.Job)) *problem {
	at, err := geodesy.New(-123.4, -48.9)
	require.NoError(t, err)
	lot := geodesy.NewSite(at, 0)
	return taped(t, func(j *survey.Job) {
		j.Readings, j.Sketch.Ratio = nil, 10
		for i := range j.Sketch.Parts {
			for k, v := range j.Sketch.Parts[i].Shapes[0].Vertices {
				j.Sketch.Parts[i].Shapes[0].Vertices[k] = v.Scale(0.1)
			}
		}
		for i, c := range corners {
			v := map[rune]geo.Vec{'A': {}, 'B': {X: 12}, 'C': {X: 12, Y: 9}, 'D': {Y: 9}}[c]
			j.Readings = append(j.Readings, survey.Reading{ID: fmt.Sprint("g", i), Kind: survey.GNSS, Point: string(c), Accuracy: 2,
				Position: lot.LonLat(v.Rotate(geo.Degrees(40)).Add(geo.Vec{X: 30, Y: -20}))})
		}
		if change != nil {
			change(j)
		}
	})
}

// How a sheet starts to lie on the earth: by fixes of corners that lie 15 m apart
// its turn and place are known, by one its place alone, for each of twelve turns
// 30° apart. The first fix is the origin of the frame.
func TestLayoutsByFixes(t *testing.T) {
	for _, tt := range []struct {
		corners string
		turns   int
	}{{"AC", 1}, {"C", 12}, {"CC", 12}} {
		p := fixed(t, tt.corners, nil)
		c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
		require.NoError(t, err)
		d := c.Network.Drawing
		all := p.layouts(d, Explanation{})
		require.Len(t, all, tt.turns)
		for k, l := range all {
			turn := l.Mean[observe.LayTurn]
			if tt.turns == 1 {
				assert.InDelta(t, 40, turn*180/math.Pi, 1e-3)
			} else {
				assert.InDelta(t, 30*float64(k), turn*180/math.Pi, 1e-9)
				assert.InDelta(t, math.Pi/math.Sqrt(3), l.Sigma[observe.LayTurn], 0.02, "of a uniform direction, ±π")
			}
			assert.InDelta(t, math.Log(10), l.Mean[observe.LayScale], 1e-9)
			y := make([]float64, c.Network.Size)
			copy(y[c.Network.Lay:], l.Mean[:])
			corner := c.Network.At(y).Where(observe.Place(d.Spots[asbuilt.SpotName{Part: tt.corners[:1], Spot: asbuilt.Center}]))
			assert.Less(t, corner.Norm(), 1e-3, "the first corner at its fix")
		}
	}
	// What the sheet says of north counts before what few fixes say.
	p := fixed(t, "AC", func(j *survey.Job) { j.Sketch.Up = &asbuilt.Up{Bearing: geo.Degrees(-35), Sigma: geo.Degrees(10)} })
	for quarter, want := range []float64{35, 125} {
		f := drawing.Hypothesis{Odds: 1}
		if quarter > 0 {
			f = drawing.Hypothesis{Kind: drawing.Turned, Quarter: quarter, Odds: 1}
		}
		all := p.layouts(drawing.New(p.sketch, f), Explanation{})
		require.Len(t, all, 1)
		assert.InDelta(t, want, all[0].Mean[observe.LayTurn]*180/math.Pi, 1e-9)
		assert.InDelta(t, 10, all[0].Sigma[observe.LayTurn]*180/math.Pi, 1e-9)
	}
}

// In a frame of its own a sheet is held in place, and its turn too, unless it or a
// bearing says where north is.
func TestLayoutsInAFrameOfItsOwn(t *testing.T) {
	for _, tt := range []struct {
		change func(*survey.Job)
		free   bool
	}{{nil, false}, {func(j *survey.Job) {
		j.Readings = append(j.Readings, survey.Reading{ID: "b", Kind: survey.Bearing, From: "A", To: "B", Azimuth: geo.Degrees(90), North: survey.TrueNorth})
	}, true}} {
		p := taped(t, tt.change)
		all := p.layouts(drawing.New(p.sketch, p.faults[0]), Explanation{})
		require.Len(t, all, 1)
		assert.Less(t, all[0].Sigma[observe.LayE]+all[0].Sigma[observe.LayN], 0.01)
		assert.Equal(t, tt.free, all[0].Sigma[observe.LayTurn] > 1)
	}
	// A sketch in longitude and latitude lies about where it is drawn, north up.
	p := taped(t, nil)
	p.log.Frame.Kind, p.sketch.Plane = survey.Geodetic, asbuilt.WGS84
	d := drawing.New(p.sketch, p.faults[0])
	all := p.layouts(d, Explanation{})
	require.Len(t, all, 1)
	assert.InDelta(t, d.Centre.X, all[0].Mean[observe.LayE], 1e-12)
	assert.InDelta(t, d.Centre.Y, all[0].Mean[observe.LayN], 1e-12)
	assert.Zero(t, all[0].Mean[observe.LayTurn])
	assert.Less(t, all[0].Sigma[observe.LayTurn], 0.5, "it has no other north")
}

// Each fix has two numbers, and two of all go into laying the sheet on the earth:
// of three fixes four are left. A tape between corners is one more, a hole with
// two tapes none.
func TestDegreesByHand(t *testing.T) {
	tape := func(j *survey.Job, from, to string, d float64) {
		j.Readings = append(j.Readings, survey.Reading{ID: from + to, Kind: survey.Tape, From: from, To: to, Value: testsite.Metres(d)})
	}
	for _, tt := range []struct {
		corners string
		change  func(*survey.Job)
		want    float64
	}{
		{"A", nil, 0}, {"ABC", nil, 4},
		{"ABC", func(j *survey.Job) { tape(j, "A", "B", 12) }, 5},
		{"ABC", func(j *survey.Job) { tape(j, "A", "P", 10); tape(j, "B", "P", 10) }, 4},
		{"ABC", func(j *survey.Job) { tape(j, "A", "P", 10); tape(j, "B", "P", 10); tape(j, "C", "P", 18) }, 5},
	} {
		p := fixed(t, tt.corners, tt.change)
		c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
		require.NoError(t, err)
		assert.InDelta(t, tt.want, c.degrees(), 1e-9, "%+v", tt)
	}
}

// Of twelve starts the best is kept: three fixes of a house so small that they do
// not tell its turn, which is 40°, are reached from 30° with the least effort.
func TestBestOfTwelveStarts(t *testing.T) {
	p := fixed(t, "ABC", func(j *survey.Job) {
		for i := range j.Sketch.Parts {
			for k, v := range j.Sketch.Parts[i].Shapes[0].Vertices {
				j.Sketch.Parts[i].Shapes[0].Vertices[k] = v.Scale(0.3) // 3.6 by 2.7 m
			}
		}
		at := j.Readings[0].Position
		lot := geodesy.NewSite(at, 0)
		for i, v := range []geo.Vec{{}, {X: 3.6}, {X: 3.6, Y: 2.7}} {
			j.Readings[i].Position, j.Readings[i].Accuracy = lot.LonLat(v.Rotate(geo.Degrees(40))), 0.1
		}
	})
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	require.Len(t, p.layouts(c.Network.Drawing, Explanation{}), 12)
	turn := c.Network.Lay + observe.LayTurn
	assert.InDelta(t, 30, c.Network.Prior.Mean[turn]*180/math.Pi, 1e-9)
	assert.InDelta(t, 40, c.Solution.Y[turn]*180/math.Pi, 2)
}

// Before the holes are placed the house is: where a tape has it twice as wide as it
// is drawn, with the scale not known, it starts about so.
func TestLandmarksFirst(t *testing.T) {
	for _, tt := range []struct {
		hole bool
		want float64
	}{{true, 24}, {false, 12}} { // without holes the fit itself does it
		p := taped(t, func(j *survey.Job) {
			j.Sketch.Trust = asbuilt.NotToScale
			j.Readings = []survey.Reading{{ID: "a", Kind: survey.Tape, From: "A", To: "B", Value: testsite.Metres(24)}}
			if tt.hole {
				j.Readings = append(j.Readings, survey.Reading{ID: "b", Kind: survey.Tape, From: "A", To: "P", Value: testsite.Metres(9)})
			}
		})
		c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
		require.NoError(t, err)
		n := c.Network
		y := append([]float64{}, n.Prior.Mean...)
		y[n.Lay+observe.LayScale] = 0
		p.landmarksFirst(n, y)
		at := n.At(y)
		assert.InDelta(t, tt.want, at.Where(0).Dist(at.Where(1)), 0.5)
	}
}

// Where an end of a named lateral is held by a hole past it, that hole is left to
// the belief: L1 is drawn from (4, −7) to (24, −7), the hole 1.5 m beyond.
func TestHeldEndIsLeftToTheBelief(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		left bool
	}{{25.5, true}, {14, false}} {
		hole := geo.Vec{X: tt.x, Y: -7.1}
		p := taped(t, func(j *survey.Job) {
			j.Readings = []survey.Reading{{ID: "f", Kind: survey.Found, Point: "P", Target: "L1"}}
			for id, v := range map[string]geo.Vec{"A": {}, "B": {X: 12}, "C": {X: 12, Y: 9}} {
				j.Readings = append(j.Readings, survey.Reading{ID: id, Kind: survey.Tape, From: id, To: "P", Value: testsite.Metres(v.Dist(hole))})
			}
		})
		f, err := p.Refit(t.Context(), p.log.Job)
		require.NoError(t, err)
		assert.Equal(t, tt.left, len(f.WithoutLineHits()) > 0, "x = %v", tt.x)
		for _, c := range f.WithoutLineHits() {
			assert.True(t, c.Explanation.Without["f"])
		}
	}
}

// The first look keeps what the fit before thought of the sheet: the likeliest of
// its explanations.
func TestPreviewKeepsTheLikeliest(t *testing.T) {
	p := taped(t, nil)
	mirrored := drawing.Hypothesis{Kind: drawing.Mirrored, Odds: 0.02}
	before := &Fit{components: []Component{{Explanation: Explanation{Fault: mirrored}.blundered(observe.Gross("ra"))}, {Explanation: Explanation{Fault: p.faults[0]}.blundered(observe.Gross("rb"))}}}
	f, err := p.Preview(t.Context(), p.log.Job, before)
	require.NoError(t, err)
	e := f.Components()[0].Explanation
	assert.Equal(t, mirrored, e.Fault)
	assert.Contains(t, e.Blunders, "ra")
	assert.NotContains(t, e.Blunders, "rb")
	assert.True(t, f.Mirrored)
}
