package web_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/rehearse"
	"asfound/testdata/must"
	"asfound/testdata/sites"
	"asfound/web/api"
)

// sample is an invented job, and what its answers must contain: without it the
// schema of that member would not be tested.
type sample struct {
	files fstest.MapFS
	with  []string // what the belief request asks for in addition
	has   func(*testing.T, answer.Belief)
}

func samples(t *testing.T) map[string]sample {
	t.Helper()
	all := map[string]sample{
		"demo": {filesOf(t, sites.Folders, "demo"), []string{"history", "plan"}, func(t *testing.T, b answer.Belief) {
			assert.NotEmpty(t, b.Fit.Suspects, "suspects")
			assert.NotNil(t, b.Plan.Tree, "a tree")
			assert.Greater(t, len(b.History), 1, "a history")
		}},
		"metric-gnss": {filesOf(t, sites.Folders, "metric-gnss"), nil, func(t *testing.T, b answer.Belief) {
			assert.NotNil(t, b.Origin, "a tie to the earth")
		}},
		"two-tapes": {filesOf(t, sites.Folders, "two-tapes"), nil, nil},
		"day-before": {filesOf(t, sites.Folders, "day-before"), nil, func(t *testing.T, b answer.Belief) {
			assert.Empty(t, b.Holes)
		}},
		"two-places": {filesOf(t, os.DirFS("browser/testdata"), "two-places"), []string{"history", "plan"}, func(t *testing.T, b answer.Belief) {
			for _, s := range b.Spots {
				if s.Kind == "box" {
					assert.Len(t, s.Lobes, 2, "a belief in pieces")
				}
			}
			assert.NotEmpty(t, b.Fit.Sheet, "faults of the sheet")
		}},
	}
	slots := filesOf(t, sites.Folders, "demo")
	slots["job.json"] = &fstest.MapFile{Data: []byte(`{"unit": "ft", "tools": {"excavator": {"slot": 0.05}}}`)}
	all["slots"] = sample{slots, []string{"plan"}, func(t *testing.T, b answer.Belief) {
		text, err := json.Marshal(b.Plan.Tree)
		require.NoError(t, err)
		assert.Contains(t, string(text), `"to":{`, "a slot in the tree")
	}}
	// The sheet of the demo as seen from the back of the paper.
	mirrored := filesOf(t, sites.Folders, "demo")
	mirrored["sketch.geojson"] = &fstest.MapFile{Data: mirror(t, mirrored["sketch.geojson"].Data)}
	all["mirrored"] = sample{mirrored, nil, func(t *testing.T, b answer.Belief) {
		assert.True(t, b.Fit.Mirrored)
		assert.NotEmpty(t, b.Fit.Sheet, "faults of the sheet")
	}}
	wrong := filesOf(t, sites.Folders, "demo")
	wrong["readings.csv"] = &fstest.MapFile{Data: append(wrong["readings.csv"].Data, "tape,,A,B,43 fathoms,,,,,,,,,,\n"...)}
	all["a row that cannot be read"] = sample{wrong, nil, func(t *testing.T, b answer.Belief) {
		assert.NotEmpty(t, b.Problems)
	}}
	return all
}

// filesOf returns the files of a folder.
func filesOf(t *testing.T, fsys fs.FS, name string) fstest.MapFS {
	t.Helper()
	all := fstest.MapFS{}
	for _, f := range []string{"sketch.geojson", "job.json", "readings.csv"} {
		text, err := fs.ReadFile(fsys, path.Join(name, f))
		if err == nil {
			all[f] = &fstest.MapFile{Data: text}
		}
	}
	require.NotEmpty(t, all)
	return all
}

// mirror turns the sign of every first coordinate of a sketch.
func mirror(t *testing.T, sketch []byte) []byte {
	t.Helper()
	var v any
	require.NoError(t, json.Unmarshal(sketch, &v))
	var turn func(v any)
	turn = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for _, x := range v {
				turn(x)
			}
		case []any:
			if x, ok := first(v); ok {
				v[0] = -x
				return
			}
			for _, x := range v {
				turn(x)
			}
		}
	}
	turn(v)
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return text
}

// first returns the first coordinate of a position.
func first(v []any) (x float64, ok bool) {
	if len(v) == 2 {
		x, ok = v[0].(float64)
	}
	return x, ok
}

// TestRealAnswersAreAsDescribed holds the answers of the stages, the commands and
// the files for these jobs to the closed schemas.
func TestRealAnswersAreAsDescribed(t *testing.T) {
	for name, sample := range samples(t) {
		t.Run(name, func(t *testing.T) {
			s := newSchemas(t)
			stages(t, s, &sample)
			commands(t, s, sample.files)
		})
	}
}

