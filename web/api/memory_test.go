package api_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/api"
)

// TestMemoryChangesNoAnswer lets one memory follow the log of every site row by
// row, with other jobs and questions in between: each answer must be that of an
// engine without a memory, byte for byte.
func TestMemoryChangesNoAnswer(t *testing.T) {
	var m api.Memory
	same := func(stage string, q map[string]any) {
		t.Helper()
		text := encode(t, q)
		want, err := api.Run(t.Context(), stage, text)
		if err != nil {
			_, err2 := m.Run(t.Context(), stage, text)
			assert.Equal(t, err, err2)
			return
		}
		got, err := m.Run(t.Context(), stage, text)
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

// TestBriefComesToTheSame asks step by step, with other questions between: in
// the end plan and history are those that one request returns, and every step
// extends the one before. Without a memory, there are no steps.
func TestBriefComesToTheSame(t *testing.T) {
	type plan struct {
		Whole bool              `json:"whole"`
		Holes []json.RawMessage `json:"holes"`
	}
	var m api.Memory
	for _, site := range bundled[:long.Size(t, 1, len(bundled))] {
		job := jobOf(t, site)
		request := encode(t, map[string]any{"job": job})
		brief := encode(t, map[string]any{"job": job, "brief": true})
		whole, err := api.Run(t.Context(), "plan", request)
		require.NoError(t, err)
		at, err := api.Run(t.Context(), "plan", brief)
		require.NoError(t, err)
		assert.JSONEq(t, string(whole), string(at), "an engine without a memory plans at once")
		var all, p plan
		require.NoError(t, json.Unmarshal(whole, &all))
		require.True(t, all.Whole)
		bits := 0
		var answer []byte
		for !p.Whole {
			bits++
			answer, err = m.Run(t.Context(), "plan", brief)
			require.NoError(t, err)
			p = plan{}
			require.NoError(t, json.Unmarshal(answer, &p))
			for k, h := range p.Holes {
				assert.JSONEq(t, string(all.Holes[k]), string(h))
			}
			if bits == 1 {
				holes := slices.DeleteFunc(p.Holes, func(h json.RawMessage) bool { return !bytes.Contains(h, []byte(`"action":"hole"`)) })
				assert.Len(t, holes, 1, "the next hole first, and what comes before it")
				_, err := m.Run(t.Context(), "preview", request)
				require.NoError(t, err)
			}
		}
		assert.JSONEq(t, string(whole), string(answer))
		assert.Greater(t, bits, 1)

		with := map[string]any{"job": job, "with": []string{"history"}}
		want, err := api.Run(t.Context(), "belief", encode(t, with))
		require.NoError(t, err)
		with["brief"] = true
		for {
			got, err := m.Run(t.Context(), "belief", encode(t, with))
			require.NoError(t, err)
			var b struct{ Whole bool }
			require.NoError(t, json.Unmarshal(got, &b))
			if b.Whole {
				assert.JSONEq(t, string(want), string(got))
				break
			}
		}
	}
	// A plan that is given up for another job does no harm.
	job := jobOf(t, "demo")
	_, err := m.Run(t.Context(), "plan", encode(t, map[string]any{"job": job, "brief": true}))
	require.NoError(t, err)
	job.Rows = job.Rows[:len(job.Rows)-3]
	got, err := m.Run(t.Context(), "plan", encode(t, map[string]any{"job": job}))
	require.NoError(t, err)
	want, err := api.Run(t.Context(), "plan", encode(t, map[string]any{"job": job}))
	require.NoError(t, err)
	assert.JSONEq(t, string(want), string(got))
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
