package api

import (
	"bytes"
	"context"
	"io"
	"maps"
	"slices"
	"time"

	"asfound/geo/language"
	"asfound/geo/spelling"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/plot"
)

// PaperRequest asks for a file of a job. Date, as in 2026-05-04, is printed on
// sheets; without it they have no date.
type PaperRequest struct {
	Job  Job       `json:"job"`
	Name PaperName `json:"name"`
	// Printed on sheets.
	Date string `json:"date,omitempty" jsonschema:"format=date"`
	// Of the sentences of the answer; left out: English.
	Language language.Tag `json:"language,omitempty"`
}

// PaperName is the name of a file that a job can be asked for.
type PaperName string

// Papers are the files that a job can be asked for, by name.
var Papers = map[string]struct {
	Type  string
	Says  string // what it is
	write func(context.Context, *site, plot.MapOptions, io.Writer) error
}{
	"map.svg":             {"image/svg+xml; charset=utf-8", "the map to scale, for a screen", mapSVG},
	"map.pdf":             {"application/pdf", "the map to scale, to print", mapPDF},
	"digplan.pdf":         {"application/pdf", "the dig plan, to take along", digplanPDF},
	"record.pdf":          {"application/pdf", "the corrected as-built, for the permit file", recordPDF},
	"asbuilt.geojson":     {"application/geo+json", "the corrected as-built, as the next crew's sketch", asBuiltGeoJSON},
	"predictions.geojson": {"application/geo+json", "where everything is believed to lie, for a map program", exported(export.PredictionsGeoJSON)},
	"spots.csv":           {"text/csv; charset=utf-8", "where everything is believed to lie, as a table", exported(export.SpotsCSV)},
	"residuals.csv":       {"text/csv; charset=utf-8", "how each reading agrees, as a table", residualsCSV},
	"plan.geojson":        {"application/geo+json", "the holes of the dig plan, for a map program", planned(export.PlanGeoJSON)},
	"holes.csv":           {"text/csv; charset=utf-8", "the holes of the dig plan, as a table", planned(export.HolesCSV)},
	"locate.json":         {"application/json", "the answer of locate, for a program", exported(locateJSON)},
	"digplan.json":        {"application/json", "the answer of digplan, for a program", planned(digplanJSON)},
}

func paper(ctx context.Context, m *Memory, q *PaperRequest) (*answer.Paper, error) {
	p, ok := Papers[string(q.Name)]
	if !ok {
		return nil, refuse("no document %q; want %s", q.Name, spelling.OneOf(string(q.Name), slices.Sorted(maps.Keys(Papers))))
	}
	opt := plot.MapOptions{Language: q.Language}
	if q.Date != "" {
		day, err := time.Parse(time.DateOnly, q.Date)
		if err != nil {
			return nil, refuse("date %q; want a day such as 2026-05-04", q.Date)
		}
		opt.Date = day
	}
	s, err := m.locate(ctx, &q.Job, q.Language)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := p.write(ctx, s, opt, &b); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, refuse("%s: %v", q.Name, err)
	}
	return &answer.Paper{Name: string(q.Name), Type: p.Type, Bytes: b.Bytes()}, nil
}
