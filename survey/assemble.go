package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
)

// book is a job prepared for the adjustment: the live readings in an order of
// their own that does not depend on the order of the log, the points that they
// name, and the frame they are brought into.
type book struct {
	job      *Job
	readings []Reading
	frame    Frame
	points   []point
	index    map[string]int // of points by name
	sessions map[string]int
	fixSigma []float64 // of each session: standard deviation of its common part
	north    bool      // something tells where north is
	compass  bool      // some bearing is magnetic
}

// newBook prepares a job.
func newBook(job *Job) *book {
	b := &book{job: job, readings: job.Live(), index: map[string]int{}, sessions: map[string]int{}}
	slices.SortStableFunc(b.readings, func(x, y Reading) int {
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.ID, y.ID))
	})
	b.north = job.Sketch.Up != nil || job.Sketch.Plane == asbuilt.WGS84
	accuracy := map[string][]float64{}
	for i := range b.readings {
		r := &b.readings[i]
		for _, name := range []string{r.Point, r.From, r.To} {
			b.name(name, r)
		}
		switch r.Kind {
		case GNSS:
			accuracy[session(r)] = append(accuracy[session(r)], fixAccuracy(r))
		case Bearing:
			b.north = true
			b.compass = b.compass || r.North == MagneticNorth
		}
	}
	for _, k := range slices.Sorted(keys(accuracy)) {
		b.sessions[k] = len(b.fixSigma)
		b.fixSigma = append(b.fixSigma, fixCommon*median(accuracy[k])/geo.Within95)
	}
	b.frame = newFrame(b)
	return b
}

// layoutAt returns the first of the unknowns that lay the drawing on the field.
func (b *book) layoutAt() int { return 2*len(b.points) + 2*len(b.fixSigma) + 1 }

func keys[V any](m map[string]V) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// name makes a point of a name that the sketch does not have.
func (b *book) name(name string, r *Reading) {
	if name == "" || b.job.Sketch.Part(name) != nil {
		return
	}
	i, ok := b.index[name]
	if !ok {
		i = len(b.points)
		b.index[name] = i
		b.points = append(b.points, point{name: name, radius: b.job.Settings.Hole.Radius})
	}
	if r.Radius != nil && (r.Kind == Found || r.Kind == Empty) {
		b.points[i].radius = r.Radius.Metres
	}
}

// session names the satellite session of a fix: who took it, on which day.
func session(r *Reading) string {
	if r.Time.IsZero() {
		return r.By
	}
	return r.By + " " + r.Time.UTC().Format("2006-01-02")
}

// fixAccuracy returns the radius in metres that holds a fix with 95 %.
func fixAccuracy(r *Reading) float64 {
	switch {
	case r.Sigma != nil && r.Sigma.Metres > 0:
		return geo.Within95 * r.Sigma.Metres
	case r.SigmaENU[0] > 0 && r.SigmaENU[1] > 0:
		return geo.Within95 * math.Sqrt((r.SigmaENU[0]*r.SigmaENU[0]+r.SigmaENU[1]*r.SigmaENU[1])/2)
	case r.Accuracy > 0:
		return r.Accuracy
	}
	return usualFix
}

// lookup returns the place that a name stands for: a point of the log, or a
// landmark or part of the sketch by its centre. ok is false for a part without
// one.
func (b *book) lookup(d *drawing, name string) (p place, ok bool) {
	if i, ok := b.index[name]; ok {
		return holePlace(i), true
	}
	k, ok := d.spots[SpotName{name, asbuilt.Center}]
	return place(k), ok
}

// observations returns the observations of a job under an explanation. The
// order is that of the readings, then of the sketch.
func (b *book) observations(d *drawing, e explanation) []observation {
	var obs []observation
	for i := range b.readings {
		obs = append(obs, b.observe(d, i, e)...)
	}
	obs = append(obs, written(d)...)
	if len(e.slips) == 0 {
		return obs
	}
	for i := range obs {
		if s := e.slips[obs[i].id]; s != nil && s.change != nil {
			s.change(&obs[i])
		}
	}
	return slices.DeleteFunc(obs, func(o observation) bool {
		s := e.slips[o.id]
		return s != nil && s.out
	})
}

