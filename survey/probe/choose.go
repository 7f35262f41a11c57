package probe

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/playout"
)

type tool = survey.Tool

// choice is a hole and what it is judged by.
type choice struct {
	hole
	chance  float64 // of meeting what is sought
	score   float64 // expected minutes until it is met, this hole included; less is better
	search  float64 // of these: the minutes of the holes after it
	plain   float64 // the score before any looking ahead
	logRest float64 // expected logarithm of the holes that a fixed-order search takes after it
}

// How many candidates are considered.
type effort struct {
	sites, spots, finals int // draws whose parts are tried, likeliest cells, candidates judged on all draws
	roots, played        int // candidates judged by what a crew would do after them, draws that is played on
}

var (
	full  = effort{sites: 24, spots: 50, finals: 30, roots: 14, played: 1000}
	brief = effort{sites: 12, spots: 25, finals: 12, roots: 6, played: 500} // for branches of a tree
)

// best returns the hole that leaves the least expected digging. greedy takes
// the one that most likely meets what is sought instead.
func (b *belief) best(greedy bool, e effort) (c choice, ok bool) {
	coarse := b.support(len(b.all) / few)
	fine := b.support(1)
	if len(fine) == 0 {
		return c, false
	}
	var t tally
	b.usual(coarse)
	var all []choice
	for _, v := range b.candidates(e, greedy) {
		if b.stopped() {
			return c, false
		}
		for i := range b.Tools {
			if h, ok := b.open(v, &b.Tools[i], coarse); ok {
				all = append(all, b.judge(h, coarse, &t, greedy, 1))
			}
		}
	}
	for _, v := range b.slots(e) {
		if b.stopped() {
			return c, false
		}
		for i := range b.Tools {
			if b.Tools[i].Slot > 0 {
				if h, ok := b.openSlot(v[0], v[1], &b.Tools[i], coarse); ok {
					all = append(all, b.judge(h, coarse, &t, greedy, 1))
				}
			}
		}
	}
	if len(all) == 0 {
		return c, false
	}
	order(all)
	finals := slices.Clone(all[:min(e.finals, len(all))])
	slices.SortStableFunc(all, func(x, y choice) int { return cmp.Compare(y.chance, x.chance) })
	finals = append(finals, all[:min(e.finals/3, len(all))]...) // a try may do better than it seems
	for i := range finals {
		if b.stopped() {
			return c, false
		}
		finals[i] = b.judge(finals[i].hole, fine, &t, greedy, playout.Shifts)
	}
	order(finals)
	first := finals[0]
	if !greedy && b.blindly(b.grids[0]) > playout.Blind {
		first = b.lookAhead(all, finals, fine, &t, e)
	}
	return b.climb(first, fine, &t, greedy), !b.stopped()
}

// order puts the best first.
func order(all []choice) {
	slices.SortFunc(all, func(a, b choice) int {
		return cmp.Or(cmp.Compare(a.score, b.score), cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y), cmp.Compare(a.Radius, b.Radius), cmp.Compare(a.Slot.X, b.Slot.X), cmp.Compare(a.Slot.Y, b.Slot.Y))
	})
}

// climb moves a hole to a better place beside it, as long as there is one. What
// looking ahead has added to its score is taken to be the same there.
func (b *belief) climb(c choice, fine []int32, t *tally, greedy bool) choice {
	ahead := c.score - c.plain
	for s := 0.2; s > 0.03; s /= 2 {
		for _, d := range []geo.Vec{{X: s}, {X: -s}, {Y: s}, {Y: -s}} {
			if b.stopped() {
				return c
			}
			h, ok := hole{}, false
			if c.Slot == (geo.Vec{}) {
				h, ok = b.open(round(c.At.Add(d)), c.Tool, fine)
			} else {
				h, ok = b.openSlot(round(c.At.Add(d)), c.Slot, c.Tool, fine)
			}
			if ok {
				n := b.judge(h, fine, t, greedy, playout.Shifts)
				if n.score += ahead; n.score < c.score {
					c = n
				}
			}
		}
	}
	return c
}

