package encounter

import (
	"math"

	"asfound/asbuilt/practice"
	"asfound/geo"
)

// Ground knows where holes may be dug: nowhere within a clearance, nor through
// buildings, wells, water or tanks that are not sought, nor over the boundary of
// the lot, nor where a hole has been dug.
type Ground struct {
	Outs []KeepOut
	Dug  []geo.Vec // holes that need not be dug again

	// SetOut returns how a place is set out.
	SetOut func(at geo.Vec) Stake

	lots []geo.Outline // the lot's own boundary, where it closes round the landmarks
}

// Stake is how a place is set out.
type Stake struct {
	Sigma  float64   // metres: standard deviation of its place, in the worst direction
	Others []geo.Vec // the other place where its tapes, as rounded, may put it
}

// off returns the standard deviation in metres of the position of a hole that is
// opened a little beside its stake.
func (s Stake) off() float64 { return math.Hypot(s.Sigma, practice.DigOff) }

// NewGround returns where holes may be dug among what surrounds them. tank says
// that a tank is sought.
func NewGround(all []Surrounding, landmarks []geo.Vec, tank bool) *Ground {
	g := &Ground{}
	for i := range all {
		if k, ok := newKeepOut(&all[i], tank); ok {
			g.lots = append(g.lots, lots(&all[i], landmarks)...)
			g.Outs = append(g.Outs, k)
		}
	}
	return g
}

// Clear reports whether a hole of a radius in metres may be dug at v that is
// set out to a standard deviation of sigma metres, holes dug before aside.
// Comparisons are written so that a place which is not finite is refused.
func (g *Ground) Clear(v geo.Vec, radius, sigma float64) bool {
	if !v.Finite() {
		return false
	}
	for i := range g.Outs {
		k := &g.Outs[i]
		margin := k.Margin + radius
		if k.hard {
			margin += sigmas*math.Hypot(sigma, k.sigma) + slack
		}
		if d := k.Distance(v); d == 0 || !(d >= margin) {
			return false
		}
	}
	for _, l := range g.lots {
		if !l.Contains(v) {
			return false
		}
	}
	return true
}

// Passable reports whether a line may be followed from place to place: whether the
// ground between them may be opened, every half a metre. Nobody follows one for a
// kilometre.
func (g *Ground) Passable(places ...geo.Vec) bool {
	const step, most = 0.5, 1000.0 // metres
	for k := 1; k < len(places); k++ {
		d := places[k].Dist(places[k-1])
		if !(d < most) {
			return false
		}
		n := int(math.Ceil(d/step)) + 1
		for j := range n + 1 {
			if !g.Clear(places[k-1].Lerp(places[k], float64(j)/float64(n)), 0, 0) {
				return false
			}
		}
	}
	return true
}

// Sigma returns the standard deviation in metres of the position of a hole that is
// set out at v.
func (g *Ground) Sigma(v geo.Vec) float64 { return g.SetOut(v).off() }

// Free reports whether v is far enough from every hole that has been dug.
func (g *Ground) Free(v geo.Vec) bool {
	for _, w := range g.Dug {
		if w.Dist(v) < practice.SameHole {
			return false
		}
	}
	return true
}

// Allowed reports whether a hole may be dug at v, and the standard deviation in
// metres of its position there: clear of everything at v, and where its tapes, as
// they are rounded, would put it.
func (g *Ground) Allowed(v geo.Vec, radius float64) (sigma float64, ok bool) {
	if !g.Free(v) || !g.Clear(v, radius, 0) {
		return 0, false
	}
	s := g.SetOut(v)
	sigma = s.off()
	for _, w := range append([]geo.Vec{v}, s.Others...) {
		if !g.Clear(w, radius, sigma) {
			return 0, false
		}
	}
	return sigma, true
}

// AllowedSlot reports whether a slot may be cut from at on, and to what standard
// deviation in metres it is set out: every place along it as a hole would be,
// what lies between two places included, and both its ends set out.
func (g *Ground) AllowedSlot(at, slot geo.Vec, radius float64) (sigma float64, ok bool) {
	const step = 0.2
	n := int(math.Ceil(slot.Norm() / step))
	for _, v := range []geo.Vec{at, at.Add(slot)} {
		one, ok := g.Allowed(v, radius+step/2)
		if !ok {
			return 0, false
		}
		sigma = max(sigma, one)
	}
	for k := 1; k < n; k++ {
		if !g.Clear(at.Add(slot.Scale(float64(k)/float64(n))), radius+step/2, sigma) {
			return 0, false
		}
	}
	return sigma, true
}
