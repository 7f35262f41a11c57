package setout_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// metric is lot without a house in a job in metres, where ties are stated to
// the centimetre.
func metric(marks ...locate.Spot) *setout.Marks {
	l := lot(nil, marks...)
	l.Job.Settings.Unit = geo.Metre
	return setout.New(l)
}

// polar returns a landmark that is so many metres from the origin, in a
// direction counted in degrees from east.
func polar(id string, far, degrees float64) locate.Spot {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return mark(id, far*c, far*s, 0)
}

// A place 4 m south of the middle of two corners 6 m apart: two 3-4-5 triangles.
func ExampleMarks_Fix() {
	f, ok := metric(mark("A", -3, 0, 0), mark("B", 3, 0, 0)).Fix(geo.Vec{X: 0.003, Y: -4.002})
	if !ok {
		return
	}
	for _, t := range f.Ties {
		fmt.Printf("%s %.2f m\n", t.From, t.Distance)
	}
	fmt.Printf("%s, crossing at %.1f°\n", f.Side.Says(finding.English(geo.Metre)), f.Crossing.Degrees())
	fmt.Printf("the ties as written meet at (%.2f, %.2f)\n", f.At.X, f.At.Y)
	// Output:
	// A 5.00 m
	// B 5.00 m
	// right of the line from A to B, crossing at 73.7°
	// the ties as written meet at (0.00, -4.00)
}

// The same by hand. Two tapes of 5 m have σ = √(0.03² + 0.01²), σ² = 0.001. They
// point along (3, −4)/5 and (−3, −4)/5, so Σ e eᵀ/σ² is 18/25 and 32/25 over
// 0.001: 0.0373 m east, 0.0280 m north. Source of the rule: Ghilani & Wolf,
// Adjustment Computations, trilateration.
func TestFixByHand(t *testing.T) {
	assert.InDelta(t, math.Sqrt(0.001), setout.TapeSigma(5), 1e-12)
	m := metric(mark("A", -3, 0, 0), mark("B", 3, 0, 0))
	assert.True(t, byTape(m))
	assert.False(t, byTape(metric(mark("A", 0, 0, 0))))
	f, ok := m.Fix(geo.Vec{Y: -4})
	require.True(t, ok)
	assert.InDelta(t, 0.001*25/18, f.Cov.XX, 1e-12)
	assert.InDelta(t, 0.001*25/32, f.Cov.YY, 1e-12)
	assert.InDelta(t, 0, f.Cov.XY, 1e-12)
	assert.InDelta(t, math.Sqrt(0.001*25/18), f.Sigma(), 1e-12)
	assert.InDelta(t, math.Acos(7./25), f.Crossing.Radians(), 1e-12)

	f, _ = m.Fix(geo.Vec{Y: 4})
	assert.Equal(t, "left of the line from A to B", f.Side.Says(finding.English(geo.Metre)))
	assert.InDelta(t, 4, f.At.Y, 1e-9, "of the two crossings the one on its side")

	// One farther along the line than the other, 20-15-25 and 20-48-52: the foot
	// of the height lies beside A, not halfway.
	f, _ = metric(mark("A", 0, 0, 0), mark("B", 63, 0, 0)).Fix(geo.Vec{X: 15.001, Y: -20.002})
	assert.InDelta(t, 15, f.At.X, 1e-9)
	assert.InDelta(t, -20, f.At.Y, 1e-9)
}

// The uncertainty of a landmark counts along its tape: 0.5 m east and 0.1 m
// north make 0.5 m of a tape that runs east, 0.1 m of one that runs north.
func TestUnsureLandmark(t *testing.T) {
	const k95 = 2.4477468306808166
	a := mark("A", 0, 0, 0)
	a.FromLandmarks = geo.Ellipse{SemiMajor: 0.5 * k95, SemiMinor: 0.1 * k95, Bearing: geo.Degrees(90)}
	for _, tt := range []struct {
		at, other geo.Vec
		want      float64
	}{{geo.Vec{X: 10}, geo.Vec{X: 10, Y: 9}, 0.5}, {geo.Vec{Y: 10}, geo.Vec{X: 9, Y: 10}, 0.1}} {
		f, ok := metric(a, mark("B", tt.other.X, tt.other.Y, 0)).Fix(tt.at)
		require.True(t, ok)
		assert.InDelta(t, math.Hypot(setout.TapeSigma(10), tt.want), f.Ties[0].Sigma, 1e-9)
	}
}

