package posterior

import (
	"context"
	"math"
	"slices"
	"strconv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/fit"
	"asfound/survey/observe"
)

// Posterior is what is believed of all points once the readings are in.
type Posterior struct {
	belief
	fit *fit.Fit
	mix *mixture // what belief is, or was drawn from
	ground
}

// belief answers what is believed, place by place. Places are nodes of the
// drawing, then points of the log, by their numbers.
type belief interface {
	expected(place int) geo.Vec                                     // frame coordinates
	region(place int) Region                                        // with its 95 % regions
	relative(place int) geo.Cov                                     // covariance relative to the landmarks, m²
	strip(nodes []int) Strip                                        // of a line of nodes
	odds(property func(*fit.Explanation) string) map[string]float64 // of each value of a property
	lineOdds(r *survey.Reading) map[string]float64                  // of each line that a hole may have met
	draws(ctx context.Context, n int) (*Draws, error)
}

// Of returns what is believed after a fit. How certain each place is costs much, and is
// worked out by Ready, or when it is first asked for: keep the result.
func Of(f *fit.Fit) *Posterior {
	m := newMixture(f, f.Components())
	p := &Posterior{belief: m, fit: f, mix: m}
	p.ground = newGround(f, m)
	m.shift = p.shift
	return p
}

// Ready works out how certain each place of the fit is, which else the first question
// for it would. Where ctx is done it stops with its error.
func (p *Posterior) Ready(ctx context.Context) error {
	for i := range p.mix.members {
		if err := ctx.Err(); err != nil {
			return err
		}
		p.mix.members[i].spread()
	}
	return nil
}

// Learn returns the belief of the fit after evidence, which replaces any
// evidence that p has, and what the evidence changed. Where that is negligible,
// it is the belief of the fit, and every answer is the same to the last digit. Where
// ctx is done it stops with its error.
func (p *Posterior) Learn(ctx context.Context, e Evidence) (*Posterior, Learned, error) {
	components := p.fit.Components()
	if other := p.fit.WithoutLineHits(); len(e.Hits) > 0 && len(other) > 0 {
		components = other
	}
	m := newMixture(p.fit, components)
	m.shift = p.shift
	after := &Posterior{belief: m, fit: p.fit, mix: m, ground: p.ground}
	if len(e.Items)+len(e.Hits) == 0 {
		return after, Learned{Left: 1, Share: 1}, nil
	}
	s, learned, err := newSample(ctx, m, e)
	if err != nil {
		return nil, Learned{}, err
	}
	if learned.Counts {
		after.belief = s
	}
	return after, learned, nil
}

// Draws returns n ways the whole site may lie, each as likely as the others,
// relative to the landmarks, the evidence included. The seed comes from the
// readings, so that the same job gives the same draws. Where ctx is done it stops with
// its error.
func (p *Posterior) Draws(ctx context.Context, n int) (*Draws, error) { return p.draws(ctx, n) }

// Place returns the number of a spot's place.
func (p *Posterior) Place(name asbuilt.SpotName) (number int, ok bool) {
	number, ok = p.drawing().Spots[name]
	return number, ok
}

// PlaceOfPoint returns the number of the place of a hole or stake of the log.
func (p *Posterior) PlaceOfPoint(name string) (number int, ok bool) {
	i, ok := p.fit.Log().Point(name)
	return len(p.drawing().Nodes) + i, ok
}

// PlacesOfLine returns the numbers of the vertices of a lateral or header, in
// flow order; nil where the sketch has no such line.
func (p *Posterior) PlacesOfLine(part string) []int { return p.drawing().Lines[part] }

// Expected returns where a spot of a part is expected: Spot without its
// regions, which cost more.
func (p *Posterior) Expected(name asbuilt.SpotName) (v geo.Vec, ok bool) {
	k, ok := p.Place(name)
	if !ok {
		return geo.Vec{}, false
	}
	return p.expected(k), true
}

// ExpectedPoint returns where a hole or stake of the log is expected.
func (p *Posterior) ExpectedPoint(name string) (v geo.Vec, ok bool) {
	k, ok := p.PlaceOfPoint(name)
	if !ok {
		return geo.Vec{}, false
	}
	return p.expected(k), true
}

// ExpectedLine returns where the vertices of a lateral or header are expected,
// nil where the sketch has no such line.
func (p *Posterior) ExpectedLine(part string) (line []geo.Vec) {
	for _, k := range p.PlacesOfLine(part) {
		line = append(line, p.expected(k))
	}
	return line
}

// Spot returns the belief about a spot of a part; ok is false where the sketch
// has no such spot.
func (p *Posterior) Spot(name asbuilt.SpotName) (r Region, ok bool) {
	k, ok := p.Place(name)
	if !ok {
		return Region{}, false
	}
	return p.region(k), true
}

// Point returns the belief about a hole or stake of the log.
func (p *Posterior) Point(name string) (r Region, ok bool) {
	k, ok := p.PlaceOfPoint(name)
	if !ok {
		return Region{}, false
	}
	return p.region(k), true
}

// Line returns the belief about a lateral or header; ok is false where the
// sketch has no such line.
func (p *Posterior) Line(part string) (s Strip, ok bool) {
	nodes, ok := p.drawing().Lines[part]
	if !ok {
		return Strip{}, false
	}
	return p.strip(nodes), true
}

