package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"asfound/geo"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/observe"
)

// Component is one explanation fitted with one supposition of how badly the
// sheet was drawn: a Gaussian of all unknowns. A fit is a weighted set of them.
type Component struct {
	Explanation Explanation
	Network     *observe.Network
	Solution    *adjust.Solution
	Weight      float64 // of all components of a fit, which add up to 1

	table     *drawing.Table
	logWeight float64
}

// Placed returns where the component has everything.
func (c *Component) Placed() *observe.Placed { return c.Network.At(c.Solution.Y) }

// Places returns where the component has every node and point.
func (c *Component) Places() []geo.Vec { return c.Placed().All(nil) }

// degrees returns the degrees of freedom of twice the cost: one for each row
// that observes something, less what goes into placing the points of the log
// and, where fixes do that, the sheet as a whole, which no prior holds.
func (c *Component) degrees() (n float64) {
	touched := make([]float64, len(c.Network.Points)+1) // the last: the sheet on the earth
	var places []observe.Place
	for i := range observe.Densities(c.Network.Rows, c.Solution.Rows) {
		n++
		placed := false
		places = c.Network.Rows[i].Of.Touches(places[:0])
		for _, p := range places {
			if k, ok := p.Hole(); ok {
				touched[k]++
				placed = true
			}
		}
		if c.Network.Rows[i].Absolute && !placed {
			touched[len(touched)-1]++
		}
	}
	for _, t := range touched {
		n -= min(t, 2)
	}
	return max(n, 0)
}

// chance returns the probability of a worse misfit than a component's if all
// is as it supposes.
func (c *Component) chance() float64 {
	return chiSquareTail(2*c.Solution.Cost, c.degrees())
}

// chiSquareTail returns the probability that chi-square with n degrees of
// freedom exceeds x.
func chiSquareTail(x, n float64) float64 {
	if n <= 0 {
		return 1
	}
	return distuv.ChiSquared{K: n}.Survival(x)
}

// fits reports whether a component's misfit is no surprise at a level.
func (c *Component) fits(level float64) bool {
	return c.Solution != nil && c.chance() > level
}

// evidence returns the logarithm of the evidence for a component's explanation
// under its supposition.
func (c *Component) evidence() float64 {
	e := &c.Explanation
	sum := c.Solution.LogEvidence(&c.Network.Prior) - observe.LogSigma(c.Network.Rows) + math.Log(e.Fault.Odds) + e.prior + c.beside()
	for _, id := range slices.Sorted(keys(e.Blunders)) {
		sum += math.Log(e.Blunders[id].Odds) - e.Blunders[id].Volume
	}
	return sum
}

// reached reports whether the fit reached a limit of a reading.
func (c *Component) reached(id string) bool {
	for i, r := range c.Network.Rows {
		if index, _ := c.Solution.Rows.Row(i); r.OneSided && len(index) > 0 && r.Of.ID() == id {
			return true
		}
	}
	return false
}

// apartFrom reports whether a fit has a point of the log elsewhere than another
// fit has it.
func (c *Component) apartFrom(o *Component, point int) bool {
	return c.apart(o, observe.HolePlace(point))
}

// apart is apartFrom for any place.
func (c *Component) apart(o *Component, p observe.Place) bool {
	return c.Placed().Where(p).Dist(o.Placed().Where(p)) > 0.3
}

// slack returns what a blunder or another crossing may still add to the
// logarithm of the weight of a fit: the excess of its misfit, within reason.
func (c *Component) slack() float64 {
	const most = 12
	return min(most, max(0, c.Solution.Cost-c.degrees()/2))
}

func keys[V any](m map[string]V) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}
