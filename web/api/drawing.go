package api

import (
	"context"
	"io"

	"asfound/geo/chart"
	"asfound/geo/language"
	"asfound/survey/export"
	"asfound/survey/locate"
	"asfound/survey/plot"
	"asfound/survey/probe"
	"asfound/survey/record"
)

// exported makes a document of what is written from a location alone.
func exported(write func(io.Writer, *locate.Location) error) func(context.Context, *site, plot.MapOptions, io.Writer) error {
	return func(_ context.Context, s *site, _ plot.MapOptions, w io.Writer) error { return write(w, s.location) }
}

// planned makes a document of what is written from a plan.
func planned(write func(io.Writer, *locate.Location, *probe.Plan) error) func(context.Context, *site, plot.MapOptions, io.Writer) error {
	return func(ctx context.Context, s *site, opt plot.MapOptions, w io.Writer) error {
		p, err := s.plan(ctx, false, opt.Language)
		if err != nil {
			return err
		}
		return write(w, s.location, p)
	}
}

// locateJSON and digplanJSON are read by programs, so they are in English.
func locateJSON(w io.Writer, l *locate.Location) error {
	return export.LocateJSON(w, l, language.English)
}

func digplanJSON(w io.Writer, l *locate.Location, p *probe.Plan) error {
	return export.DigplanJSON(w, l, p, language.English)
}

func residualsCSV(_ context.Context, s *site, _ plot.MapOptions, w io.Writer) error {
	return export.ResidualsCSV(w, s.location.Fit)
}

func drawMap(ctx context.Context, s *site, opt plot.MapOptions) (*chart.Document, error) {
	p, err := s.plan(ctx, false, opt.Language)
	if err != nil {
		return nil, err
	}
	return plot.Map(s.location, p, opt)
}

func mapSVG(ctx context.Context, s *site, opt plot.MapOptions, w io.Writer) error {
	d, err := drawMap(ctx, s, opt)
	if err != nil {
		return err
	}
	return d.Pages[0].WriteSVG(w)
}

func mapPDF(ctx context.Context, s *site, opt plot.MapOptions, w io.Writer) error {
	d, err := drawMap(ctx, s, opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}

func digplanPDF(ctx context.Context, s *site, opt plot.MapOptions, w io.Writer) error {
	p, err := s.plan(ctx, false, opt.Language)
	if err != nil {
		return err
	}
	d, err := plot.DigPlan(s.location, p, opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}

func recordPDF(_ context.Context, s *site, opt plot.MapOptions, w io.Writer) error {
	d, err := plot.RecordSheet(s.location, record.New(s.location), opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}

func asBuiltGeoJSON(ctx context.Context, s *site, _ plot.MapOptions, w io.Writer) error {
	return export.AsBuiltGeoJSON(ctx, w, s.location)
}
