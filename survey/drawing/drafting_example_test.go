package drawing

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/testsite"
)

// How a sheet drawn roughly may err, every covariance of every pair of points,
// against testdata/reference/drafting.py, which builds the covariance from the
// modes independently, with NumPy; and the determinant and the inverse that the
// fit works with.
func TestDraftingAgainstNumPy(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "drafting.json"))
	require.NoError(t, err)
	var want struct {
		Block, Within map[string]map[string][4]float64
		LogDet        float64   `json:"log determinant"`
		First         []float64 `json:"first of the inverse"`
	}
	require.NoError(t, json.Unmarshal(b, &want))
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: asbuilt.Roughly, Parts: []asbuilt.Part{
		testsite.Landmark("A", 0, 0), testsite.Landmark("B", 10, 0), testsite.Part("tank", asbuilt.Tank, asbuilt.Point, geo.Vec{X: 4, Y: -4}), testsite.Box("box", 0.6, 2, -10),
		testsite.Trench("L1", 0.6, geo.Vec{X: 4, Y: -9}, geo.Vec{X: 24, Y: -9}), testsite.Trench("L2", 0.6, geo.Vec{X: 4, Y: -11.5}, geo.Vec{X: 24, Y: -11.5}),
	}}
	d := New(s, Hypothesis{})
	c := NewDiscrepancy(d, 1)
	number := map[string]int{}
	for name, k := range d.Spots {
		number[name.Part] = k
		number[name.Part+" "+string(name.Spot)] = k
	}
	require.Len(t, want.Within, len(d.Nodes))
	for _, which := range []struct {
		name string
		got  []float64
		want map[string]map[string][4]float64
	}{{"block", c.Block, want.Block}, {"within", c.Within, want.Within}} {
		for a, row := range which.want {
			for b, w := range row {
				i, j := 2*number[a], 2*number[b]
				got := [4]float64{which.got[i*c.N+j], which.got[i*c.N+j+1], which.got[(i+1)*c.N+j], which.got[(i+1)*c.N+j+1]}
				for k := range w {
					assert.InDelta(t, w[k], got[k], 1e-9, "%s of %s and %s", which.name, a, b)
				}
			}
		}
	}
	info, logDet, ok := c.Information(1.65, 0.65)
	require.True(t, ok)
	assert.InDelta(t, want.LogDet, logDet, 1e-8)
	for i, w := range want.First {
		assert.InDelta(t, w, info[i], 1e-6, "the order of the points is that of the script")
	}
}
