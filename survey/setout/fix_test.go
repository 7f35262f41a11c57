package setout_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

func mark(id string, x, y, sigma float64) locate.Spot {
	return locate.Spot{Part: id, Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: x, Y: y},
		FromLandmarks: geo.Cov{XX: sigma * sigma, YY: sigma * sigma}.Ellipse(2.4477468306808166)}
}

func lot(house []geo.Vec, marks ...locate.Spot) *locate.Location {
	l := &locate.Location{Job: &survey.Job{Settings: survey.DefaultSettings(), Sketch: &asbuilt.Sketch{}}, Spots: marks}
	if house != nil {
		l.Outlines = []locate.Outline{{Part: "house", Kind: asbuilt.Building, Now: []geo.Outline{{Closed: true, Vertices: house}}}}
	}
	return l
}

var house = []geo.Vec{{}, {X: 12}, {X: 12, Y: 8}, {Y: 8}}

// Two tapes of standard deviations sa and sb that cross at an angle: the trace
// of the covariance is (sa² + sb²)/sin² and its determinant sa² sb²/sin²
// (Ghilani & Wolf, Adjustment Computations, propagation of two distances).
func TestCovariance(t *testing.T) {
	l := lot(nil, mark("A", -10, 0, 0), mark("B", 10, 0, 0.5))
	at := geo.Vec{X: 0, Y: -7}
	f, ok := setout.New(l).Fix(at)
	require.True(t, ok)
	d := math.Hypot(10, 7)
	sa, sb := setout.TapeSigma(d), math.Hypot(setout.TapeSigma(d), 0.5)
	sine := 2 * 10 * 7 / (d * d)
	assert.InDelta(t, math.Asin(sine), f.Crossing.Radians(), 1e-9)
	assert.InDelta(t, (sa*sa+sb*sb)/(sine*sine), f.Cov.XX+f.Cov.YY, 1e-9)
	assert.InDelta(t, sa*sa*sb*sb/(sine*sine), f.Cov.XX*f.Cov.YY-f.Cov.XY*f.Cov.XY, 1e-9)
	assert.InDelta(t, sb, f.Ties[1].Sigma, 1e-9)
	assert.Equal(t, "right of the line from A to B", f.Side.Says(finding.English(geo.Metre)))
}

func TestWhichTapes(t *testing.T) {
	for _, tt := range []struct {
		name    string
		house   []geo.Vec
		marks   []locate.Spot
		at      geo.Vec
		want    []string // the first two
		blocked bool
	}{
		{"the squarer crossing", nil, []locate.Spot{mark("A", 0, 0, 0), mark("B", 10, 0, 0), mark("C", 9, 1, 0)}, geo.Vec{X: 5, Y: -5}, []string{"A", "B"}, false},
		{"the surer landmark", nil, []locate.Spot{mark("A", 0, 0, 0), mark("B", 10, 0, 0.8), mark("C", 9, 1, 0)}, geo.Vec{X: 5, Y: -5}, []string{"A", "C"}, false},
		{"not through the house", house, []locate.Spot{mark("A", 0, 8, 0), mark("B", 12, 8, 0), mark("C", 12, 0, 0), mark("D", 3, 0, 0)}, geo.Vec{X: 6, Y: -9}, []string{"C", "D"}, false},
		{"along the wall", house, []locate.Spot{mark("A", 0, 8, 0), mark("C", 12, 0, 0)}, geo.Vec{X: -0.2, Y: -9}, []string{"A", "C"}, false},
		{"through the house if nothing else", house, []locate.Spot{mark("A", 0, 8, 0), mark("B", 12, 8, 0)}, geo.Vec{X: 6, Y: -9}, []string{"A", "B"}, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f, ok := setout.New(lot(tt.house, tt.marks...)).Fix(tt.at)
			require.True(t, ok)
			assert.Equal(t, tt.want, []string{f.Ties[0].From, f.Ties[1].From})
			assert.Equal(t, tt.blocked, len(f.Blocked) > 0)
		})
	}
}

func TestNoFix(t *testing.T) {
	for _, l := range []*locate.Location{lot(nil), lot(nil, mark("A", 1, 1, 0)), lot(nil, mark("A", 1, 1, 0), mark("B", 1, 1, 0)), lot(nil, mark("A", 1, 1, 0), mark("B", 9, 1, 0))} {
		_, ok := setout.New(l).Fix(geo.Vec{X: 30, Y: 1})
		assert.False(t, ok, "no landmark, one, two on one another, two in line")
	}
	_, ok := setout.New(lot(nil, mark("A", 1, 1, 0), mark("B", 9, 1, 0))).Fix(geo.Vec{X: math.NaN()})
	assert.False(t, ok)
}

