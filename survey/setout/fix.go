package setout

import (
	"math"

	"asfound/geo"
)

// Tie is a level tape distance from a landmark to a place, and its standard
// deviation, in metres.
type Tie struct {
	From            string
	Distance, Sigma float64
}

// Fix is how a place is set out by tapes.
type Fix struct {
	Ties     []Tie     // two that fix the place, the landmarks in the order of their names, and one that checks them where there is a third; none: not by tape
	Crossing geo.Angle // at which the first two cross, at most 90°
	Side     Side      // of the first two
	At       geo.Vec   // where the first two cross, rounded as they are stated; field frame, metres
	Cov      geo.Cov   // of the place as set out, m²
	Others   []geo.Vec // where the third crosses the first two, rounded
	Blocked  []string  // landmarks of Ties whose tape would have to pass through a building
}

// Sigma returns the standard deviation in metres of the place as set out, in
// its worst direction.
func (f Fix) Sigma() float64 {
	major, _, _ := f.Cov.Eigen()
	return math.Sqrt(major)
}

// tape is the tape from one landmark to a place.
type tape struct {
	*mark
	long, sigma float64
	toward      geo.Vec // unit vector from the landmark
	clear       bool    // no building stands in the way
}

// tapes returns the tapes that could fix a place.
func (m *Marks) tapes(at geo.Vec) []tape {
	all := make([]tape, 0, len(m.marks))
	for i := range m.marks {
		t := tape{mark: &m.marks[i], long: m.marks[i].at.Dist(at)}
		if !(t.long >= tooNear) {
			continue
		}
		t.toward = at.Sub(t.at).Scale(1 / t.long)
		t.sigma = math.Hypot(TapeSigma(t.long), t.cov.Along(t.toward))
		t.clear = m.sees(t.at, at)
		all = append(all, t)
	}
	return all
}

// Fix returns the two tapes that fix a place best: those whose crossing, with
// the uncertainty of their landmarks, is sharpest, within one tape's reach if
// possible, and clear of buildings if any two are; and a third that checks
// them. ok is false where no two tapes fix it.
func (m *Marks) Fix(at geo.Vec) (f Fix, ok bool) {
	if !at.Finite() {
		return f, false
	}
	all := m.tapes(at)
	least := math.Inf(1)
	var a, b tape
	for i := range all {
		for j := range i {
			if c := cost(all[i], all[j]); c < least {
				least, a, b = c, all[j], all[i]
			}
		}
	}
	if math.IsInf(least, 1) {
		return f, false
	}
	if a.id > b.id {
		a, b = b, a
	}
	f = Fix{Ties: []Tie{a.tie(), b.tie()}, Crossing: crossing(a, b), Side: SideOf(a.id, a.at, b.id, b.at, at), Cov: crossed(a, b)}
	for _, t := range []tape{a, b} {
		if !t.clear {
			f.Blocked = append(f.Blocked, t.id)
		}
	}
	var mirror geo.Vec
	if f.At, mirror, ok = m.meet(a, b, at); !ok {
		f.At, mirror = at, at // on the line of the two, where rounding may leave no crossing
	}
	m.check(&f, a, b, all, at, mirror)
	return f, true
}

func (t tape) tie() Tie { return Tie{t.id, t.long, t.sigma} }

// blockedCost ranks any two clear tapes before any two of which one is blocked.
const blockedCost = 1e6

// cost is what a pair of tapes is judged by: the standard deviation in metres
// of their crossing in its worst direction, times what makes the taping hard.
func cost(a, b tape) float64 {
	if crossing(a, b).Degrees() < flattest {
		return math.Inf(1)
	}
	major, _, _ := crossed(a, b).Eigen()
	c := math.Sqrt(major)
	for _, t := range []tape{a, b} {
		if t.long > reach {
			c *= 1.7
		}
		if !t.clear {
			c *= blockedCost
		}
	}
	return c
}

// crossing returns the angle between two tapes, 0° to 90°.
func crossing(a, b tape) geo.Angle {
	return geo.Radians(math.Asin(min(1, math.Abs(a.toward.Cross(b.toward)))))
}

// crossed returns the covariance of the crossing of two tapes: the inverse of
// the sum of e eᵀ/σ² (Ghilani & Wolf, Adjustment Computations, trilateration).
func crossed(a, b tape) geo.Cov {
	n := geo.Outer(a.toward).Scale(1 / (a.sigma * a.sigma)).Add(geo.Outer(b.toward).Scale(1 / (b.sigma * b.sigma)))
	det := n.XX*n.YY - n.XY*n.XY
	return geo.Cov{XX: n.YY / det, XY: -n.XY / det, YY: n.XX / det}
}

// meet returns where two tapes cross, rounded as they are stated: first the
// crossing nearer to at, then the other.
func (m *Marks) meet(a, b tape, at geo.Vec) (near, far geo.Vec, ok bool) {
	ra, rb := math.Round(a.long/m.step)*m.step, math.Round(b.long/m.step)*m.step
	base := a.at.Dist(b.at)
	if base == 0 {
		return near, far, false
	}
	along := (ra*ra - rb*rb + base*base) / (2 * base)
	square := ra*ra - along*along
	if !(square > 0) {
		return near, far, false
	}
	e := b.at.Sub(a.at).Unit()
	foot, arm := a.at.Add(e.Scale(along)), e.Right().Scale(math.Sqrt(square))
	near, far = foot.Add(arm), foot.Sub(arm)
	if far.Dist(at) < near.Dist(at) {
		near, far = far, near
	}
	return near, far, true
}

// check adds the third tape that best checks the first two: clear of buildings,
// and able to tell their two crossings apart if any is.
func (m *Marks) check(f *Fix, a, b tape, all []tape, at, mirror geo.Vec) {
	best, least := -1, math.Inf(1)
	for i, t := range all {
		if t.id == a.id || t.id == b.id || !t.clear {
			continue
		}
		c := t.sigma / max(0.1, min(crossing(a, t).Degrees(), crossing(b, t).Degrees())/90)
		if t.long > reach {
			c *= 1.7
		}
		if math.Abs(t.at.Dist(at)-t.at.Dist(mirror)) < minApart {
			c *= 100
		}
		if c < least {
			best, least = i, c
		}
	}
	if best < 0 {
		return
	}
	third := all[best]
	f.Ties = append(f.Ties, third.tie())
	for _, t := range []tape{a, b} {
		if crossing(t, third).Degrees() < 15 { // no crew would fix the place by these two
			continue
		}
		if v, _, ok := m.meet(t, third, at); ok {
			f.Others = append(f.Others, v)
		}
	}
}