// observe returns the observations of reading i: the one place where a kind of
// reading becomes equations.
func (b *book) observe(d *drawing, i int, e explanation) []observation {
	r := &b.readings[i]
	o := observation{reading: i, id: r.ID, session: -1}
	pick := func(names ...string) bool {
		to := []*place{&o.p, &o.q, &o.r}
		for j, name := range names {
			p, ok := b.lookup(d, name)
			if !ok {
				return false
			}
			*to[j] = p
		}
		return true
	}
	sigma := func(byDefault float64) float64 {
		if r.Sigma != nil && r.Sigma.Metres > 0 {
			return r.Sigma.Metres
		}
		return byDefault
	}
	switch r.Kind {
	case GNSS:
		if b.frame.Site == nil || !pick(r.Point) {
			return nil
		}
		at := b.frame.Site.Vec(r.Position)
		own := fixOwn * fixAccuracy(r) / geo.Within95
		o.kind, o.value, o.value2, o.sigma, o.sigma2 = position, at.X, at.Y, own, own
		if r.SigmaENU[0] > 0 && r.SigmaENU[1] > 0 && r.Sigma == nil {
			o.sigma, o.sigma2 = fixOwn*r.SigmaENU[0], fixOwn*r.SigmaENU[1]
		}
		o.session = b.sessions[session(r)]
		o.what = "fix " + r.Point
	case Tape:
		if r.Value == nil || !pick(r.From, r.To) || o.p == o.q {
			return nil
		}
		o.kind, o.value, o.sigma, o.read = distance, r.Value.Metres, sigma(tapeSigma(r.Value.Metres)), *r.Value
		if r.Rise != nil {
			o.value2 = r.Rise.Metres
		}
		o.what = fmt.Sprintf("tape %s to %s", r.From, r.To)
	case Baseline:
		if r.Value == nil || r.Offset == nil || !pick(r.From, r.To, r.Point) || o.p == o.q {
			return nil
		}
		o.kind, o.value, o.sigma, o.read = stationOf, r.Value.Metres, sigma(stationSigma(r.Value.Metres, r.Offset.Metres)), *r.Value
		o.what = fmt.Sprintf("%s along %s to %s", r.Point, r.From, r.To)
		across := o
		across.kind, across.value, across.sigma = offsetOf, r.Offset.Metres, sigma(offsetSigma(r.Value.Metres, r.Offset.Metres))
		across.read = *r.Offset
		across.what = fmt.Sprintf("%s square to %s to %s", r.Point, r.From, r.To)
		return []observation{o, across}
	case Bearing:
		if !pick(r.From, r.To) || o.p == o.q {
			return nil
		}
		o.kind, o.value, o.sigma = direction, r.Azimuth.Radians(), bearingSigma
		if r.SigmaA != nil && r.SigmaA.Radians() > 0 {
			o.sigma = r.SigmaA.Radians()
		}
		o.compass = r.North == MagneticNorth
		o.what = fmt.Sprintf("bearing %s to %s", r.From, r.To)
	case Cable:
		if r.Value == nil || !pick(r.From, r.To) || o.p == o.q {
			return nil
		}
		o.kind, o.value, o.read = within, r.Value.Metres, *r.Value
		o.sigma, o.sigma2 = sigma(cableSigma(r.Value.Metres)), cableRatioSigma*math.Max(r.Value.Metres, 1)
		o.what = fmt.Sprintf("cable %s to %s", r.From, r.To)
	case Found:
		if b.pipe(r) || e.loose[r.ID] {
			return nil
		}
		part := b.job.Sketch.Part(cmp.Or(e.met[r.ID], r.Target))
		if part == nil || !pick(r.Point) || o.p >= 0 {
			return nil
		}
		o.what = fmt.Sprintf("%s met %s", r.Point, part.ID)
		return b.found(d, r, part, o, sigma)
	default: // empty, level and condition say nothing of where things lie in plan
		return nil
	}
	return []observation{o}
}

