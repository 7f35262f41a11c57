package api

import (
	"asfound/geo/language"
	"io"

	"asfound/geo/chart"
	"asfound/survey/export"
	"asfound/survey/locate"
	"asfound/survey/plot"
	"asfound/survey/probe"
	"asfound/survey/record"
)

// exported makes a document of what is written from a location alone.
func exported(write func(io.Writer, *locate.Location) error) func(*site, plot.MapOptions, io.Writer) error {
	return func(s *site, _ plot.MapOptions, w io.Writer) error { return write(w, s.location) }
}

// planned makes a document of what is written from a plan.
func planned(write func(io.Writer, *locate.Location, *probe.Plan) error) func(*site, plot.MapOptions, io.Writer) error {
	return func(s *site, opt plot.MapOptions, w io.Writer) error {
		p, refusal := s.plan(false, opt.Language)
		if refusal != nil {
			return refusal
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

func residualsCSV(s *site, _ plot.MapOptions, w io.Writer) error {
	return export.ResidualsCSV(w, s.location.Fit)
}

func drawMap(s *site, opt plot.MapOptions) (*chart.Document, error) {
	p, refusal := s.plan(false, opt.Language)
	if refusal != nil {
		return nil, refusal
	}
	return plot.Map(s.location, p, opt)
}

func mapSVG(s *site, opt plot.MapOptions, w io.Writer) error {
	d, err := drawMap(s, opt)
	if err != nil {
		return err
	}
	return d.Pages[0].WriteSVG(w)
}

func mapPDF(s *site, opt plot.MapOptions, w io.Writer) error {
	d, err := drawMap(s, opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}

func digplanPDF(s *site, opt plot.MapOptions, w io.Writer) error {
	p, refusal := s.plan(false, opt.Language)
	if refusal != nil {
		return refusal
	}
	d, err := plot.DigPlan(s.location, p, opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}

func recordPDF(s *site, opt plot.MapOptions, w io.Writer) error {
	d, err := plot.RecordSheet(s.location, record.New(s.location), opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}
