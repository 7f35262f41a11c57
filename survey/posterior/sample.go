package posterior

import (
	"context"
	"math"
	"slices"
	"sync"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
)

// sample is a belief after evidence that no Gaussian describes: draws of equal
// weight.
type sample struct {
	from     *mixture // that it was drawn from
	evidence Evidence
	all      *Draws
	lift     geo.Vec // brings draws, which lie on the landmarks of the first member, onto the expected ones

	met map[string]func() map[string]float64 // lineOdds of each reading that may have met a line, worked out once asked for
}

// newSample returns the belief of a mixture after evidence, and what that
// changed.
func newSample(ctx context.Context, m *mixture, e Evidence) (*sample, Learned, error) {
	d, learned, err := m.after(ctx, beliefDraws, e)
	if err != nil {
		return nil, Learned{}, err
	}
	s := &sample{from: m, evidence: e, all: d, met: map[string]func() map[string]float64{}}
	if !learned.Counts {
		return s, learned, nil
	}
	for _, k := range m.datum {
		off := m.expected(k).Sub(m.members[0].at[k].Add(m.shift))
		s.lift = s.lift.Add(off.Scale(1 / float64(len(m.datum))))
	}
	log := m.fit.Log()
	for i := range log.Readings {
		if r := &log.Readings[i]; len(log.Lines(r)) > 0 {
			s.met[r.ID] = sync.OnceValue(func() map[string]float64 { return s.nearest(r) })
		}
	}
	return s, learned, nil
}

// after returns n draws after evidence, and what the evidence changed.
func (m *mixture) after(ctx context.Context, n int, e Evidence) (*Draws, Learned, error) {
	s, err := newPopulation(ctx, m, n, e)
	if err != nil {
		return nil, Learned{}, err
	}
	learned, err := s.learn(ctx, e)
	if err != nil {
		return nil, Learned{}, err
	}
	return s.draws(), learned, nil
}

// expected implements belief.
func (s *sample) expected(place int) geo.Vec { return geo.Mean(s.all.at[place]).Add(s.lift) }

// region implements belief.
func (s *sample) region(i int) Region {
	rel := s.all.at[i]
	at := geo.Mean(rel)
	r := Region{At: at.Add(s.lift), Relative: moment(rel, at)}
	r.FromLandmarks, r.Landmarks95 = sampledEllipse(rel, at, r.Relative), sampledRadius(rel, at)
	r.rel = drawn{rel, r.Relative}
	r.abs, r.Cov, r.Ellipse, r.Radius95 = r.rel, r.Relative, r.FromLandmarks, r.Landmarks95
	if s.from.fit.Frame.Kind == survey.Geodetic {
		abs := s.all.frame[i]
		m := geo.Mean(abs)
		r.Cov = moment(abs, m)
		r.abs = drawn{abs, r.Cov}
		r.Ellipse, r.Radius95 = sampledEllipse(abs, m, r.Cov), sampledRadius(abs, m)
	}
	return r
}

// relative implements belief.
func (s *sample) relative(place int) geo.Cov {
	return moment(s.all.at[place], geo.Mean(s.all.at[place]))
}

// strip implements belief: of the shape of the standard deviations across, it
// holds 95 % of the draws as whole lines, at every vertex.
func (s *sample) strip(nodes []int) (t Strip) {
	for _, k := range nodes {
		t.At = append(t.At, geo.Mean(s.all.at[k]))
	}
	far := make([]float64, s.all.N)
	for v, k := range nodes {
		across := t.across(v)
		sd := moment(s.all.at[k], t.At[v]).Along(across)
		t.Half = append(t.Half, sd)
		for i, w := range s.all.at[k] {
			if sd > 0 {
				far[i] = math.Max(far[i], math.Abs(w.Sub(t.At[v]).Dot(across))/sd)
			}
		}
	}
	k := quantile95(far)
	for v := range t.At {
		t.At[v], t.Half[v] = t.At[v].Add(s.lift), t.Half[v]*k
	}
	return t
}

// odds implements belief.
func (s *sample) odds(property func(*fit.Explanation) string) map[string]float64 {
	weight := map[string]float64{}
	for _, m := range s.all.Member {
		weight[property(s.from.explanations[m])] += 1 / float64(s.all.N)
	}
	return weight
}

