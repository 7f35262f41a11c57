package api_test

import (
	"encoding/json"
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/api"
)

// TestMemoryChangesNoAnswer lets one memory follow the log of every site row by
// row, with other jobs and questions in between: each answer must be that of an
// engine that has seen nothing before, byte for byte.
func TestMemoryChangesNoAnswer(t *testing.T) {
	var m api.Memory
	same := func(stage string, q map[string]any) {
		t.Helper()
		text := encode(t, q)
		want, err := api.Run(stage, text)
		if err != nil {
			_, err2 := m.Run(stage, text)
			assert.Equal(t, err, err2)
			return
		}
		got, err := m.Run(stage, text)
		require.NoError(t, err)
		assert.JSONEq(t, string(want), string(got), "%s", stage)
	}
	for _, site := range bundled {
		job := jobOf(t, site)
		rows := job.Rows
		from := max(0, len(rows)-2)
		for n := from; n <= len(rows); n++ {
			job.Rows = rows[:n]
			same("belief", map[string]any{"job": job})
			same("belief", map[string]any{"job": job, "with": []string{"history"}})
		}
		same("plan", map[string]any{"job": job, "seek": "tank"})
		same("plan", map[string]any{"job": job})
		same("paper", map[string]any{"job": job, "name": "holes.csv"})
		if len(rows) > 0 {
			same("without", map[string]any{"job": job, "drop": []string{rows[len(rows)-1]["id"]}})
			changed := map[string]string{"note": "read again"}
			maps.Copy(changed, rows[0])
			job.Rows = append([]map[string]string{changed}, rows[1:]...)
			same("belief", map[string]any{"job": job, "with": []string{"history"}})
		}
	}
}

// TestHistoryEndsWithTheBelief: the last step is what is believed now.
func TestHistoryEndsWithTheBelief(t *testing.T) {
	for _, site := range bundled {
		b := ask[struct {
			Sought  *struct{ Radius95 float64 }
			History []struct{ Radius95 float64 }
		}](t, "belief", request(t, site, map[string]any{"with": []string{"history"}}))
		if b.Sought != nil && len(b.History) > 0 {
			assert.Equal(t, b.Sought.Radius95, b.History[len(b.History)-1].Radius95, site)
		}
	}
}

func encode(t testing.TB, v any) []byte {
	t.Helper()
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return text
}
