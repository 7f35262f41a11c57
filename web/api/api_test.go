package api_test

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/testdata/long"
	"asfound/testdata/sites"
	"asfound/web/api"
)

// TestBeliefIsThatOfTheCommand compares the answer to a page with the engine's
// answer for the same files read as a folder.
func TestBeliefIsThatOfTheCommand(t *testing.T) {
	for _, site := range bundled {
		t.Run(site, func(t *testing.T) {
			fsys, err := fs.Sub(sites.Folders, site)
			require.NoError(t, err)
			job, problems := folder.Read(fsys)
			require.Empty(t, problems)
			solved, err := fit.Solve(t.Context(), job)
			require.NoError(t, err)
			l, err := locate.Locate(t.Context(), job, solved)
			require.NoError(t, err)
			want := decode(t, export.NewLocation(l, language.English))

			got := ask[map[string]any](t, "belief", request(t, site, nil))
			assert.Equal(t, want["spots"], got["spots"])
			assert.Equal(t, want["frame"], got["frame"])
			assert.Equal(t, want["fill"], got["fill"])
			assert.Len(t, got["corridors"], len(want["corridors"].([]any)))
			for k, v := range want["fit"].(map[string]any) {
				assert.Equal(t, v, got["fit"].(map[string]any)[k], "fit.%s", k)
			}
			assert.Len(t, got["fit"].(map[string]any)["residuals"], len(solved.Residuals))
		})
	}
}

// decode returns v as JSON has it.
func decode(t *testing.T, v any) (m map[string]any) {
	t.Helper()
	text, err := json.Marshal(v)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &m))
	return m
}

// TestSoughtIsOneOfTheSpots holds the summary that is always in sight to what
// the map shows.
func TestSoughtIsOneOfTheSpots(t *testing.T) {
	b := ask[answer.Belief](t, "belief", request(t, "demo", nil))
	require.NotNil(t, b.Sought)
	assert.Equal(t, "box", b.Sought.Part)
	for _, s := range b.Spots {
		if s.Part == "box" {
			assert.Equal(t, s.FromLandmarks.Radius95, b.Sought.Radius95)
			assert.Equal(t, s.Depth, b.Sought.Depth)
		}
	}
	for _, h := range b.Holes {
		assert.NotEmpty(t, h.Readings, h.ID)
	}
}

// TestHistory holds the chart to the log: a step before the first hole and one
// after each, the last being what is believed now.
func TestHistory(t *testing.T) {
	b := ask[answer.Belief](t, "belief", request(t, "demo", map[string]any{"with": []string{"history"}}))
	var after []string
	for _, s := range b.History {
		after = append(after, s.After)
		assert.Positive(t, float64(s.Radius95))
	}
	assert.Equal(t, []string{"", "H1", "H2", "H3"}, after)
	assert.Equal(t, b.Sought.Radius95, b.History[3].Radius95)

	// Before the first hole it is what is believed without any.
	j := jobOf(t, "demo")
	var rows []map[string]string
	for _, row := range j.Rows {
		if !strings.HasPrefix(row["point"]+row["to"], "H") {
			rows = append(rows, row)
		}
	}
	j.Rows = rows
	text, err := json.Marshal(map[string]any{"job": j})
	require.NoError(t, err)
	assert.Equal(t, ask[answer.Belief](t, "belief", text).Sought.Radius95, b.History[0].Radius95)
}

// TestHistoryIsInOrderOfTime logs the holes of the demo with times that run
// against the order of the log.
func TestHistoryIsInOrderOfTime(t *testing.T) {
	j := jobOf(t, "demo")
	times := map[string]string{"H1": "2026-05-04T12:00:00Z", "H2": "2026-05-04T11:00:00Z", "H3": "2026-05-04T10:00:00Z"}
	for _, row := range j.Rows {
		if row["kind"] == "found" || row["kind"] == "empty" {
			row["time"] = times[row["point"]]
		}
	}
	text, err := json.Marshal(map[string]any{"job": j, "with": []string{"history"}})
	require.NoError(t, err)
	var after []string
	for _, s := range ask[answer.Belief](t, "belief", text).History {
		after = append(after, s.After)
	}
	assert.Equal(t, []string{"", "H3", "H2", "H1"}, after)
}

