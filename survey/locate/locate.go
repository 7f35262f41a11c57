package locate

import (
	"context"
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/belief"
	"asfound/survey/depth"
	"asfound/survey/fit"
	"asfound/survey/posterior"
)

// Locate works out where everything of a fitted job lies. It returns an error
// where the depths cannot be worked out, and where ctx is done.
func Locate(ctx context.Context, job *survey.Job, solved *fit.Fit) (*Location, error) {
	l, err := learn(ctx, job, solved)
	if err != nil {
		return nil, err
	}
	for i := range job.Sketch.Parts {
		if err := l.part(ctx, &job.Sketch.Parts[i]); err != nil {
			return nil, err
		}
	}
	l.holes()
	return l.Location, nil
}

// Sought locates only the spots of what the job seeks, and always by an
// ellipse: enough for a first look.
func Sought(ctx context.Context, job *survey.Job, solved *fit.Fit) (*Location, error) {
	l, err := learn(ctx, job, solved)
	if err != nil {
		return nil, err
	}
	l.plain = true
	for i := range job.Sketch.Parts {
		if p := &job.Sketch.Parts[i]; job.Settings.Seeks(p.ID, p.Kind) {
			if err := l.part(ctx, p); err != nil {
				return nil, err
			}
		}
	}
	return l.Location, nil
}

// learn updates the belief of a fit with the holes, and works out the depths.
func learn(ctx context.Context, job *survey.Job, solved *fit.Fit) (*locator, error) {
	l := &locator{
		Location: &Location{Job: job, Fit: solved, Frame: solved.Frame},
		post:     posterior.Of(solved),
		seen:     map[asbuilt.SpotName]bool{},
		readings: solved.HasReadings(),
	}
	if err := l.post.Ready(ctx); err != nil {
		return nil, err
	}
	m, err := depth.Solve(ctx, job, newPlaces(job, l.post))
	if err != nil {
		return nil, err
	}
	l.mirrored = l.post.MirroredOdds()
	if l.belief, err = belief.Learn(ctx, job, l.post, m); err != nil {
		return nil, err
	}
	l.post = l.belief.Posterior
	if l.belief.Counts { // parts, and what was met, may lie elsewhere now
		if m, err = depth.Solve(ctx, job, newPlaces(job, l.post)); err != nil {
			return nil, err
		}
	}
	l.met()
	l.depths, l.Excluded = m, 1-l.belief.Left
	l.learnt()
	l.promised()
	if v, _, ok := m.Fill(); ok {
		l.Fill = &v
	}
	l.DepthSuspects = m.Suspects()
	l.Posterior = l.post
	return l, nil
}

// places is the posterior in the form that the depths need.
type places struct {
	post  *posterior.Posterior
	sigma map[string]float64 // of each part, as it was when the depths were worked out; it is asked for often
}

func newPlaces(job *survey.Job, post *posterior.Posterior) places {
	p := places{post, map[string]float64{}}
	for i := range job.Sketch.Parts {
		id := job.Sketch.Parts[i].ID
		p.sigma[id] = post.Sigma(id)
	}
	return p
}

// Spot implements depth.Places.
func (p places) Spot(part string, spot asbuilt.Spot) (geo.Vec, bool) {
	return p.post.Expected(asbuilt.SpotName{Part: part, Spot: spot})
}

// Line implements depth.Places.
func (p places) Line(part string) []geo.Vec { return p.post.ExpectedLine(part) }

// Point implements depth.Places.
func (p places) Point(name string) (geo.Vec, bool) {
	if v, ok := p.post.ExpectedPoint(name); ok {
		return v, true
	}
	return p.post.Expected(asbuilt.SpotName{Part: name, Spot: asbuilt.Center})
}

// Met implements depth.Places.
func (p places) Met(reading string) string { return p.post.Met(reading) }

// Sigma implements depth.Places.
func (p places) Sigma(part string) float64 { return p.sigma[part] }

// locator gathers a location.
type locator struct {
	*Location
	post     *posterior.Posterior
	draws    *posterior.Draws // of a belief of several explanations, nil: not needed yet
	seen     map[asbuilt.SpotName]bool
	readings bool
	plain    bool // ellipses will do

	mirrored float64 // probability before the holes that met nothing
}

