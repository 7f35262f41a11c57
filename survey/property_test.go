package survey

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/adjust"
)

func metres(v float64) *geo.Length { return &geo.Length{Metres: v, Unit: geo.Metre} }

// taped is a job with a few tapes and holes on the small sketch.
func taped() *Job {
	j := &Job{Settings: DefaultSettings(), Sketch: smallSketch(asbuilt.Roughly)}
	add := func(r Reading) {
		r.ID = "r" + string(rune('a'+len(j.Readings)))
		j.Readings = append(j.Readings, r)
	}
	tape := func(from, to string, d float64) { add(Reading{Kind: Tape, From: from, To: to, Value: metres(d)}) }
	tape("A", "B", 12.02)
	tape("A", "C", 15.01)
	tape("B", "D", 14.98)
	tape("A", "H1", 17.00)
	tape("B", "H1", 9.78)
	tape("D", "H1", 23.30)
	add(Reading{Kind: Found, Point: "H1", Target: "L2"})
	tape("A", "H2", 26.77)
	tape("B", "H2", 16.86)
	add(Reading{Kind: Found, Point: "H2", Target: "L3", Spot: asbuilt.End})
	return j
}

// spots returns every spot's place and radius.
func spots(t require.TestingT, j *Job) map[SpotName]Gauss {
	f, err := Solve(j)
	require.NoError(t, err)
	p := f.Posterior()
	all := map[SpotName]Gauss{}
	for name := range p.drawing().spots {
		g, _ := p.Spot(name)
		all[name] = g
	}
	return all
}

// The order of the log changes nothing, to the last digit.
func TestOrderDoesNotMatter(t *testing.T) {
	want := spots(t, taped())
	rapid.Check(t, func(t *rapid.T) {
		j := taped()
		j.Readings = rapid.Permutation(j.Readings).Draw(t, "order")
		if got := spots(t, j); !reflect.DeepEqual(want, got) {
			t.Fatalf("%v became %v", want, got)
		}
	})
}

// A reading that is added and voided leaves what was before.
func TestVoidRestores(t *testing.T) {
	want := spots(t, taped())
	j := taped()
	j.Readings = append(j.Readings, Reading{ID: "x", Kind: Tape, From: "A", To: "H1", Value: metres(3)}, Reading{ID: "y", Kind: Void, Target: "x"})
	assert.Equal(t, want, spots(t, j))
}

// Holes tighten what is believed of the box, and of the line most of all.
func TestHolesTighten(t *testing.T) {
	j := taped()
	before := &Job{Settings: j.Settings, Sketch: j.Sketch, Readings: j.Readings[:3]}
	a, b := spots(t, before), spots(t, j)
	box, end := SpotName{"box", asbuilt.Center}, SpotName{"L3", asbuilt.End}
	assert.Less(t, b[box].Landmarks95, a[box].Landmarks95)
	assert.Less(t, b[end].Landmarks95, a[end].Landmarks95/2)
}

// Fits with 0, 1, 2, 3 and many readings all give an answer.
func TestAnyNumberOfReadings(t *testing.T) {
	j := taped()
	for n := range len(j.Readings) + 1 {
		f, err := Solve(&Job{Settings: j.Settings, Sketch: j.Sketch, Readings: j.Readings[:n]})
		require.NoError(t, err)
		assert.Empty(t, f.Doubtful, "%d readings", n)
		for _, r := range f.Residuals {
			assert.False(t, math.IsNaN(r.Standardized) || r.Redundancy < 0 || r.Redundancy > 1)
		}
	}
}

// A job without a satellite fix claims no place on the earth, one with a fix
// gives longitude and latitude back within a millimetre.
func TestFrames(t *testing.T) {
	f, err := Solve(taped())
	require.NoError(t, err)
	_, ok := f.Frame.LonLat(geo.Vec{X: 1})
	assert.False(t, ok)
	assert.Equal(t, Local, f.Frame.Kind)
	g, _ := f.Posterior().Spot(SpotName{"A", asbuilt.Center})
	assert.Less(t, g.At.Norm(), 1e-9, "the first landmark is the origin")
}

func TestSketchWithoutAnything(t *testing.T) {
	_, err := Solve(&Job{Settings: DefaultSettings(), Sketch: &asbuilt.Sketch{Unit: geo.Foot, Ratio: 1}})
	assert.ErrorIs(t, err, ErrNothing)
}