// Two tapes that cross at 90° have the worst standard deviation σ, at 75° σ/√(1
// − cos 75°) = 1.16 σ, at 30° 2.73 σ. Tapes of 31 m are longer than a 100-ft
// tape and count 1.7 times: 1.7 · 0.0689 = 0.117 m lies between 1.16 · 0.0653 =
// 0.076 and 2.73 · 0.0653 = 0.178 of tapes of 29 m. By the sharpness of the
// crossing alone C would be taken both times.
func TestShortTapesBeforeLong(t *testing.T) {
	f, ok := metric(polar("A", 29, 0), polar("B", 29, 75), polar("C", 31, 90)).Fix(geo.Vec{})
	require.True(t, ok)
	assert.Equal(t, []string{"A", "B"}, []string{f.Ties[0].From, f.Ties[1].From}, "in one length of the tape, though the crossing is less square")
	f, ok = metric(polar("A", 29, 0), polar("B", 29, 30), polar("C", 31, 90)).Fix(geo.Vec{})
	require.True(t, ok)
	assert.Equal(t, []string{"A", "C"}, []string{f.Ties[0].From, f.Ties[1].From}, "but not at any price")
}

// The third tape has to show on which side of the first two the place lies. C
// stands on the line of A and B, as far from the place as from its mirror image,
// and cannot show it, though it crosses the others better: at 22° and more, D at 4°.
func TestCheckTapeTellsTheSides(t *testing.T) {
	a, b := mark("A", -5, 0, 0), mark("B", 5, 0, 0)
	f, ok := metric(a, b, mark("C", 12, 0, 0), mark("D", 16, 9, 0)).Fix(geo.Vec{Y: -5})
	require.True(t, ok)
	require.Len(t, f.Ties, 3)
	assert.Equal(t, []string{"A", "B", "D"}, []string{f.Ties[0].From, f.Ties[1].From, f.Ties[2].From})
	f, ok = metric(a, b, mark("C", 12, 0, 0)).Fix(geo.Vec{Y: -5})
	require.True(t, ok)
	require.Len(t, f.Ties, 3, "better than none")
	assert.Equal(t, "C", f.Ties[2].From)
	f, ok = metric(a, b).Fix(geo.Vec{Y: -5})
	require.True(t, ok)
	assert.Len(t, f.Ties, 2)
	assert.Empty(t, f.Others)
}

// Of two third tapes that settle it, the one that crosses both others best for
// its length: 0.0653/(35/90) = 0.168 of 29 m against 0.0689/(45/90) · 1.7 =
// 0.234 of 31 m, which would be 0.138 were it not longer than the tape.
func TestCheckTapeWithinReach(t *testing.T) {
	at := geo.Vec{Y: -10}
	third := func(id string, far, degrees float64) locate.Spot {
		p := polar(id, far, degrees)
		return mark(id, p.At.X, p.At.Y-10, 0)
	}
	m := metric(mark("A", -10, 0, 0), mark("B", 10, 0, 0), third("C", 31, 90), third("D", 29, 100))
	f, ok := m.Fix(at)
	require.True(t, ok)
	require.Len(t, f.Ties, 3)
	require.Equal(t, []string{"A", "B"}, []string{f.Ties[0].From, f.Ties[1].From})
	assert.Equal(t, "D", f.Ties[2].From)
}

// Where the third tape crosses each of the first two: C stands 8 m north of a
// place that is 5 m from A and B, 36.9° off either. A check tape that crosses
// one of them at 11° crosses it nowhere that a crew could mark.
func TestWhereTheThirdCrosses(t *testing.T) {
	f, ok := metric(mark("A", -3, 0, 0), mark("B", 3, 0, 0), mark("C", 0, 4, 0)).Fix(geo.Vec{X: 0.003, Y: -4.002})
	require.True(t, ok)
	require.Len(t, f.Others, 2)
	for _, v := range f.Others {
		assert.InDelta(t, 0, v.Dist(geo.Vec{Y: -4}), 1e-9)
	}
	f, ok = metric(polar("A", 10, 0), polar("B", 10, 90), polar("C", 25, 11)).Fix(geo.Vec{})
	require.True(t, ok)
	require.Len(t, f.Ties, 3)
	assert.Len(t, f.Others, 1)
	// At 20° a crew still might: an error counts some four times there.
	f, ok = metric(polar("A", 10, 0), polar("B", 10, 90), polar("C", 25, 20)).Fix(geo.Vec{})
	require.True(t, ok)
	require.Len(t, f.Ties, 3)
	assert.Len(t, f.Others, 2)
}

