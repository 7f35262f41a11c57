package probe_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

// all returns every hole of a plan, including those of its tree.
func all(p *probe.Plan) (list []probe.Proposal) {
	list = append(list, p.Holes...)
	var walk func(s *probe.Step)
	walk = func(s *probe.Step) {
		if s == nil {
			return
		}
		list = append(list, s.Hole)
		for _, b := range s.Branches {
			walk(b.Next)
		}
	}
	walk(p.Tree)
	return list
}

// On invented sites with services, a well and a lot line laid through the
// field, no hole of a plan or of its tree comes within a clearance, with three
// standard deviations of where the service lies kept besides; none lies on the
// well or over the lot line; and no tape passes through the house unless the
// plan says so.
func TestSafeOnInventedSites(t *testing.T) {
	trusts := []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}
	checks := 0
	rapid.Check(t, func(t *rapid.T) {
		if checks++; testing.Short() && checks > few(12) {
			return
		}
		s := simulate.Invent(simulate.Order{Seed: rapid.Uint64Range(1, 1000).Draw(t, "seed"), Trust: rapid.SampledFrom(trusts).Draw(t, "trust"),
			Mix: simulate.Tapes, Holes: rapid.IntRange(0, 2).Draw(t, "holes")})
		solved, err := fit.Solve(t.Context(), s.Job)
		if err != nil {
			t.Fatal(err)
		}
		loc, err := locate.Locate(t.Context(), s.Job, solved)
		if err != nil {
			t.Fatal(err)
		}
		box := loc.Spot("box", asbuilt.Center).At
		near := func(name string) geo.Vec {
			return box.Add(geo.Vec{X: rapid.Float64Range(-6, 6).Draw(t, name+"x"), Y: rapid.Float64Range(-6, 6).Draw(t, name+"y")})
		}
		way := near("a").Sub(near("b")).Unit()
		cut := near("line")
		keep := []locate.Outline{
			{Part: "gas", Kind: asbuilt.Utility, Clearance: rapid.Float64Range(0, 1).Draw(t, "clearance"), Sigma: rapid.Float64Range(0, 0.3).Draw(t, "sigma"),
				Now: []geo.Outline{{Vertices: []geo.Vec{cut.Sub(way.Scale(40)), cut.Add(way.Scale(40))}}}},
			{Part: "W", Kind: asbuilt.Well, Now: []geo.Outline{{Vertices: []geo.Vec{near("well")}}}},
			{Part: "lot", Kind: asbuilt.Boundary, Now: []geo.Outline{{Vertices: []geo.Vec{near("c"), near("d")}}}},
		}
		loc.Outlines = append(loc.Outlines, keep...)
		if rapid.Bool().Draw(t, "machine") {
			machine, _ := survey.ToolNamed("excavator")
			loc.Job.Settings.Tools = []survey.Tool{machine}
		}
		plan, err := probe.Options{Holes: 1, Levels: 2}.Plan(t.Context(), loc, must.Have(loc.Posterior.Draws(t.Context(), 150)))
		if err != nil {
			t.Fatal(err)
		}
		least := []float64{keep[0].Clearance + 3*keep[0].Sigma, 1, 0.3} // metres from gas, well and lot line
		if keep[0].Clearance == 0 {
			least[0] = 0.6096 // 24 in, a common tolerance zone
		}
		for _, h := range all(plan) {
			for i := range keep {
				for k := range 101 { // along a slot; 101 times the same place of a hole
					v := h.At.Lerp(h.To, float64(k)/100)
					if d := (geo.Outline{Vertices: keep[i].Now[0].Vertices}).Distance(v); d <= least[i]+h.Radius {
						t.Fatalf("a hole or slot %.3f m from %s, which wants %.3f", d, keep[i].Part, least[i]+h.Radius)
					}
				}
			}
			if len(finding.With(h.Cautions, finding.TapeBlocked)) == 0 {
				for _, tie := range h.Ties {
					clear(t, loc, loc.Spot(tie.From, asbuilt.Center).At, h.At)
				}
			}
		}
	})
}

// clear walks along a tape and fails where it is well within the house.
func clear(t *rapid.T, loc *locate.Location, from, to geo.Vec) {
	for _, o := range loc.Outlines {
		if o.Kind != asbuilt.Building {
			continue
		}
		ring := o.Now[0].Vertices
		walls := geo.Outline{Vertices: append(append([]geo.Vec{}, ring...), ring[0])}
		for i := range 100 {
			v := from.Lerp(to, float64(i)/100)
			if (geo.Outline{Vertices: ring, Closed: true}).Contains(v) && walls.Distance(v) > 0.6 && !math.IsNaN(v.X) {
				t.Fatalf("the tape from %v to %v passes %.2f m inside a wall", from, to, walls.Distance(v))
			}
		}
	}
}