// stages asks every stage about a job.
func stages(t *testing.T, s *schemas, of *sample) {
	job := api.Job{Sketch: of.files["sketch.geojson"].Data, Rows: rows(t, of.files["readings.csv"])}
	if f := of.files["job.json"]; f != nil {
		job.Settings = f.Data
	}
	var m api.Memory // so that everything is worked out once
	ask := func(stage, schema string, q any) []byte {
		text, err := json.Marshal(q)
		require.NoError(t, err)
		s.named(schema+"Request", stage, text)
		text, err = m.Run(t.Context(), stage, text)
		require.NoError(t, err, stage)
		s.named(schema, stage, text)
		return text
	}
	var b answer.Belief
	require.NoError(t, json.Unmarshal(ask("belief", "Belief", api.BeliefRequest{Job: job, With: of.with}), &b))
	if of.has != nil {
		of.has(t, b)
	}
	ask("preview", "Preview", api.PreviewRequest{Job: job})
	ask("check", "Check", api.CheckRequest{Job: job})
	ask("plan", "Plan", api.PlanRequest{Job: job, Brief: true})
	ask("paper", "Paper", api.PaperRequest{Job: job, Name: "spots.csv", Date: "2026-05-04"})
	if len(b.Fit.Suspects) > 0 {
		ask("without", "Without", api.WithoutRequest{Job: job, Drop: []string{"r2"}})
	}
}

// rows returns the rows of a readings.csv by column.
func rows(t *testing.T, f *fstest.MapFile) (all []map[string]string) {
	if f == nil {
		return nil
	}
	log, err := csv.NewReader(bytes.NewReader(f.Data)).ReadAll()
	require.NoError(t, err)
	for _, cells := range log[1:] {
		row := map[string]string{}
		for i, cell := range cells {
			if cell != "" {
				row[log[0][i]] = cell
			}
		}
		all = append(all, row)
	}
	return all
}

// commands asks the commands about a job, and for the files that are JSON.
func commands(t *testing.T, s *schemas, files fs.FS) {
	hold := func(schema string, write func(io.Writer) error) {
		var b bytes.Buffer
		require.NoError(t, write(&b), schema)
		s.named(schema, schema, b.Bytes())
	}
	job, problems := folder.Read(files)
	hold("Check", func(w io.Writer) error { return export.CheckJSON(w, job, problems, nil, language.English) })
	if len(problems) > 0 {
		return
	}
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	l, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	draws := must.Have(l.Posterior.Draws(t.Context(), 200))
	plan, err := probe.Options{Holes: 2, Levels: 1}.Plan(t.Context(), l, draws) // complete ones are tested by stages
	require.NoError(t, err)
	r, err := rehearse.Play(t.Context(), l, draws, plan, rehearse.Options{Plays: 2})
	require.NoError(t, err)
	hold("FitAnswer", func(w io.Writer) error { return export.FitJSON(w, solved, language.English) })
	hold("Location", func(w io.Writer) error { return export.LocateJSON(w, l, language.English) })
	hold("DigPlan", func(w io.Writer) error { return export.DigplanJSON(w, l, plan, language.English) })
	hold("Rehearsal", func(w io.Writer) error { return export.RehearsalJSON(w, l, r, language.English) })
	hold("Collection", func(w io.Writer) error { return export.PredictionsGeoJSON(w, l) })
	hold("Collection", func(w io.Writer) error { return export.PlanGeoJSON(w, l, plan) })
	hold("AsBuilt", func(w io.Writer) error { return export.AsBuiltGeoJSON(t.Context(), w, l) })
}

// TestSchemasAreClosed shows that an undescribed member is refused, and a
// missing one.
func TestSchemasAreClosed(t *testing.T) {
	s := newSchemas(t)
	schema, err := s.c.Compile("openapi.json#/components/schemas/Lobe")
	require.NoError(t, err)
	for text, ok := range map[string]bool{
		`{"share": 0.7, "east": 1, "north": 2, "radius95": 1, "outline": [[1, 2]]}`:                true,
		`{"share": 0.7, "east": 1, "north": 2, "radius95": 1, "outline": [[1, 2]], "weight": 0.7}`: false,
		`{"east": 1, "north": 2, "radius95": 1, "outline": [[1, 2]]}`:                              false,
		`{"share": null, "east": 1, "north": 2, "radius95": 1, "outline": [[1, 2]]}`:               false,
		`{"share": 0.7, "east": 1, "north": 2, "radius95": 1, "outline": [[1, 2, 3]]}`:             false,
	} {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		require.NoError(t, err)
		assert.Equal(t, ok, schema.Validate(v) == nil, text)
	}
	for name, one := range description(t).Components.Schemas {
		object := one.(map[string]any)
		if object["properties"] != nil {
			assert.Equal(t, false, object["additionalProperties"], name)
		}
	}
}
