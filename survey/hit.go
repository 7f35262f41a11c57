package survey

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
)

// A hole that met a line between its ends lies in a strip with sharp sides and
// ends, on one of several lines where the crew could not tell which, and what
// is sought may lie anywhere along. A Gaussian stands in for that well enough
// to judge readings and sheet by, and where the ends are far off; but near an
// end it holds the line fast where it should only stop it. So the belief takes
// such holes out of the fit again and weighs them as evidence. Headers, which
// are short and all run together at the box, the fit does without.

// lines returns the laterals or headers that a hole may have met between their
// ends, by the reading of it; nil where a reading is of no such hole.
func (b *book) lines(r *Reading) (ids []string) {
	if r.Kind != Found || r.Spot != "" && r.Spot != asbuilt.On && !(r.Spot == asbuilt.Edge && b.kind(r) == asbuilt.Header) {
		return nil
	}
	kind := b.kind(r)
	if kind != asbuilt.Lateral && kind != asbuilt.Header {
		return nil
	}
	if b.job.Sketch.Part(r.Target) != nil {
		return []string{r.Target}
	}
	for i := range b.job.Sketch.Parts {
		if p := &b.job.Sketch.Parts[i]; p.Kind == kind {
			ids = append(ids, p.ID)
		}
	}
	return ids
}

// kind returns what a reading says was met.
func (b *book) kind(r *Reading) asbuilt.Kind {
	if p := b.job.Sketch.Part(r.Target); p != nil {
		return p.Kind
	}
	return asbuilt.Kind(r.Target)
}

// pipe reports whether a reading is of a hole on a header, which the fit does
// without.
func (b *book) pipe(r *Reading) bool { return b.kind(r) == asbuilt.Header && len(b.lines(r)) > 0 }

// loosen fits the likely explanations without the holes that met a line between
// its ends, under all suppositions; nil where there are none. Holes that may
// hold a slip stay as they are in the fit.
func (p *Prepared) loosen(b *book, beam []component) ([]component, error) {
	loose := map[string]bool{}
	for i := range b.readings {
		r := &b.readings[i]
		slips := slices.ContainsFunc(beam, func(c component) bool { return c.explanation.slips[r.ID] != nil })
		if len(b.lines(r)) > 0 && !b.pipe(r) && !slips && b.unsettled(beam, r) {
			loose[r.ID] = true
		}
	}
	if len(loose) == 0 {
		return nil, nil
	}
	var all []component
	seen := map[string]bool{}
	for _, c := range beam {
		e := b.loosened(c.explanation, loose)
		key := e.key()
		if seen[key] {
			continue
		}
		seen[key] = true
		n, _, err := p.solve(b, e, c.solution.Y)
		if err != nil {
			continue
		}
		all = append(all, n)
	}
	if len(all) == 0 {
		return nil, nil
	}
	return p.spread(prune(all, keptExplanations, keptOdds))
}

// unsettled reports whether it is left open which line the hole of a reading
// met, or whether an end of that line is held by it.
func (b *book) unsettled(beam []component, r *Reading) bool {
	if b.job.Sketch.Part(r.Target) == nil {
		return true
	}
	return slices.ContainsFunc(beam, func(c component) bool { return c.held(r.ID) })
}

// held reports whether a limit of a reading was reached in the fit.
func (c *component) held(id string) bool {
	row := 0
	for i := range c.network.observations {
		o := &c.network.observations[i]
		for k := range equations[o.kind].rows {
			if index, _ := c.solution.Rows.Row(row); o.id == id && o.limit(k) && len(index) > 0 {
				return true
			}
			row++
		}
	}
	return false
}

// loosened returns an explanation that leaves readings out.
func (b *book) loosened(e explanation, loose map[string]bool) explanation {
	met := map[string]string{}
	for i := range b.readings {
		r := &b.readings[i]
		part, ok := e.met[r.ID]
		if !ok {
			continue
		}
		if !loose[r.ID] {
			met[r.ID] = part
		} else if b.job.Sketch.Part(r.Target) == nil {
			e.prior += math.Log(float64(len(b.lines(r))))
		}
	}
	e.met, e.loose = met, loose
	return e
}

// Lines returns the laterals or headers that the hole of a reading may have met
// between their ends, where the belief is to weigh that as evidence; nil for
// any other reading.
func (p *Posterior) Lines(r *Reading) []string {
	b := p.fit.book
	if !b.pipe(r) && (len(p.fit.loose) == 0 || !p.fit.loose[0].explanation.loose[r.ID]) {
		return nil
	}
	return b.lines(r)
}

// nearest returns the line of several that passes nearest to a place, by the
// places of the drawing.
func (d *drawing) nearest(ids []string, at []geo.Vec, v geo.Vec) (id string) {
	best := math.Inf(1)
	for _, k := range ids {
		line := d.lines[k]
		for i := 1; i < len(line); i++ {
			if far, _ := geo.SegmentDistance(at[line[i-1]], at[line[i]], v); far < best {
				best, id = far, k
			}
		}
	}
	return id
}

// lineOdds returns how likely each line is the one that a hole met, by the
// fit: for every explanation that which passes nearest.
func (f *Fit) lineOdds(r *Reading, ids []string) map[string]float64 {
	i, ok := f.book.index[r.Point]
	if !ok {
		return nil
	}
	weight := map[string]float64{}
	for k := range f.components {
		c := &f.components[k]
		at := c.places()
		weight[c.network.drawing.nearest(ids, at, at[len(c.network.drawing.nodes)+i])] += c.weight
	}
	return weight
}

// lineOdds returns the same once evidence is in: from the draws.
func (p *Posterior) lineOdds(r *Reading, ids []string) map[string]float64 {
	hole, ok := p.PlaceOfPoint(r.Point)
	if !ok {
		return nil
	}
	if weight := p.metLine[r.ID]; weight != nil {
		return weight
	}
	weight := map[string]float64{}
	d := p.drawing()
	at := make([]geo.Vec, len(p.draws.at))
	for i := range p.draws.N {
		for k := range at {
			at[k] = p.draws.at[k][i]
		}
		weight[d.nearest(ids, at, at[hole])] += 1 / float64(p.draws.N)
	}
	p.metLine[r.ID] = weight
	return weight
}
