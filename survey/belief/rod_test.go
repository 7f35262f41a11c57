package belief_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/simulate"
	"asfound/testdata/long"
	"asfound/testdata/must"
)

// stab is a reading of one stab, or of several along a line.
func stab(point, to string, n int, depth float64, target string) survey.Reading {
	r := survey.Reading{ID: "z" + point + to, Kind: survey.Rod, Point: point, Depth: metres(depth), Target: target}
	if n > 1 {
		r.Point, r.From, r.To, r.Stabs = "", point, to, n
	}
	return r
}

// What a rod felt, against weighing very many draws of the belief before. The
// likelihood is written out here once more, with its numbers: a hit in 85 of 100, a
// stone in 2 of 100, both uncertain by a factor that every draw has for all stabs
// together; one row in a hundred wrong as a whole, one name in fifty.
func TestRodAgainstBruteForce(t *testing.T) {
	j := piped(5, true)
	loc := where(t, j)
	line := loc.Posterior.ExpectedLine("L2")
	box := loc.Spot("box", asbuilt.Center).At
	across := line[1].Sub(line[0]).Unit().Right()
	j = staked(t, j, box.Add(across.Scale(0.5)), box.Add(across.Scale(-1)), box.Add(across.Scale(1.4)))
	loc = where(t, j)
	raw := must.Have(loc.Posterior.Draws(t.Context(), 60000))
	d := drawsOf(t, j, 60000)
	rng := rand.New(rand.NewPCG(9, 9))
	hits, stones := make([]float64, len(d.box)), make([]float64, len(d.box))
	for i := range hits {
		hits[i] = 1 / (1 + 0.15/0.85*math.Exp(-0.5*rng.NormFloat64()))
		stones[i] = min(hits[i], 0.02*math.Exp(1.2*rng.NormFloat64()))
	}
	type partAt struct {
		part string
		at   geo.Vec
	}
	tops := map[partAt]locate.Depth{} // the same in every draw
	// felt returns the chance that a rod at v, so deep, feels one of some parts.
	felt := func(i int, v, middle geo.Vec, depth float64, which func(id string, kind asbuilt.Kind) bool) float64 {
		misses := 1.0
		for _, p := range j.Sketch.Parts {
			reach, out, far := 0.0, 0.08, math.Inf(1)
			switch p.Kind {
			case asbuilt.Box:
				reach, far = 0.6/math.Sqrt(math.Pi), d.box[i].Dist(v)
			case asbuilt.Tank:
				reach, far = math.Sqrt(2.74*1.52/math.Pi), raw.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}][i].Dist(v)
			case asbuilt.Lateral, asbuilt.Header:
				reach = 0.9144 / 2
				if p.Kind == asbuilt.Header {
					reach, out = 0.1143/2, 0.25
				}
				at := raw.Lines[p.ID][i]
				for k := range at[1:] {
					one, _ := geo.SegmentDistance(at[k], at[k+1], v)
					far = min(far, one)
				}
			default:
				continue
			}
			if !which(p.ID, p.Kind) {
				continue
			}
			place := partAt{p.ID, middle}
			top, ok := tops[place]
			if !ok {
				top, _ = loc.DepthAt(p.ID, middle)
				tops[place] = top
			}
			deep := 0.5
			if top.Sigma > 0 {
				deep = 0.5 * math.Erfc((top.Mean-depth)/math.Hypot(top.Sigma, 0.08/math.Sqrt(3))/math.Sqrt2)
			}
			misses *= 1 - hits[i]*deep*max(0, min(1, 0.5+(reach+0.02-far)/(2*out)))
		}
		return 1 - misses
	}
	any := func(string, asbuilt.Kind) bool { return true }
	at := func(i int, name string) geo.Vec { return raw.Holes[name][i] }
	expected := func(names ...string) geo.Vec {
		a, _ := loc.Posterior.ExpectedPoint(names[0])
		b, _ := loc.Posterior.ExpectedPoint(names[len(names)-1])
		return a.Lerp(b, 0.5)
	}
	contact := func(i int, p string, depth float64) float64 {
		q := 1 - (1-stones[i])*(1-felt(i, at(i, p), expected(p), depth, any))
		return 0.99*q + 0.005
	}
	none := func(i int, p string, depth float64) float64 { return 1 - contact(i, p, depth) }
	for _, tt := range []struct {
		name       string
		more       []survey.Reading
		likelihood func(i int) float64
	}{
		{"contact", []survey.Reading{stab("P", "", 1, 1.6, "contact")}, func(i int) float64 { return contact(i, "P", 1.6) }},
		{"none", []survey.Reading{stab("P", "", 1, 1.6, "none")}, func(i int) float64 { return none(i, "P", 1.6) }},
		{"none, not quite deep enough", []survey.Reading{stab("P", "", 1, 0.6, "none")}, func(i int) float64 { return none(i, "P", 0.6) }},
		{"the box, plainly", []survey.Reading{stab("P", "", 1, 1.6, "box")}, func(i int) float64 {
			named := felt(i, at(i, "P"), expected("P"), 1.6, func(_ string, k asbuilt.Kind) bool { return k == asbuilt.Box })
			q := 1 - (1-stones[i])*(1-felt(i, at(i, "P"), expected("P"), 1.6, any))
			return 0.99*(0.98*named+0.02*q) + 0.005
		}},
		{"a trench by its name", []survey.Reading{stab("P", "", 1, 1.6, "L2")}, func(i int) float64 {
			named := felt(i, at(i, "P"), expected("P"), 1.6, func(id string, _ asbuilt.Kind) bool { return id == "L2" })
			q := 1 - (1-stones[i])*(1-felt(i, at(i, "P"), expected("P"), 1.6, any))
			return 0.99*(0.98*named+0.02*q) + 0.005
		}},
		{"a line without contact", []survey.Reading{stab("Q", "R", 7, 1.6, "none")}, func(i int) float64 {
			all := 1.0
			for k := range 7 {
				all *= (1 - stones[i]) * (1 - felt(i, at(i, "Q").Lerp(at(i, "R"), float64(k)/6), expected("Q", "R"), 1.6, any))
			}
			return 0.99*all + 0.005
		}},
		{"a contact between two without", []survey.Reading{stab("P", "", 1, 1.6, "contact"), stab("Q", "", 1, 1.6, "none"), stab("R", "", 1, 1.6, "none")}, func(i int) float64 {
			return contact(i, "P", 1.6) * none(i, "Q", 1.6) * none(i, "R", 1.6)
		}},
		{"contacts everywhere", []survey.Reading{stab("P", "", 1, 1.6, "contact"), stab("Q", "", 1, 1.6, "contact"), stab("R", "", 1, 1.6, "contact")}, func(i int) float64 {
			return contact(i, "P", 1.6) * contact(i, "Q", 1.6) * contact(i, "R", 1.6)
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			agree(t, drawsOf(t, with(j, tt.more...), 8000), d, tt.likelihood)
		})
	}
}

