package belief

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/observe"
	"asfound/survey/posterior"
)

// rods returns what the stabs of a probe rod say, a row an item. How far a rod can be
// relied on here is not known exactly: two further standard normal numbers of every
// draw, after the first shifts, say how far both its rates are off the job's. So a
// job whose stabs often feel stones comes to believe less in contacts.
func (l *learner) rods(job *survey.Job, live []survey.Reading, shifts *int) (items []posterior.Item) {
	rates := rates{job.Settings.Rodding(), *shifts}
	for i := range live {
		if r := &live[i]; r.Kind == survey.Rod && r.Depth != nil {
			if s := l.newStabs(job, r, rates); s != nil {
				items = append(items, s.likely)
			}
		}
	}
	if len(items) > 0 {
		*shifts += 2
	}
	return items
}

// rates is how far a rod can be relied on in a draw.
type rates struct {
	survey.Rodding
	first int // of the two shifts: hits, then stones
}

// in returns the rates in a draw: the logit of the one and the logarithm of the other
// are normal about the job's.
func (r rates) in(shift []float64) (hits, stones float64) {
	odds := r.Hits / (1 - r.Hits) * math.Exp(practice.RodHitsSpread*shift[r.first])
	stones = r.Stones * math.Exp(practice.RodStonesSpread*shift[r.first+1])
	return odds / (1 + odds), min(stones, odds/(1+odds))
}

// stabs is a row of stabs, all with the same result.
type stabs struct {
	rates
	from, to int // numbers of the places of its ends; the same for one stab
	number   int
	radius   float64 // metres, of the rod
	none     bool    // they felt nothing
	plain    bool    // it was plain what they felt
	may      []felt
}

// felt is a part that a rod may feel.
type felt struct {
	encounter.Body
	encounter.Places
	plain bool                          // it is one of those that the crew says it felt
	deep  func(shift []float64) float64 // chance that the rod comes down to its top
}

// newStabs returns the stabs of a reading, nil where an end of them has no place.
func (l *learner) newStabs(job *survey.Job, r *survey.Reading, rates rates) *stabs {
	s := &stabs{rates: rates, number: max(1, r.Stabs), none: r.Target == survey.RodNone}
	s.plain = !s.none && r.Target != survey.RodContact
	if t, ok := survey.ToolNamed("rod"); ok {
		s.radius = t.Radius
	}
	if r.Radius != nil {
		s.radius = r.Radius.Metres
	}
	first, last := r.From, r.To
	if r.Point != "" {
		first, last = r.Point, r.Point
	}
	var ok, ok2 bool
	var a, b geo.Vec
	s.from, a, ok = l.placeOf(first)
	s.to, b, ok2 = l.placeOf(last)
	if !ok || !ok2 {
		return nil
	}
	at := a.Lerp(b, 0.5)
	h := hole{depth: r.Depth.Metres, stated: true}
	for i := range l.parts {
		if t := &l.parts[i]; t.part.Kind != asbuilt.Port {
			s.may = append(s.may, felt{t.Body, t.Places, observe.Feels(r, t.part.Kind, t.part.ID), l.deep(&h, t, at)})
		}
	}
	for i := range job.Sketch.Parts {
		if p := &job.Sketch.Parts[i]; p.Kind == asbuilt.Header && len(l.post.PlacesOfLine(p.ID)) > 1 {
			n := l.line(p)
			s.may = append(s.may, felt{n.Body, n.Places, observe.Feels(r, p.Kind, p.ID), l.down(&h, p.ID, at)})
		}
	}
	for _, j := range l.post.Joins() { // as deep as what it runs to
		n := undrawn(j.Nodes)
		s.may = append(s.may, felt{n.Body, n.Places, observe.Feels(r, asbuilt.Header, ""), l.down(&h, j.To.Part, at)})
	}
	return s
}

// placeOf returns the number of the place of a landmark, hole or stake, and where it
// is expected.
func (l *learner) placeOf(name string) (number int, at geo.Vec, ok bool) {
	if number, ok = l.post.PlaceOfPoint(name); ok {
		at, ok = l.post.ExpectedPoint(name)
		return number, at, ok
	}
	spot := asbuilt.SpotName{Part: name, Spot: asbuilt.Center}
	if number, ok = l.post.Place(spot); ok {
		at, ok = l.post.Expected(spot)
	}
	return number, at, ok
}

// down returns the chance that a rod comes down to a pipe at v, whose depth no hole
// of the log is weighed by.
func (l *learner) down(h *hole, part string, v geo.Vec) func([]float64) float64 {
	p := practice.UnstatedDepth
	if l.depths != nil {
		if d, ok := l.depths.At(part, v, ""); ok && d.Sigma > 0 {
			p = encounter.Above(d, h.depth)
		}
	}
	return func([]float64) float64 { return p }
}

// likely returns the logarithm of the probability of what the stabs felt in a draw.
// A row that is wrong as a whole may have either result.
func (s *stabs) likely(places []geo.Vec, shift []float64) float64 {
	hits, stones := s.in(shift)
	all := 1.0
	for k := range s.number {
		v := places[s.from]
		if s.number > 1 {
			v = v.Lerp(places[s.to], float64(k)/float64(s.number-1))
		}
		all *= s.one(places, shift, v, hits, stones)
	}
	return math.Log((1-practice.RodMislogged)*all + practice.RodMislogged/2)
}

// one returns the probability of what a stab at v felt. A crew that says which part
// that was is now and then wrong about it.
func (s *stabs) one(places []geo.Vec, shift []float64, v geo.Vec, hits, stones float64) float64 {
	nothing, others := 1-stones, 1.0 // chances of no contact, and of none with what it says it was
	for i := range s.may {
		f := &s.may[i]
		within := f.Reach + s.radius
		p := encounter.Within(within-f.Distance(places, v, within+f.Out), f.Out)
		if p == 0 {
			continue
		}
		p *= hits * f.deep(shift)
		nothing *= 1 - p
		if f.plain {
			others *= 1 - p
		}
	}
	switch {
	case s.none:
		return nothing
	case s.plain:
		return (1-practice.StrayHit)*(1-others) + practice.StrayHit*(1-nothing)
	}
	return 1 - nothing
}
