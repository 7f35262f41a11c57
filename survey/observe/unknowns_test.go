package observe

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/testsite"
)

// What turns misfits into a density is minus its logarithm where nothing is off:
// of Gauss's, as gonum has it. Limits that only hold on one side have none.
func TestLogSigmaIsTheDensity(t *testing.T) {
	want := 0.0
	var rows []Row
	for _, s := range []float64{0.03, 2, 0.5} {
		rows = append(rows, Row{Sigma: s})
		want -= distuv.Normal{Sigma: s}.LogProb(0)
	}
	rows = append(rows, Row{Sigma: 7, OneSided: true})
	assert.InDelta(t, want, LogSigma(rows), 1e-12)
	assert.Zero(t, LogSigma(rows[3:]))
}

// Points stand among the unknowns two by two.
func TestSetPoint(t *testing.T) {
	y := make([]float64, 6)
	(&Network{}).Set(y, 1, geo.Vec{X: 3, Y: 4})
	assert.Equal(t, []float64{0, 0, 3, 4, 0, 0}, y)
}

// One reading of a job on the test site, as it is observed.
func observed(t *testing.T, r survey.Reading) (*Case, Observation) {
	t.Helper()
	r.ID = "r"
	l := NewLog(&survey.Job{Settings: survey.DefaultSettings(), Sketch: testsite.Sketch(asbuilt.Roughly), Readings: []survey.Reading{r}})
	d := drawing.New(l.Job.Sketch, drawing.Hypothesis{})
	o := l.Observe(d, 0, Explanation{})
	require.NotNil(t, o)
	return &Case{Log: l, Drawing: d}, o
}

// A tape from corner A may have been held at each of the other three corners, but
// not at the one it runs to: between two corners either end may be wrong.
func TestOtherCorners(t *testing.T) {
	for _, tt := range []struct {
		from, to string
		want     []string
	}{{"A", "H1", []string{"from B", "from C", "from D"}}, {"A", "B", []string{"from C", "from C", "from D", "from D"}}} {
		c, o := observed(t, survey.Reading{Kind: survey.Tape, From: tt.from, To: tt.to, Value: testsite.Metres(9)})
		var got []string
		odds := 0.0
		for _, b := range cornerBlunders(c, o.(*distance).pair, func(move func(*pair)) func(Observation) Observation {
			return changing(func(d *distance) { move(&d.pair) })
		}) {
			got = append(got, b.Instead)
			odds += b.Odds
			moved := b.Change(o).(*distance)
			assert.NotEqual(t, o.(*distance).pair, moved.pair)
			assert.NotEqual(t, moved.p, moved.q)
		}
		assert.ElementsMatch(t, tt.want, got)
		assert.InDelta(t, oddsCorner*float64(len(tt.want))/3, odds, 1e-12, "the odds of a wrong corner are shared by all others")
	}
}

// How wide a fix is: what the receiver states east and north, where it states both;
// else the radius that holds it with 95 %, over 2.4477, on either axis; and of that
// the share that is each fix's own, 0.75.
func TestFixWidths(t *testing.T) {
	at := geodesy.LonLat{Lon: geo.Degrees(-72), Lat: geo.Degrees(42)}
	for _, tt := range []struct {
		r           survey.Reading
		east, north float64
	}{
		{survey.Reading{SigmaENU: [2]float64{2, 3}}, 2, 3},
		{survey.Reading{SigmaENU: [2]float64{2, 0}, Accuracy: 2.4477468306808166}, 1, 1},
		{survey.Reading{SigmaENU: [2]float64{0, 3}, Accuracy: 2.4477468306808166}, 1, 1},
		{survey.Reading{Accuracy: 2 * 2.4477468306808166}, 2, 2},
		{survey.Reading{SigmaENU: [2]float64{2, 3}, Sigma: testsite.Metres(0.5)}, 0.5, 0.5},
		{survey.Reading{}, 4.9 / 2.4477468306808166, 4.9 / 2.4477468306808166}, // GPS.gov: a phone under open sky
	} {
		tt.r.Kind, tt.r.Point, tt.r.Position = survey.GNSS, "A", at
		_, o := observed(t, tt.r)
		rows := o.Rows(nil)
		assert.InDelta(t, 0.75*tt.east, rows[0].Sigma, 1e-9)
		assert.InDelta(t, 0.75*tt.north, rows[1].Sigma, 1e-9)
	}
	assert.InDelta(t, 2.4477468306808166*math.Sqrt(6.5), fixAccuracy(&survey.Reading{SigmaENU: [2]float64{2, 3}}), 1e-9)
}

// Where a hole is expected on the sheet: at the end that it met, at the middle of
// what is a point; of a line somewhere along it, of the field somewhere in it.
func TestWhereAHoleIsExpected(t *testing.T) {
	for _, tt := range []struct {
		target string
		spot   asbuilt.Spot
		x, y   float64
		sure   bool
	}{{"L2", asbuilt.Start, 4, -9.4, true}, {"L2", asbuilt.End, 24, -9.4, true}, {"L2", "", 14, -9.4, false}, {"box", "", 2, -10, true}} {
		c, _ := observed(t, survey.Reading{Kind: survey.Found, Point: "H1", Target: tt.target, Spot: tt.spot})
		v, sure, ok := c.Log.expected(c.Drawing, &c.Log.Readings[0], Explanation{})
		require.True(t, ok)
		assert.Equal(t, tt.sure, sure, tt.target)
		at := v.Metres(1).Add(geo.Vec(c.Drawing.Centre))
		assert.Less(t, at.Dist(geo.Vec{X: tt.x, Y: tt.y}), 1e-9, "%s %s: %v", tt.target, tt.spot, at)
	}
}