// open returns the hole that a crew would dig at v with a tool, down to where
// everything likely would have been met.
func (b *belief) open(v geo.Vec, t *tool, subset []int32) (h hole, ok bool) {
	sigma, ok := b.Ground.Allowed(v, t.Radius)
	if !ok {
		return h, false
	}
	return b.deepen(hole{At: v, Radius: t.Radius, Sigma: sigma, Tool: t}, subset), true
}

// openSlot returns the slot that a crew would cut from v on.
func (b *belief) openSlot(v, slot geo.Vec, t *tool, subset []int32) (h hole, ok bool) {
	sigma, ok := b.Ground.AllowedSlot(v, slot, t.Radius)
	if !ok {
		return h, false
	}
	return b.deepen(hole{At: v, Slot: slot, Radius: t.Radius, Sigma: sigma, Tool: t}, subset), true
}

// deepen returns a hole with its stop depth, and what it would meet above that.
func (b *belief) deepen(h hole, subset []int32) hole {
	h.Stop = b.Stop(&h, b.chances(&h, subset))
	h.Shows = nil
	b.Show(&h, 0)
	return h
}

// usual works out what a search costs where what is sought is likely: the
// minutes of a hole, with the tool that searches quickest, and those of opening
// in the end what that tool has only felt. The speed of a tool is its footprint
// and its chance of detection, relative to the first tool's.
func (b *belief) usual(subset []int32) {
	depth := 1.0
	for _, i := range subset {
		if v, ok := b.Objects[0].Place(int(i), 0.5); ok {
			if d, ok := b.DepthAt(0, v); ok {
				depth = encounter.StopDepth(d)
			}
			break
		}
	}
	b.mean, b.opening = math.Inf(1), math.Inf(1)
	opens := false
	for i := range b.Tools {
		t := &b.Tools[i]
		m := t.Minutes(depth)
		if t.Opens {
			b.opening = min(b.opening, m)
		}
		foot := (b.Objects[0].Reach + t.Radius) / (b.Objects[0].Reach + b.Tools[0].Radius)
		if !b.Objects[0].Line {
			foot *= foot
		}
		if m /= foot * t.Notices; m < b.mean {
			b.mean, opens = m, t.Opens
		}
	}
	b.expose = b.exposing()
	if opens || math.IsInf(b.opening, 1) { // what is met is exposed, or no tool exposes it
		b.opening = 0
	}
}

// judge scores a hole. Looking ahead, that is the minutes it takes and those
// that are to be expected after it: for each thing that it may meet, how many
// holes are then to go (playout.CostToGo) of the usual minutes.
func (b *belief) judge(h hole, subset []int32, t *tally, greedy bool, grids int) choice {
	if greedy {
		grids = 0
	}
	b.try(&h, subset, t, grids)
	c := choice{hole: h, chance: t.chance[sought]}
	minutes := 0.0
	for m, p := range t.chance {
		minutes += p * h.MinutesOf(encounter.Outcome(m))
	}
	if greedy {
		c.score = -c.chance / minutes
		c.plain = c.score
		return c
	}
	c.score = minutes
	if !h.Tool.Opens { // what it has met has to be opened after all
		c.score += t.chance[sought] * b.opening
	}
	for m := sought + 1; m < len(mets); m++ {
		if t.chance[m] > 0 {
			search := b.mean * playout.CostToGo(t.search[m])
			if met := encounter.Outcome(m); playout.Leads(&h, met) {
				search = min(search, b.followFrom(&h, met, t.part[m], search))
			}
			c.search += t.chance[m] * search
			c.score += t.chance[m] * b.opening
			c.logRest += t.chance[m] * math.Log(max(1, t.search[m]))
		}
	}
	c.score += c.search
	c.plain = c.score
	return c
}