// Tapes within 0.5 m fix no direction, and two that cross under 5° fix nothing.
func TestWhatFixesNothing(t *testing.T) {
	for _, tt := range []struct {
		name string
		b    locate.Spot
		want bool
	}{
		{"0.4 m", polar("B", 0.4, 90), false}, {"0.6 m", polar("B", 0.6, 90), true},
		{"4° apart", polar("B", 10, 4), false}, {"6° apart", polar("B", 10, 6), true},
		{"from opposite sides", polar("B", 10, 178), false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, ok := metric(polar("A", 10, 0), tt.b).Fix(geo.Vec{})
			assert.Equal(t, tt.want, ok)
		})
	}
}

// A tape may run along a wall, 0.15 m within its drawing, and round a corner on
// a way of 0.6 m; not deeper, and not longer. The house is 12 × 8 m; ways round
// its corner at the origin run along x + y = k, √2 k long within the walls and
// k/2 from both at most.
func TestWhatStandsInTheWay(t *testing.T) {
	for _, tt := range []struct {
		name    string
		from    geo.Vec
		at      geo.Vec
		blocked bool
	}{
		{"0.1 m within the wall", geo.Vec{X: -5, Y: 0.1}, geo.Vec{X: 17, Y: 0.1}, false},
		{"0.2 m within the wall", geo.Vec{X: -5, Y: 0.2}, geo.Vec{X: 17, Y: 0.2}, true},
		{"0.57 m round a corner", geo.Vec{X: -3, Y: 3.4}, geo.Vec{X: 3.4, Y: -3}, false},
		{"0.99 m round a corner", geo.Vec{X: -3, Y: 3.7}, geo.Vec{X: 3.7, Y: -3}, true},
		{"through the middle", geo.Vec{X: 6, Y: 12}, geo.Vec{X: 6, Y: -3}, true},
		{"past it", geo.Vec{X: 13, Y: 12}, geo.Vec{X: 13, Y: -3}, false},
		{"ends before it", geo.Vec{X: 6, Y: -12}, geo.Vec{X: 6, Y: -3}, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			far := tt.at.Add(geo.Vec{X: 4, Y: -9}) // a landmark with a clear view
			f, ok := setout.New(lot(house, mark("A", tt.from.X, tt.from.Y, 0), mark("B", far.X, far.Y, 0))).Fix(tt.at)
			require.True(t, ok)
			assert.Equal(t, tt.blocked, len(f.Blocked) > 0)
		})
	}
}

// A phone sets out to 2 m per axis, which is 4.9 m at 95 % (GPS.gov, from
// memory), and only where the frame is tied to the earth.
func TestBySatellite(t *testing.T) {
	l := lot(nil)
	_, ok := setout.BySatellite(l, geo.Vec{})
	assert.False(t, ok)
	l.Frame.Kind = survey.Geodetic
	f, ok := setout.BySatellite(l, geo.Vec{X: 3, Y: 4})
	require.True(t, ok)
	assert.Equal(t, geo.Vec{X: 3, Y: 4}, f.At)
	assert.InDelta(t, 4.9, f.Cov.Ellipse(math.Sqrt(-2*math.Log(0.05))).SemiMajor, 0.01)
	assert.InDelta(t, 2, f.Sigma(), 1e-12)
}

// Only landmarks with a place are taped from, and only walls that go round
// something stand in the way.
func TestWhatCountsAsALandmark(t *testing.T) {
	tank := mark("T", 5, -9, 0)
	tank.Kind = asbuilt.Tank
	assert.False(t, byTape(setout.New(lot(nil, mark("A", 0, 0, 0), tank))))
	assert.False(t, byTape(setout.New(lot(nil, mark("A", 0, 0, 0), mark("B", math.NaN(), 0, 0)))))
	assert.True(t, byTape(setout.New(lot(nil, mark("A", 0, 0, 0), mark("B", 5, 0, 0)))))
	assert.Equal(t, 0.0254, setout.Step(geo.Foot))
	assert.Equal(t, 0.01, setout.Step(geo.Metre))
}

// byTape reports whether tapes can set out a place at all.
func byTape(m *setout.Marks) bool {
	_, ok := m.Fix(geo.Vec{X: 1, Y: -4})
	return ok
}
