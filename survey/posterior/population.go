package posterior

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"asfound/geo"
	"asfound/survey/observe"
)

// particle is one draw in the making: a member of the mixture, and how far its
// unknowns lie from that member's solution.
type particle struct {
	member int
	off    []float64
	shift  []float64
	at     []geo.Vec // of every place, as the member's solution has the frame
	weight float64   // of the population, whose weights sum to 1
	likely float64   // logarithm of the probability of the items taken in
}

// population is a sample of the belief that takes evidence in item by item:
// sequential Monte Carlo. Source: Del Moral, Doucet & Jasra, Sequential Monte
// Carlo samplers, J. R. Statist. Soc. B 68 (2006); the moves are elliptical
// slice sampling, Murray, Adams & MacKay, AISTATS 2010.
type population struct {
	m      *mixture
	rng    *rand.Rand
	each   []*particle
	spare  []*particle
	shifts int
	items  []Item // taken in, except those that do not distinguish the draws
	arcs   []arcs // of each member

	trial  particle  // a proposal
	nu     []float64 // a fresh draw about zero
	nus    []float64
	y      []float64
	placed observe.Placed
}

const (
	explore  = 0.2  // share of a population that is divided evenly among all explanations, so that none is left out
	lowShare = 0.5  // effective share below which a population is resampled
	farShare = 0.05 // effective share of the first draws below which the draws descend from so few that they are moved more
	farMoves = 3    // times as often
	moveMost = 40   // shrinkings of a slice before a draw stays where it is
)

// newPopulation draws n particles from the belief before any evidence, by
// systematic sampling over the members.
func newPopulation(ctx context.Context, m *mixture, n int, e Evidence) (*population, error) {
	s := &population{m: m, rng: rand.New(rand.NewPCG(seed(m.fit), 1)), shifts: e.Shifts, arcs: make([]arcs, len(m.members))}
	weights, deal := make([]float64, len(m.members)), make([]float64, len(m.members))
	whole := make([]float64, len(m.explanations))
	for i, one := range m.members {
		weights[i] = one.c.Weight
		whole[one.explanation] += one.c.Weight
	}
	copy(deal, weights)
	if len(e.Items)+len(e.Hits) > 0 && len(whole) > 1 {
		for i, one := range m.members {
			deal[i] = (1-explore)*weights[i] + explore/float64(len(whole))*weights[i]/whole[one.explanation]
		}
	}
	aside := rand.New(rand.NewPCG(seed(m.fit), 2)) // so that places do not depend on whether there are shifts
	for i := range n {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		d := &particle{member: choose(deal, (float64(i)+0.5)/float64(n))}
		d.weight = weights[d.member] / deal[d.member]
		d.off = s.fresh(d.member, nil)
		d.shift = make([]float64, s.shifts)
		for k := range d.shift {
			d.shift[k] = aside.NormFloat64()
		}
		d.at = s.lay(d.member, d.off, nil)
		s.each = append(s.each, d)
	}
	return s, nil
}

// fresh overwrites to with a draw of a member's unknowns about its solution.
func (s *population) fresh(member int, to []float64) []float64 {
	c := s.m.members[member].c
	if len(to) != c.Network.Size {
		to = make([]float64, c.Network.Size)
	}
	for k := range to {
		to[k] = s.rng.NormFloat64()
	}
	c.Solution.Factor.Backward(to)
	return to
}

// lay overwrites at with every place of a member whose unknowns lie off from
// its solution.
func (s *population) lay(member int, off []float64, at []geo.Vec) []geo.Vec {
	c := s.m.members[member].c
	n := c.Network
	if len(s.y) != n.Size {
		s.y = make([]float64, n.Size)
	}
	for k, v := range off {
		s.y[k] = c.Solution.Y[k] + v
	}
	if s.arcs[member] == nil {
		s.arcs[member] = newArcs(c)
	}
	s.arcs[member].bend(n, c.Solution.Y, s.y)
	s.placed.Move(n, s.y)
	return s.placed.All(at)
}

