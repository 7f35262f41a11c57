package rehearse

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/probe"
)

// player plays all truths at once: those that have answered alike so far
// believe alike and dig the same hole.
type player struct {
	*ground
	rehearsal *Rehearsal
	options   Options
	nodes     uint64
	found     int
	holes     []float64
	minutes   []float64
}

// truth is one play.
type truth struct {
	draw    int
	rng     *rand.Rand
	minutes float64
}

// most believed is how many draws a player starts with.
const mostBelieved = 1500

// divide takes draws for truths, spread evenly over all of them, and others to
// believe in.
func (p *player) divide(n int) (truths []*truth, b belief) {
	third := max(1, n/3)
	for i := range p.options.Plays {
		// Every third draw is a truth; where there are fewer, some play twice.
		d := min(n-1, 3*(i*third/p.options.Plays))
		truths = append(truths, &truth{draw: d, rng: rand.New(rand.NewPCG(uint64(i), 1))})
	}
	for i := range n {
		if i%3 != 0 || n < 9 {
			b = append(b, particle{draw: i})
		}
	}
	if len(b) > mostBelieved {
		thin := make(belief, 0, mostBelieved)
		for i := range mostBelieved {
			thin = append(thin, b[i*len(b)/mostBelieved])
		}
		b = thin
	}
	for i := range b {
		b[i].weight = 1 / float64(len(b))
	}
	return truths, b
}

// play digs the next hole for truths that believe b, having dug holes before,
// and goes on with each answer.
func (p *player) play(b belief, truths []*truth, dug int, step *probe.Step, before []geo.Vec) {
	if len(truths) == 0 {
		return
	}
	at, radius, stop := geo.Vec{}, p.tool.Radius, p.stop
	if step != nil {
		at = step.Hole.At
		if step.Hole.Radius > 0 {
			radius = step.Hole.Radius
		}
		if step.Hole.StopDepth > 0 {
			stop = step.Hole.StopDepth
		}
	} else {
		v, ok := p.next(b, before)
		if !ok || dug >= Most {
			p.end(truths, Most, false)
			return
		}
		at = v
	}
	p.nodes++
	var groups [answers][]*truth
	for _, t := range truths {
		c := p.chances(t.draw, at, radius)
		u, met := t.rng.Float64(), none
		for m := range answers {
			if u -= c[m]; u < 0 {
				met = m
				break
			}
		}
		deep := stop
		if met != none {
			deep *= 0.8
		}
		t.minutes += p.tool.Minutes(deep)
		groups[met] = append(groups[met], t)
	}
	p.end(groups[sought], dug+1, true)
	if dug+1 >= Most {
		for m := sought + 1; m < answers; m++ {
			p.end(groups[m], Most, false)
		}
		return
	}
	here := append(slices.Clip(before), at)
	for m := sought + 1; m < answers; m++ {
		if len(groups[m]) == 0 {
			continue
		}
		rng := rand.New(rand.NewPCG(p.nodes, 2))
		p.play(p.after(b, at, radius, m, rng), groups[m], dug+1, branch(step, m), here)
	}
}

// branch returns the step that a plan's tree has for an answer, nil: none.
func branch(s *probe.Step, met int) *probe.Step {
	if s == nil {
		return nil
	}
	for i := range s.Branches {
		if metOf[string(s.Branches[i].Met)] == met {
			return s.Branches[i].Next
		}
	}
	return nil
}

// end notes plays that are over.
func (p *player) end(truths []*truth, holes int, found bool) {
	if len(truths) == 0 {
		return
	}
	for len(p.rehearsal.Count) < holes {
		p.rehearsal.Count = append(p.rehearsal.Count, 0)
	}
	for _, t := range truths {
		p.holes, p.minutes = append(p.holes, float64(holes)), append(p.minutes, t.minutes)
		if found {
			p.found++
			p.rehearsal.Count[holes-1]++
		}
	}
	if p.options.Progress != nil {
		p.options.Progress(float64(len(p.holes)) / float64(p.options.Plays))
	}
}

