package survey

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"asfound/geo"
)

// Evidence is what is known of a site and fits no Gaussian: what holes did not
// meet. Its items stand in an order that does not depend on that of the log.
type Evidence struct {
	Shifts int    // standard normal numbers that every draw has beside its places, as for the depth of a part
	Hits   []Item // what holes met that the fit has left out
	Items  []Item // what they did not meet
}

// Item returns the natural logarithm of the probability of one thing that was
// seen, were the site as in a draw; it is never above zero. at holds the places
// of the draw in metres by their numbers (Posterior.Place and its kin), of
// which only distances between one another mean anything; shift holds its
// standard normal numbers.
type Item func(at []geo.Vec, shift []float64) float64

// Learned is what evidence did to a belief.
type Learned struct {
	Left   float64   // probability that the belief, what holes met included, gave to what they did not meet
	Share  float64   // effective share of the draws before the evidence that is left after it, as if weighed at once (Kish 1965)
	Hits   []float64 // probability that the belief before, the hits before it included, gave to each hit
	Counts bool      // whether the belief now differs from that of the fit
}

// counts is the effective share below which evidence changes a belief. Above
// it, means move by less than 0.07 of a standard deviation, which is not worth
// leaving exact regions for sampled ones.
const counts = 0.995

// beliefDraws is how many draws stand for a belief that evidence has changed.
const beliefDraws = 800

// Learn takes evidence into the belief: from now on all that is asked of p, and
// all draws from it, follow the belief after the evidence. Where that changes
// nothing to speak of, every answer stays what it was to the last digit.
func (p *Posterior) Learn(e Evidence) Learned {
	p.evidence, p.draws, p.lift, p.learned = e, nil, geo.Vec{}, Learned{Left: 1, Share: 1}
	p.metLine = map[string]map[string]float64{}
	if loose := len(e.Hits) > 0 && len(p.fit.loose) > 0; loose != p.loose {
		if p.loose = loose; loose {
			p.join(p.fit.loose)
		} else {
			p.join(p.fit.components)
		}
	}
	if len(e.Items)+len(e.Hits) == 0 {
		return p.learned
	}
	var d *Draws
	d, p.learned = p.draw(beliefDraws, e)
	if !p.learned.Counts {
		p.evidence = Evidence{}
		return p.learned
	}
	for _, k := range p.datum {
		off := p.expected(k).Sub(p.members[0].at[k].Add(p.shift))
		p.lift = p.lift.Add(off.Scale(1 / float64(len(p.datum))))
	}
	p.draws = d
	return p.learned
}

// Place returns the number of a spot's place.
func (p *Posterior) Place(name SpotName) (number int, ok bool) {
	number, ok = p.drawing().spots[name]
	return number, ok
}

// PlaceOfPoint returns the number of the place of a hole or stake of the log.
func (p *Posterior) PlaceOfPoint(name string) (number int, ok bool) {
	i, ok := p.fit.book.index[name]
	return len(p.drawing().nodes) + i, ok
}

// PlacesOfLine returns the numbers of the vertices of a lateral or header, in
// flow order; nil where the sketch has no such line.
func (p *Posterior) PlacesOfLine(part string) []int { return p.drawing().lines[part] }

// MetOdds returns the probability of each part that a hole may have met, by
// part id, once the evidence is in.
func (p *Posterior) MetOdds(reading string) map[string]float64 {
	for i := range p.fit.book.readings {
		r := &p.fit.book.readings[i]
		if r.ID != reading || r.Kind != Found {
			continue
		}
		if p.fit.book.job.Sketch.Part(r.Target) != nil {
			return map[string]float64{r.Target: 1}
		}
		if p.draws == nil {
			return p.fit.MetOdds(reading)
		}
		if ids := p.Lines(r); len(ids) > 0 {
			return p.lineOdds(r, ids)
		}
		return p.odds(func(e explanation) string { return e.met[reading] })
	}
	return nil
}

// Met returns the part that the hole of a found reading most likely met.
func (p *Posterior) Met(reading string) (part string) { return likeliest(p.MetOdds(reading)) }

// likeliest returns the part with the greatest odds.
func likeliest(odds map[string]float64) (part string) {
	best := 0.0
	for id, w := range odds {
		if w > best || w == best && id < part {
			part, best = id, w
		}
	}
	return part
}

// MirroredOdds returns the probability that the sheet was drawn from the other
// side, once the evidence is in.
func (p *Posterior) MirroredOdds() float64 {
	return p.odds(func(e explanation) string { return strconv.FormatBool(e.fault.kind == Mirrored) })["true"]
}

// odds returns the probability of each value that a property of the
// explanations takes.
func (p *Posterior) odds(property func(e explanation) string) map[string]float64 {
	if p.draws == nil {
		_, weight := p.fit.odds(property)
		return weight
	}
	weight := map[string]float64{}
	for _, m := range p.draws.Member {
		weight[property(p.explanations[m])] += 1 / float64(p.draws.N)
	}
	return weight
}

// Shifts returns, of each shift of the evidence, its number in every draw after
// it; nil where the evidence changed nothing.
func (p *Posterior) Shifts() [][]float64 {
	if p.draws == nil {
		return nil
	}
	return p.draws.Shifts
}

// Sample returns draws of a spot's place after the evidence, frame coordinates;
// nil where the evidence changed nothing.
func (p *Posterior) Sample(name SpotName) (sample []geo.Vec) {
	k, ok := p.drawing().spots[name]
	if p.draws == nil || !ok {
		return nil
	}
	for _, v := range p.draws.at[k] {
		sample = append(sample, v.Add(p.lift))
	}
	return sample
}

// apart is how much larger the area of one ellipse about a mixture may be than
// that of its members' ellipses before its members lie apart.
const apart = 1.5

// Apart reports whether a spot's belief, the evidence aside, is of members so
// far from one another that one ellipse describes it badly.
func (p *Posterior) Apart(name SpotName) bool {
	k, ok := p.drawing().spots[name]
	if !ok || len(p.explanations) < 2 {
		return false
	}
	var at geo.Vec
	own := 0.0
	var all geo.Cov
	p.spreads()
	for i := range p.members {
		at = at.Add(p.members[i].at[k].Scale(p.members[i].weight))
	}
	for i := range p.members {
		m := &p.members[i]
		c := pointCov(m.tied, k)
		own += m.weight * math.Sqrt(math.Max(0, c.XX*c.YY-c.XY*c.XY))
		all = all.Add(c.Add(geo.Outer(m.at[k].Sub(at))).Scale(m.weight))
	}
	return math.Sqrt(math.Max(0, all.XX*all.YY-all.XY*all.XY)) > apart*own
}

// key returns a text that two explanations share where they read sheet and log
// alike.
func (e explanation) key() string {
	var slips []string
	for _, id := range slices.Sorted(maps.Keys(e.slips)) {
		slips = append(slips, id+" "+e.slips[id].cause.Key()+" "+e.slips[id].instead)
	}
	return fmt.Sprint(e.fault, e.met, e.turned, slips)
}
