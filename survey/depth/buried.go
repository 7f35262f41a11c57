package depth

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

// buried is a part that has a depth.
type buried struct {
	part   *asbuilt.Part
	line   []geo.Vec // of a lateral or header that has a place, else nil
	length float64   // of line, metres
	centre geo.Vec   // middle of the line, else of the part
	placed bool      // whether it has a place at all

	invert   quantity               // height above the datum of the ground, at its start or its only place
	grade    int                    // unknown: fall per length along it; -1: none
	led      bool                   // header between two parts:
	end      quantity               // its invert at its end
	features map[survey.Feature]int // unknowns: heights of features above the invert
}

// bury makes the unknowns of the ground and of every part that has a depth.
func (m *Model) bury() {
	n := 0.0
	for i := range m.job.Sketch.Parts {
		p := &m.job.Sketch.Parts[i]
		switch p.Kind {
		case asbuilt.Box, asbuilt.Tank, asbuilt.Header, asbuilt.Lateral:
		default:
			continue
		}
		if m.named[p.ID] != nil {
			continue
		}
		b := m.place(p)
		m.parts = append(m.parts, b)
		m.named[p.ID] = b
		if b.placed {
			m.centre, n = m.centre.Add(b.centre), n+1
		}
	}
	m.centre = m.centre.Scale(1 / max(n, 1))
	m.datum = m.unknown(m.meanLevel(), datumSigma)
	m.base = m.unknown(m.meanInvert(), datumSigma)
	m.east, m.north = m.unknown(0, slopeSigma), m.unknown(0, slopeSigma)
	m.fill = m.unknown(fillMean, fillSigma)
	m.record = m.unknown(0, recordSigma)
	m.header = m.unknown(practice.HeaderGrade.Mean, practice.HeaderGrade.Sigma)
	for _, kind := range []asbuilt.Kind{asbuilt.Box, asbuilt.Tank, asbuilt.Lateral, asbuilt.Header} { // those that feed before those that are fed
		for _, b := range m.parts {
			if b.part.Kind == kind {
				m.lay(b)
			}
		}
	}
}

// place finds a part in plan.
func (m *Model) place(p *asbuilt.Part) *buried {
	b := &buried{part: p, grade: -1, features: map[survey.Feature]int{}}
	if p.Kind == asbuilt.Box || p.Kind == asbuilt.Tank {
		b.centre, b.placed = m.places.Spot(p.ID, asbuilt.Center)
		b.placed = b.placed && b.centre.Finite()
		return b
	}
	line := m.places.Line(p.ID)
	for i, v := range line {
		if !v.Finite() {
			return b
		}
		if i > 0 {
			b.length += line[i-1].Dist(v)
		}
	}
	if len(line) > 1 {
		b.line, b.placed = line, true
		b.centre = line[0].Lerp(line[len(line)-1], 0.5)
	}
	return b
}

// lay makes the unknowns of one part.
func (m *Model) lay(b *buried) {
	p := b.part
	switch p.Kind {
	case asbuilt.Box:
		b.invert = one(m.unknown(systemMean, systemSigma))
	case asbuilt.Tank:
		b.invert = one(m.either(0, tankSigma, 0, steppedSigma))
		if box := m.nearest(b.centre, nil, asbuilt.Box); b.placed && box != nil {
			b.invert = b.invert.plus(1, box.invert).plus(box.centre.Dist(b.centre), one(m.header))
			b.invert.constant += inletAbove
		} else {
			b.invert = b.invert.plus(1, m.system())
		}
	case asbuilt.Lateral:
		m.layLateral(b)
	case asbuilt.Header:
		m.layHeader(b)
	}
	m.layFeatures(b)
}

// system returns the height of parts that no box ties together.
func (m *Model) system() quantity { return one(m.share("system", systemMean, systemSigma)) }

// layLateral ties a lateral to the box that feeds it: outlets of one level
// (Ramsey MN 8.30), and the fall of the header from there.
func (m *Model) layLateral(b *buried) {
	p := b.part
	grade, sigma := practice.LateralGrade.Mean, practice.LateralGrade.Sigma
	if p.Grade != nil && !math.IsNaN(*p.Grade) && !math.IsInf(*p.Grade, 0) {
		grade, sigma = *p.Grade, writtenGrade
	}
	b.grade = m.unknown(grade, sigma)
	start := m.either(0, math.Hypot(practice.BoxOutlet.Sigma, levelSigma), steppedMean, steppedSigma)
	var box *buried
	if q := m.job.Sketch.BoxOf(p); q != nil {
		box = m.named[q.ID]
	}
	if box == nil {
		b.invert = one(start).plus(1, m.system())
		return
	}
	if box.part.BoxKind == asbuilt.Drop {
		m.unknowns[start].mean[level], m.unknowns[start].sigma[level] = steppedMean, steppedSigma
	}
	b.invert = one(start).plus(1, box.invert)
	if b.placed && box.placed {
		run := max(0, box.centre.Dist(b.line[0])-practice.BoxSide(box.part)/2)
		b.invert = b.invert.plus(-run, one(m.header))
	}
}