// lineOdds implements belief.
func (s *sample) lineOdds(r *survey.Reading) map[string]float64 {
	if odds := s.met[r.ID]; odds != nil {
		return odds()
	}
	return nil
}

// nearest returns how often each line passes nearest to a hole, and to all that it
// was followed to from there.
func (s *sample) nearest(r *survey.Reading) map[string]float64 {
	log, d := s.from.fit.Log(), s.from.drawing()
	var holes []int
	for _, name := range log.Along(r) {
		i, ok := log.Point(name)
		if !ok {
			return nil
		}
		holes = append(holes, len(d.Nodes)+i)
	}
	weight := map[string]float64{}
	at, to := make([]geo.Vec, len(s.all.at)), make([]geo.Vec, len(holes))
	for i := range s.all.N {
		for k := range at {
			at[k] = s.all.at[k][i]
		}
		for k, hole := range holes {
			to[k] = at[hole]
		}
		weight[fit.NearestLine(d, log, r, at, to...)] += 1 / float64(s.all.N)
	}
	return weight
}

// draws implements belief.
func (s *sample) draws(ctx context.Context, n int) (*Draws, error) {
	if n == s.all.N {
		return s.all, nil
	}
	d, _, err := s.from.after(ctx, n, s.evidence)
	return d, err
}

// drawn is a cloud of draws with its covariance.
type drawn struct {
	at  []geo.Vec
	cov geo.Cov
}

// content implements cloud: the share of draws.
func (d drawn) content(off geo.Vec) float64 {
	if a, _, _ := d.cov.Eigen(); a <= 0 {
		return 1
	}
	limit := reaches([]geo.Vec{off}, geo.Vec{}, d.cov)[0]
	in := 0.0
	for _, r := range reaches(d.at, geo.Mean(d.at), d.cov) {
		if r <= limit {
			in++
		}
	}
	return in / float64(len(d.at))
}

// moment returns the second moment of draws about a place, m².
func moment(draws []geo.Vec, about geo.Vec) (c geo.Cov) {
	for _, v := range draws {
		c = c.Add(geo.Outer(v.Sub(about)))
	}
	return c.Scale(1 / float64(max(len(draws), 1)))
}

// quantile95 returns the 95 % quantile of v, which it sorts: the mean of the
// order statistics within one standard error of it, so that no single draw
// decides.
func quantile95(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	n := float64(len(v))
	half := math.Sqrt(0.95 * 0.05 / n)
	from, to := int(n*(0.95-half)), min(len(v), int(math.Ceil(n*(0.95+half))))
	sum := 0.0
	for _, x := range v[from:to] {
		sum += x
	}
	return sum / float64(to-from)
}

// sampledEllipse returns the ellipse about a place, of the shape of c, that
// holds 95 % of the draws.
func sampledEllipse(draws []geo.Vec, about geo.Vec, c geo.Cov) geo.Ellipse {
	a, b, bearing := c.Eigen()
	if a <= 0 {
		return geo.Ellipse{}
	}
	k := quantile95(reaches(draws, about, c))
	return geo.Ellipse{SemiMajor: k * math.Sqrt(a), SemiMinor: k * math.Sqrt(math.Max(b, 1e-12*a)), Bearing: bearing}
}

// reaches returns how far draws lie from a place in standard deviations of c
// (Mahalanobis 1936).
func reaches(draws []geo.Vec, about geo.Vec, c geo.Cov) []float64 {
	a, b, bearing := c.Eigen()
	b = math.Max(b, 1e-12*a)
	sin, cos := math.Sincos(bearing.Radians())
	major, minor := geo.Vec{X: sin, Y: cos}, geo.Vec{X: cos, Y: -sin}
	far := make([]float64, len(draws))
	for i, v := range draws {
		v = v.Sub(about)
		far[i] = math.Hypot(v.Dot(major)/math.Sqrt(a), v.Dot(minor)/math.Sqrt(b))
	}
	return far
}

// sampledRadius returns the radius in metres about a place that holds 95 % of
// the draws.
func sampledRadius(draws []geo.Vec, about geo.Vec) float64 {
	far := make([]float64, len(draws))
	for i, v := range draws {
		far[i] = v.Dist(about)
	}
	return quantile95(far)
}
