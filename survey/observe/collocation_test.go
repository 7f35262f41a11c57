package observe

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/testsite"
)

// A worked case of the whole method, computed independently in Python with
// NumPy: eleven nodes, two landmarks, a trench met, a taped hole, a tie.
func TestCollocationAgainstPython(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "collocation_golden.json"))
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
	d := &drawing.Drawing{Sketch: testsite.Sketch(asbuilt.Roughly)}
	for _, p := range g.P {
		d.Nodes = append(d.Nodes, drawing.Node{At: drawing.At(geo.Vec{X: p[0] - g.PBar[0], Y: p[1] - g.PBar[1]}), Lateral: -1})
	}
	none := make([]float64, len(g.C)*len(g.C))
	disc := &drawing.Discrepancy{N: len(g.C), House: none, Block: none}
	for _, row := range g.C {
		disc.Within = append(disc.Within, row...)
	}
	info, logDet, ok := drawing.Inverse(disc.Covariance(drawing.Supposition{Sheet: 1}, 1))
	require.True(t, ok)
	lay := Layout{Mean: g.Theta0}
	for i, v := range g.PTheta {
		lay.Sigma[i] = math.Sqrt(v)
	}
	n := NewNetwork(&Log{SessionSigma: []float64{1e-9}}, d, lay, info, logDet)
	n.Prior.Blocks[0].Sigma[n.Compass] = 1e-9
	var all []Observation
	node := func(name string) Place {
		for i, v := range g.Names {
			if v == name {
				return Place(i)
			}
		}
		t.Fatal(name)
		return 0
	}
	fix := func(name string) {
		var z [3]float64
		require.NoError(t, json.Unmarshal(g.Readings[name], &z))
		all = append(all, &position{at: node(name), fix: geo.Vec{X: z[0], Y: z[1]}, sigma: [2]float64{z[2], z[2]}})
	}
	check := func(name string) {
		want := g.Cases[name]
		var v adjust.Solver
		n := n.With(all)
		sol, err := v.Solve(t.Context(), n, &n.Prior, append([]float64(nil), n.Prior.Mean...), adjust.Options{Small: n.Near()})
		require.NoError(t, err)
		lies := n.At(sol.Y)
		variance := func(p Place, axis geo.Vec) (sum float64) {
			w := make(Dense, n.Size)
			lies.Gradient(w, p, axis)
			sol.Factor.Forward(w)
			for _, v := range w {
				sum += v * v
			}
			return sum
		}
		for k, w := range want.Nodes {
			p := node(k)
			assert.InDelta(t, w.X[0], lies.Where(p).X, 2e-3, "%s %s", name, k)
			assert.InDelta(t, w.X[1], lies.Where(p).Y, 2e-3, "%s %s", name, k)
			assert.InEpsilon(t, w.Cov[0], variance(p, geo.Vec{X: 1}), 1e-2, "%s %s", name, k)
			assert.InEpsilon(t, w.Cov[2], variance(p, geo.Vec{Y: 1}), 1e-2, "%s %s", name, k)
		}
		assert.InDelta(t, want.Chi2, 2*sol.Cost, 1e-3)
	}
	check("0 no readings")
	fix("A")
	fix("B")
	check("1 two landmarks")
}
