package belief

import (
	"math"
	"slices"

	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/encounter"
)

// course is what a crew followed without a break: holes and stakes, and the links
// between them. All of it is one line, unless the crew lost that somewhere and
// picked up another.
type course struct {
	lines []line // of the kind that was followed, drawn or not
	stops []stop
	links []link
	ways  []way
}

// stop is a hole or stake of a course.
type stop struct {
	name    string
	at      int // its place
	radius  float64
	may     []bool // which lines lie there by what its own rows say
	settled bool   // the fit has placed one of them by it: that which passes nearest
	agrees  agrees // nil: no direction was seen, or none is taken in yet
}

// link is that one line was followed between two stops.
type link struct {
	a, b int
	may  []bool // which line it was
}

// way is one way in which the links were followed, some wrongly.
type way struct {
	odds   float64
	pieces []piece
}

// piece are the stops that are on one line.
type piece struct {
	stops []int
	links []int
	may   []bool // which line that is by the links; nil: any
}

// mostLost is how many links at once are taken to be wrong, beside all of them: the
// ways of a long course are too many to be weighed, and those left out have odds of
// practice.Misfollowed cubed.
const mostLost = 2

// newCourse returns a course of stops and links.
func newCourse(lines []line, stops []stop, links []link) *course {
	c := &course{lines: lines, stops: stops, links: links}
	lost := make([]bool, len(links))
	c.lose(lost, 0, 0)
	if len(links) > mostLost {
		for i := range lost {
			lost[i] = true
		}
		c.ways = append(c.ways, c.way(lost))
	}
	return c
}

// lose adds the ways in which n links are lost already, and others from one on may
// be.
func (c *course) lose(lost []bool, n, from int) {
	c.ways = append(c.ways, c.way(lost))
	for i := from; i < len(lost) && n < mostLost; i++ {
		lost[i] = true
		c.lose(lost, n+1, i+1)
		lost[i] = false
	}
}

// way returns the way in which some links are lost.
func (c *course) way(lost []bool) way {
	w := way{odds: 1}
	of := make([]int, len(c.stops)) // the first stop of the piece of each
	for i := range of {
		of[i] = i
	}
	for i, k := range c.links {
		if lost[i] {
			w.odds *= practice.Misfollowed
			continue
		}
		w.odds *= 1 - practice.Misfollowed
		one, other := min(of[k.a], of[k.b]), max(of[k.a], of[k.b])
		for s := range of {
			if of[s] == other {
				of[s] = one
			}
		}
	}
	for first := range of {
		if of[first] != first {
			continue
		}
		var p piece
		for s := range of {
			if of[s] == first {
				p.stops = append(p.stops, s)
			}
		}
		for i, k := range c.links {
			if lost[i] || of[k.a] != first {
				continue
			}
			p.links = append(p.links, i)
			if p.may == nil {
				p.may = slices.Clone(k.may)
			}
			for n := range p.may {
				p.may[n] = p.may[n] && k.may[n]
			}
		}
		w.pieces = append(w.pieces, p)
	}
	return w
}

// chance returns the probability of what was seen along a course, given its places.
func (c *course) chance(places []geo.Vec) (sum float64) {
	var room [64]float64 // most courses need no more, and it is asked very often
	all := room[:]
	n := len(c.lines)
	if 2*n*len(c.stops) > len(all) {
		all = make([]float64, 2*n*len(c.stops))
	}
	under, seen := all[:len(all)/2], all[len(all)/2:]
	for i := range c.stops {
		c.stops[i].weigh(c.lines, places, under[i*n:(i+1)*n], seen[i*n:(i+1)*n])
	}
	for i := range c.ways {
		p := c.ways[i].odds
		for k := range c.ways[i].pieces {
			p *= c.met(&c.ways[i].pieces[k], places, under, seen)
		}
		sum += p
	}
	return sum
}

// weigh sets for each line the chance that it lies under the stop, and that it was
// also seen to run as it does.
func (s *stop) weigh(lines []line, places []geo.Vec, under, seen []float64) {
	if s.settled {
		clear(under)
		k := nearest(lines, s.may, places, places[s.at])
		under[k] = 1
		copy(seen, under)
		return
	}
	for k := range lines {
		under[k] = 0
		if s.may[k] {
			under[k] = lines[k].under(places, places[s.at], s.radius)
		}
		seen[k] = under[k]
		if s.agrees != nil && under[k] > 0 {
			seen[k] *= s.agrees(&lines[k], places)
		}
	}
}

// nearest returns which of the lines that may be, nil: of all, passes nearest to v.
func nearest(lines []line, may []bool, places []geo.Vec, v geo.Vec) (near int) {
	best := math.Inf(1)
	for k := range lines {
		if may != nil && !may[k] {
			continue
		}
		if d := lines[k].Distance(places, v, best); d < best {
			near, best = k, d
		}
	}
	return near
}

// met returns the chance that one line lies under all stops of a piece and runs as
// it was seen to: one of those that there are, or one that nobody knows of, which
// may run any way. How seldom that leads to the next stop counts: else it would
// explain a long course best, since it would always be where it is wanted.
func (c *course) met(p *piece, places []geo.Vec, under, seen []float64) float64 {
	other, missed, stray := 1.0, 1.0, practice.StrayHit
	for k := range c.lines {
		if p.may != nil && !p.may[k] {
			continue
		}
		lies, runs := 1.0, 1.0
		for _, s := range p.stops {
			lies *= under[s*len(c.lines)+k]
			runs *= seen[s*len(c.lines)+k]
		}
		missed *= 1 - lies
		other *= 1 - runs
	}
	for _, s := range p.stops {
		switch {
		case c.stops[s].settled:
			stray = 0
		case c.stops[s].agrees != nil:
			stray *= practice.Misdirected
		}
	}
	for _, k := range p.links {
		stray *= c.astray(c.links[k], func(s *stop) geo.Vec { return places[s.at] })
	}
	return 1 - other + stray*missed
}

// astray returns the share of unknown lines under one end of a link that lie under the
// other too: they are taken to run straight, any way.
func (c *course) astray(k link, lies func(*stop) geo.Vec) float64 {
	a, b := &c.stops[k.a], &c.stops[k.b]
	reach := encounter.Pipe().Reach
	if len(c.lines) > 0 {
		reach = c.lines[0].Reach
	}
	return min(1, 2*(reach+b.radius)/(math.Pi*lies(a).Dist(lies(b))))
}
