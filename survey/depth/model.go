package depth

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

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

// Places tells where things lie in plan, in one frame, in metres.
type Places interface {
	Spot(part string, spot asbuilt.Spot) (geo.Vec, bool)
	Line(part string) []geo.Vec        // centre line of a lateral or header in flow order, nil where there is none
	Point(name string) (geo.Vec, bool) // landmarks, holes and stakes
	Met(reading string) string         // part that a hole met where the log names only a kind; empty: not known
	Sigma(part string) float64         // standard deviation of the part's place, metres
}

// The vertical beliefs before any reading. Judgement unless a source is named
// at practice; checked by simulation.
const (
	slopeSigma  = 0.05 // fall per length of the ground as a plane, each way
	reliefSigma = 0.12 // metres: the ground about that plane
	reliefReach = 8.0  // metres: over which relief changes
	fillMean    = 0.15 // metres of ground added since the record, common to the field
	fillSigma   = 0.40 // wide: lots are often filled by several feet
	coverSigma  = 0.10 // metres: a recorded cover at one trench
	crownSigma  = 0.02 // metres: a depth taped to what can be seen
	softSigma   = 0.04 // metres: a depth taped to gravel or soil
	levelSigma  = 0.02 // metres: a level shot on sod
	datumSigma  = 100  // metres: the height of a datum that is not known
	pipeSigma   = 3    // metres: the height of a system before its cover is known
)

// quantity is a linear function of the unknowns: finite ones by coefficient,
// the relief of the ground by its weight at one place.
type quantity struct {
	coef   coefficients
	relief float64
	at     geo.Vec
}

// coefficients of the finite unknowns, by index; those beyond are 0. A slice,
// for sums over a map would come out in another order each time.
type coefficients []float64

// add adds c to the coefficient of unknown i.
func (q *coefficients) add(i int, c float64) {
	for len(*q) <= i {
		*q = append(*q, 0)
	}
	(*q)[i] += c
}

// observation is a quantity that was observed.
type observation struct {
	quantity
	id, what string
	value    float64
	sigma    float64
}

// Model is the vertical beliefs after all readings.
type Model struct {
	job    *survey.Job
	places Places
	centre geo.Vec // about which the plane of the ground is taken

	mean, sigma []float64 // prior of the finite unknowns
	names       map[string]int
	obs         []observation
	chol        mat.Cholesky
	weights     []float64 // K⁻¹ (observed − prior mean)
}

// unknown returns the index of a named unknown, made with a prior the first
// time it is asked for.
func (m *Model) unknown(name string, mean, sigma float64) int {
	if i, ok := m.names[name]; ok {
		return i
	}
	i := len(m.mean)
	m.names[name] = i
	m.mean, m.sigma = append(m.mean, mean), append(m.sigma, sigma)
	return i
}

// ground returns today's ground height at v above the job's datum.
func (m *Model) ground(v geo.Vec) quantity {
	d := v.Sub(m.centre)
	q := quantity{relief: 1, at: v}
	q.coef.add(m.unknown("datum", 0, datumSigma), 1)
	q.coef.add(m.unknown("east", 0, slopeSigma), d.X)
	q.coef.add(m.unknown("north", 0, slopeSigma), d.Y)
	return q
}

// less returns q − w of finite unknowns; w has no relief.
func (q quantity) less(w quantity) quantity {
	for i, c := range w.coef {
		q.coef.add(i, -c)
	}
	return q
}

// covariance of the relief of the ground between two places, square metres.
func relief(a, b geo.Vec) float64 {
	return reliefSigma * reliefSigma * math.Exp(-a.Dist(b)/reliefReach)
}

// cov returns the prior covariance of two quantities.
func (m *Model) cov(a, b quantity) float64 {
	sum := a.relief * b.relief * relief(a.at, b.at)
	for i := range min(len(a.coef), len(b.coef)) {
		sum += a.coef[i] * b.coef[i] * m.sigma[i] * m.sigma[i]
	}
	return sum
}

// expect returns the prior mean of a quantity.
func (m *Model) expect(q quantity) (v float64) {
	for i, c := range q.coef {
		v += c * m.mean[i]
	}
	return v
}

// condition works the beliefs out from the observations.
func (m *Model) condition() error {
	n := len(m.obs)
	if n == 0 {
		return nil
	}
	k := mat.NewSymDense(n, nil)
	off := mat.NewVecDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			k.SetSym(i, j, m.cov(m.obs[i].quantity, m.obs[j].quantity))
		}
		k.SetSym(i, i, k.At(i, i)+m.obs[i].sigma*m.obs[i].sigma)
		off.SetVec(i, m.obs[i].value-m.expect(m.obs[i].quantity))
	}
	if !m.chol.Factorize(k) {
		return fmt.Errorf("the depths and levels cannot be worked out together; check for numbers that are far out")
	}
	var w mat.VecDense
	if err := m.chol.SolveVecTo(&w, off); err != nil {
		return fmt.Errorf("the depths and levels cannot be worked out together: %w", err)
	}
	m.weights = w.RawVector().Data
	return nil
}

// predict returns mean and variance of a quantity.
func (m *Model) predict(q quantity) (mean, variance float64) {
	mean, variance = m.expect(q), m.cov(q, q)
	n := len(m.obs)
	if n == 0 {
		return mean, variance
	}
	c := mat.NewVecDense(n, nil)
	for i := range m.obs {
		v := m.cov(q, m.obs[i].quantity)
		c.SetVec(i, v)
		mean += v * m.weights[i]
	}
	var s mat.VecDense
	if err := m.chol.SolveVecTo(&s, c); err != nil {
		return mean, variance
	}
	return mean, math.Max(variance-mat.Dot(c, &s), 0)
}

// Fill returns the ground added to the field since the record, in metres, and
// its standard deviation; ok is false where no reading tells of it.
func (m *Model) Fill() (metres, sigma float64, ok bool) {
	i, ok := m.names["fill"]
	if !ok {
		return 0, 0, false
	}
	var q quantity
	q.coef.add(i, 1)
	mean, variance := m.predict(q)
	sigma = math.Sqrt(variance)
	return mean, sigma, sigma < 0.75*fillSigma
}

// Residual is one observed depth or height after conditioning.
type Residual struct {
	Reading, What    string
	Observed, Fitted float64 // metres
	Standardized     float64 // leave-one-out misfit over its own standard deviation
}

// Residuals returns what the beliefs make of each observation. A depth that
// does not fit the others has a standardized residual beyond ±3.29 once in a
// thousand. Source of the leave-one-out form: Rasmussen & Williams, Gaussian
// Processes for Machine Learning, eqs. 5.10–5.12.
func (m *Model) Residuals() []Residual {
	n := len(m.obs)
	if n == 0 {
		return nil
	}
	var inv mat.SymDense
	if m.chol.InverseTo(&inv) != nil {
		return nil
	}
	var out []Residual
	for i, o := range m.obs {
		misfit, variance := m.weights[i]/inv.At(i, i), 1/inv.At(i, i)
		mean, _ := m.predict(o.quantity)
		out = append(out, Residual{o.id, o.what, o.value, mean, misfit / math.Sqrt(variance)})
	}
	return out
}

// feature returns the feature that a depth of a part runs to by default.
func feature(p *asbuilt.Part, f survey.Feature) survey.Feature {
	byDefault := survey.Top
	if p.Kind == asbuilt.Header {
		byDefault = survey.Crown
	}
	return cmp.Or(f, byDefault)
}
