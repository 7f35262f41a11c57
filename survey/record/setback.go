package record

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/survey/locate"
)

// Setback is how far the nearest trench lies from something that codes keep
// dispersal fields away from. It is for a person to look at, never a finding.
type Setback struct {
	Lateral  string
	From     string // id of the well, boundary, water or building
	Kind     asbuilt.Kind
	Distance float64 // metres, from the wall of the trench
	Sigma    float64 // standard deviation of it, metres
	Usual    float64 // metres that many codes ask for
	Short    float64 // chance that it is nearer than that
	Source   string  // of Usual
}

// setbacks measures each thing that codes name against the nearest lateral.
func setbacks(l *locate.Location) (all []Setback) {
	for _, rule := range practice.Setbacks() {
		for i := range l.Outlines {
			if o := &l.Outlines[i]; o.Kind == rule.From {
				if s, ok := nearest(l, o); ok {
					s.Usual, s.Source = rule.Distance, rule.Source
					s.Short = normal((s.Usual - s.Distance) / math.Max(s.Sigma, 1e-6))
					all = append(all, s)
				}
			}
		}
	}
	return all
}

func nearest(l *locate.Location, o *locate.Outline) (best Setback, ok bool) {
	best = Setback{From: o.Part, Kind: o.Kind, Distance: math.Inf(1)}
	for i := range l.Outlines {
		t := &l.Outlines[i]
		if t.Kind != asbuilt.Lateral {
			continue
		}
		half := practice.TrenchWidth("") / 2
		if p := l.Job.Sketch.Part(t.Part); p != nil {
			half = practice.Width(p) / 2
		}
		for _, a := range t.Now {
			for _, b := range o.Now {
				d := max(0, a.Gap(b)-half)
				if d < best.Distance {
					best.Lateral, best.Distance, best.Sigma, ok = t.Part, d, math.Hypot(t.Sigma, o.Sigma), true
				}
			}
		}
	}
	return best, ok
}

// normal returns the probability that a standard Gaussian lies below z.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
