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

// How a sheet of each trust may err, every covariance of every pair of points,
// against testdata/reference/drafting.py, which builds the covariance from the
// modes independently, with NumPy; and the determinant and the inverse that the
// fit works with.
//
// It is the same on a sheet of half the scale that is drawn twice as large.
func TestDraftingAgainstNumPy(t *testing.T) {
	draftingAgainstNumPy(t, 1)
	draftingAgainstNumPy(t, 0.5)
}

func draftingAgainstNumPy(t *testing.T, ratio float64) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "drafting.json"))
	require.NoError(t, err)
	type covariances map[string]map[string][4]float64
	var want map[asbuilt.Trust]struct {
		House, Block, Within covariances
		LogDet               float64               `json:"log determinant"`
		First                map[string][2]float64 `json:"first of the inverse"`
	}
	require.NoError(t, json.Unmarshal(b, &want))
	require.Len(t, want, 3)
	port := testsite.Part("port", asbuilt.Port, asbuilt.Point, geo.Vec{X: 7.94, Y: -12.08})
	port.Of = "L1"
	parts := []asbuilt.Part{
		testsite.Part("house", asbuilt.Building, asbuilt.Polygon, geo.Vec{}, geo.Vec{X: 6}, geo.Vec{X: 6, Y: 7}, geo.Vec{Y: 7}),
		testsite.Landmark("A", 0, 0), testsite.Landmark("B", 10, 0), testsite.Part("tank", asbuilt.Tank, asbuilt.Point, geo.Vec{X: 4, Y: -4}), testsite.Box("box", 0.6, 2, -10),
		testsite.Trench("L1", 0.6, geo.Vec{X: 4, Y: -9}, geo.Vec{X: 20, Y: -21}), testsite.Trench("L2", 0.6, geo.Vec{X: 18.5, Y: -23}, geo.Vec{X: 2.5, Y: -11}),
		testsite.Part("H", asbuilt.Header, asbuilt.Line, geo.Vec{X: 4, Y: -4.5}, geo.Vec{X: 3, Y: -7}, geo.Vec{X: 2, Y: -10}), port,
	}
	for i := range parts {
		for k, v := range parts[i].Shapes[0].Vertices {
			parts[i].Shapes[0].Vertices[k] = v.Scale(1 / ratio)
		}
	}
	for trust, want := range want {
		d := New(&asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: ratio, Trust: trust, Parts: parts}, Hypothesis{})
		c := NewDiscrepancy(d, ratio)
		number := map[string]int{"H middle": d.Lines["H"][1]}
		for name, k := range d.Spots {
			number[name.Part] = k
			number[name.Part+" "+string(name.Spot)] = k
		}
		require.Len(t, want.Within, len(d.Nodes))
		for _, which := range []struct {
			name string
			got  []float64
			want covariances
		}{{"house", c.House, want.House}, {"block", c.Block, want.Block}, {"within", c.Within, want.Within}} {
			for a, row := range which.want {
				for b, w := range row {
					i, j := 2*number[a], 2*number[b]
					got := [4]float64{which.got[i*c.N+j], which.got[i*c.N+j+1], which.got[(i+1)*c.N+j], which.got[(i+1)*c.N+j+1]}
					for k := range w {
						assert.InDelta(t, w[k], got[k], 1e-9, "%s, %s of %s and %s", trust, which.name, a, b)
					}
				}
			}
		}
		info, logDet, ok := Inverse(c.Covariance(Supposition{Sheet: 1.65, Block: 0.65}, 1))
		require.True(t, ok)
		assert.InDelta(t, want.LogDet, logDet, 1e-8)
		row := info[2*number["A"]*c.N:]
		for name, w := range want.First {
			assert.InDelta(t, w[0], row[2*number[name]], 1e-6, "%s, %s", trust, name)
			assert.InDelta(t, w[1], row[2*number[name]+1], 1e-6, "%s, %s", trust, name)
		}
	}
}
