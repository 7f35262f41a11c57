package belief_test

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// places is a posterior as the depths want it.
type places struct{ *survey.Posterior }

func (p places) Spot(part string, spot asbuilt.Spot) (geo.Vec, bool) {
	return p.Expected(survey.SpotName{Part: part, Spot: spot})
}

func (p places) Line(part string) []geo.Vec { return p.ExpectedLine(part) }

func (p places) Point(name string) (geo.Vec, bool) {
	if v, ok := p.ExpectedPoint(name); ok {
		return v, true
	}
	return p.Spot(name, asbuilt.Center)
}
