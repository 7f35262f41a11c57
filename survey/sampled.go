package survey

import (
	"math"
	"slices"

	"asfound/geo"
)

// sampled returns the belief about place number i from the draws.
func (p *Posterior) sampled(i int) Gauss {
	rel := p.draws.at[i]
	at := geo.Mean(rel)
	g := Gauss{At: at.Add(p.lift), Relative: moment(rel, at)}
	g.FromLandmarks, g.Landmarks95 = sampledEllipse(rel, at, g.Relative), sampledRadius(rel, at)
	g.draws, g.near = rel, rel
	g.Cov, g.Ellipse, g.Radius95 = g.Relative, g.FromLandmarks, g.Landmarks95
	if p.fit.Frame.Kind == Geodetic {
		abs := p.draws.frame[i]
		g.draws = abs
		m := geo.Mean(abs)
		g.Cov = moment(abs, m)
		g.Ellipse, g.Radius95 = sampledEllipse(abs, m, g.Cov), sampledRadius(abs, m)
	}
	return g
}

// moment returns the second moment of draws about a place, m².
func moment(draws []geo.Vec, about geo.Vec) (c geo.Cov) {
	for _, v := range draws {
		c = c.Add(geo.Outer(v.Sub(about)))
	}
	return c.Scale(1 / float64(max(len(draws), 1)))
}

// quantile95 returns the 95 % quantile of v, which it sorts: the mean of the
// order statistics within one standard error of it, lest a single draw decide.
func quantile95(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	n := float64(len(v))
	half := math.Sqrt(0.95 * 0.05 / n)
	from, to := int(n*(0.95-half)), int(math.Ceil(n*(0.95+half)))
	from, to = max(0, min(from, len(v)-1)), min(len(v), max(to, from+1))
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

// contentOf returns the share of draws that lie within the ellipse, of the
// shape of c, that is centred on their mean and passes through off.
func contentOf(draws []geo.Vec, c geo.Cov, off geo.Vec) float64 {
	if a, _, _ := c.Eigen(); a <= 0 {
		return 1
	}
	limit := reaches([]geo.Vec{off}, geo.Vec{}, c)[0]
	in := 0.0
	for _, r := range reaches(draws, geo.Mean(draws), c) {
		if r <= limit {
			in++
		}
	}
	return in / float64(len(draws))
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

// sampledLine returns the belief about a line from the draws: a strip of the
// shape of its standard deviations across that holds 95 % of the draws as whole
// lines, at every vertex.
func (p *Posterior) sampledLine(nodes []int) (s Strip) {
	for _, k := range nodes {
		s.At = append(s.At, geo.Mean(p.draws.at[k]))
	}
	far := make([]float64, p.draws.N)
	for v, k := range nodes {
		dir := geo.Vec{}
		if v > 0 {
			dir = dir.Add(s.At[v].Sub(s.At[v-1]).Unit())
		}
		if v+1 < len(nodes) {
			dir = dir.Add(s.At[v+1].Sub(s.At[v]).Unit())
		}
		across := dir.Unit().Right()
		sd := moment(p.draws.at[k], s.At[v]).Along(across)
		s.Half = append(s.Half, sd)
		for i, w := range p.draws.at[k] {
			if sd > 0 {
				far[i] = math.Max(far[i], math.Abs(w.Sub(s.At[v]).Dot(across))/sd)
			}
		}
	}
	k := quantile95(far)
	for v := range s.At {
		s.At[v], s.Half[v] = s.At[v].Add(p.lift), s.Half[v]*k
	}
	return s
}