// The order of the log changes nothing, and withdrawn rows have no effect.
func TestRodOrderAndVoid(t *testing.T) {
	j := piped(5, true)
	box := where(t, j).Spot("box", asbuilt.Center).At
	j = staked(t, j, box, box.Add(geo.Vec{X: 2}), box.Add(geo.Vec{Y: 2}))
	full := with(j, stab("P", "", 1, 1.2, "contact"), stab("P", "Q", 6, 1.2, "none"), stab("R", "", 1, 1.2, "lateral"))
	want := where(t, full)
	back := with(full)
	slices.Reverse(back.Readings)
	assert.Equal(t, want.Spots, where(t, back).Spots)
	assert.Equal(t, want.Corridors, where(t, back).Corridors)

	alone := where(t, j)
	assert.NotEqual(t, alone.Spot("box", asbuilt.Center).At, want.Spot("box", asbuilt.Center).At)
	gone := with(full)
	for i, id := range []string{"zP", "zPQ", "zR"} {
		gone.Readings = append(gone.Readings, survey.Reading{ID: fmt.Sprint("v", i), Kind: survey.Void, Target: id})
	}
	assert.Equal(t, alone.Spots, where(t, gone).Spots)
	assert.Equal(t, alone.Corridors, where(t, gone).Corridors)
}

