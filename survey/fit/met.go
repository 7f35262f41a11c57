package fit

import (
	"math"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/observe"
)

// MetOdds returns the probability of each part that a hole logged under a kind
// alone may have met, by part id; nil where the reading is no such hole.
func (f *Fit) MetOdds(reading string) map[string]float64 {
	r := f.log.Reading(reading, survey.Found)
	if r == nil || !f.log.Unnamed(r) {
		return nil
	}
	if f.log.OnHeader(r) {
		return f.LineOdds(r)
	}
	return f.Odds(func(e *Explanation) string { return e.Met[reading] })
}

// Odds returns the probability of each value that a property of the
// explanations takes.
func (f *Fit) Odds(property func(e *Explanation) string) map[string]float64 {
	weight := map[string]float64{}
	for i := range f.components {
		weight[property(&f.components[i].Explanation)] += f.components[i].Weight
	}
	return weight
}

// LineOdds returns how likely each line that a hole may have met is the one, by
// the fit: for every explanation that which passes nearest.
func (f *Fit) LineOdds(r *survey.Reading) map[string]float64 {
	i, ok := f.log.Point(r.Point)
	if !ok {
		return nil
	}
	weight := map[string]float64{}
	for k := range f.components {
		c := &f.components[k]
		at := c.Places()
		weight[NearestLine(c.Network.Drawing, f.log, r, at, at[len(c.Network.Drawing.Nodes)+i])] += c.Weight
	}
	return weight
}

// NearestLine returns which of the lines that the hole of a reading may have met
// passes nearest to a place, at being the places of the nodes; of several places, to
// that which it misses most. Empty: a pipe that is not drawn.
func NearestLine(d *drawing.Drawing, log *observe.Log, r *survey.Reading, at []geo.Vec, to ...geo.Vec) (id string) {
	best := math.Inf(1)
	near := func(of string, line []int) {
		most := 0.0
		for _, v := range to {
			far := math.Inf(1)
			for i := 1; i < len(line); i++ {
				d, _ := geo.SegmentDistance(at[line[i-1]], at[line[i]], v)
				far = min(far, d)
			}
			most = max(most, far)
		}
		if most < best {
			best, id = most, of
		}
	}
	for _, k := range log.Lines(r) {
		near(k, d.Lines[k])
	}
	for _, line := range log.Undrawn(d, r) {
		near("", line.Nodes)
	}
	return id
}