// met notes the spots that holes met. A hole somewhere on a line shows that
// the line is there, but neither of its ends.
func (l *locator) met() {
	for _, r := range l.Job.Live() {
		if r.Kind != survey.Found {
			continue
		}
		part := l.post.Met(r.ID)
		p := l.Job.Sketch.Part(part)
		if p == nil {
			continue
		}
		spot := r.Spot
		switch {
		case spot == "" && (p.Kind == asbuilt.Lateral || p.Kind == asbuilt.Header):
			spot = asbuilt.On
		case spot != asbuilt.Start && spot != asbuilt.End && p.Shapes[0].Form != asbuilt.Line:
			spot = asbuilt.Center
		}
		l.seen[asbuilt.SpotName{Part: part, Spot: spot}] = true
		if spot == asbuilt.Edge {
			l.seen[asbuilt.SpotName{Part: part, Spot: asbuilt.On}] = true
		}
	}
}

// state returns what the location of a spot rests on.
func (l *locator) state(p *asbuilt.Part, spot asbuilt.Spot) State {
	switch {
	case p.Kind == asbuilt.Landmark, l.seen[asbuilt.SpotName{Part: p.ID, Spot: spot}]:
		return Seen
	case l.readings:
		return Inferred
	}
	return Recorded
}

// lineState returns what the location of a line rests on.
func (l *locator) lineState(p *asbuilt.Part) State {
	for _, s := range []asbuilt.Spot{asbuilt.On, asbuilt.Start, asbuilt.End} {
		if l.seen[asbuilt.SpotName{Part: p.ID, Spot: s}] {
			return Seen
		}
	}
	return l.state(p, asbuilt.On)
}

// part locates one part of the sketch.
func (l *locator) part(ctx context.Context, p *asbuilt.Part) error {
	o := Outline{Part: p.ID, Kind: p.Kind, Name: p.Name, State: l.state(p, asbuilt.Center)}
	var near *asbuilt.SpotName
	switch p.Kind {
	case asbuilt.Landmark, asbuilt.Tank, asbuilt.Box, asbuilt.Port:
		near = &asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}
		if err := l.spot(ctx, p, asbuilt.Center); err != nil {
			return err
		}
	case asbuilt.Lateral, asbuilt.Header:
		for _, end := range []asbuilt.Spot{asbuilt.Start, asbuilt.End} {
			if err := l.spot(ctx, p, end); err != nil {
				return err
			}
		}
		o.State = l.lineState(p)
		l.corridor(p, o.State)
	}
	line := l.post.ExpectedLine(p.ID)
	for i, s := range p.Shapes {
		now, old := geo.Outline{Closed: s.Form == asbuilt.Polygon}, geo.Outline{Closed: s.Form == asbuilt.Polygon}
		for k, v := range s.Vertices {
			old.Vertices = append(old.Vertices, l.post.AsDrawn(v))
			if i == 0 && len(line) == len(s.Vertices) {
				now.Vertices = append(now.Vertices, line[k])
				continue
			}
			now.Vertices = append(now.Vertices, l.post.Laid(v, p.Kind, near))
		}
		o.Now, o.Old = append(o.Now, now), append(o.Old, old)
		for _, v := range s.Vertices {
			o.Sigma = max(o.Sigma, l.post.SurroundingSigma(v))
		}
	}
	if near != nil || line != nil {
		o.Sigma = l.post.Sigma(p.ID)
	}
	if p.Clearance != nil {
		o.Clearance = p.Clearance.Metres
	}
	l.Outlines = append(l.Outlines, o)
	return nil
}

// spot locates one spot of a part.
func (l *locator) spot(ctx context.Context, p *asbuilt.Part, spot asbuilt.Spot) error {
	g, ok := l.post.Spot(asbuilt.SpotName{Part: p.ID, Spot: spot})
	if !ok {
		return nil
	}
	s := Spot{Part: p.ID, Kind: p.Kind, Spot: spot, State: l.state(p, spot), At: g.At,
		Ellipse: g.Ellipse, Radius95: g.Radius95, FromLandmarks: g.FromLandmarks, Landmarks95: g.Landmarks95}
	if v, ok := p.Point(spot); ok {
		s.Old = l.post.AsDrawn(v)
	}
	if d, ok := l.DepthAt(p.ID, g.At); ok {
		s.Depth = &d
	}
	if p.Kind != asbuilt.Landmark && !l.plain {
		if err := l.lobes(ctx, &s); err != nil {
			return err
		}
	}
	l.Spots = append(l.Spots, s)
	return nil
}

