package depth

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

// Solve works out the depths of a job whose parts lie where at says. Parts and
// points without a place are passed over.
func Solve(job *survey.Job, at Places) (*Model, error) {
	m := &Model{job: job, places: at, names: map[string]int{}}
	n := 0.0
	for i := range job.Sketch.Parts {
		if v, ok := m.middle(&job.Sketch.Parts[i]); ok {
			m.centre, n = m.centre.Add(v), n+1
		}
	}
	if n > 0 {
		m.centre = m.centre.Scale(1 / n)
	}
	for i := range job.Sketch.Parts {
		m.record(&job.Sketch.Parts[i])
	}
	live := job.Live()
	for i := range live {
		m.reading(&live[i])
	}
	return m, m.condition()
}

// buried reports whether a part has a depth.
func buried(p *asbuilt.Part) bool {
	switch p.Kind {
	case asbuilt.Box, asbuilt.Tank, asbuilt.Header, asbuilt.Lateral:
		return true
	}
	return false
}

// middle returns the middle of a buried part in plan.
func (m *Model) middle(p *asbuilt.Part) (geo.Vec, bool) {
	if !buried(p) {
		return geo.Vec{}, false
	}
	if line := m.places.Line(p.ID); len(line) > 1 {
		return line[0].Lerp(line[len(line)-1], 0.5), true
	}
	return m.places.Spot(p.ID, asbuilt.Center)
}

// record takes what the sketch says of a part: its cover, or where it says
// nothing what is usual, and its invert.
func (m *Model) record(p *asbuilt.Part) {
	v, ok := m.middle(p)
	if !ok {
		return
	}
	fill := m.unknown("fill", fillMean, fillSigma)
	add := func(f survey.Feature, value, sigma float64, what string) {
		// The record was of the ground before the fill.
		q := m.depth(p, v, f)
		q.coef.add(fill, -1)
		m.obs = append(m.obs, observation{q, "sketch:" + p.ID + ".cover", what, value, sigma})
	}
	f := survey.Top
	if p.Kind == asbuilt.Lateral || p.Kind == asbuilt.Header {
		f = survey.Crown
	}
	switch {
	case p.Cover != nil:
		add(f, p.Cover.Metres, coverSigma, "recorded cover of "+p.ID)
	case p.Kind == asbuilt.Lateral && !m.covered():
		// One usual cover for the field, not one for each trench: they were
		// dug alike.
		usual := m.unknown("usual cover", practice.Cover.Mean, practice.Cover.Sigma)
		q := m.depth(p, v, f)
		q.coef.add(fill, -1)
		q.coef.add(usual, -1)
		m.obs = append(m.obs, observation{q, "sketch:" + p.ID + ".cover", "usual cover of " + p.ID, 0, coverSigma})
	case p.Kind == asbuilt.Box && !m.covered():
		add(f, practice.BoxCover.Mean, math.Hypot(practice.BoxCover.Sigma, 0.1), "usual cover of "+p.ID)
	case p.Kind == asbuilt.Tank:
		add(f, practice.TankCover.Mean, math.Hypot(practice.TankCover.Sigma, 0.1), "usual cover of "+p.ID)
	}
	if p.Invert != nil {
		q := m.invert(p, v)
		q.coef.add(m.unknown("record datum", 0, datumSigma), 1)
		m.obs = append(m.obs, observation{q, "sketch:" + p.ID + ".invert", "recorded invert of " + p.ID, p.Invert.Metres, 0.03})
	}
}

// covered reports whether the sketch records a cover of any lateral or box.
func (m *Model) covered() bool {
	for i := range m.job.Sketch.Parts {
		if p := &m.job.Sketch.Parts[i]; p.Cover != nil && (p.Kind == asbuilt.Lateral || p.Kind == asbuilt.Box) {
			return true
		}
	}
	return false
}

// reading takes a level or the depth of a hole that met a part.
func (m *Model) reading(r *survey.Reading) {
	v, ok := m.places.Point(r.Point)
	if !ok {
		return
	}
	sigma := func(byDefault float64) float64 {
		if r.Kind == survey.Level && r.Sigma != nil && r.Sigma.Metres > 0 {
			return r.Sigma.Metres
		}
		return byDefault
	}
	switch {
	case r.Kind == survey.Level && r.Value != nil:
		m.obs = append(m.obs, observation{m.ground(v), r.ID, "level of " + r.Point, r.Value.Metres, sigma(levelSigma)})
	case r.Kind == survey.Found && r.Depth != nil:
		p := m.job.Sketch.Part(r.Target)
		if p == nil {
			p = m.job.Sketch.Part(m.places.Met(r.ID))
		}
		if p == nil || !buried(p) {
			return
		}
		f := feature(p, r.Feature)
		s := crownSigma
		if f == survey.Bottom || f == survey.Top && p.Kind == asbuilt.Lateral && p.Bed != asbuilt.Chamber {
			s = softSigma
		}
		m.obs = append(m.obs, observation{m.depth(p, v, f), r.ID, "depth of " + p.ID + " at " + r.Point, r.Depth.Metres, s})
	}
}

