package belief

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
	"asfound/survey/encounter"
)

// The probability of a course against the sum over every way in which its links may
// have been lost, written out by the stops that each way leaves together: exactly with
// three links, and with more but for what is left out. The odds once more: 1 in 20
// lost, 1 in 50 lines unknown, straight and
// any way, 1 in 20 of their directions as seen.
func TestChanceOfACourse(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	any := []bool{true, true, true}
	for range 200 {
		var places []geo.Vec
		at := func(x, y float64) int {
			places = append(places, geo.Vec{X: x, Y: y + 0.3*rng.NormFloat64()})
			return len(places) - 1
		}
		var lines []line
		for k := range 3 {
			y := 0.3 * float64(k)
			lines = append(lines, undrawn([]int{at(0, y), at(5, y), at(10, y)}))
		}
		var stops []stop
		for s := range 5 {
			stops = append(stops, stop{at: at(2*float64(s), 0.3), radius: 0.2, may: any})
		}
		runs := [3]float64{0.3, 0.9, 0.05}
		stops[1].agrees = func(n *line, _ []geo.Vec) float64 { return runs[n.Vertices[0]/3] }
		stops[2].may = []bool{true, false, true}
		stops[3].settled = rng.IntN(2) == 0
		links := []link{{0, 1, any}, {1, 2, []bool{true, true, false}}, {2, 3, []bool{rng.IntN(2) == 0, true, true}}, {3, 4, any}}
		for n := range 4 {
			used := links[:n+1]
			exact, left := 0.0, 0.0
			for lost := range 1 << len(used) {
				p, bits := chanceOf(lines, stops[:n+2], used, lost, places, runs), 0
				for b := lost; b > 0; b /= 2 {
					bits += b % 2
				}
				if exact += p; bits > 2 && bits < len(used) {
					left += p
				}
			}
			got := newCourse(lines, stops[:n+2], used).chance(places)
			assert.InEpsilon(t, exact-left, got, 1e-9, "%d links", len(used))
			assert.Less(t, left, 0.001)
		}
	}
	assert.InDelta(t, 1, newCourse(nil, nil, nil).chance(nil), 1e-15, "nothing followed")
}

// chanceOf returns the probability of stops in one way in which links are lost, by the
// bits of lost.
func chanceOf(lines []line, stops []stop, links []link, lost int, places []geo.Vec, runs [3]float64) float64 {
	p, begun := 1.0, make([]bool, len(stops))
	for i := range links {
		if lost>>i&1 == 1 {
			p *= 0.05
		} else {
			p *= 0.95
		}
	}
	for first := range stops {
		if begun[first] {
			continue
		}
		// The stops that hang together with the first, and what the links between them say.
		in, may := []int{first}, []bool{true, true, true}
		begun[first] = true
		for i := 0; i < len(in); i++ {
			for k, l := range links {
				if lost>>k&1 == 1 || l.a != in[i] && l.b != in[i] {
					continue
				}
				for n := range may {
					may[n] = may[n] && l.may[n]
				}
				for _, s := range []int{l.a, l.b} {
					if !begun[s] {
						begun[s], in = true, append(in, s)
					}
				}
			}
		}
		none, unseen, stray := 1.0, 1.0, 0.02
		for k, l := range links {
			if lost>>k&1 == 0 && slices.Contains(in, l.a) {
				stray *= min(1, 2*(0.2+0.10706/2)/(math.Pi*places[stops[l.a].at].Dist(places[stops[l.b].at])))
			}
		}
		for k := range lines {
			lies, seen := 1.0, 1.0
			for _, s := range in {
				u := 0.0
				far := lines[k].Distance(places, places[stops[s].at], 100)
				switch {
				case stops[s].settled:
					u = 1
					for o := range lines {
						if lines[o].Distance(places, places[stops[s].at], 100) < far {
							u = 0
						}
					}
				case stops[s].may[k]:
					u = encounter.Within(0.2+0.10706/2-far, 0.25)
				}
				lies *= u
				if stops[s].agrees != nil {
					u *= runs[k]
				}
				seen *= u
			}
			if may[k] {
				none, unseen = none*(1-lies), unseen*(1-seen)
			}
		}
		for _, s := range in {
			if stops[s].settled {
				stray = 0
			} else if stops[s].agrees != nil {
				stray *= 0.05
			}
		}
		p *= 1 - unseen + stray*none
	}
	return p
}