// found returns the observation of a hole o.p that met a part.
func (b *book) found(d *drawing, r *Reading, part *asbuilt.Part, o observation, sigma func(float64) float64) []observation {
	spot := r.Spot
	line, isLine := d.lines[part.ID]
	if spot == "" {
		spot = asbuilt.Center
		if isLine {
			spot = asbuilt.On
		}
	}
	width := partWidth(part)
	if isLine {
		o.line = line
		switch spot {
		case asbuilt.Start, asbuilt.End:
			o.kind, o.q = coincide, place(d.spots[SpotName{part.ID, spot}])
			o.sigma, o.sigma2 = sigma(endAlongSigma), sigma(math.Max(width/4, 0.05))
		case asbuilt.Edge:
			o.kind, o.value, o.sigma, o.sigma2 = besideLine, width/2, sigma(edgeSigma), beyondEndSigma
		default:
			reach := width/2 + b.points[-o.p-1].radius
			o.kind, o.sigma, o.sigma2 = onLine, sigma(uniformSigma(reach)), beyondEndSigma
		}
		return []observation{o}
	}
	k, ok := d.spots[SpotName{part.ID, asbuilt.Center}]
	if !ok {
		return nil
	}
	o.q = place(k)
	o.outline = outline(d, part)
	switch spot {
	case asbuilt.Edge:
		o.kind, o.sigma = onEdge, sigma(edgeSigma)
	case asbuilt.Corner:
		o.kind, o.sigma, o.sigma2 = onCorner, sigma(edgeSigma), sigma(edgeSigma)
	default:
		s := centreSigma
		if part.Kind == asbuilt.Tank {
			s = tankCentreSigma
		}
		o.kind, o.sigma, o.sigma2 = coincide, sigma(s), sigma(s)
	}
	return []observation{o}
}

// partWidth returns the width of a part across its line, or of a box, in metres.
func partWidth(p *asbuilt.Part) float64 {
	switch {
	case p.Kind == asbuilt.Lateral && p.Width != nil:
		return p.Width.Metres
	case p.Kind == asbuilt.Lateral:
		return practice.TrenchWidth(p.Bed)
	case p.Kind == asbuilt.Box && p.Size != nil:
		return p.Size.Metres
	case p.Kind == asbuilt.Box:
		return practice.BoxSize
	}
	return practice.PipeOutside
}

// outline returns the shape of a box or tank about its centre, in drawing
// units in the axes of the sheet as the drawing d has them: as drawn, or for a
// drawn point a square of its size along the laterals.
func outline(d *drawing, p *asbuilt.Part) []geo.Vec {
	if p.Shapes[0].Form == asbuilt.Polygon {
		c, _ := p.Point(asbuilt.Center)
		var ring []geo.Vec
		for _, v := range p.Shapes[0].Vertices {
			ring = append(ring, d.lay(v, groupOf(p.Kind)).Sub(d.lay(c, groupOf(p.Kind))))
		}
		return ring
	}
	e, _ := d.direction()
	h := d.reach(partWidth(p) / 2)
	if p.Kind == asbuilt.Tank {
		h = d.reach(0.9) // half a usual tank's width; it is drawn as a point
	}
	e = e.Scale(h)
	r := e.Right()
	return []geo.Vec{e.Add(r), e.Sub(r), e.Add(r).Scale(-1), r.Sub(e)}
}

// writtenPrefix begins the id of what is written on the sheet, where a reading
// has the id of its row.
const writtenPrefix = "sketch:"

// written returns what is written on the sheet as observations of their own.
func written(d *drawing) (obs []observation) {
	for i := range d.sketch.Parts {
		p := &d.sketch.Parts[i]
		if line := d.lines[p.ID]; line != nil && p.Length != nil && p.Length.Metres > 0 {
			obs = append(obs, observation{kind: length, reading: -1, session: -1, line: line,
				id: writtenPrefix + p.ID + ".length", what: "written length of " + p.ID,
				value: p.Length.Metres, read: *p.Length, sigma: writtenLengthSigma(p.Length.Metres)})
		}
		for _, t := range p.Ties {
			from, ok := d.spots[SpotName{d.crewName(t.From), asbuilt.Center}]
			if !ok || t.Distance.Metres <= 0 {
				continue
			}
			o := observation{kind: distance, reading: -1, session: -1, p: place(from),
				id:    fmt.Sprintf("%s%s.%s.%s", writtenPrefix, p.ID, t.At, t.From),
				what:  fmt.Sprintf("written tie %s to %s of %s", t.From, t.At, p.ID),
				value: t.Distance.Metres, read: t.Distance, sigma: writtenTieSigma(t.Distance.Metres)}
			at := t.At
			if at == asbuilt.Corner {
				at = asbuilt.Center
				o.kind, o.outline = tied, outline(d, p)
			}
			to, ok := d.spots[SpotName{p.ID, at}]
			if !ok {
				continue
			}
			o.q = place(to)
			obs = append(obs, o)
		}
	}
	return obs
}
