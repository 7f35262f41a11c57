package belief

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/posterior"
)

// runs returns what the direction says in which a line was seen to run in a hole;
// nil: nothing. It is the probability of that direction given that a line was met
// there, as a share of the most that it may be: a normal density about the
// direction of the line that the hole met, and a floor of practice.Misdirected.
//
// Where the belief weighs what the hole met, several lines may lie under it, and
// the direction says which. Where the fit has placed the line by it, it is the
// line that passes nearest to the hole.
func (l *learner) runs(job *survey.Job, r *survey.Reading) posterior.Item {
	agrees := l.direction(r)
	if agrees == nil {
		return nil
	}
	at, _ := l.post.PlaceOfPoint(r.Point)
	weighed := l.lines(job, r)
	lines := weighed
	if len(weighed) == 0 {
		lines = l.named(job.Sketch, r.Target)
	}
	if len(lines) == 0 {
		return nil
	}
	if len(weighed) == 0 {
		return func(places []geo.Vec, _ []float64) float64 {
			return math.Log(agrees(&lines[nearest(lines, nil, places, places[at])], places))
		}
	}
	radius := job.HoleRadius(r)
	return func(places []geo.Vec, _ []float64) float64 {
		missed, other := 1.0, 1.0 // that no line lies there, and that none that runs so does
		for k := range lines {
			if p := lines[k].under(places, places[at], radius); p > 0 {
				missed *= 1 - p
				other *= 1 - p*agrees(&lines[k], places)
			}
		}
		// A line that is none of these may run any way.
		stray := practice.StrayHit * missed
		return math.Log((1 - other + stray*practice.Misdirected) / (1 - missed + stray))
	}
}

// agrees returns how well a line has the direction that was seen in a hole: 1 at
// most.
type agrees func(n *line, places []geo.Vec) float64

// direction returns how well a line has the direction that a reading gives; nil: it
// gives none that tells anything.
func (l *learner) direction(r *survey.Reading) agrees {
	seen, facing, known := l.post.Runs(r)
	at, ok := l.post.PlaceOfPoint(r.Point)
	if !known || !ok {
		return nil
	}
	return func(n *line, places []geo.Vec) float64 {
		toward := geo.Vec{}
		if facing >= 0 {
			toward = places[facing].Sub(places[at])
		}
		off := seen.Off(n.direction(places, places[at]), toward)
		d := off / math.Hypot(seen.Sigma, n.bend)
		return practice.Misdirected + (1-practice.Misdirected)*math.Exp(-d*d/2)
	}
}

// named returns the laterals and headers that a target names, by id or by kind.
func (l *learner) named(sketch *asbuilt.Sketch, target string) (lines []line) {
	for i := range sketch.Parts {
		p := &sketch.Parts[i]
		if body, ok := encounter.BodyOf(p); ok && body.Line && (p.ID == target || string(p.Kind) == target) {
			lines = append(lines, l.line(p))
		}
	}
	return lines
}

// direction returns the direction of a line, the way the water flows, where it
// passes nearest to v.
func (n *line) direction(places []geo.Vec, v geo.Vec) (along geo.Vec) {
	best := math.Inf(1)
	for k := 1; k < len(n.Vertices); k++ {
		a, b := places[n.Vertices[k-1]], places[n.Vertices[k]]
		if d, _ := geo.SegmentDistance(a, b, v); d < best {
			best, along = d, b.Sub(a)
		}
	}
	return along
}