// learn takes items in, one after another, and says what they changed. The
// population ends with equal weights.
func (s *population) learn(ctx context.Context, e Evidence) (Learned, error) {
	out := Learned{Left: 1, Share: 1}
	items := slices.Concat(e.Hits, e.Items)
	if len(items) == 0 {
		return out, nil
	}
	left := 0.0
	s.norm()
	for n, item := range items {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		var sum, square float64
		informs := false
		for _, d := range s.each {
			x, l := item(d.at, d.shift), 1.0
			if x < 0 {
				informs, l = true, math.Exp(x)
				d.likely += x
			}
			before := d.weight
			d.weight *= l
			sum, square = sum+d.weight, square+before*l*l
		}
		if n < len(e.Hits) {
			out.Hits = append(out.Hits, sum)
		} else {
			out.Items = append(out.Items, sum)
		}
		if !informs || !(sum > 0) {
			continue
		}
		s.items = append(s.items, item)
		if n >= len(e.Hits) {
			left += math.Log(sum)
		}
		out.Share *= min(1, sum*sum/square)
		if share := s.norm(); share < lowShare {
			s.resample()
			times := math.Ceil(math.Log(1/share) / math.Log(4))
			if out.Share < farShare {
				times *= farMoves
			}
			for range int(times) {
				if err := s.move(ctx); err != nil {
					return out, err
				}
			}
		}
	}
	out.Left, out.Counts = math.Exp(left), out.Share < counts || len(e.Hits) > 0
	if out.Counts {
		s.resample()
		if err := s.move(ctx); err != nil {
			return out, err
		}
	}
	return out, nil
}

// norm brings the sum of the weights to 1 and returns the effective share of
// the draws (Kish 1965).
func (s *population) norm() (share float64) {
	sum, square := 0.0, 0.0
	for _, d := range s.each {
		sum, square = sum+d.weight, square+d.weight*d.weight
	}
	for _, d := range s.each {
		d.weight /= sum
	}
	return sum * sum / square / float64(len(s.each))
}

// resample makes the weights equal: systematic resampling (Kitagawa 1996), in
// which a draw is repeated as often as its weight asks, to one.
func (s *population) resample() {
	n := float64(len(s.each))
	u, run := s.rng.Float64(), 0.0
	next := make([]*particle, 0, len(s.each))
	var twice []*particle
	s.spare = s.spare[:0]
	for _, d := range s.each {
		run += n * d.weight
		copies := 0
		for ; u < run && len(next)+len(twice) < len(s.each); u++ {
			if copies++; copies == 1 {
				next = append(next, d)
			} else {
				twice = append(twice, d)
			}
		}
		if copies == 0 {
			s.spare = append(s.spare, d)
		}
	}
	for len(next)+len(twice) < len(s.each) { // by rounding alone
		twice = append(twice, next[len(next)-1])
	}
	for i, from := range twice {
		to := s.spare[i]
		to.member, to.likely = from.member, from.likely
		to.off = append(to.off[:0], from.off...)
		to.shift = append(to.shift[:0], from.shift...)
		to.at = append(to.at[:0], from.at...)
		next = append(next, to)
	}
	slices.SortStableFunc(next, func(a, b *particle) int { return cmp.Compare(a.member, b.member) })
	s.each = next
	for _, d := range s.each {
		d.weight = 1 / n
	}
}

// move moves every draw to another that is as likely under its member and the
// items taken in.
func (s *population) move(ctx context.Context) error {
	for _, d := range s.each {
		if err := ctx.Err(); err != nil {
			return err
		}
		s.slice(d)
	}
	return nil
}

// slice moves one draw: elliptical slice sampling, which needs no tuning and
// leaves the belief as it is.
func (s *population) slice(d *particle) {
	floor := d.likely + math.Log(1-s.rng.Float64())
	s.nu = s.fresh(d.member, s.nu)
	s.nus = s.nus[:0]
	for range d.shift {
		s.nus = append(s.nus, s.rng.NormFloat64())
	}
	turn := 2 * math.Pi * s.rng.Float64()
	least, most := turn-2*math.Pi, turn
	t := &s.trial
	for range moveMost {
		sin, cos := math.Sincos(turn)
		t.off, t.shift = t.off[:0], t.shift[:0]
		for k, v := range d.off {
			t.off = append(t.off, cos*v+sin*s.nu[k])
		}
		for k, v := range d.shift {
			t.shift = append(t.shift, cos*v+sin*s.nus[k])
		}
		t.at = s.lay(d.member, t.off, t.at)
		if t.likely = s.likely(t.at, t.shift, floor); t.likely >= floor {
			d.off, t.off = t.off, d.off
			d.shift, t.shift = t.shift, d.shift
			d.at, t.at = t.at, d.at
			d.likely = t.likely
			return
		}
		if turn < 0 {
			least = turn
		} else {
			most = turn
		}
		turn = least + (most-least)*s.rng.Float64()
	}
}

// likely returns the logarithm of the probability of the items taken in, or
// anything below floor where it is below that. An item that rules a draw out
// comes sooner the next time: most proposals are ruled out by the same few.
func (s *population) likely(at []geo.Vec, shift []float64, floor float64) (sum float64) {
	for k, item := range s.items {
		if sum += item(at, shift); sum < floor {
			s.items[k], s.items[k/2] = s.items[k/2], item
			break
		}
	}
	return sum
}
