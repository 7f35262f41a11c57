package encounter

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/depth"
)

// A soft edge is a uniform deviation of where it lies: the chance against as many
// deviations, fixed seed, to four standard errors.
func TestWithinByDeviations(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, inside := range []float64{-0.2, -0.07, -0.01, 0, 0.03, 0.079, 0.3} {
		const n = 40000
		in := 0
		for range n {
			if inside+practice.EdgeOut*(2*rng.Float64()-1) > 0 {
				in++
			}
		}
		assert.InDelta(t, float64(in)/n, Within(inside, practice.EdgeOut), 4*0.5/math.Sqrt(n))
	}
}

// A ramp for a normal deviation keeps its standard deviation: √3 of it is the
// half-width of a uniform one (any handbook of statistics).
func TestRampOfADeviation(t *testing.T) {
	assert.InDelta(t, math.Sqrt(3), rampOut, 0.04)
	assert.InDelta(t, practice.EdgeOut, Body{Out: practice.EdgeOut}.OutFor(0.01), 1e-12, "its own is the larger")
	assert.InDelta(t, 0.17, Body{Out: practice.EdgeOut}.OutFor(0.1), 1e-12, "the hole's is the larger")
}

// What the plan expects of a depth is the mean of what the belief makes of each
// depth that it may be: Above over all tops is Reaches.
func TestDepthOfPlanAndBeliefAreOne(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for _, d := range []depth.Depth{{Mean: 0.6, Sigma: 0.15}, {Mean: 0.9, Sigma: 0.05}, {Mean: 0.4, Sigma: 0.25}} {
		for _, stop := range []float64{0.3, 0.6, 0.85, 1.2} {
			const n = 40000
			sum := 0.0
			for range n {
				sum += Reaches(stop - d.Mean - d.Sigma*rng.NormFloat64())
			}
			assert.InDelta(t, sum/n, Above(d, stop), 0.012, "%+v to %.2f", d, stop)
		}
	}
	assert.Equal(t, 1.0, Above(depth.Depth{}, 1), "nothing is known of it")
	assert.InDelta(t, 0.95, Above(depth.Depth{Mean: 0.7, Sigma: 0.15}, StopDepth(depth.Depth{Mean: 0.7, Sigma: 0.15})), 0.01)
}

// site is a site of one draw: a box that is sought at the origin, a trench that
// begins 1 m east of it, and a header between them.
func site() *Site {
	line := func(a, b geo.Vec) []piece { return pieces([][]geo.Vec{{a, b}}, 1) }
	s := &Site{N: 1, Depth: func(string, geo.Vec) (depth.Depth, bool) { return depth.Depth{Mean: 0.6, Sigma: 0.15}, true }}
	box, _ := BodyOf(&asbuilt.Part{Kind: asbuilt.Box})
	trench, _ := BodyOf(&asbuilt.Part{Kind: asbuilt.Lateral})
	s.Objects = []Object{
		{Body: box, Part: "box", Kind: asbuilt.Box, Sought: true, spots: []geo.Vec{{}}},
		{Body: trench, Part: "L1", Kind: asbuilt.Lateral, pieces: line(geo.Vec{X: 1}, geo.Vec{X: 9})},
		{Body: Pipe(), Part: "H1", Kind: asbuilt.Header, pieces: line(geo.Vec{}, geo.Vec{X: 1})},
	}
	for i := range s.Objects {
		s.Objects[i].bound()
	}
	return s
}

// drawHole draws a hole near the parts of site.
func drawHole(t *rapid.T) Hole {
	tool := survey.Tools[rapid.IntRange(0, len(survey.Tools)-1).Draw(t, "tool")]
	return Hole{At: geo.Vec{X: rapid.Float64Range(-1.5, 11).Draw(t, "x"), Y: rapid.Float64Range(-1.5, 1.5).Draw(t, "y")},
		Radius: rapid.Float64Range(0.02, 0.4).Draw(t, "radius"), Sigma: rapid.Float64Range(0.02, 0.3).Draw(t, "sigma"),
		Stop: rapid.Float64Range(0.1, 1.5).Draw(t, "stop"), Tool: &tool}
}

// chances returns the chances of a hole that does not yet know what it shows.
func chances(s *Site, h Hole) [Outcomes]float64 {
	h.Shows = nil
	s.Show(&h, 0)
	return s.Chances(0, &h)
}

// Chances are chances; and a deeper or a wider hole, and one by a tool that
// notices more, is no less likely to meet what is sought, and no more likely to
// meet nothing.
func TestMoreHoleMeetsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, h := site(), drawHole(t)
		c := chances(s, h)
		sum := 0.0
		for _, p := range c {
			assert.GreaterOrEqual(t, p, 0.0)
			sum += p
		}
		assert.InDelta(t, 1, sum, 1e-12)

		deeper, wider, keener := h, h, h
		deeper.Stop += rapid.Float64Range(0, 1).Draw(t, "deeper")
		wider.Radius += rapid.Float64Range(0, 0.5).Draw(t, "wider")
		tool := *h.Tool
		tool.Notices += (1 - tool.Notices) * rapid.Float64Range(0, 1).Draw(t, "keener")
		keener.Tool = &tool
		for _, more := range []Hole{deeper, wider, keener} {
			m := chances(s, more)
			assert.GreaterOrEqual(t, m[Sought], c[Sought]-1e-12)
			assert.LessOrEqual(t, m[None], c[None]+1e-12)
		}
	})
}

// Each is Chances, by the weight of the draw.
func TestEachIsChances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, h := site(), drawHole(t)
		s.Show(&h, 0)
		want := s.Chances(0, &h)
		var got [Outcomes]float64
		s.Each(&h, []float64{0.25}, []int32{0}, func(_ int32, m Outcome, w float64) { got[m] += w / 0.25 })
		for m := range want {
			assert.InDelta(t, want[m], got[m], 1e-12)
		}
	})
}

// Chances against holes that are dug: rims off by a uniform deviation, depths by
// a normal one, parts noticed or not, in the order of the outcomes; fixed seed,
// to four standard errors and what the depth's ramp is off.
func TestChancesByDigging(t *testing.T) {
	s := site()
	rng := rand.New(rand.NewPCG(4, 4))
	shovel, _ := survey.ToolNamed("shovel")
	for _, at := range []geo.Vec{{X: 0.3, Y: 0.1}, {X: 0.62}, {X: 0.95, Y: 0.5}, {X: 5, Y: 0.55}, {X: 9.1}, {X: 3, Y: 2}} {
		h := Hole{At: at, Radius: shovel.Radius, Sigma: 0.06, Stop: 0.75, Tool: &shovel}
		s.Show(&h, 0)
		want := s.Chances(0, &h)
		const n = 20000
		var got [Outcomes]float64
		for range n {
			met := None
			for k := range s.Objects {
				o := &s.Objects[k]
				in, spot := o.Inside(0, &h, 1)
				out := o.OutFor(h.Sigma)
				top := 0.6 + 0.15*rng.NormFloat64() - practice.BottomOut*(2*rng.Float64()-1)
				if in+out*(2*rng.Float64()-1) > 0 && top < h.Stop && rng.Float64() < o.Notices {
					met = o.Outcome(spot)
					break
				}
			}
			got[met] += 1.0 / n
		}
		for m := range want {
			assert.InDelta(t, got[m], want[m], 4*0.5/math.Sqrt(n)+0.01, "%v, outcome %d", at, m)
		}
	}
}