// crude is how much larger an ellipse may be than the region of highest density
// with the same probability before it describes the belief badly.
const crude = 1.3

// lobes finds where a spot may lie where one ellipse would describe that badly.
func (l *locator) lobes(ctx context.Context, s *Spot) (err error) {
	if err := ctx.Err(); err != nil {
		return err
	}
	name := asbuilt.SpotName{Part: s.Part, Spot: s.Spot}
	sample := l.post.Sample(name)
	if sample == nil && l.post.Apart(name) {
		const ways = 1000
		if l.draws == nil {
			if l.draws, err = l.post.Draws(ctx, ways); err != nil {
				return err
			}
		}
		sample = l.draws.Spots[name]
	}
	r, ok := belief.HighestDensity(sample)
	if !ok || math.Pi*s.FromLandmarks.SemiMajor*s.FromLandmarks.SemiMinor < crude*r.Most.Area() {
		return nil
	}
	if s.Half, s.Most = r.Half, r.Most; len(r.Lobes) > 1 {
		s.Lobes = r.Lobes
	}
	return nil
}

// corridor locates the strip about a line.
func (l *locator) corridor(p *asbuilt.Part, state State) {
	strip, ok := l.post.Line(p.ID)
	if !ok {
		return
	}
	c := Corridor{Part: p.ID, Kind: p.Kind, State: state, Line: strip.At, Width: practice.PipeOutside}
	if p.Kind == asbuilt.Lateral {
		c.Width = practice.Width(p)
	}
	for i, v := range strip.At {
		c.Half = append(c.Half, strip.Half[i]+c.Width/2)
		d, _ := l.DepthAt(p.ID, v)
		c.Depth = append(c.Depth, d)
	}
	l.Corridors = append(l.Corridors, c)
}

// DepthAt returns the expected depth of the top of a part (the crown of a
// header) below today's ground at a plan place; ok is false for a part that has
// none.
func (l *Location) DepthAt(part string, v geo.Vec) (d Depth, ok bool) {
	return l.DepthTo(part, v, "")
}

// DepthCorrelation returns the correlations of the depths of parts, each at a plan
// place (depth.Model.Correlation); nil where no depths were worked out.
func (l *Location) DepthCorrelation(parts []string, at []geo.Vec) [][]float64 {
	if l.depths == nil {
		return nil
	}
	return l.depths.Correlation(parts, at)
}

// DepthTo returns the expected depth of a feature of a part below today's
// ground at a plan place; ok is false for a part that has none, and where no
// depths were worked out.
func (l *Location) DepthTo(part string, v geo.Vec, f survey.Feature) (d Depth, ok bool) {
	if l.depths == nil {
		return Depth{}, false
	}
	d, ok = l.depths.At(part, v, f)
	if ok && l.belief != nil {
		d = l.belief.Depth(part, d)
	}
	return d, ok
}

// holes lists the holes of the log.
func (l *locator) holes() {
	for _, r := range l.Job.Live() {
		if r.Kind != survey.Found && r.Kind != survey.Empty {
			continue
		}
		g, ok := l.post.Point(r.Point)
		if !ok {
			continue
		}
		h := Hole{Name: r.Point, At: g.At, Ellipse: g.FromLandmarks, Radius: l.Job.HoleRadius(&r), Spot: r.Spot, Feature: r.Feature, Stopped: r.Stopped}
		if r.Depth != nil {
			h.Depth = &r.Depth.Metres
		}
		if r.Kind == survey.Found {
			if h.Met = l.post.Met(r.ID); h.Met == "" { // a header that the sketch does not have
				h.Met = r.Target
			}
		}
		l.Holes = append(l.Holes, h)
	}
}