// invert returns the height of a part's invert at v above the job's datum.
func (m *Model) invert(p *asbuilt.Part, v geo.Vec) quantity {
	var q quantity
	q.coef.add(m.unknown("datum", 0, datumSigma), 1)
	box := p
	if p.Kind != asbuilt.Box {
		box = m.box(p)
	}
	system := "system"
	stepped := box != nil && box.BoxKind == asbuilt.Drop
	if stepped {
		system = "system " + box.ID
	}
	if p.Kind == asbuilt.Lateral && stepped { // each follows its own contour
		system = "trench " + p.ID
	}
	q.coef.add(m.unknown(system, 0, pipeSigma), 1)
	switch p.Kind {
	case asbuilt.Lateral:
		q.coef.add(m.unknown("outlet "+p.ID, 0, practice.BoxOutlet.Sigma+0.01), 1)
		if !stepped {
			q.coef.add(m.unknown("header grade", practice.HeaderGrade.Mean, practice.HeaderGrade.Sigma), -m.headerRun(p, box))
		}
		grade := practice.LateralGrade
		if p.Grade != nil {
			grade.Mean, grade.Sigma = *p.Grade, 0.0015
		}
		q.coef.add(m.unknown("grade "+p.ID, grade.Mean, grade.Sigma), -m.station(p, v))
	case asbuilt.Header:
		q.coef.add(m.unknown("header grade", practice.HeaderGrade.Mean, practice.HeaderGrade.Sigma), -m.fall(p, v, box))
	case asbuilt.Tank:
		run := 0.0
		if box != nil {
			if c, ok := m.places.Spot(box.ID, asbuilt.Center); ok {
				run = c.Dist(v)
			}
		}
		q.coef.add(m.unknown("header grade", practice.HeaderGrade.Mean, practice.HeaderGrade.Sigma), run)
		q.coef.add(m.unknown("tank "+p.ID, 0.03, 0.10), 1)
	}
	return q
}

// box returns the box of a part: the one that feeds a lateral, else the
// nearest; nil where there is none.
func (m *Model) box(p *asbuilt.Part) *asbuilt.Part {
	if p.Kind == asbuilt.Lateral {
		return m.job.Sketch.BoxOf(p)
	}
	v, ok := m.middle(p)
	if !ok {
		return nil
	}
	var near *asbuilt.Part
	best := math.Inf(1)
	for i := range m.job.Sketch.Parts {
		b := &m.job.Sketch.Parts[i]
		if c, ok := m.places.Spot(b.ID, asbuilt.Center); ok && b.Kind == asbuilt.Box && c.Dist(v) < best {
			near, best = b, c.Dist(v)
		}
	}
	return near
}

// headerRun returns the length in metres from a box to the start of a lateral.
func (m *Model) headerRun(p, box *asbuilt.Part) float64 {
	if box == nil {
		return 0
	}
	c, ok := m.places.Spot(box.ID, asbuilt.Center)
	s, ok2 := m.places.Spot(p.ID, asbuilt.Start)
	if !ok || !ok2 {
		return 0
	}
	return math.Max(0, c.Dist(s)-practice.BoxSide(box)/2)
}

// fall returns the run in metres over which a header falls from the box to v,
// negative above the box.
func (m *Model) fall(p *asbuilt.Part, v geo.Vec, box *asbuilt.Part) float64 {
	line := m.places.Line(p.ID)
	if box == nil || len(line) < 2 {
		return 0
	}
	c, ok := m.places.Spot(box.ID, asbuilt.Center)
	if !ok {
		return 0
	}
	run := c.Dist(v)
	if line[len(line)-1].Dist(c) < line[0].Dist(c) { // it flows towards the box
		return -run
	}
	return run
}

// station returns the distance in metres along a lateral from its start to the
// place of it nearest to v.
func (m *Model) station(p *asbuilt.Part, v geo.Vec) float64 {
	line := m.places.Line(p.ID)
	best, at, run := math.Inf(1), 0.0, 0.0
	for i := 1; i < len(line); i++ {
		d, u := geo.SegmentDistance(line[i-1], line[i], v)
		long := line[i-1].Dist(line[i])
		if d < best {
			best, at = d, run+u*long
		}
		run += long
	}
	return at
}

// depth returns the depth of a feature of a part below today's ground at v.
func (m *Model) depth(p *asbuilt.Part, v geo.Vec, f survey.Feature) quantity {
	q := m.ground(v).less(m.invert(p, v))
	up := func(name string, mean, sigma float64) { // height of the feature above the invert
		q.coef.add(m.unknown(name, mean, sigma), -1)
	}
	pipe := p.Kind == asbuilt.Header
	lateral := p.Kind == asbuilt.Lateral
	switch {
	case f == survey.Invert:
	case f == survey.Crown && (pipe || lateral):
		up("pipe", practice.PipeOutside, 0.003)
	case f == survey.Top && lateral:
		up("top "+string(p.Bed), practice.TopAboveInvert(p.Bed), practice.TopSigma(p.Bed))
	case f == survey.Bottom && lateral:
		up("bottom "+string(p.Bed), -practice.BottomBelowInvert(p.Bed), practice.BottomSigma(p.Bed))
	case f == survey.Top && pipe:
		up("pipe", practice.PipeOutside, 0.003)
	case f == survey.Bottom && pipe:
	case p.Kind == asbuilt.Box && f == survey.Bottom:
		up("floor "+p.ID, -0.10, 0.05)
	case p.Kind == asbuilt.Box:
		up("lid "+p.ID, practice.BoxLid.Mean, practice.BoxLid.Sigma)
	case f == survey.Bottom:
		up("floor "+p.ID, -1.3, 0.2)
	default:
		up("lid "+p.ID, 0.40, 0.15)
	}
	return q
}

// At returns the expected depth of a feature of a part at the plan place v; f
// empty is the crown of a header, the top of everything else. ok is false for
// a part that has no depth.
func (m *Model) At(part string, v geo.Vec, f survey.Feature) (d Depth, ok bool) {
	p := m.job.Sketch.Part(part)
	if p == nil || !buried(p) {
		return Depth{}, false
	}
	f = feature(p, f)
	mean, variance := m.predict(m.depth(p, v, f))
	off := slopeSigma * m.places.Sigma(part)
	return Depth{mean, math.Sqrt(variance + off*off), f}, true
}
