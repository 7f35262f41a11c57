package api

import (
	"asfound/geo/language"
	"slices"

	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/fit"
	"asfound/survey/locate"
)

func newFit(job *survey.Job, solved *fit.Fit, in language.Tag) answer.BeliefFit {
	kinds := map[string]survey.Kind{}
	for _, r := range job.Readings {
		kinds[r.ID] = r.Kind
	}
	all := export.NewFitAnswer(solved, in)
	out := answer.BeliefFit{Fit: all.Fit, Residuals: []answer.BeliefResidual{}}
	for _, r := range all.Residuals {
		out.Residuals = append(out.Residuals, answer.BeliefResidual{Residual: r, Kind: string(kinds[r.Reading])})
	}
	return out
}

func newCorridors(corridors []answer.Corridor) []answer.BeliefCorridor {
	out := []answer.BeliefCorridor{}
	for _, c := range corridors {
		line := []answer.Vertex{}
		for _, p := range c.Line {
			line = append(line, answer.Vertex{p.East, p.North})
		}
		out = append(out, answer.BeliefCorridor{Corridor: c, Line: line})
	}
	return out
}

func newOutlines(l *locate.Location, outlines []answer.Outline) []answer.BeliefOutline {
	out := []answer.BeliefOutline{}
	for i, o := range outlines {
		out = append(out, answer.BeliefOutline{Outline: o, Sigma: answer.Metres(l.Outlines[i].Sigma)})
	}
	return out
}

func newHoles(l *locate.Location) []answer.BeliefHole {
	about := map[string][]string{}
	for _, r := range l.Job.Live() {
		names := []string{r.Point, r.From, r.To}
		slices.Sort(names)
		for _, name := range slices.Compact(names) {
			if name != "" {
				about[name] = append(about[name], r.ID)
			}
		}
	}
	out := []answer.BeliefHole{}
	dug := map[string]bool{}
	for i := range l.Holes {
		h := &l.Holes[i]
		dug[h.Name] = true
		x := answer.BeliefHole{ID: h.Name, East: answer.Metres(h.At.X), North: answer.Metres(h.At.Y), Radius: answer.Metres(h.Radius),
			Result: answer.Empty, Target: h.Met, Spot: string(h.Spot), DepthTo: string(h.Feature), Readings: about[h.Name]}
		if h.Met != "" {
			x.Result = answer.Found
		}
		if g, ok := l.Posterior.Point(h.Name); ok {
			x.Radius95 = answer.Metres(g.Landmarks95)
		}
		if h.Depth != nil {
			x.Depth = answer.Optional(answer.Metres(*h.Depth))
		}
		out = append(out, x)
	}
	for _, name := range l.Posterior.Points() {
		if g, ok := l.Posterior.Point(name); ok && !dug[name] && l.Job.Sketch.Part(name) == nil {
			out = append(out, answer.BeliefHole{ID: name, East: answer.Metres(g.At.X), North: answer.Metres(g.At.Y), Radius95: answer.Metres(g.Landmarks95),
				Result: answer.NotDug, Readings: about[name]})
		}
	}
	return out
}
