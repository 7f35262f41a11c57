package encounter

import (
	"math"

	"asfound/geo"
	"asfound/survey"
)

// Stabs is a grid of stabs of a probe rod that may be made. A stab feels that there is
// something hard; what that is it does not show.
type Stabs struct {
	At    []geo.Vec // in their order
	Sigma float64   // metres: standard deviation of their places as set out
	Stop  float64   // metres: the rod goes no deeper
	Tool  *survey.Tool

	reach float64   // metres: of the grid about its middle
	mid   geo.Vec   // its middle
	feels []float64 // of each object: chance that a stab over it feels it
}

// Ready works out what stabs may feel, in draws that may be moved by up to so many
// metres.
func (s *Site) Ready(t *Stabs, moved float64) {
	t.mid, t.reach = geo.Mean(t.At), 0
	for _, v := range t.At {
		t.reach = max(t.reach, v.Dist(t.mid))
	}
	t.feels = make([]float64, len(s.Objects))
	for n := range s.Objects {
		o := &s.Objects[n]
		if o.Kind == "" || o.Spot != "" || !o.Near(t.mid, t.reach+t.Tool.Radius+o.OutFor(t.Sigma)+moved) {
			continue
		}
		d, _ := s.DepthAt(n, t.mid)
		t.feels[n] = s.Rods.Hits * Above(d, t.Stop)
	}
}

// Feel fills in the chance that each of the stabs feels something in draw i moved by
// shift: what it lies over, or a stone.
func (s *Site) Feel(i int, shift geo.Vec, t *Stabs, chance []float64) {
	h := Hole{Radius: t.Tool.Radius, Sigma: t.Sigma, Tool: t.Tool}
	for k, v := range t.At {
		h.At = v.Sub(shift)
		nothing := 1 - s.Rods.Stones
		for n := range s.Objects {
			if t.feels[n] == 0 {
				continue
			}
			if p, _ := s.Objects[n].met(i, &h, s.Objects[n].OutFor(t.Sigma)); p > 0 {
				nothing *= 1 - p*t.feels[n]
			}
		}
		chance[k] = 1 - nothing
	}
}

// Over returns the chance that one of the stabs at least lies over what is sought and
// feels it, in draw i.
func (s *Site) Over(i int, t *Stabs) float64 {
	h, nothing := Hole{Radius: t.Tool.Radius, Sigma: t.Sigma, Tool: t.Tool}, 1.0
	for _, h.At = range t.At {
		for n := range s.Sought() {
			p, _ := s.Objects[n].met(i, &h, s.Objects[n].OutFor(t.Sigma))
			nothing *= 1 - p*t.feels[n]
		}
	}
	return 1 - nothing
}

// Likely returns the logarithm of the probability that the stabs felt something where
// felt says so and nothing elsewhere, by the chance of each.
func Likely(chance []float64, felt []bool) float64 {
	all, sum := 1.0, 0.0
	for k, p := range chance {
		if !felt[k] {
			p = 1 - p
		}
		if all *= p; all < 1e-100 { // logarithms cost time
			sum, all = sum+math.Log(all), 1
		}
	}
	return sum + math.Log(all)
}

// Minutes returns how long it takes to lay the grid out and to push the rod down so many
// metres at each stab.
func (t *Stabs) Minutes() float64 {
	return t.Tool.Layout + float64(len(t.At))*t.Tool.Minutes(t.Stop)
}