// layHeader lays a header between the parts at its two ends; where only one is
// known it falls by the usual grade of headers.
func (m *Model) layHeader(b *buried) {
	const reach = 3 // metres: between the end of a line as drawn and the middle of what it joins
	var from, to *buried
	if b.placed {
		first, last := b.line[0], b.line[len(b.line)-1]
		if from = m.nearest(first, nil, asbuilt.Box, asbuilt.Tank); from != nil && from.head().Dist(first) > reach {
			from = nil
		}
		if to = m.nearest(last, from, asbuilt.Box, asbuilt.Tank, asbuilt.Lateral); to != nil && to.head().Dist(last) > reach {
			to = nil
		}
	}
	own := one(m.unknown(0, headerSigma))
	if from != nil && to != nil {
		b.led, b.invert, b.end = true, own.plus(1, from.invert), own.plus(1, to.invert)
		if to.part.Kind == asbuilt.Box {
			b.end.constant += inletAbove
		}
		return
	}
	b.grade = m.header
	switch {
	case from != nil:
		b.invert = own.plus(1, from.invert)
	case to != nil:
		b.invert = own.plus(1, to.invert).plus(b.length, one(m.header))
	default:
		b.invert = own.plus(1, m.system())
	}
}

// layFeatures makes the heights of the features of a part above its invert.
func (m *Model) layFeatures(b *buried) {
	p := b.part
	put := func(f survey.Feature, mean, sigma float64) { b.features[f] = m.unknown(mean, sigma) }
	share := func(f survey.Feature, mean, sigma float64) {
		b.features[f] = m.share(string(p.Kind)+" "+string(f)+" "+string(p.Bed), mean, sigma)
	}
	switch p.Kind {
	case asbuilt.Lateral:
		share(survey.Crown, practice.PipeOutside, 0.003)
		share(survey.Top, practice.TopAboveInvert(p.Bed), practice.TopSigma(p.Bed))
		share(survey.Bottom, -practice.BottomBelowInvert(p.Bed), practice.BottomSigma(p.Bed))
	case asbuilt.Header:
		share(survey.Crown, practice.PipeOutside, 0.003)
		b.features[survey.Top] = b.features[survey.Crown]
	case asbuilt.Box: // outlets 4 in above the floor at least (Ramsey MN 8.30)
		put(survey.Top, practice.BoxLid.Mean, practice.BoxLid.Sigma)
		put(survey.Bottom, -0.10, 0.05)
		b.features[survey.Crown] = b.features[survey.Top]
	case asbuilt.Tank: // liquid 4 ft deep and air above it: common practice, no published source
		put(survey.Top, 0.40, 0.15)
		put(survey.Bottom, -1.3, 0.2)
		b.features[survey.Crown] = b.features[survey.Top]
	}
}

// head returns where a line starts, else the middle of the part.
func (b *buried) head() geo.Vec {
	if b.line != nil {
		return b.line[0]
	}
	return b.centre
}

// nearest returns the placed part of the given kinds whose head is nearest to
// v, the first kind where two are equally near, but not the part except; nil
// where there is none.
func (m *Model) nearest(v geo.Vec, except *buried, kinds ...asbuilt.Kind) (near *buried) {
	best := math.Inf(1)
	for _, kind := range kinds {
		for _, b := range m.parts {
			if b.part.Kind != kind || !b.placed || b == except {
				continue
			}
			if d := b.head().Dist(v); d < best {
				near, best = b, d
			}
		}
	}
	return near
}

// station returns the distance in metres along a line from its start to the
// place of it nearest to v.
func (b *buried) station(v geo.Vec) float64 {
	best, at, run := math.Inf(1), 0.0, 0.0
	for i := 1; i < len(b.line); i++ {
		d, u := geo.SegmentDistance(b.line[i-1], b.line[i], v)
		long := b.line[i-1].Dist(b.line[i])
		if d < best {
			best, at = d, run+u*long
		}
		run += long
	}
	return at
}

// depth returns the depth of a feature of a part below today's ground at v.
func (m *Model) depth(b *buried, v geo.Vec, f survey.Feature) quantity {
	q := m.ground(v).plus(-1, b.at(v))
	if i, ok := b.features[f]; ok {
		q = q.plus(-1, one(i))
	}
	return q
}

// at returns the height of the invert at v above the datum of the ground.
func (b *buried) at(v geo.Vec) quantity {
	s := b.station(v)
	switch {
	case b.led && b.length > 0:
		u := s / b.length
		return quantity{}.plus(1-u, b.invert).plus(u, b.end)
	case b.grade >= 0:
		return b.invert.plus(-s, one(b.grade))
	}
	return b.invert
}
