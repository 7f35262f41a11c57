package api

import (
	"io"

	"asfound/geo/chart"
	"asfound/survey/export"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/record"
	"asfound/survey/sheet"
)

// exported makes a paper of what is written from a location alone.
func exported(write func(io.Writer, *locate.Location) error) func(*site, sheet.MapOptions, io.Writer) error {
	return func(s *site, _ sheet.MapOptions, w io.Writer) error { return write(w, s.location) }
}

// planned makes a paper of what is written from a plan.
func planned(write func(io.Writer, *locate.Location, *probe.Plan) error) func(*site, sheet.MapOptions, io.Writer) error {
	return func(s *site, _ sheet.MapOptions, w io.Writer) error {
		p, refusal := s.plan(false)
		if refusal != nil {
			return refusal
		}
		return write(w, s.location, p)
	}
}

func residualsCSV(s *site, _ sheet.MapOptions, w io.Writer) error {
	return export.ResidualsCSV(w, s.location.Fit)
}

func drawMap(s *site, opt sheet.MapOptions) (*chart.Document, error) {
	p, refusal := s.plan(false)
	if refusal != nil {
		return nil, refusal
	}
	return sheet.Map(s.location, p, opt)
}

func mapSVG(s *site, opt sheet.MapOptions, w io.Writer) error {
	d, err := drawMap(s, opt)
	if err != nil {
		return err
	}
	return d.Pages[0].WriteSVG(w)
}

func mapPDF(s *site, opt sheet.MapOptions, w io.Writer) error {
	d, err := drawMap(s, opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}

func digplanPDF(s *site, opt sheet.MapOptions, w io.Writer) error {
	p, refusal := s.plan(false)
	if refusal != nil {
		return refusal
	}
	d, err := sheet.DigPlan(s.location, p, opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}

func recordPDF(s *site, opt sheet.MapOptions, w io.Writer) error {
	d, err := sheet.RecordSheet(s.location, record.New(s.location), opt)
	if err != nil {
		return err
	}
	return d.WritePDF(w)
}
