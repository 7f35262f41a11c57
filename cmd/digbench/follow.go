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
// opens what it comes to: the box, an end of the line, or the place where it is
// lost.
func (g *game) follow(from answer, toward geo.Vec) answer {
	up := toward.Dot(from.runs) < 0 // against the water
	if from.met == asbuilt.Lateral {
		line := g.lot.laterals[from.part]
		if g.rng.Float64() < losesLine {
			return g.lost(from, line, up)
		}
		if !up {
			return g.open(line[len(line)-1], 9)
		}
		// Past its near end the pipe goes on to the box.
		return g.follow(answer{at: line[0], met: asbuilt.Header, part: from.part + 1, runs: course(g.lot.headers[from.part+1], line[0])}, g.lot.box.Sub(line[0]))
	}
	line := g.lot.headers[from.part]
	if g.rng.Float64() < losesLine {
		return g.lost(from, line, up)
	}
	end := line[len(line)-1] // the effluent pipe comes first, and runs to the box
	if up {
		end = line[0]
	}
	return g.open(end, 9)
}

// lost opens a line somewhere between a hole and its end.
func (g *game) lost(from answer, line []geo.Vec, up bool) answer {
	end := line[len(line)-1]
	if up {
		end = line[0]
	}
	return g.open(from.at.Lerp(end, g.rng.Float64()), 9)
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

// nearest returns the corners of the house by how near they are to a place.
func (f *fitted) nearest(v geo.Vec) (order [4]int) {
	order = [4]int{0, 1, 2, 3}
	c := f.site.lot.corners
	for i := range order {
		for k := i; k > 0 && c[order[k]].Dist(v) < c[order[k-1]].Dist(v); k-- {
			order[k], order[k-1] = order[k-1], order[k]
		}
	}
	return order
}
