package fit

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/observe"
)

const (
	wideSigma         = 1000 // metres: the sheet on the earth before any fix
	unknownNorthSigma = 1.8  // radians: the standard deviation of a uniform direction
)

// layouts returns the layouts from which to start: one where the turn of the
// drawing is known or can be worked out from fixes, twelve where it is not.
// It is the only place that knows how a frame is fixed.
func (p *problem) layouts(d *drawing.Drawing, e Explanation) []observe.Layout {
	f := drawing.DraftingOf(d.Sketch)
	l := observe.Layout{}
	l.Mean[observe.LayScale], l.Sigma[observe.LayScale] = math.Log(d.Scale), d.ScaleSigma
	l.Sigma[observe.LayStretch] = f.Stretch
	if d.Sketch.Known != nil { // the covariance of its places has it
		l.Sigma[observe.LayStretch] = drawing.KnownScale
	}
	l.Sigma[observe.LayTurn] = unknownNorthSigma
	if up := d.Sketch.Up; up != nil {
		l.Mean[observe.LayTurn], l.Sigma[observe.LayTurn] = -up.Bearing.Radians(), math.Max(up.Sigma.Radians(), observe.HeldSigma)
		if d.Fault.Kind == drawing.Turned {
			l.Mean[observe.LayTurn] += math.Pi / 2 * float64(d.Fault.Quarter)
		}
	}
	if p.log.Frame.Kind == survey.Local {
		l.Sigma[observe.LayE], l.Sigma[observe.LayN] = observe.HeldSigma, observe.HeldSigma
		if !p.log.North {
			l.Sigma[observe.LayTurn] = observe.HeldSigma
		}
		return []observe.Layout{l}
	}
	l.Sigma[observe.LayE], l.Sigma[observe.LayN] = wideSigma, wideSigma
	if d.Sketch.Plane == asbuilt.WGS84 {
		// The plane of such a sketch is metres about its own origin, which is
		// the origin of the frame.
		l.Mean[observe.LayE], l.Mean[observe.LayN] = d.Centre.X, d.Centre.Y
		s := 10 * f.Shift
		l.Sigma[observe.LayE], l.Sigma[observe.LayN] = s, s
		if d.Sketch.Up == nil {
			l.Sigma[observe.LayTurn] = f.Turn
		}
		return []observe.Layout{l}
	}
	return p.layoutsByFixes(d, e, l)
}

// layoutsByFixes returns a layout for each turn that the drawing may have, laid
// on the fixes.
func (p *problem) layoutsByFixes(d *drawing.Drawing, e Explanation, l observe.Layout) (all []observe.Layout) {
	var drawn, at []geo.Vec // in drawing units and in metres, each in axes of its own
	var weight []float64
	for _, f := range p.log.Fixed(d, e.Explanation) {
		drawn, at, weight = append(drawn, f.Drawn.Metres(1)), append(at, f.At), append(weight, f.Weight)
	}
	h := geo.FitHelmert(drawn, at, weight)
	turns := []float64{l.Mean[observe.LayTurn]}
	switch turn, ok := h.Turn(); {
	case d.Sketch.Up != nil:
	case ok && h.Spread()*d.Scale*d.Scale > 25: // metres squared: far enough apart to tell
		turns[0] = turn.Radians()
	default:
		turns = turns[:0]
		for k := range 12 {
			turns = append(turns, float64(k)*math.Pi/6)
		}
	}
	for _, t := range turns {
		m := l
		m.Mean[observe.LayTurn] = t
		centre := h.Shift(geo.Radians(t), d.Scale)
		m.Mean[observe.LayE], m.Mean[observe.LayN] = centre.X, centre.Y
		all = append(all, m)
	}
	return all
}
