package playout

import "math"

// Push is something that is pushed through a pipe to what is sought, and the holes
// that its length, or its place, then leaves to dig.
type Push struct {
	Opens   bool    // a tank is opened for it: one hole more
	Minutes float64 // that opening, pushing and locating take
	Chance  float64 // that it gets there
	Holes   float64 // that are then expected until what is sought lies open
	Hole    float64 // minutes of each
}

// push lets truths push, and returns those in which it did not get there: they have
// learnt nothing. dug is the number of holes so far, the opened tank included.
func (p *player) push(truths []*truth, dug int, way Push) (stopped []*truth) {
	for _, t := range truths {
		t.minutes += way.Minutes
		if t.rng.Float64() >= way.Chance {
			stopped = append(stopped, t)
			continue
		}
		n, part := math.Modf(max(1, way.Holes))
		if t.rng.Float64() < part {
			n++
		}
		t.minutes += n * way.Hole
		p.end([]*truth{t}, min(dug+int(n), Most), true)
	}
	return stopped
}