// How many places are judged for a hole, and on how many particles.
const (
	likeliest = 16
	along     = 24
	judged    = 160
)

// next chooses the hole that leaves the least to search, the hole itself
// counted: the score of the plan, in holes.
func (p *player) next(b belief, before []geo.Vec) (at geo.Vec, ok bool) {
	some := b
	if len(b) > judged {
		some = make(belief, 0, judged)
		sum, k := 0.0, 0
		for i := range judged { // in proportion to weight
			u := (float64(i) + 0.5) / judged
			for k < len(b)-1 && sum+b[k].weight < u {
				sum += b[k].weight
				k++
			}
			q := b[k]
			q.weight = 1.0 / judged
			some = append(some, q)
		}
	}
	c := p.cells(some, geo.Vec{})
	all := make([]float64, len(some))
	for i := range some {
		all[i] = some[i].weight
	}
	var by [answers][]float64
	for m := range by {
		by[m] = make([]float64, len(some))
	}
	best := math.Inf(1)
	for _, v := range p.places(some, c.search(all) > 4, before) {
		score := 1.0
		var chance [answers]float64
		for i, q := range some {
			x := p.chances(q.draw, v.Sub(q.shift), p.tool.Radius)
			for m := range answers {
				by[m][i] = q.weight * x[m]
				chance[m] += by[m][i]
			}
		}
		for m := sought + 1; m < answers; m++ {
			if chance[m] > 1e-9 {
				score += chance[m] * toGo(c.search(by[m]))
			}
		}
		if score < best {
			best, at, ok = score, v, true
		}
	}
	return at, ok
}

// places returns places worth a hole: the likeliest for what is sought and,
// where there is much to search, some along trenches and pipes.
func (p *player) places(b belief, wide bool, before []geo.Vec) (all []geo.Vec) {
	note := func(v geo.Vec) {
		near := func(w geo.Vec) bool { return w.Dist(v) < 0.25 }
		if p.allowed(v) && !slices.ContainsFunc(before, near) && !slices.ContainsFunc(all, near) {
			all = append(all, v)
		}
	}
	t := &p.things[0]
	step := max(0.2, (t.reach+p.tool.Radius)/2)
	type heap struct {
		at geo.Vec
		w  float64
	}
	heaps := map[[2]int]*heap{}
	for i, q := range b {
		for k := range p.things {
			o := &p.things[k]
			if !o.sought {
				break
			}
			_, u := math.Modf(0.5 + 0.618034*float64(i))
			v := o.place(q.draw, u).Add(q.shift)
			key := [2]int{int(math.Round(v.X / step)), int(math.Round(v.Y / step))}
			if heaps[key] == nil {
				heaps[key] = &heap{at: geo.Vec{X: float64(key[0]) * step, Y: float64(key[1]) * step}}
			}
			heaps[key].w += q.weight
		}
	}
	list := make([]*heap, 0, len(heaps))
	for _, h := range heaps {
		list = append(list, h)
	}
	slices.SortFunc(list, func(x, y *heap) int {
		return cmp.Or(cmp.Compare(math.Round(y.w*1e9), math.Round(x.w*1e9)), cmp.Compare(x.at.X, y.at.X), cmp.Compare(x.at.Y, y.at.Y))
	})
	for _, h := range list {
		if len(all) >= likeliest {
			break
		}
		note(h.at)
	}
	if !wide {
		return all
	}
	n := len(all)
	for k := 0; k < 3*along && len(all) < n+along; k++ {
		q := b[(k*len(b)/(3*along)+k*7)%len(b)]
		_, u := math.Modf(0.5 + 0.618034*float64(k))
		o := &p.things[k%len(p.things)]
		switch {
		case o.kind == asbuilt.Lateral && k%4 == 0:
			u = math.Round(u)
		case o.kind != asbuilt.Lateral && o.kind != asbuilt.Header:
			continue
		}
		note(o.place(q.draw, u).Add(q.shift))
	}
	return all
}
