package playout

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
)

// Try is a line that is followed, to what is sought.
type Try struct {
	Minutes float64 // that following it takes, aside from opening what is sought
	Chance  float64 // that it leads there and is not lost on the way
}

// Legs returns what it takes to follow a trench, or a pipe, for so many metres, and
// from its end another pipe for as many more.
func Legs(f survey.Following, trench bool, along, gap float64) Try {
	if gap < practice.EndReach {
		gap = 0
	}
	t := Try{f.Minutes(0, along+gap), f.Keeps(along + gap)}
	if trench {
		t.Minutes = f.Minutes(along, gap)
	}
	return t
}

// Straight is a first estimate of Legs where what is sought lies so many metres
// from where a hole has met a line.
func Straight(f survey.Following, met encounter.Outcome, far float64) Try {
	if met.Kind() == encounter.Header {
		return Legs(f, false, far, 0)
	}
	return Legs(f, true, far, practice.ThroughPipe)
}

// Goal returns the place of what is sought in draw i, where that is one thing at
// one place, to which a pipe leads; ok is false where it is none.
func Goal(s *encounter.Site, i int) (v geo.Vec, ok bool) {
	if sought := s.Sought(); len(sought) != 1 || sought[0].Line {
		return v, false
	}
	return s.Objects[0].Place(i, 0.5)
}

// Leads reports whether a hole that has met something shows a line to be followed:
// a slot may have met it anywhere.
func Leads(h *encounter.Hole, met encounter.Outcome) bool {
	return met.Line() && h.Slot == (geo.Vec{})
}

// exposing returns the minutes of opening what is sought, as deep as a hole.
func (p *player) exposing(h *hole) float64 { return p.tool.Minutes(practice.MetDepth * h.Stop) }

// follow lets truths follow a line, and returns those that lost it. way says what
// that takes each, and opening the minutes of opening what is sought in addition. dug
// is the number of holes so far; what is sought, or the place where the line is lost,
// is one more.
func (p *player) follow(truths []*truth, dug int, opening float64, way func(*truth) Try) (lost []*truth) {
	var found []*truth
	for _, t := range truths {
		try := way(t)
		if t.rng.Float64() < try.Chance {
			t.minutes += try.Minutes + opening
			found = append(found, t)
			continue
		}
		t.minutes += try.Minutes / 2 // lost anywhere on the way
		lost = append(lost, t)
	}
	p.end(found, min(dug+1, Most), true)
	return lost
}

// worthwhile reports whether to follow a line before digging a hole: it has to
// take less than its chance of the search that goes on where it fails.
func (p *player) worthwhile(b belief, h *hole, m encounter.Outcome) bool {
	if !Leads(h, m) || len(b) == 0 {
		return false
	}
	far, there := 0.0, geo.Vec{}
	for _, q := range b {
		goal, ok := Goal(p.Site, q.draw)
		if !ok {
			return false
		}
		goal = goal.Add(q.shift)
		far, there = far+q.weight*goal.Dist(h.At), there.Add(goal.Scale(q.weight))
	}
	if !p.Ground.Passable(h.At, there) {
		return false
	}
	try := Straight(p.Follow, m, far)
	return try.Minutes+p.exposing(h) < try.Chance*p.tool.Minutes(h.Stop)*CostToGo(p.newSearch(b).holes(b.weights()))
}

// way returns what it takes in draw i to follow the line that a hole has met there;
// nothing leads on where the draw has no such line.
func (p *player) way(i int, h *hole, m encounter.Outcome) (best Try) {
	goal, ok := Goal(p.Site, i)
	if !ok {
		return Try{}
	}
	trench, most := m.Kind() != encounter.Header, 0.0
	for n := range p.Objects {
		o := &p.Objects[n]
		if !o.Line || (o.Kind == asbuilt.Lateral) != trench {
			continue
		}
		chance, _ := o.Met(i, h)
		if y, ok := o.Way(i, h.At, goal); ok && chance > most && !math.IsNaN(y.Along) {
			best, most = Legs(p.Follow, trench, y.Along, y.Gap), chance
		}
	}
	return best
}
