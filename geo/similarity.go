package geo

import "math"

// Mean returns the mean of places, all weighted equally; the zero Vec where
// there are none.
func Mean(places []Vec) (m Vec) {
	for _, v := range places {
		m = m.Add(v.Scale(1 / float64(len(places))))
	}
	return m
}

// Helmert is the least-squares fit of a turn, a shift and, where it is asked
// for, one scale that bring places of one plane onto places of another.
// Source: the two-dimensional conformal transformation, Ghilani & Wolf,
// Adjustment Computations, ch. 18, about the means of both sets, where turn and
// scale follow from two sums of products.
type Helmert struct {
	from, to   Vec     // the means
	sumFrom    Vec     // Σ w a, a where it is
	sumTo      Vec     // Σ w b
	sum        float64 // Σ w
	dot, cross float64 // Σ w a·b and Σ w a×b of the places about their means
	spread     float64 // Σ w a·a
}

// FitHelmert fits from onto to, which have the same length. weight says how
// much each pair counts; nil: all the same.
func FitHelmert(from, to []Vec, weight []float64) Helmert {
	h := Helmert{from: weightedMean(from, weight), to: weightedMean(to, weight)}
	for i := range from {
		a, b, w := from[i].Sub(h.from), to[i].Sub(h.to), 1.0
		if weight != nil {
			w = weight[i]
		}
		h.sumFrom, h.sumTo, h.sum = h.sumFrom.Add(from[i].Scale(w)), h.sumTo.Add(to[i].Scale(w)), h.sum+w
		h.add(a, b, w)
	}
	return h
}

// add takes in a pair of places about the means.
func (h *Helmert) add(a, b Vec, weight float64) {
	heavy := a.Scale(weight)
	h.dot += heavy.Dot(b)
	h.cross += heavy.Cross(b)
	h.spread += heavy.Dot(a)
}

func weightedMean(places []Vec, weight []float64) (m Vec) {
	if weight == nil {
		return Mean(places)
	}
	sum := 0.0
	for i, v := range places {
		m, sum = m.Add(v.Scale(weight[i])), sum+weight[i]
	}
	if sum == 0 {
		return Vec{}
	}
	return m.Scale(1 / sum)
}

// Turn returns the turn, counter-clockwise; ok is false where the places do not
// determine one: fewer than two, or all in one spot.
func (h Helmert) Turn() (turn Angle, ok bool) {
	if h.dot == 0 && h.cross == 0 {
		return Angle{}, false
	}
	return Angle{math.Atan2(h.cross, h.dot)}, true
}

// Spread returns the weighted sum of the squared distances of the places that
// are brought from their mean, in the square of their unit.
func (h Helmert) Spread() float64 { return h.spread }

// Similarity returns turn, shift and scale as a function of a place; ok is
// false where the places do not determine them.
func (h Helmert) Similarity() (move func(Vec) Vec, ok bool) {
	if !(h.spread > 0) {
		return nil, false
	}
	a, b := h.dot/h.spread, h.cross/h.spread
	return func(v Vec) Vec {
		v = v.Sub(h.from)
		return h.to.Add(Vec{a*v.X - b*v.Y, b*v.X + a*v.Y})
	}, true
}

// Motion returns turn and shift alone, the scale being held at 1. One place
// determines a shift alone, none no motion.
func (h Helmert) Motion() Motion {
	turn, _ := h.Turn()
	return Motion{Turn: turn, From: h.from, To: h.to}
}

// Shift returns where the origin moves to under a turn and a scale, a ratio,
// that are already known: only the shift is fitted.
func (h Helmert) Shift(turn Angle, scale float64) Vec {
	if h.sum == 0 {
		return Vec{}
	}
	from := h.sumFrom.Scale(scale / h.sum).Rotate(turn)
	return Vec{h.sumTo.X/h.sum - from.X, h.sumTo.Y/h.sum - from.Y}
}

// Motion keeps all distances: a turn about a place and a shift, after a flip of
// X where one is needed.
type Motion struct {
	Flip     bool
	Turn     Angle // counter-clockwise
	From, To Vec   // the centre of the turn, and where it moves to
}

// Move returns where a place moves to.
func (m Motion) Move(v Vec) Vec {
	v = v.Sub(m.From)
	if m.Flip {
		v.X = -v.X
	}
	return v.Rotate(m.Turn).Add(m.To)
}

// Rigid returns the turn and shift that bring from best onto to.
func Rigid(from, to []Vec) Motion { return FitHelmert(from, to, nil).Motion() }

// Congruence returns the motion that brings from best onto to. It flips only
// where nothing else will do, three places or more being needed to tell: when
// the best motion without a flip is off by more than flat, in the unit of the
// plane, and a flip is off by less than a third of that.
func Congruence(from, to []Vec, flat float64) Motion {
	plain := Rigid(from, to)
	if len(from) < 3 {
		return plain
	}
	flipped := Motion{Flip: true, From: plain.From, To: plain.To}
	var back Helmert
	for i := range from {
		a := from[i].Sub(plain.From)
		back.add(Vec{-a.X, a.Y}, to[i].Sub(plain.To), 1)
	}
	flipped.Turn, _ = back.Turn()
	if a, b := plain.misfit(from, to), flipped.misfit(from, to); a > flat && b < a/3 {
		return flipped
	}
	return plain
}

// misfit returns the root mean square distance between from, as moved, and to.
func (m Motion) misfit(from, to []Vec) float64 {
	sum := 0.0
	for i := range from {
		d := m.Move(from[i]).Sub(to[i])
		sum += d.Dot(d)
	}
	return math.Sqrt(sum / float64(len(from)))
}
