package api_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/survey/answer"
	"asfound/web/api"
)

// The size of a request is counted by hand: the points of all geometries, and the rows.
func TestSize(t *testing.T) {
	s := api.SizeOf([]byte(`{"job": {"sketch": {"features": [
		{"geometry": {"type": "Point", "coordinates": [1, 2]}},
		{"geometry": {"type": "LineString", "coordinates": [[1, 2], [3, 4], [5, 6]]}},
		{"geometry": {"type": "MultiPolygon", "coordinates": [[[[0, 0], [1, 0], [0, 0]]], [[[2, 2], [3, 3]]]]}}]},
		"rows": [{"id": "a"}, {"kind": "tape"}]}}`))
	assert.Equal(t, 1+3+5, s.Points)
	assert.Equal(t, 2, s.Rows)
	for _, odd := range []string{"", "{", "[]", `{"job": 3}`, `{"job": {"sketch": {"features": [{"geometry": {"coordinates": "]]["}}]}}}`} {
		assert.LessOrEqual(t, api.SizeOf([]byte(odd)).Points, 1, odd)
	}
}

// finds returns the finding of a refusal, nil where there is no refusal.
func finds(t require.TestingT, err error) *answer.Finding {
	if err == nil {
		return nil
	}
	var r *answer.Refusal
	require.ErrorAs(t, err, &r)
	require.NotNil(t, r.Finding)
	return r.Finding
}

// What is refused for its size says how much works, which does: so many readings with
// the same sketch, or so many points.
func TestWhatWorksDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stage := rapid.SampledFrom([]string{"belief", "preview", "plan", "paper", "question"}).Draw(t, "stage")
		s := api.Size{Rows: rapid.IntRange(0, 20_000).Draw(t, "rows"), Points: rapid.IntRange(1, 20_000).Draw(t, "points")}
		f := finds(t, s.TooLarge(stage))
		assert.Equal(t, s.Work(stage) > api.Most, f != nil)
		if f == nil {
			return
		}
		works, found := int(f.Numbers["works"]), float64(f.Numbers["found"])
		less, more := s, s
		switch f.Code {
		case "too-many-readings":
			assert.InDelta(t, s.Rows, found, 0)
			less.Rows, more.Rows = works, works+1
			assert.GreaterOrEqual(t, works, 30)
		case "too-many-points":
			assert.InDelta(t, s.Points, found, 0)
			less.Rows = min(s.Rows, 30)
			more.Rows = less.Rows
			less.Points, more.Points = works, works+1
		default:
			t.Fatalf("refused by %s", f.Code)
		}
		assert.NoError(t, less.TooLarge(stage))
		assert.Error(t, more.TooLarge(stage))
	})
}

// What took too long says how much does not, which is less.
func TestTooLongSaysLess(t *testing.T) {
	for _, tt := range []struct {
		rows, points int
		code         string
	}{{400, 20, "took-too-long"}, {40, 20, "took-too-long"}, {400, 200, "too-many-points"}} {
		s := api.Size{Rows: tt.rows, Points: tt.points}
		f := finds(t, s.TooLong("belief", time.Minute))
		assert.Equal(t, tt.code, string(f.Code))
		assert.Less(t, float64(f.Numbers["works"]), float64(f.Numbers["found"]))
		assert.Positive(t, float64(f.Numbers["works"]))
	}
}

// The jobs that are bundled are far from any limit, with all that can be asked for.
func TestBundledJobsAreSmall(t *testing.T) {
	for _, site := range bundled {
		text, err := json.Marshal(map[string]any{"job": jobOf(t, site), "with": []string{"history", "plan"}})
		require.NoError(t, err)
		s := api.SizeOf(text)
		assert.Positive(t, s.Points)
		for stage := range api.Stages {
			assert.Less(t, s.Work(stage), api.Most/2, "%s %s: %d rows, %d points", site, stage, s.Rows, s.Points)
		}
	}
}
