package main

import (
	"fmt"
	"strconv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// losesLine is the chance that a crew loses a line that it follows, for each line.
const losesLine = 0.15

// follow follows the line that a hole has met, the way that a crew was told, and
// opens what it comes to: the box, an end of the line, or the place between where it
// is lost.
func (g *game) follow(from answer, toward geo.Vec) answer {
	line := g.lot.headers[from.part] // the effluent pipe comes first, and runs to the box
	if from.met == asbuilt.Lateral {
		line = g.lot.laterals[from.part]
	}
	up := toward.Dot(from.runs) < 0 // against the water
	end := line[len(line)-1]
	if up {
		end = line[0]
	}
	switch {
	case g.rng.Float64() < losesLine:
		lost := from.at.Lerp(end, g.rng.Float64())
		g.minutes += follows(from.met, from.at.Dist(lost))
		return g.open(lost, 9)
	case up && from.met == asbuilt.Lateral: // past its near end the pipe goes on to the box
		g.minutes += follows(from.met, from.at.Dist(end))
		pipe := from.part + 1
		return g.follow(answer{at: end, met: asbuilt.Header, part: pipe, runs: course(g.lot.headers[pipe], end)}, g.lot.box.Sub(end))
	}
	g.minutes += follows(from.met, from.at.Dist(end))
	return g.open(end, 9)
}

// follow does what a plan says of a line to follow, and logs it.
func (f *fitted) follow(loc *locate.Location, p *probe.Follow) error {
	k, err := strconv.Atoi(p.Hole[1:])
	if err != nil {
		return fmt.Errorf("lot %d: there is no hole %s to follow a line from", f.site.seed, p.Hole)
	}
	from := f.game.holes[k-1]
	// A crew is told the way against a landmark.
	a, b := loc.Spot(mark(0), asbuilt.Center).At, f.site.lot.corners[0]
	turn := geo.Bearing(from.at, b).Degrees() - geo.Bearing(p.At, a).Degrees()
	met := f.game.follow(from, p.Toward.Rotate(geo.Degrees(-turn)))
	h := hole{deep: 9}
	near := f.nearest(met.at)
	h.from = [2]int{near[0], near[1]}
	f.log(met, h)
	log(&f.job, survey.Reading{Kind: survey.Followed, From: p.Hole, To: fmt.Sprintf("P%d", len(f.game.holes)), Target: string(from.met)})
	return nil
}
