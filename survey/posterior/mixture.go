package posterior

import (
	"context"
	"math"
	"sync"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/fit"
)

// mixture is a belief as the fit leaves it: a weighted set of Gaussians, all
// laid on the landmarks of the fit's likeliest.
type mixture struct {
	fit          *fit.Fit
	members      []member
	explanations []*fit.Explanation // that the members belong to
	datum        []int              // nodes of the landmarks that the relative regions refer to
	shift        geo.Vec            // brings fit coordinates to the frame

}

// member is one component of the fit.
type member struct {
	c           *fit.Component
	at          []geo.Vec  // nodes, then points, in the axes of the main member
	by          geo.Motion // that brought it there
	explanation int        // index into the mixture's

	// spread works out the uncertainty of every place, once it is asked for: a belief
	// that follows evidence never asks.
	spread func() spread
}

// flat is by how much in metres landmarks must be off a line to tell its sides.
// Tapes alone do not say which way round their landmarks stand, but anyone who
// stands among them sees it: a sheet seen from its back has its parts on the
// same side of them.
const flat = 0.3

// newMixture returns the mixture of components of a fit.
func newMixture(f *fit.Fit, components []fit.Component) *mixture {
	first := &f.Components()[0]
	m := &mixture{fit: f, datum: f.Log().Datum(first.Network.Drawing)}
	main := first.Places()
	seen := map[string]int{}
	for i := range components {
		c := &components[i]
		key := c.Explanation.Key()
		if _, ok := seen[key]; !ok {
			seen[key] = len(m.explanations)
			m.explanations = append(m.explanations, &c.Explanation)
		}
		one := member{c: c, at: c.Places(), explanation: seen[key]}
		if f.Frame.Kind == survey.Local && c != first {
			one.by = geo.Congruence(fit.Pick(one.at, m.datum), fit.Pick(main, m.datum), flat)
			for k, v := range one.at {
				one.at[k] = one.by.Move(v)
			}
		}
		m.members = append(m.members, one)
	}
	for i := range m.members {
		one := &m.members[i]
		one.spread = sync.OnceValue(func() spread { return newSpread(one, m.datum) })
	}
	return m
}

// spreads returns the uncertainty of every place of each member.
func (m *mixture) spreads() []spread {
	all := make([]spread, len(m.members))
	for i := range all {
		all[i] = m.members[i].spread()
	}
	return all
}

// drawing returns the drawing of the main member.
func (m *mixture) drawing() *drawing.Drawing { return m.members[0].c.Network.Drawing }

// weight returns the weight of a member.
func (m *mixture) weight(k int) float64 { return m.members[k].c.Weight }

// mean returns the mean of a place over the members, fit coordinates.
func (m *mixture) mean(place int) (at geo.Vec) {
	for k := range m.members {
		at = at.Add(m.members[k].at[place].Scale(m.weight(k)))
	}
	return at
}

// expected implements belief.
func (m *mixture) expected(place int) geo.Vec { return m.mean(place).Add(m.shift) }

// region implements belief.
func (m *mixture) region(i int) Region {
	spreads, at := m.spreads(), m.mean(i)
	abs, rel := make(lobes, len(m.members)), make(lobes, len(m.members))
	for k := range m.members {
		off := m.members[k].at[i].Sub(at)
		abs[k] = lobe{m.weight(k), pointCov(spreads[k].root, i), off}
		rel[k] = lobe{m.weight(k), pointCov(spreads[k].tied, i), off}
	}
	if m.fit.Frame.Kind == survey.Geodetic {
		// Members lie apart on the earth for reasons that do not move a part
		// against the landmarks: judge their offset there, each laid on the first.
		m.offsets(i, rel)
	} else {
		abs = rel
	}
	r := Region{At: at.Add(m.shift), Cov: total(abs), Relative: total(rel), abs: abs, rel: rel}
	r.Ellipse, r.Radius95 = ellipse95(abs), radius95(abs)
	r.FromLandmarks, r.Landmarks95 = r.Ellipse, r.Radius95
	if m.fit.Frame.Kind == survey.Geodetic {
		r.FromLandmarks, r.Landmarks95 = ellipse95(rel), radius95(rel)
	}
	return r
}

// offsets replaces the offsets of lobes by those relative to the landmarks.
func (m *mixture) offsets(i int, all lobes) {
	if len(m.datum) == 0 {
		return
	}
	var at geo.Vec
	v := make([]geo.Vec, len(m.members))
	anchors := fit.Pick(m.members[0].at, m.datum)
	for k := range m.members {
		one := &m.members[k]
		v[k] = geo.Congruence(fit.Pick(one.at, m.datum), anchors, flat).Move(one.at[i])
		at = at.Add(v[k].Scale(m.weight(k)))
	}
	for k := range all {
		all[k].off = v[k].Sub(at)
	}
}

// relative implements belief.
func (m *mixture) relative(place int) (c geo.Cov) {
	for k, s := range m.spreads() {
		c = c.Add(pointCov(s.tied, place).Scale(m.weight(k)))
	}
	return c
}

// strip implements belief. Between vertices the strip is a straight blend, which
// is never narrower than it should be: the variance across a line is a convex
// function along it.
func (m *mixture) strip(nodes []int) (s Strip) {
	spreads := m.spreads()
	for _, k := range nodes {
		s.At = append(s.At, m.mean(k))
	}
	weights := make([]float64, len(m.members))
	for i := range m.members {
		weights[i] = m.weight(i)
	}
	for v, k := range nodes {
		across := s.across(v)
		offs := make(lobes, len(m.members))
		for i := range m.members {
			offs[i].off = m.members[i].at[k].Sub(s.At[v])
		}
		if m.fit.Frame.Kind == survey.Geodetic {
			m.offsets(k, offs)
		}
		variance := make([]float64, len(m.members))
		for i := range m.members {
			sd := pointCov(spreads[i].tied, k).Along(across)
			off := offs[i].off.Dot(across)
			variance[i] = sd*sd + off*off
		}
		s.Half = append(s.Half, halfWidth95(weights, variance))
	}
	for v := range s.At {
		s.At[v] = s.At[v].Add(m.shift)
	}
	return s
}

// odds implements belief, from the fit, whatever members the mixture has.
func (m *mixture) odds(property func(*fit.Explanation) string) map[string]float64 {
	return m.fit.Odds(property)
}

// lineOdds implements belief.
func (m *mixture) lineOdds(r *survey.Reading) map[string]float64 { return m.fit.MetOdds(r.ID) }

// draws implements belief.
func (m *mixture) draws(ctx context.Context, n int) (*Draws, error) {
	d, _, err := m.after(ctx, n, Evidence{})
	return d, err
}

// apartFrom is how much larger the area of one ellipse about a mixture may be
// than that of its members' ellipses before its members lie apart.
const apartFrom = 1.5

// apart reports whether the members have a place so far from one another that
// one ellipse describes it badly.
func (m *mixture) apart(place int) bool {
	if len(m.explanations) < 2 {
		return false
	}
	spreads, at := m.spreads(), m.mean(place)
	own := 0.0
	var all geo.Cov
	for i := range m.members {
		c := pointCov(spreads[i].tied, place)
		own += m.weight(i) * math.Sqrt(math.Max(0, c.XX*c.YY-c.XY*c.XY))
		all = all.Add(c.Add(geo.Outer(m.members[i].at[place].Sub(at))).Scale(m.weight(i)))
	}
	return math.Sqrt(math.Max(0, all.XX*all.YY-all.XY*all.XY)) > apartFrom*own
}