// Wherever a place lies, the circles of the rounded ties meet at At, no
// farther off than rounding over the sine of the crossing; and a tape through
// the house is only given where no two tapes are clear.
func TestAnyPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var marks []locate.Spot
		for i := range rapid.IntRange(2, 5).Draw(t, "marks") {
			at := outdoors(t, "mark", -15, 25)
			marks = append(marks, mark(string(rune('A'+i)), at.X, at.Y, rapid.Float64Range(0, 0.5).Draw(t, "sigma")))
		}
		l := lot(house, marks...)
		at := outdoors(t, "at", -30, 40)
		f, ok := setout.New(l).Fix(at)
		if !ok {
			return
		}
		for _, tie := range f.Ties[:2] {
			from := l.Spot(tie.From, asbuilt.Center).At
			if d := from.Dist(at); math.Abs(d-tie.Distance) > 1e-9 {
				t.Fatalf("%s is %.4f m off, the tie says %.4f", tie.From, d, tie.Distance)
			}
		}
		if limit := 0.0254 / math.Sin(f.Crossing.Radians()) * 1.5; f.Crossing.Degrees() > 15 && f.At.Dist(at) > limit {
			t.Fatalf("rounded ties put %v at %v", at, f.At)
		}
		if len(f.Blocked) == 0 {
			for _, tie := range f.Ties {
				from := l.Spot(tie.From, asbuilt.Center).At
				for i := range 200 { // by walking along the tape, independent of how it is found
					v := from.Lerp(at, float64(i)/200)
					if inside := min(v.X, 12-v.X, v.Y, 8-v.Y); inside > 0.7 {
						t.Fatalf("the tape from %s passes %.2f m inside the wall", tie.From, inside)
					}
				}
			}
		}
	})
}

// outdoors draws a place that is not within the house: no landmark is there, and
// nothing is dug.
func outdoors(t *rapid.T, name string, from, to float64) geo.Vec {
	return rapid.Custom(func(t *rapid.T) geo.Vec {
		return geo.Vec{X: rapid.Float64Range(from, to).Draw(t, "x"), Y: rapid.Float64Range(from, to).Draw(t, "y")}
	}).Filter(func(v geo.Vec) bool { return min(v.X, 12-v.X, v.Y, 8-v.Y) <= 0.3 }).Draw(t, name)
}

// The tape that checks crosses both others well. Of C, 15 m north of the place and
// known to 5 cm, and D, just behind A and surely known, it is C, though D's tape is
// the more exact: it would repeat what A's says.
func TestCheckCrossesBoth(t *testing.T) {
	l := lot(nil, mark("A", -10, 0, 0), mark("B", 10, 0, 0), mark("C", 0, 5, 0.05), mark("D", -10.6, 0.9, 0))
	f, ok := setout.New(l).Fix(geo.Vec{Y: -10})
	require.True(t, ok)
	require.Len(t, f.Ties, 3)
	assert.Equal(t, "A B C", f.Ties[0].From+" "+f.Ties[1].From+" "+f.Ties[2].From)
	assert.Greater(t, f.Ties[2].Sigma, math.Hypot(0.03, 0.002*15.2), "D's would be more exact")
}

// A phone's fix holds with 95 % within 4.9 m (GPS.gov, from memory): in each axis
// that over 2.4477, the root of χ² with two degrees of freedom.
func TestSatelliteAxes(t *testing.T) {
	l := lot(nil)
	l.Frame.Kind = survey.Geodetic
	f, ok := setout.BySatellite(l, geo.Vec{X: 3, Y: 4})
	require.True(t, ok)
	assert.InDelta(t, 4.9, 2.4477*math.Sqrt(f.Cov.XX), 0.01)
	assert.InDelta(t, 4.9, 2.4477*math.Sqrt(f.Cov.YY), 0.01)
	assert.Zero(t, f.Cov.XY)
	assert.Equal(t, geo.Vec{X: 3, Y: 4}, f.At)
	l.Frame.Kind = survey.Local
	_, ok = setout.BySatellite(l, geo.Vec{})
	assert.False(t, ok)
}
