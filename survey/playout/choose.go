package playout

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/encounter"
)

// How many places are judged for a hole, and on how many particles.
const (
	likeliest = 16
	stations  = 24
	judged    = 160
)

// quickest returns the sought object that takes fewest holes to find.
func (p *player) quickest(b belief) (lead int) {
	best := math.Inf(1)
	for n := range p.Sought() {
		if p.stopped() {
			return lead
		}
		p.lead = n
		if v := p.newSearch(b).holes(b.weights()); v < best {
			best, lead = v, n
		}
	}
	return lead
}

func (b belief) weights() (w []float64) {
	for _, q := range b {
		w = append(w, q.weight)
	}
	return w
}

// search is a belief divided into cells.
type search struct {
	cell  []int32 // of each particle
	sum   []float64
	moved float64 // metres by which a particle is moved at most

	hole   hole      // scratch of judge
	chance []float64 // of each outcome, by particle
}

type hole = encounter.Hole

func (p *player) newSearch(b belief) *search {
	o := &p.Objects[p.lead]
	like := b[0].draw
	for _, q := range b {
		if _, ok := o.Along(q.draw); ok {
			like = q.draw
			break
		}
	}
	cells := NewCells(o, p.tool.Radius, 0, like)
	s := &search{moved: b.moved(), chance: make([]float64, encounter.Outcomes*len(b)), cell: make([]int32, 0, len(b))}
	for _, q := range b {
		s.cell = append(s.cell, cells.Cell(q.draw, q.shift))
	}
	s.sum = make([]float64, cells.Len())
	return s
}

// holes returns how many holes a fixed-order search of particles takes, by
// weight.
func (s *search) holes(weight []float64) float64 {
	sum := s.sum[:cap(s.sum)]
	clear(sum)
	for i, w := range weight {
		sum[s.cell[i]] += w
	}
	return HolesToSearch(sum)
}

// next chooses the hole that leaves the least to search, the hole itself
// counted: the score of the plan, in holes.
func (p *player) next(b belief) (h hole, ok bool) {
	some := b
	if len(b) > judged {
		some = b.sample(judged, func() float64 { return 0.5 })
	}
	s := p.newSearch(some)
	type place struct {
		at    geo.Vec
		score float64
	}
	var all []place
	for _, v := range p.places(some, s.holes(some.weights()) > Blind) {
		if p.stopped() {
			return h, false
		}
		all = append(all, place{v, p.judge(some, s, v)})
	}
	slices.SortStableFunc(all, func(x, y place) int { return cmp.Compare(x.score, y.score) })
	for _, v := range all {
		if h, ok = p.open(some, v.at); ok {
			return h, true
		}
	}
	return h, false
}

// judge returns how many holes are to be expected if the next is dug at v.
func (p *player) judge(b belief, s *search, v geo.Vec) float64 {
	h := &s.hole
	*h = hole{At: v, Radius: p.tool.Radius, Sigma: p.sigma, Tool: p.tool, Shows: h.Shows}
	if d, ok := p.DepthAt(p.lead, v); ok {
		h.Stop = p.Limited(encounter.StopDepth(d), p.tool)
	}
	p.Show(h, s.moved)
	var chance [encounter.Outcomes]float64
	n := len(b)
	for i, q := range b {
		h.At = v.Sub(q.shift)
		for m, c := range p.Chances(q.draw, h) {
			s.chance[m*n+i] = q.weight * c
			chance[m] += q.weight * c
		}
	}
	score := 1.0
	for m := int(encounter.Sought) + 1; m < encounter.Outcomes; m++ {
		if chance[m] > 1e-9 {
			score += chance[m] * CostToGo(s.holes(s.chance[m*n:(m+1)*n]))
		}
	}
	return score
}

// places returns places worth a hole: the likeliest for what is sought and,
// where there is much to search, some along trenches and pipes.
func (p *player) places(b belief, wide bool) (all []geo.Vec) {
	note := func(v geo.Vec) {
		near := func(w geo.Vec) bool { return w.Dist(v) < practice.SameHole }
		if max(math.Abs(v.X), math.Abs(v.Y)) > asbuilt.MaxCoordinate || slices.ContainsFunc(all, near) {
			return
		}
		if p.Ground.Free(v) && p.Ground.Clear(v, p.tool.Radius, 0) {
			all = append(all, v)
		}
	}
	for _, v := range p.likely(b) {
		if len(all) >= likeliest {
			break
		}
		note(v)
	}
	if !wide {
		return all
	}
	n := len(all)
	for k := 0; k < 3*stations && len(all) < n+stations; k++ {
		q := b[(k*len(b)/(3*stations)+k*7)%len(b)]
		_, u := math.Modf(0.5 + golden*float64(k))
		o := &p.Objects[k%len(p.Objects)]
		switch {
		case o.Kind == asbuilt.Lateral && k%4 == 0:
			u = math.Round(u)
		case o.Kind != asbuilt.Lateral && o.Kind != asbuilt.Header:
			continue
		}
		if v, ok := o.Place(q.draw, u); ok {
			note(v.Add(q.shift))
		}
	}
	return all
}

// golden section: so that stations taken one after another lie evenly.
const golden = 0.6180339887

// likely returns places by how much of the belief lies in the footprint of a
// hole about them, the most first.
func (p *player) likely(b belief) (places []geo.Vec) {
	step := max(0.2, (p.Objects[p.lead].Reach+p.tool.Radius)/2)
	own := make(map[[2]int]float64, len(b))
	for i, q := range b {
		_, u := math.Modf(0.5 + golden*float64(i))
		for n := range p.Sought() {
			v, ok := p.Objects[n].Place(q.draw, u)
			if v = v.Add(q.shift); ok && max(math.Abs(v.X), math.Abs(v.Y)) <= asbuilt.MaxCoordinate {
				own[[2]int{int(math.Round(v.X / step)), int(math.Round(v.Y / step))}] += q.weight
			}
		}
	}
	weight := make(map[[2]int]float64, 8*len(own))
	for _, k := range slices.SortedFunc(maps.Keys(own), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) }) {
		w := own[k]
		for dx := -2; dx <= 2; dx++ {
			for dy := -2; dy <= 2; dy++ {
				if dx*dx+dy*dy <= 4 {
					weight[[2]int{k[0] + dx, k[1] + dy}] += w
				}
			}
		}
	}
	keys := slices.Collect(maps.Keys(weight))
	slices.SortFunc(keys, func(a, b [2]int) int {
		return cmp.Or(cmp.Compare(math.Round(weight[b]*1e9), math.Round(weight[a]*1e9)), slices.Compare(a[:], b[:]))
	})
	for _, k := range keys {
		places = append(places, geo.Vec{X: float64(k[0]) * step, Y: float64(k[1]) * step})
	}
	return places
}
