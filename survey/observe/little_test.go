package observe_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/survey/adjust"
	"asfound/survey/testsite/little"
)

// try runs little sites as tests.
func try(t *testing.T, sites []little.Site) {
	t.Helper()
	for _, s := range sites {
		t.Run(s.Name, func(t *testing.T) { tryOne(t, s) })
	}
}

func tryOne(t *testing.T, s little.Site) {
	n, err := s.Network()
	require.NoError(t, err)
	var rows adjust.Rows
	adjust.Linearize(n, n.Prior.Mean, &rows)
	got := map[string][]float64{}
	for i, r := range n.Rows {
		off := rows.Misclosure(i) * r.Sigma
		if r.Angle {
			off *= 180 / math.Pi
		}
		got[r.Of.ID()] = append(got[r.Of.ID()], off)
	}
	for id, want := range s.Off {
		require.Len(t, got[id], len(want), id)
		for k := range want {
			assert.InDelta(t, want[k], got[id][k], 1e-6, "observed less computed of %s, row %d", id, k)
		}
	}

	n, sol, err := s.Solve()
	require.NoError(t, err)
	at := n.At(sol.Y).All(nil)
	place := map[string]geo.Vec{}
	for name, k := range n.Drawing.Spots {
		place[name.Part+" "+string(name.Spot)] = at[k]
	}
	for k, p := range n.Points {
		place[p.Name] = at[len(n.Drawing.Nodes)+k]
	}
	want := adjusted(t)[s.Name]
	require.Len(t, want, len(place), "testdata/reference/equations.json has the places of %q", s.Name)
	for name, v := range want {
		require.Contains(t, place, name)
		assert.InDelta(t, v[0], place[name].X, 2e-6, "%s, east", name)
		assert.InDelta(t, v[1], place[name].Y, 2e-6, "%s, north", name)
	}
}

// adjusted returns what SciPy made of the little sites: places by name, by the
// name of the site.
func adjusted(t *testing.T) (sites map[string]map[string][2]float64) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "equations.json"))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &sites))
	return sites
}
