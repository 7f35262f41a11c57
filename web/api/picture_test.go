package api_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/answer"
	"asfound/web/api"
)

// TestPictureTellsNothingOfItsLandmarks adds a new point that was read in a picture, as the
// page logs it: a baseline from two of the landmarks that the picture was laid by. The
// landmarks are then known as well as before and no better; the point is known by its own
// spread.
func TestPictureTellsNothingOfItsLandmarks(t *testing.T) {
	radii := func(more ...map[string]string) (map[string]float64, float64) {
		j := jobOf(t, "two-tapes") // nothing in it is drawn at random: its radii are exact
		j.Rows = append(j.Rows, more...)
		q, err := json.Marshal(map[string]any{"job": j})
		require.NoError(t, err)
		data, err := api.Run(t.Context(), "belief", q)
		require.NoError(t, err)
		var b answer.Belief
		require.NoError(t, json.Unmarshal(data, &b))
		require.Empty(t, b.Problems)
		all := map[string]float64{}
		for _, s := range b.Spots {
			if s.Kind == "landmark" {
				all[s.Part] = float64(s.FromLandmarks.Radius95)
			}
		}
		for _, h := range b.Holes {
			if h.ID == "Lid" {
				return all, float64(h.Radius95)
			}
		}
		return all, 0
	}
	row := map[string]string{
		"id": "p1", "kind": "baseline", "from": "A", "to": "B", "point": "Lid", "value": "5.80 m", "offset": "11.00 m", "sigma": "1.20 m",
		"note": "read in the picture yard.jpg", "from_picture": "0123456789abcdef",
	}
	before, _ := radii()
	after, lid := radii(row)
	require.Len(t, before, 3)
	for id, r := range before {
		assert.InDelta(t, r, after[id], 1e-9, id)
	}
	// A circle that holds a Gaussian of 1.2 m each way with 95 %: √5.991 of it.
	// What a baseline may hold of blunders makes it wider.
	assert.Greater(t, lid, 1.2*2.4477)
	assert.Less(t, lid, 1.2*2.4477*1.3)

	// Of a landmark that the picture was not laid by it would tell, had it no spread.
	row["point"], row["value"], row["offset"], row["sigma"] = "C", "13.4 m", "-9.1 m", "0.001 m"
	told, _ := radii(row)
	assert.NotEqual(t, before["C"], told["C"], "this test would notice")
}