// candidates returns places worth a try: where what is sought most likely is,
// and, looking ahead, along trenches and headers and at their ends, as some of
// the draws have them.
func (b *belief) candidates(e effort, greedy bool) (all []geo.Vec) {
	seen := map[[2]int]bool{}
	note := func(v geo.Vec) {
		if !v.Finite() || max(math.Abs(v.X), math.Abs(v.Y)) > asbuilt.MaxCoordinate {
			return
		}
		const grid = 0.3
		k := [2]int{int(math.Floor(v.X / grid)), int(math.Floor(v.Y / grid))}
		if !seen[k] {
			seen[k] = true
			all = append(all, round(v))
		}
	}
	b.likely(e.spots, note)
	if greedy {
		return all
	}
	for k, i := range b.sample(e.sites) {
		// Golden sections, so that the stations of all draws together lie evenly.
		_, u := math.Modf(0.5 + 0.6180339887*float64(k))
		for n := range b.Objects {
			o := &b.Objects[n]
			switch o.Kind {
			case asbuilt.Lateral:
				for j := range 3 {
					if v, ok := o.Place(i, (float64(j)+u)/3); ok {
						note(v)
					}
				}
				for _, end := range []float64{0, 1} {
					if v, ok := o.Place(i, end); ok {
						note(v)
					}
				}
			case asbuilt.Header:
				for j := range 2 {
					if v, ok := o.Place(i, (float64(j)+u)/2); ok {
						note(v)
					}
				}
			}
		}
	}
	return all
}

// sample returns n draws, in proportion to their weight: systematic sampling.
func (b *belief) sample(n int) (some []int) {
	sum := 0.0
	for i, w := range b.weight {
		for sum += w; len(some) < n && sum*float64(n) > float64(len(some))+0.5; {
			some = append(some, i)
		}
	}
	return some
}

// likely calls note with the places where what is sought is most likely to be,
// n of them at most, the likeliest first, and with places beside them, where a
// hole may still meet its edge if the place itself is kept out of.
func (b *belief) likely(n int, note func(geo.Vec)) {
	const stations = 8
	type heap struct {
		at geo.Vec
		w  float64
	}
	step := max(0.1, (b.Objects[0].Reach+b.Tools[0].Radius)/2)
	heaps := map[[2]int]*heap{}
	for k := range b.Sought() {
		if b.stopped() {
			return
		}
		o := &b.Objects[k]
		many := 1
		if o.Line {
			many = stations
		}
		for i, w := range b.weight {
			for j := range many {
				v, ok := o.Place(i, (float64(j)+0.5)/float64(many))
				if !ok || w == 0 || max(math.Abs(v.X), math.Abs(v.Y)) > asbuilt.MaxCoordinate {
					continue
				}
				key := [2]int{int(math.Round(v.X / step)), int(math.Round(v.Y / step))}
				if heaps[key] == nil {
					heaps[key] = &heap{at: geo.Vec{X: float64(key[0]) * step, Y: float64(key[1]) * step}}
				}
				heaps[key].w += w
			}
		}
	}
	near := make(map[[2]int]*heap, 4*len(heaps))
	for _, key := range slices.SortedFunc(maps.Keys(heaps), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) }) {
		for dx := -2; dx <= 2; dx++ {
			for dy := -2; dy <= 2; dy++ {
				if dx*dx+dy*dy > 4 {
					continue
				}
				k := [2]int{key[0] + dx, key[1] + dy}
				if near[k] == nil {
					near[k] = &heap{at: geo.Vec{X: float64(k[0]) * step, Y: float64(k[1]) * step}}
				}
				near[k].w += heaps[key].w
			}
		}
	}
	list := make([]*heap, 0, len(near))
	for _, h := range near {
		list = append(list, h)
	}
	slices.SortFunc(list, func(x, y *heap) int {
		return cmp.Or(cmp.Compare(math.Round(y.w*1e9), math.Round(x.w*1e9)), cmp.Compare(x.at.X, y.at.X), cmp.Compare(x.at.Y, y.at.Y))
	})
	tried := 0
	for _, h := range list {
		if tried == n {
			return
		}
		if v := round(h.at); b.openTo(v) {
			note(v)
			tried++
		}
	}
}

// openTo reports whether any of the crew's tools may dig at v.
func (b *belief) openTo(v geo.Vec) bool {
	for i := range b.Tools {
		if _, ok := b.Ground.Allowed(v, b.Tools[i].Radius); ok {
			return true
		}
	}
	return false
}

// round rounds a place to whole centimetres, as plans state it.
func round(v geo.Vec) geo.Vec {
	return geo.Vec{X: math.Round(v.X*100) / 100, Y: math.Round(v.Y*100) / 100}
}
