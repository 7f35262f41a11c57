package api_test

import (
	"encoding/json"
	"errors"
	"testing"

	"asfound/survey/answer"
	"asfound/web/api"
)

// A stage answers any request with JSON or with a refusal. The stages
// are called without Run, which would hide a panic.

func fuzz(f *testing.F, stage string, seeds ...[]byte) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Add([]byte(`{"job":{"sketch":{"type":"FeatureCollection","features":[]},"rows":[{"kind":"void","target":"r2"},{}]}}`))
	f.Fuzz(func(t *testing.T, request []byte) {
		text, err := api.Stages[stage](t.Context(), request)
		var r *answer.Refusal
		switch {
		case err == nil && !json.Valid(text):
			t.Fatalf("no JSON: %s", text)
		case err != nil && !errors.As(err, &r):
			t.Fatalf("no refusal: %v", err)
		}
	})
}

func FuzzCheck(f *testing.F) { fuzz(f, "check", request(f, "demo", nil)) }
func FuzzBelief(f *testing.F) {
	fuzz(f, "belief", request(f, "two-tapes", nil), request(f, "day-before", map[string]any{"with": []string{"history", "plan"}}))
}
func FuzzPlan(f *testing.F) {
	fuzz(f, "plan", request(f, "day-before", map[string]any{"seek": "tank"}))
}
func FuzzPaper(f *testing.F) {
	fuzz(f, "paper", request(f, "day-before", map[string]any{"name": "digplan.pdf", "date": "2026-05-04"}))
}
func FuzzWithout(f *testing.F) {
	fuzz(f, "without", request(f, "two-tapes", map[string]any{"drop": []string{"r2"}}))
}
func FuzzLonLat(f *testing.F) {
	fuzz(f, "lonlat", []byte(`{"crs":"EPSG:2264","places":[[1312233.5,580012.75]]}`))
}
func FuzzLength(f *testing.F) { fuzz(f, "length", []byte(`{"text":"43'6\"","unit":"ft"}`)) }