// The factor of an ellipse or circle of one Gaussian is that of chi-square with
// two degrees of freedom; of a mixture, Monte Carlo agrees.
func TestRegions(t *testing.T) {
	one := []lobe{{1, geo.Cov{XX: 4, XY: 1.5, YY: 1}, geo.Vec{}}}
	e := ellipse95(one)
	assert.InDelta(t, 5.26198, e.SemiMajor, 1e-4, "a computed case of the error ellipse: 95 % axes and azimuth")
	assert.InDelta(t, 1.50627, e.SemiMinor, 1e-4)
	assert.InDelta(t, 67.5, e.Bearing.Degrees(), 1e-6)
	assert.InDelta(t, 2.4477468306808166, radius95([]lobe{{1, geo.Cov{XX: 1, YY: 1}, geo.Vec{}}}), 1e-5)
	assert.InDelta(t, 2.4477468306808166, halfWidth95([]float64{1}, []float64{1}), 1e-5)

	mix := []lobe{{0.6, geo.Cov{XX: 1, XY: 0.3, YY: 0.5}, geo.Vec{}}, {0.4, geo.Cov{XX: 9, XY: -2, YY: 4}, geo.Vec{}}}
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

// chi-square tails against critical values that SciPy and R agree on.
func TestChiSquareTail(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "testdata", "reference", "stats_critical.csv"))
	require.NoError(t, err)
	seen := 0
	for line := range strings.Lines(string(b)) {
		f := strings.Split(line, ",")
		if f[0] != "chi2_quantile" {
			continue
		}
		var n, p, x float64
		require.NoError(t, json.Unmarshal([]byte("["+f[1]+","+f[3]+","+f[4]+"]"), &[]any{&n, &p, &x}))
		assert.InDelta(t, 1-p, chiSquareTail(x, n), 1e-8)
		seen++
	}
	assert.Greater(t, seen, 100)
}

// Draws have the mean and the spread of the posterior.
func TestDraws(t *testing.T) {
	f, err := Solve(taped())
	require.NoError(t, err)
	p := f.Posterior()
	d := f.Draws(p, 4000)
	name := SpotName{"box", asbuilt.Center}
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
	assert.Equal(t, d, f.Draws(p, 4000), "the same job gives the same draws")
}

// A worked case of the whole method, computed independently in Python with
// NumPy: eleven nodes, two landmarks, a trench met, a taped hole, a tie.
func TestCollocationAgainstPython(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "testdata", "reference", "collocation_golden.json"))
	require.NoError(t, err)
	var g struct {
		P        [][2]float64 `json:"p"`
		PBar     [2]float64   `json:"p_bar"`
		Theta0   [5]float64   `json:"theta0"`
		PTheta   [5]float64   `json:"P_theta"`
		C        [][]float64
		Names    []string
		Readings map[string]json.RawMessage
		Cases    map[string]struct {
			Theta       [5]float64
			Chi2        float64 `json:"chi2_total"`
			LogEvidence float64 `json:"log_evidence"`
			Nodes       map[string]struct {
				X   [2]float64
				Cov [3]float64
			}
		}
	}
	require.NoError(t, json.Unmarshal(b, &g))
	d := &drawing{sketch: smallSketch(asbuilt.Roughly)}
	for _, p := range g.P {
		d.nodes = append(d.nodes, node{at: geo.Vec{X: p[0] - g.PBar[0], Y: p[1] - g.PBar[1]}, lateral: -1})
	}
	disc := &discrepancy{n: len(g.C), block: make([]float64, len(g.C)*len(g.C))}
	for _, row := range g.C {
		disc.within = append(disc.within, row...)
	}
	info, logDet, ok := disc.information(1, 1)
	require.True(t, ok)
	var sigma [layUnknowns]float64
	for i, v := range g.PTheta {
		sigma[i] = math.Sqrt(v)
	}
	n := newNetwork(d, nil, 1, g.Theta0, sigma, info, logDet)
	s := n.sigma()
	s[n.bias], s[n.bias+1], s[n.compass] = 1e-9, 1e-9, 1e-9
	node := func(name string) place {
		for i, v := range g.Names {
			if v == name {
				return place(i)
			}
		}
		t.Fatal(name)
		return 0
	}
	fix := func(name string) {
		var z [3]float64
		require.NoError(t, json.Unmarshal(g.Readings[name], &z))
		n.observations = append(n.observations, observation{kind: position, p: node(name), value: z[0], value2: z[1], sigma: z[2], sigma2: z[2]})
	}
	check := func(name string) {
		want := g.Cases[name]
		var v adjust.Solver
		sol, err := v.Solve(n, &n.prior, append([]float64(nil), n.prior.Mean...), adjust.Options{Small: n.near()})
		require.NoError(t, err)
		c := component{network: n, solution: sol}
		at, roots := c.places(), c.roots()
		for k, w := range want.Nodes {
			i := int(node(k))
			assert.InDelta(t, w.X[0], at[i].X, 2e-3, "%s %s", name, k)
			assert.InDelta(t, w.X[1], at[i].Y, 2e-3, "%s %s", name, k)
			cov := pointCov(roots, i)
			assert.InEpsilon(t, w.Cov[0], cov.XX, 1e-2, "%s %s", name, k)
			assert.InEpsilon(t, w.Cov[2], cov.YY, 1e-2, "%s %s", name, k)
		}
		assert.InDelta(t, want.Chi2, 2*sol.Cost, 1e-3)
	}
	check("0 no readings")
	fix("A")
	fix("B")
	check("1 two landmarks")
}
