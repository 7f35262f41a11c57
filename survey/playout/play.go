package playout

import (
	"context"
	"math/rand/v2"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
)

// Most is the most holes that are dug in one play.
const Most = 60

// Step is a hole of a plan and the one after each thing that it may meet; nil
// where the plan ends.
type Step struct {
	First *Try             // a line that is followed before the hole is dug, opening what is sought included; nil: none is
	Push  *Push            // what is pushed before that; nil: nothing is
	Stabs *encounter.Stabs // of a rod, made before the hole is dug; nil: none are
	Hole  encounter.Hole
	Next  [encounter.Outcomes]*Step
}

// Options say how to play.
type Options struct {
	Plays int
	Rest  func(share float64) bool // called now and then with the share of the plays done, 0 to 1; false: stop; nil: not called
	Watch func(h encounter.Hole)   // called with every hole that is dug, the plan's own included; nil: not called
}

// Result is the outcome of the plays.
type Result struct {
	Holes   []float64 // of each play: until what is sought was met; Most where it was not
	Minutes []float64 // of digging until then
	Count   []int     // of the plays in which hole i+1 met it
	Found   int       // plays in which it was met
}

// Mean returns the mean number of holes, 0 where nothing was played.
func (r *Result) Mean() (mean float64) {
	for _, n := range r.Holes {
		mean += n / float64(len(r.Holes))
	}
	return mean
}

// Play plays the dig out on a site: from the first hole of a plan on and, beyond
// it, where the next hole leaves the least to search. Some of the draws serve as
// truths, one a play; the others are what the player believes. The same site and
// first hole give the same result. Where ctx is done it stops with its error.
func Play(ctx context.Context, s *encounter.Site, first *Step, o Options) (*Result, error) {
	p := &player{ctx: ctx, Site: s, options: o, result: &Result{}, sigma: first.Hole.Sigma}
	p.result.Holes, p.result.Minutes = make([]float64, 0, o.Plays), make([]float64, 0, o.Plays)
	p.tool = Opener(s.Tools)
	truths, start := p.deal()
	p.lead = p.quickest(start)
	p.play(start, truths, 0, first)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return p.result, nil
}

// Opener returns the tool of a crew that opens a hole soonest, or its first if
// none opens one.
func Opener(tools []survey.Tool) *survey.Tool {
	best := &tools[0]
	for i := range tools {
		if t := &tools[i]; t.Opens && (!best.Opens || t.Minutes(1) < best.Minutes(1)) {
			best = t
		}
	}
	return best
}

// player plays all truths at once: those with the same answers so far hold the
// same belief and dig the same hole.
type player struct {
	*encounter.Site
	options Options
	result  *Result
	tool    *survey.Tool // that holes beyond the plan are dug with
	sigma   float64      // metres: to which a hole is set out, as long as no place is chosen
	lead    int          // object that is searched for, where several are sought
	nodes   uint64       // holes that have been chosen, to seed by
	leave   bool

	ctx context.Context // of the call; a player lives no longer
}

// stopped reports whether the plays are to end.
func (p *player) stopped() bool {
	p.leave = p.leave || p.ctx.Err() != nil
	return p.leave
}

// truth is one play.
type truth struct {
	draw    int
	rng     *rand.Rand
	minutes float64
}

// mostBelieved is how many draws a player starts with.
const mostBelieved = 1500

