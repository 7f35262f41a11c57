package belief_test

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/posterior"
)

// places is a posterior in the form that the depths need.
type places struct {
	*posterior.Posterior
	sigma map[string]float64
}

func newPlaces(job *survey.Job, p *posterior.Posterior) places {
	sigma := map[string]float64{}
	for _, part := range job.Sketch.Parts {
		sigma[part.ID] = p.Sigma(part.ID)
	}
	return places{p, sigma}
}

func (p places) Sigma(part string) float64 { return p.sigma[part] }

func (p places) Spot(part string, spot asbuilt.Spot) (geo.Vec, bool) {
	return p.Expected(asbuilt.SpotName{Part: part, Spot: spot})
}

func (p places) Line(part string) []geo.Vec { return p.ExpectedLine(part) }

func (p places) Point(name string) (geo.Vec, bool) {
	if v, ok := p.ExpectedPoint(name); ok {
		return v, true
	}
	return p.Spot(name, asbuilt.Center)
}
