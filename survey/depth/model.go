package depth

import (
	"cmp"
	"context"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// Depth is an expected depth below today's ground surface, in metres, and its
// standard deviation.
type Depth struct {
	Mean, Sigma float64
	Feature     survey.Feature // what the depth runs to
}

// Within returns the half-width of the 95 % interval, metres. Where that would reach
// above the ground, shallow is true: all that can be said is how deep at most.
func (d Depth) Within() (half float64, shallow bool) {
	half = geo.Between95 * d.Sigma
	return half, d.Mean < half
}

// Off says how far off the depth may be with 95 %, after the words for that, or how deep
// it may be at most.
func (d Depth) Off(u geo.Unit, words string) string {
	half, shallow := d.Within()
	if shallow {
		return ", at most " + geo.FormatDepth(d.Mean+half, u)
	}
	return words + geo.FormatDepth(half, u)
}

// Places says where things lie in plan, in one frame, in metres.
type Places interface {
	Spot(part string, spot asbuilt.Spot) (geo.Vec, bool)
	Line(part string) []geo.Vec        // centre line of a lateral or header in flow order, nil where there is none
	Point(name string) (geo.Vec, bool) // landmarks, holes and stakes
	Met(reading string) string         // part that a hole met where the log names only a kind; empty: not known
	Sigma(part string) float64         // standard deviation of the part's place along one axis, metres
}

// Model is what is believed of heights and depths after all readings. It is
// safe for concurrent use.
type Model struct {
	job    *survey.Job
	places Places
	centre geo.Vec // about which the plane of the ground is taken

	unknowns []unknown
	parts    []*buried // in the order of the sketch
	named    map[string]*buried
	shared   map[string]int // unknowns that several parts share

	// Unknowns. datum is the height of the ground's plane at its centre above
	// the job's own datum, base the same above the record's.
	datum, base, east, north, fill, record, header int

	obs     []observation
	rows    int  // the first so many are of the record
	covered bool // a cover is recorded

	beliefs []belief
}

// Solve works out the depths of a job whose parts lie where at says. Parts and
// points without a place are passed over. The error says that the numbers are
// too extreme to be computed together, or that ctx is done.
func Solve(ctx context.Context, job *survey.Job, at Places) (*Model, error) {
	m := &Model{job: job, places: at, named: map[string]*buried{}, shared: map[string]int{}}
	m.bury()
	for _, b := range m.parts {
		m.recorded(b)
	}
	m.rows = len(m.obs)
	for _, b := range m.parts {
		m.written(b)
	}
	live := m.live()
	for i := range live {
		m.reading(&live[i])
	}
	for _, s := range suppositions {
		b := belief{weight: s.weight, structure: s.structure, ground: s.ground,
			mean: make([]float64, len(m.unknowns)), prior: make([]float64, len(m.unknowns))}
		for i, u := range m.unknowns {
			b.mean[i], b.prior[i] = u.mean[s.structure], u.sigma[s.structure]*u.sigma[s.structure]
		}
		if err := m.work(ctx, &b, m.obs); err != nil {
			return nil, err
		}
		m.beliefs = append(m.beliefs, b)
	}
	if err := m.branch(ctx); err != nil {
		return nil, err
	}
	weigh(m.beliefs)
	return m, nil
}

// work works a belief out from observations.
func (m *Model) work(ctx context.Context, b *belief, obs []observation) error {
	if err := b.condition(ctx, obs, m.rows); err != nil {
		return err
	}
	for _, slope := range []int{m.east, m.north} {
		q := one(slope)
		mean, variance := b.predict(&q)
		b.slope2 += mean*mean + variance
	}
	return nil
}

// live returns the readings in an order that does not depend on the log's, so
// that the answer does not either, to the last digit.
func (m *Model) live() []survey.Reading {
	live := m.job.Live()
	slices.SortStableFunc(live, func(a, b survey.Reading) int { return cmp.Compare(a.ID, b.ID) })
	return live
}

// unknown makes an unknown whose prior does not depend on the structure.
func (m *Model) unknown(mean, sigma float64) int { return m.either(mean, sigma, mean, sigma) }

// either makes an unknown with a prior for either structure, level first.
func (m *Model) either(mean, sigma, steppedMean, steppedSigma float64) int {
	m.unknowns = append(m.unknowns, unknown{[2]float64{mean, steppedMean}, [2]float64{sigma, steppedSigma}})
	return len(m.unknowns) - 1
}

// share returns the unknown of a name, made the first time it is asked for.
func (m *Model) share(name string, mean, sigma float64) int {
	i, ok := m.shared[name]
	if !ok {
		i = m.unknown(mean, sigma)
		m.shared[name] = i
	}
	return i
}

// ground returns today's ground height at v above the datum, which is that of
// the plane of the ground at its centre.
func (m *Model) ground(v geo.Vec) quantity {
	d := v.Sub(m.centre)
	return quantity{terms: []term{{m.east, d.X}, {m.north, d.Y}}, relief: 1, spread: 1, at: v}
}

// predict returns mean and variance of a quantity, m and m²; reach is how far
// off in plan its place may be, a standard deviation along one axis in metres.
func (m *Model) predict(q quantity, reach float64) (mean, variance float64) {
	square := 0.0
	for i := range m.beliefs {
		b := &m.beliefs[i]
		mu, v := b.predict(&q)
		mean += b.weight * mu
		square += b.weight * (v + mu*mu + b.slope2*reach*reach)
	}
	return mean, max(square-mean*mean, 0)
}

// At returns the expected depth of a feature of a part at the plan place v; f
// empty is the crown of a header, the top of everything else. ok is false for
// a part that has no depth.
func (m *Model) At(part string, v geo.Vec, f survey.Feature) (d Depth, ok bool) {
	b := m.named[part]
	if b == nil || !v.Finite() {
		return Depth{}, false
	}
	f = b.feature(f)
	mean, variance := m.predict(m.depth(b, v, f), m.places.Sigma(part))
	if b.line != nil {
		variance += unevenSigma * unevenSigma
	}
	return Depth{mean, math.Sqrt(variance), f}, true
}

// Fill returns the ground added to the middle of the field since the record, in
// metres, and its standard deviation; ok is false where no cover is recorded or
// no reading bears on it.
func (m *Model) Fill() (metres, sigma float64, ok bool) {
	if !m.covered {
		return 0, 0, false
	}
	q := one(m.fill)
	q.spread, q.at = 1, m.centre
	before := 0.0
	for i := range m.beliefs {
		before += m.beliefs[i].weight * m.beliefs[i].variance(&q)
	}
	mean, variance := m.predict(q, 0)
	sigma = math.Sqrt(variance)
	return mean, sigma, sigma < 0.75*math.Sqrt(before)
}

// feature returns what a depth of a part runs to where f does not say.
func (b *buried) feature(f survey.Feature) survey.Feature {
	byDefault := survey.Top
	if b.part.Kind == asbuilt.Header {
		byDefault = survey.Crown
	}
	return cmp.Or(f, byDefault)
}