// deal chooses draws as truths, spread evenly over all of them, and others as
// the belief.
func (p *player) deal() (truths []*truth, b belief) {
	n := p.N
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
func (p *player) play(b belief, truths []*truth, dug int, step *Step) {
	if len(truths) == 0 || p.stopped() {
		return
	}
	var h hole
	if step != nil {
		h = step.Hole
	} else {
		ok := false
		if h, ok = p.next(b); !ok || dug >= Most {
			p.end(truths, Most, false)
			return
		}
	}
	if step != nil && step.First != nil {
		truths = p.follow(truths, dug, 0, func(*truth) Try { return *step.First })
		dug++
	}
	if step != nil && step.Push != nil {
		if step.Push.Opens {
			dug++
		}
		if truths = p.push(truths, dug, *step.Push); len(truths) == 0 {
			return
		}
	}
	if step != nil && step.Stabs != nil {
		p.rod(b, truths, dug, step)
		return
	}
	if p.options.Watch != nil {
		p.options.Watch(h)
	}
	p.nodes++
	p.Show(&h, b.moved())
	var groups [encounter.Outcomes][]*truth
	for _, t := range truths {
		m := p.answer(t, &h)
		groups[m] = append(groups[m], t)
	}
	p.end(groups[encounter.Sought], dug+1, true)
	node := p.nodes
	p.Ground.Dug = append(p.Ground.Dug, h.At)
	for m := encounter.Sought + 1; int(m) < encounter.Outcomes && !p.stopped(); m++ {
		switch {
		case len(groups[m]) == 0:
		case dug+1 >= Most:
			p.end(groups[m], Most, false)
		default:
			var next *Step
			if step != nil {
				next = step.Next[m]
			}
			rng := rand.New(rand.NewPCG(node<<8|uint64(m), 2))
			after, left, holes := p.after(b, &h, m, rng), groups[m], dug+1
			if next == nil && p.worthwhile(after, &h, m) {
				left = p.follow(left, holes, p.exposing(&h), func(t *truth) Try { return p.way(t.draw, &h, m) })
				holes++ // the place where the line was lost
			}
			p.play(after, left, holes, next)
		}
	}
	p.Ground.Dug = p.Ground.Dug[:len(p.Ground.Dug)-1]
}

// Answer says what a hole meets in draw i, chance settled by u from 0 to 1.
func Answer(s *encounter.Site, i int, h *encounter.Hole, u float64) encounter.Outcome {
	c := s.Chances(i, h)
	for m := range encounter.None {
		if u -= c[m]; u < 0 {
			return m
		}
	}
	return encounter.None
}

// answer says what a hole meets in a truth, and adds the time that it takes.
func (p *player) answer(t *truth, h *hole) encounter.Outcome {
	m := Answer(p.Site, t.draw, h, t.rng.Float64())
	t.minutes += h.MinutesOf(m)
	if m == encounter.Sought && !h.Tool.Opens && p.tool.Opens {
		t.minutes += p.tool.Minutes(h.Stop) // what was only felt has to be opened after all
	}
	return m
}

// end notes plays that are over.
func (p *player) end(truths []*truth, holes int, found bool) {
	r := p.result
	for len(r.Count) < holes && found && len(truths) > 0 {
		r.Count = append(r.Count, 0)
	}
	for _, t := range truths {
		r.Holes, r.Minutes = append(r.Holes, float64(holes)), append(r.Minutes, t.minutes)
		if found {
			r.Found++
			r.Count[holes-1]++
		}
	}
	if p.options.Rest != nil && len(truths) > 0 && !p.leave {
		p.leave = !p.options.Rest(float64(len(r.Holes)) / float64(p.options.Plays))
	}
}

// open returns the hole that is dug at v, as deep as what it may meet there
// requires. ok is false where no hole may be dug.
func (p *player) open(b belief, v geo.Vec) (h hole, ok bool) {
	sigma, ok := p.Ground.Allowed(v, p.tool.Radius)
	if !ok {
		return h, false
	}
	h = hole{At: v, Radius: p.tool.Radius, Sigma: sigma, Tool: p.tool}
	chance := make([]float64, len(p.Objects))
	for n := range p.Objects {
		for _, q := range b {
			m := h.Moved(q.shift)
			c, _ := p.Objects[n].Met(q.draw, &m)
			chance[n] += q.weight * c
		}
	}
	h.Stop = p.Stop(&h, chance)
	return h, true
}
