package api_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/api"
)

// TestPreview holds the first look at every site, after each of the last readings,
// to the belief that follows it: the place it shows must lie within twice the 95 %
// radius of the belief, which is this project's own bound, and the radius within a factor of three.
// When the belief is already known, the preview is the belief.
func TestPreview(t *testing.T) {
	type answer struct {
		Sought *struct {
			Part                  string
			East, North, Radius95 float64
		}
		Rough bool
	}
	for _, site := range bundled {
		job := jobOf(t, site)
		rows := job.Rows
		var m api.Memory
		follow := func(stage string, q []byte) (a answer) {
			text, err := m.Run(t.Context(), stage, q)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(text, &a))
			return a
		}
		for n := max(0, len(rows)-4); n <= len(rows); n++ {
			job.Rows = rows[:n]
			q := encode(t, map[string]any{"job": job})
			look, full := follow("preview", q), follow("belief", q)
			require.Equal(t, full.Sought == nil, look.Sought == nil, site)
			if full.Sought == nil {
				continue
			}
			assert.True(t, look.Rough)
			d := (look.Sought.East-full.Sought.East)*(look.Sought.East-full.Sought.East) + (look.Sought.North-full.Sought.North)*(look.Sought.North-full.Sought.North)
			t.Logf("%s, %d rows: radius %.2f m at a preview, %.2f m believed, %.2f m² apart", site, n, look.Sought.Radius95, full.Sought.Radius95, d)
			assert.Less(t, d, 4*full.Sought.Radius95*full.Sought.Radius95, site)
			assert.InDelta(t, 1, look.Sought.Radius95/full.Sought.Radius95, 2, site)
		}
	}
	var m api.Memory
	q := request(t, "two-tapes", nil)
	_, err := m.Run(t.Context(), "belief", q)
	require.NoError(t, err)
	text, err := m.Run(t.Context(), "preview", q)
	require.NoError(t, err)
	assert.Contains(t, string(text), `"rough":false`)
}