// Invented lots whose box is known, rodded along two lines across where it is
// believed, by a crew whose rod misses as often as is usual and on ground with as
// many stones, or more: regions that hold 95 % still do, within three standard
// errors, and they are smaller.
func TestRodHoldsTheTruth(t *testing.T) {
	lots := long.Size(t, 6, 100)
	for _, ground := range []struct {
		name         string
		hits, stones float64
	}{{"usual", 0.85, 0.02}, {"a poor rod", 0.65, 0.02}, {"stony", 0.85, 0.12}} {
		inside, all, was, is := 0.0, 0.0, 0.0, 0.0
		for _, trust := range []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale} {
			for seed := range uint64(lots) {
				s := simulate.Invent(simulate.Order{Seed: 300 + seed, Trust: trust, Mix: simulate.Tapes, Holes: 2})
				j, before := rodded(t, s, seed, ground.hits, ground.stones)
				loc := where(t, j)
				d := dug{Site: s}
				spot := loc.Spot("box", asbuilt.Center)
				if d.off(loc, "box").Norm() < spot.Landmarks95 {
					inside++
				}
				all, was, is = all+1, was+before, is+spot.Landmarks95
			}
		}
		t.Logf("%s: inside %g of %g, within %.2f m, before %.2f m", ground.name, inside, all, is/all, was/all)
		assert.Greater(t, inside/all, 0.95-3*math.Sqrt(0.95*0.05/all), ground.name)
		assert.Less(t, is, was, ground.name)
	}
}

// rodded returns the job of a lot once a crew has put its rod down along two lines
// across where the box is believed, every half a metre to 2 m, and how far the box
// may have been before. A rod that is deep enough feels a box of 0.6 m, trenches
// 0.9 m wide and the straight pipes to them as they truly lie.
func rodded(t *testing.T, s *simulate.Site, seed uint64, hits, stones float64) (*survey.Job, float64) {
	loc := where(t, s.Job)
	lies := func(part string, spot asbuilt.Spot) geo.Vec { return s.Truth[asbuilt.SpotName{Part: part, Spot: spot}] }
	rng := rand.New(rand.NewPCG(seed, 5))
	box := lies("box", asbuilt.Center)
	over := func(v geo.Vec) bool {
		if v.Dist(box) < 0.34 {
			return true
		}
		for i := range s.Job.Sketch.Parts {
			if p := &s.Job.Sketch.Parts[i]; p.Kind == asbuilt.Lateral {
				start, end := lies(p.ID, asbuilt.Start), lies(p.ID, asbuilt.End)
				trench, _ := geo.SegmentDistance(start, end, v)
				pipe, _ := geo.SegmentDistance(box, start, v)
				if trench < 0.45 || pipe < 0.06 {
					return true
				}
			}
		}
		return false
	}
	a, b := lies("A", asbuilt.Center), lies("B", asbuilt.Center)
	e := b.Sub(a).Unit()
	believed := loc.Spot("box", asbuilt.Center)
	p, q := loc.Spot("A", asbuilt.Center).At, loc.Spot("B", asbuilt.Center).At
	along, across := geo.AlongAcross(p, q, believed.At)
	j := with(s.Job)
	for n := range 22 {
		x, y := along+0.5*float64(n%11-5), across
		if n >= 11 {
			x, y = along, across+0.5*float64(n%11-5)
		}
		name := fmt.Sprint("S", n)
		v := a.Add(e.Scale(x + 0.03*rng.NormFloat64())).Add(e.Right().Scale(y + 0.03*rng.NormFloat64()))
		target := survey.RodNone
		if rng.Float64() < stones || over(v) && rng.Float64() < hits {
			target = survey.RodContact
		}
		j = with(j, survey.Reading{ID: "b" + name, Kind: survey.Baseline, From: "A", To: "B", Point: name, Value: metres(x), Offset: metres(y)}, stab(name, "", 1, 2, target))
	}
	return j, believed.Landmarks95
}