// TestOneBadRowLeavesTheRest logs a row that cannot be read.
func TestOneBadRowLeavesTheRest(t *testing.T) {
	j := jobOf(t, "demo")
	j.Rows = append(j.Rows, map[string]string{"id": "slip", "kind": "tape", "from": "A", "to": "H1", "value": "43'12 ft"})
	text, err := json.Marshal(map[string]any{"job": j})
	require.NoError(t, err)
	b := ask[answer.Belief](t, "belief", text)
	require.Len(t, b.Problems, 1)
	assert.Equal(t, "slip", b.Problems[0].Reading)
	assert.Equal(t, "value", b.Problems[0].Field)
	assert.Equal(t, ask[answer.Belief](t, "belief", request(t, "demo", nil)).Spots, b.Spots)

	c := ask[answer.Check](t, "check", text)
	assert.False(t, c.OK)
	assert.Equal(t, b.Problems, c.Problems)
}

// TestWithoutASuspect drops the tape of the demo that was misread by a foot.
func TestWithoutASuspect(t *testing.T) {
	with := ask[answer.Belief](t, "belief", request(t, "demo", nil))
	require.NotEmpty(t, with.Fit.Suspects)
	w := ask[answer.Without](t, "without", request(t, "demo", map[string]any{"drop": []string{with.Fit.Suspects[0].Reading}}))
	assert.Empty(t, w.Fit.Suspects)
	assert.Less(t, float64(w.Fit.VarianceFactor), float64(with.Fit.VarianceFactor))
	_, err := api.Run(t.Context(), "without", request(t, "demo", map[string]any{"drop": []string{"r99"}}))
	assert.ErrorContains(t, err, `drop "r99"`)
}

// TestPlan asks for the next hole, and for another sought part.
func TestPlan(t *testing.T) {
	p := ask[answer.DigPlan](t, "plan", request(t, "demo", nil))
	require.NotEmpty(t, p.Holes)
	assert.Equal(t, "box", p.Seek)
	p = ask[answer.DigPlan](t, "plan", request(t, "demo", map[string]any{"seek": "tank"}))
	assert.Equal(t, "tank", p.Seek)
	_, err := api.Run(t.Context(), "plan", request(t, "demo", map[string]any{"seek": "tanc"}))
	assert.ErrorContains(t, err, "want a part of the sketch")
}

// TestPapers makes every document of every site: each begins as files of its
// kind do; those of the demo are the same bytes again.
func TestPapers(t *testing.T) {
	begins := map[string]string{"application/pdf": "%PDF-1.", "image/svg+xml; charset=utf-8": "<svg ", "application/geo+json": "{", "application/json": "{"}
	for _, site := range bundled[:long.Size(t, 1, len(bundled))] {
		for name, p := range api.Papers {
			q := request(t, site, map[string]any{"name": name, "date": "2026-05-04"})
			a := ask[map[string]string](t, "paper", q)
			assert.Equal(t, p.Type, a["type"], name)
			text, err := base64.StdEncoding.DecodeString(a["base64"])
			require.NoError(t, err, name)
			assert.True(t, bytes.HasPrefix(text, []byte(begins[p.Type])), "%s of %s begins %.20q", name, site, text)
			if site != "demo" {
				continue
			}
			assert.Equal(t, a, ask[map[string]string](t, "paper", q), name)
		}
	}
}

// TestLength reads lengths as crews type them: 43'6" is 43.5 ft of 0.3048 m
// (international foot, NIST SP 811, B.6).
func TestLength(t *testing.T) {
	a := ask[answer.Length](t, "length", []byte(`{"text": "43'6\"", "unit": "ft"}`))
	assert.InDelta(t, 43.5*0.3048, a.Metres, 1e-12)
	assert.Equal(t, `43' 6"`, a.Shown)
}

// TestRefusals expects every refusal to say what would be right.
func TestRefusals(t *testing.T) {
	for _, tt := range []struct{ name, stage, request, says string }{
		{"no such stage", "believe", "{}", "belief"},
		{"no JSON", "belief", "{", "unexpected end"},
		{"another type", "belief", `{"job": []}`, "job"},
		{"no sketch", "belief", `{"job": {}}`, "sketch"},
		{"null sketch", "belief", `{"job": {"sketch": null}}`, "sketch"},
		{"unknown extra", "belief", `{"with": ["tea"]}`, "history or plan"},
		{"no paper", "paper", `{"name": "map.pfd"}`, "map.pdf"},
		{"no day", "paper", `{"name": "map.pdf", "date": "May"}`, "2026-05-04"},
		{"no unit", "length", `{"text": "3", "unit": "yard"}`, "ft"},
		{"no length", "length", `{"text": "three", "unit": "ft"}`, "three"},
		{"too large", "belief", strings.Repeat(" ", api.MaxRequest+1), "at most"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := api.Run(t.Context(), tt.stage, []byte(tt.request))
			var r *answer.Refusal
			require.ErrorAs(t, err, &r)
			assert.Contains(t, err.Error(), tt.says)
			text, err := json.Marshal(r)
			require.NoError(t, err)
			assert.Contains(t, string(text), `"error"`)
		})
	}
}