// Points returns the names of the holes and stakes of the log, in the order in
// which they are first named by reading kind and id.
func (p *Posterior) Points() (names []string) {
	for _, pt := range p.fit.Log().Points {
		names = append(names, pt.Name)
	}
	return names
}

// Sigma returns the standard deviation in metres of a part's place relative to
// the landmarks: along its worse axis, at its worse end; 0 for a part that is
// not located by nodes.
func (p *Posterior) Sigma(part string) (sigma float64) {
	for _, s := range []asbuilt.Spot{asbuilt.Center, asbuilt.Start, asbuilt.End} {
		if k, ok := p.Place(asbuilt.SpotName{Part: part, Spot: s}); ok {
			a, _, _ := p.relative(k).Eigen()
			sigma = math.Max(sigma, math.Sqrt(a))
		}
	}
	return sigma
}

// Sample returns draws of a spot's place after the evidence, frame coordinates;
// nil where the evidence changed nothing.
func (p *Posterior) Sample(name asbuilt.SpotName) (all []geo.Vec) {
	k, ok := p.Place(name)
	s, sampled := p.belief.(*sample)
	if !sampled || !ok {
		return nil
	}
	for _, v := range s.all.at[k] {
		all = append(all, v.Add(s.lift))
	}
	return all
}

// Shifts returns, of each shift of the evidence, its number in every draw after
// it; nil where the evidence changed nothing.
func (p *Posterior) Shifts() [][]float64 {
	if s, ok := p.belief.(*sample); ok {
		return s.all.Shifts
	}
	return nil
}

// Apart reports whether a spot's belief, the evidence aside, is of members so
// far from one another that one ellipse describes it badly.
func (p *Posterior) Apart(name asbuilt.SpotName) bool {
	k, ok := p.Place(name)
	return ok && p.mix.apart(k)
}

// Lines returns the laterals or headers that the hole of a reading may have met
// between their ends, where the belief is to weigh that as evidence; nil for
// any other reading.
func (p *Posterior) Lines(r *survey.Reading) []string {
	other, log := p.fit.WithoutLineHits(), p.fit.Log()
	if !log.OnHeader(r) && (len(other) == 0 || !other[0].Explanation.Without[r.ID]) {
		return nil
	}
	return log.Lines(r)
}

// Undrawn returns each pipe that nobody drew which the hole of a reading may have met;
// its nodes are numbers of places.
func (p *Posterior) Undrawn(r *survey.Reading) []drawing.Join {
	return p.fit.Log().Undrawn(p.drawing(), r)
}

// Joins returns every pipe that there must be and nobody drew; its nodes are numbers of
// places.
func (p *Posterior) Joins() []drawing.Join { return p.drawing().Joins() }

// Runs returns the direction of a line that a reading has seen, and the number of
// the place that it was counted from, −1 for true north; ok is false where it has
// none that tells anything.
func (p *Posterior) Runs(r *survey.Reading) (d observe.Runs, facing int, ok bool) {
	if d, ok = p.fit.Log().Runs(r); !ok || d.Facing == "" {
		return d, -1, ok
	}
	if facing, ok = p.PlaceOfPoint(d.Facing); !ok {
		facing, ok = p.Place(asbuilt.SpotName{Part: d.Facing, Spot: asbuilt.Center})
	}
	return d, facing, ok
}

// Contact returns where the middle of the box or tank lies that the hole of a
// reading met, where the fit has a Gaussian for what is none and the belief is to
// weigh that as evidence; ok is false for any other reading.
func (p *Posterior) Contact(r *survey.Reading) (k observe.Contact, ok bool) {
	return p.fit.Log().Contact(r, p.Met)
}

// MetOdds returns the probability of each part that a hole may have met, by
// part id, once the evidence is in.
func (p *Posterior) MetOdds(reading string) map[string]float64 {
	log := p.fit.Log()
	r := log.Reading(reading, survey.Found)
	switch {
	case r == nil:
		return nil
	case !log.Unnamed(r):
		return map[string]float64{r.Target: 1}
	case len(p.Lines(r)) > 0:
		return p.lineOdds(r)
	}
	return p.odds(func(e *fit.Explanation) string { return e.Met[reading] })
}

// Met returns the part that the hole of a found reading most likely met.
func (p *Posterior) Met(reading string) (part string) {
	best := 0.0
	for id, w := range p.MetOdds(reading) {
		if w > best || w == best && id < part {
			part, best = id, w
		}
	}
	return part
}

// MirroredOdds returns the probability that the sheet was drawn from the other
// side, once the evidence is in.
func (p *Posterior) MirroredOdds() float64 {
	return p.odds(func(e *fit.Explanation) string { return strconv.FormatBool(e.Fault.Kind == drawing.Mirrored) })["true"]
}

// Refers reports whether the relative regions refer to a landmark.
func (p *Posterior) Refers(landmark string) bool {
	k, ok := p.Place(asbuilt.SpotName{Part: landmark, Spot: asbuilt.Center})
	return ok && slices.Contains(p.mix.datum, k)
}

func (p *Posterior) drawing() *drawing.Drawing { return p.mix.drawing() }
