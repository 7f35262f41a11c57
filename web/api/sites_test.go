package api_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"asfound/testdata/sites"
	"asfound/web/api"
)

// bundled are the invented sites.
var bundled = []string{"demo", "metric-gnss", "two-tapes", "day-before"}

// request returns a request about an invented site. more are further members.
func request(t testing.TB, site string, more map[string]any) []byte {
	t.Helper()
	q := map[string]any{"job": jobOf(t, site)}
	maps.Copy(q, more)
	text, err := json.Marshal(q)
	require.NoError(t, err)
	return text
}

// jobOf reads an invented site as a page would send it.
func jobOf(t testing.TB, site string) api.Job {
	t.Helper()
	var j api.Job
	j.Sketch = file(t, site+"/sketch.geojson")
	j.Settings = file(t, site+"/job.json")
	log, err := csv.NewReader(strings.NewReader(string(file(t, site+"/readings.csv")))).ReadAll()
	require.NoError(t, err)
	for _, fields := range log[min(1, len(log)):] {
		row := map[string]string{}
		for i, f := range fields {
			if f != "" {
				row[log[0][i]] = f
			}
		}
		j.Rows = append(j.Rows, row)
	}
	return j
}

// file returns a file of the invented sites, nil where there is none.
func file(t testing.TB, name string) []byte {
	t.Helper()
	text, err := fs.ReadFile(sites.Folders, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	require.NoError(t, err)
	return text
}

// ask runs a stage, which must answer.
func ask[T any](t testing.TB, stage string, request []byte) (answer T) {
	t.Helper()
	text, err := api.Run(t.Context(), stage, request)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &answer), "%s", text)
	return answer
}
