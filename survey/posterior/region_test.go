package posterior

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

// The factor of an ellipse or circle of one Gaussian is that of chi-square with
// two degrees of freedom; that of a mixture agrees with Monte Carlo.
func TestRegions(t *testing.T) {
	one := lobes{{1, geo.Cov{XX: 4, XY: 1.5, YY: 1}, geo.Vec{}}}
	e := ellipse95(one)
	assert.InDelta(t, 5.26198, e.SemiMajor, 1e-4, "a computed case of the error ellipse: 95 % axes and azimuth")
	assert.InDelta(t, 1.50627, e.SemiMinor, 1e-4)
	assert.InDelta(t, 67.5, e.Bearing.Degrees(), 1e-6)
	assert.InDelta(t, 2.4477468306808166, radius95(lobes{{1, geo.Cov{XX: 1, YY: 1}, geo.Vec{}}}), 1e-5)
	assert.InDelta(t, 2.4477468306808166, halfWidth95([]float64{1}, []float64{1}), 1e-5)

	mix := lobes{{0.6, geo.Cov{XX: 1, XY: 0.3, YY: 0.5}, geo.Vec{}}, {0.4, geo.Cov{XX: 9, XY: -2, YY: 4}, geo.Vec{}}}
	r := rand.New(rand.NewPCG(3, 4))
	e = ellipse95(mix)
	radius := radius95(mix)
	sin, cos := math.Sincos(e.Bearing.Radians())
	in, round := 0, 0
	const n = 200000
	for range n {
		l := mix[0]
		if r.Float64() > 0.6 {
			l = mix[1]
		}
		a := math.Sqrt(l.cov.XX)
		b := l.cov.XY / a
		c := math.Sqrt(l.cov.YY - b*b)
		u, w := r.NormFloat64(), r.NormFloat64()
		v := geo.Vec{X: a * u, Y: b*u + c*w}
		if p, q := v.Dot(geo.Vec{X: sin, Y: cos})/e.SemiMajor, v.Dot(geo.Vec{X: cos, Y: -sin})/e.SemiMinor; p*p+q*q <= 1 {
			in++
		}
		if v.Norm() <= radius {
			round++
		}
	}
	assert.InDelta(t, 0.95, float64(in)/n, 0.003)
	assert.InDelta(t, 0.95, float64(round)/n, 0.003)
}

// Draws have the mean and the spread of the posterior.
func TestDraws(t *testing.T) {
	f, err := fit.Solve(t.Context(), testsite.Taped())
	require.NoError(t, err)
	p := Of(f)
	d := must.Have(p.Draws(t.Context(), 4000))
	name := asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}
	g, _ := p.Spot(name)
	m := geo.Mean(d.Spots[name])
	var c geo.Cov
	inside := 0
	for _, v := range d.Spots[name] {
		c = c.Add(geo.Outer(v.Sub(m)).Scale(1.0 / 4000))
		if v.Dist(g.At) <= g.Landmarks95 {
			inside++
		}
	}
	assert.Less(t, m.Dist(g.At), 0.1*g.Landmarks95)
	assert.InEpsilon(t, g.Relative.XX+g.Relative.YY, c.XX+c.YY, 0.15)
	assert.InDelta(t, 0.95, float64(inside)/4000, 0.02)
	assert.Equal(t, d, must.Have(p.Draws(t.Context(), 4000)), "the same job gives the same draws")
}

// Where only the arrow of the sheet says where north is, all turns as one: the draws
// of a point that is taped from landmarks spread about them as the posterior says.
// Points moved along the tangent while the sheet moved along the arc: draws of a
// hole spread twice as far, and holes erred together.
func TestDrawsTurnAsOne(t *testing.T) {
	job := testsite.Taped()
	job.Sketch.Up = &asbuilt.Up{Sigma: geo.Degrees(10)}
	f, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	require.Greater(t, f.RotationSigma.Degrees(), 5.0, "north is hardly known")
	p := Of(f)
	d := must.Have(p.Draws(t.Context(), 4000))
	require.NotEmpty(t, p.Points())
	for _, name := range p.Points() {
		g, _ := p.Point(name)
		m := geo.Mean(d.Holes[name])
		var c geo.Cov
		for _, v := range d.Holes[name] {
			c = c.Add(geo.Outer(v.Sub(m)).Scale(1.0 / 4000))
		}
		assert.Less(t, m.Dist(g.At), 0.1*g.Landmarks95, name)
		assert.InEpsilon(t, g.Relative.XX+g.Relative.YY, c.XX+c.YY, 0.15, name)
	}
}

// A point that is taped from the landmarks turns with the sheet; one that a fix holds
// does not.
func TestArcs(t *testing.T) {
	job := testsite.Taped()
	job.Sketch.Up = &asbuilt.Up{Sigma: geo.Degrees(10)}
	f, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	for i, share := range newArcs(&f.Components()[0]) {
		assert.Greater(t, share, 0.95, f.Components()[0].Network.Points[i].Name)
	}

	middle, err := geodesy.New(-123.4, -48.9)
	require.NoError(t, err)
	lot := geodesy.NewSite(middle, 0)
	job.Readings = []survey.Reading{
		{ID: "h", Kind: survey.GNSS, Point: "H1", Position: lot.LonLat(geo.Vec{X: 25, Y: -14}), Accuracy: 0.5},
		{ID: "e", Kind: survey.Empty, Point: "H1"},
	}
	for i, v := range []geo.Vec{{}, {X: 12}, {X: 12, Y: 9}, {Y: 9}} {
		name := string(rune('A' + i))
		job.Readings = append(job.Readings, survey.Reading{ID: "g" + name, Kind: survey.GNSS, Point: name, Position: lot.LonLat(v), Accuracy: 0.5})
	}
	f, err = fit.Solve(t.Context(), job)
	require.NoError(t, err)
	require.Equal(t, "H1", f.Components()[0].Network.Points[0].Name)
	assert.Less(t, newArcs(&f.Components()[0])[0], 0.05)
}
