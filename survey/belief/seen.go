package belief

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/observe"
	"asfound/survey/posterior"
)

// sonde returns what follows from a transmitter having been located over a line; nil:
// nothing. Where along the line it was pushed tells nothing, and it is as likely to be
// in one of the lines that the crew may mean as in another: the mean over them of a
// normal density of how far off it was located, as a share of the most that this may
// be.
func (l *learner) sonde(job *survey.Job, r *survey.Reading) posterior.Item {
	kinds, part, ok := observe.SondeLines(job.Sketch, r)
	at, placed := l.post.PlaceOfPoint(r.Point)
	if !ok || !placed {
		return nil
	}
	lines := l.among(job.Sketch, kinds, part)
	sigma := observe.SondeSigma(r)
	return strips(lines, func(places []geo.Vec, n *line) float64 {
		s := math.Hypot(sigma, n.course())
		return n.misfit(places, places[at], s)
	}, practice.StraySonde)
}

// sign returns what follows from a strip on the surface; nil: nothing. What puts a
// strip off its trench does so along all of it, wind and slope and the eye: so both
// its ends and its middle count as one measurement.
func (l *learner) sign(job *survey.Job, r *survey.Reading) posterior.Item {
	from, ok := l.post.PlaceOfPoint(r.From)
	to, ok2 := l.post.PlaceOfPoint(r.To)
	if r.Kind != survey.Sign || !ok || !ok2 {
		return nil
	}
	part := ""
	if job.Sketch.Part(r.Target) != nil {
		part = r.Target
	}
	lines := l.among(job.Sketch, []asbuilt.Kind{job.Sketch.KindOf(r.Target)}, part)
	return strips(lines, func(places []geo.Vec, n *line) (sum float64) {
		s := math.Hypot(practice.SignOut, n.course())
		a, b := places[from], places[to]
		for _, v := range [...]geo.Vec{a, a.Lerp(b, 0.5), b} {
			sum += n.misfit(places, v, s) / 3
		}
		return sum
	}, practice.StraySign)
}

// among returns the lines of some kinds, those that nobody drew included, or the one
// of them that has an id.
func (l *learner) among(sketch *asbuilt.Sketch, kinds []asbuilt.Kind, id string) (lines []line) {
	for _, kind := range kinds {
		for i := range sketch.Parts {
			p := &sketch.Parts[i]
			if p.Kind == kind && (id == "" || id == p.ID) && len(l.post.PlacesOfLine(p.ID)) > 1 {
				lines = append(lines, l.line(p))
			}
		}
		if kind == asbuilt.Header && id == "" {
			for _, j := range l.post.Joins() {
				lines = append(lines, undrawn(j.Nodes))
			}
		}
	}
	return lines
}

// strips returns what follows from one of several lines lying under what was seen, by
// half its squared misfit in standard deviations; nil where there is no line. With a
// chance of stray it was none of them.
func strips(lines []line, misfit func(places []geo.Vec, n *line) float64, stray float64) posterior.Item {
	if len(lines) == 0 {
		return nil
	}
	return func(places []geo.Vec, _ []float64) float64 {
		sum := 0.0
		for k := range lines {
			sum += math.Exp(-misfit(places, &lines[k]))
		}
		return math.Log((1-stray)*sum/float64(len(lines)) + stray)
	}
}

// course returns the standard deviation of where a line lies about the straight way
// between the places drawn of it, metres.
func (n *line) course() float64 { return n.Out / math.Sqrt(3) }

// misfit returns half the squared distance from a line to v, in standard deviations
// of s metres; past 6 of them it may be any number that is larger.
func (n *line) misfit(places []geo.Vec, v geo.Vec, s float64) float64 {
	d := n.Distance(places, v, 6*s) / s
	return d * d / 2
}
