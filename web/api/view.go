package api

import (
	"slices"

	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/fit"
	"asfound/survey/locate"
)

// Vertex is a place in the field frame: metres east and north.
type Vertex [2]export.Metres

// Fit says how drawing and field agree, reading by reading.
type Fit struct {
	export.Fit
	Residuals []Residual `json:"residuals"`
}

// Residual is one observed number after the fit. Kind is that of the reading;
// empty: it is written on the sketch.
type Residual struct {
	export.Residual
	Kind string `json:"kind"`
}

func newFit(job *survey.Job, solved *fit.Fit) Fit {
	kinds := map[string]survey.Kind{}
	for _, r := range job.Readings {
		kinds[r.ID] = r.Kind
	}
	answer := export.NewFitAnswer(solved)
	out := Fit{Fit: answer.Fit, Residuals: []Residual{}}
	for _, r := range answer.Residuals {
		out.Residuals = append(out.Residuals, Residual{r, string(kinds[r.Reading])})
	}
	return out
}

// Corridor is the strip that holds a whole lateral or header with 95 %.
type Corridor struct {
	export.Corridor
	Line []Vertex `json:"line"`
}

func newCorridors(corridors []export.Corridor) []Corridor {
	out := []Corridor{}
	for _, c := range corridors {
		line := []Vertex{}
		for _, p := range c.Line {
			line = append(line, Vertex{p.East, p.North})
		}
		out = append(out, Corridor{c, line})
	}
	return out
}

// Outline is a part's geometry. Sigma is the standard deviation of its place
// relative to the landmarks, along the worse axis.
type Outline struct {
	export.Outline
	Sigma export.Metres `json:"sigma"`
}

func newOutlines(l *locate.Location, outlines []export.Outline) []Outline {
	out := []Outline{}
	for i, o := range outlines {
		out = append(out, Outline{o, export.Metres(l.Outlines[i].Sigma)})
	}
	return out
}

// Hole is a hole of the log, or a place that was set out and not dug yet.
type Hole struct {
	ID       string         `json:"id"`
	East     export.Metres  `json:"east"`
	North    export.Metres  `json:"north"`
	Radius95 export.Metres  `json:"radius95"` // holds it with 95 %, relative to the landmarks
	Radius   export.Metres  `json:"radius"`   // of the hole; 0: not dug
	Result   string         `json:"result"`   // found, empty, or none: not dug
	Target   string         `json:"target,omitempty"`
	Spot     string         `json:"spot,omitempty"`
	Depth    *export.Metres `json:"depth"` // at which it was found, or down to which it is empty; null: not given
	DepthTo  string         `json:"depth_to,omitempty"`
	Readings []string       `json:"readings"` // ids of the readings about it
}

func newHoles(l *locate.Location) []Hole {
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
	out := []Hole{}
	dug := map[string]bool{}
	for i := range l.Holes {
		h := &l.Holes[i]
		dug[h.Name] = true
		x := Hole{ID: h.Name, East: export.Metres(h.At.X), North: export.Metres(h.At.Y), Radius: export.Metres(h.Radius),
			Result: "empty", Target: h.Met, Spot: string(h.Spot), DepthTo: string(h.Feature), Readings: about[h.Name]}
		if h.Met != "" {
			x.Result = "found"
		}
		if g, ok := l.Posterior.Point(h.Name); ok {
			x.Radius95 = export.Metres(g.Landmarks95)
		}
		if h.Depth != nil {
			d := export.Metres(*h.Depth)
			x.Depth = &d
		}
		out = append(out, x)
	}
	for _, name := range l.Posterior.Points() {
		if g, ok := l.Posterior.Point(name); ok && !dug[name] && l.Job.Sketch.Part(name) == nil {
			out = append(out, Hole{ID: name, East: export.Metres(g.At.X), North: export.Metres(g.At.Y), Radius95: export.Metres(g.Landmarks95),
				Result: "none", Readings: about[name]})
		}
	}
	return out
}
