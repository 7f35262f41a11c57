package main

import (
	"cmp"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
)

// plain is what a crew without this tool makes of a sheet: landmarks plotted
// from their tapes or fixes, and the drawing laid on them by a turn, a shift
// and one scale. The places of its plane differ from the true ones as the
// measurements do.
type plain struct {
	marks [4]geo.Vec
	lay   func(geo.Vec) geo.Vec // from the sheet
	site  *site
}

func newPlain(s *site) *plain {
	p := &plain{site: s}
	if s.mix == fixes {
		earth := ground()
		for i, r := range s.job.Readings[:4] {
			p.marks[i] = earth.Vec(r.Position)
		}
	} else {
		// A and B on an axis, C and D swung from them, on the side that the
		// drawing has them.
		d := map[[2]string]float64{}
		for _, r := range s.job.Readings {
			d[[2]string{r.From, r.To}] = r.Value.Metres
		}
		p.marks[1] = geo.Vec{X: d[[2]string{"A", "B"}]}
		for i := 2; i < 4; i++ {
			_, off := geo.AlongAcross(p.drawn("A"), p.drawn("B"), p.drawn(mark(i)))
			p.marks[i] = swing(p.marks[0], p.marks[1], d[[2]string{"A", mark(i)}], d[[2]string{"B", mark(i)}], off > 0)
		}
	}
	var from []geo.Vec
	for i := range p.marks {
		from = append(from, p.drawn(mark(i)))
	}
	p.lay, _ = geo.FitHelmert(from, p.marks[:], nil).Similarity()
	return p
}

// drawn returns where the sheet has the middle of a part, in drawing units.
func (p *plain) drawn(part string) geo.Vec {
	v, _ := p.site.job.Sketch.Part(part).Point(asbuilt.Center)
	return geo.Vec(v)
}

// line returns a lateral as laid.
func (p *plain) line(k int) (a, b geo.Vec) {
	v := p.site.job.Sketch.Parts[p.lateral(k)].Shapes[0].Vertices
	return p.lay(geo.Vec(v[0])), p.lay(geo.Vec(v[1]))
}

func (p *plain) lateral(k int) int {
	for i := range p.site.job.Sketch.Parts {
		if p.site.job.Sketch.Parts[i].Kind == asbuilt.Lateral {
			return i + k
		}
	}
	return 0
}

func (p *plain) box() geo.Vec { return p.lay(p.drawn("box")) }

// hole sets a place of the plane out from the two landmarks whose tapes cross
// squarest and are shortest.
func (p *plain) hole(v geo.Vec) hole {
	var h hole
	best := 0.0
	for j := range p.marks {
		for i := range j {
			a, b := p.marks[i].Sub(v), p.marks[j].Sub(v)
			da, db := a.Norm(), b.Norm()
			if score := math.Abs(a.Cross(b)) / (da * db) / (da + db); da > 0.5 && db > 0.5 && score > best {
				_, off := geo.AlongAcross(p.marks[i], p.marks[j], v)
				best, h = score, hole{from: [2]int{i, j}, tape: [2]float64{da, db}, right: off > 0}
			}
		}
	}
	h.deep = toSoil
	return h
}

// stake is a hole from which further ones are set out: nobody tapes every hole
// of a search from the house.
type stake struct {
	plane, at geo.Vec   // in the plane, and truly
	turn      geo.Angle // of the plane's directions on the ground
}

// stake opens a hole at a place of the plane by tapes from the house.
func (p *plain) stake(g *game, v geo.Vec) (s stake, a answer) {
	a = g.dig(p.hole(v))
	from, to := p.marks[1].Sub(p.marks[3]), g.lot.corners[1].Sub(g.lot.corners[3])
	by := math.Atan2(from.Cross(to), from.Dot(to)) + g.rng.NormFloat64()*math.Pi/180
	return stake{v, a.at, geo.Radians(by)}, a
}

// dig opens a hole at a place of the plane, paced and taped from the stake.
func (s stake) dig(g *game, v geo.Vec) answer {
	step := v.Sub(s.plane)
	sigma := 0.04 + 0.005*step.Norm()
	return g.open(s.at.Add(step.Rotate(s.turn)).Add(geo.Vec{X: sigma * g.rng.NormFloat64(), Y: sigma * g.rng.NormFloat64()}), toSoil)
}

// toSoil is how deep in metres holes are dug where nothing is known of depths:
// to undisturbed soil below any trench.
const toSoil = 1.2

// search digs round a place, the nearest first, on a square grid of 0.8 m, at
// which a hole of 0.15 m radius meets a box of 0.6 m wherever it lies, except
// at a few corners: a spiral. Places within 0.4 m of an earlier hole are left
// out. from is what the holes are set out from, nil: the first by tapes, and
// the others from that.
func (p *plain) search(g *game, middle, axis geo.Vec, dug []geo.Vec, from *stake) {
	const pitch, rings = 0.8, 9
	var places []geo.Vec
	for i := -rings; i <= rings; i++ {
		for k := -rings; k <= rings; k++ {
			places = append(places, axis.Scale(pitch*float64(i)).Add(axis.Right().Scale(pitch*float64(k))))
		}
	}
	turn := func(v geo.Vec) float64 { return math.Atan2(v.Cross(axis), v.Dot(axis)) }
	slices.SortStableFunc(places, func(a, b geo.Vec) int {
		return cmp.Or(cmp.Compare(math.Round(100*a.Norm()), math.Round(100*b.Norm())), cmp.Compare(turn(a), turn(b)))
	})
	for _, v := range places {
		v = v.Add(middle)
		if slices.ContainsFunc(dug, func(w geo.Vec) bool { return w.Dist(v) < pitch/2 }) {
			continue
		}
		if g.over() {
			return
		}
		if from == nil {
			s, _ := p.stake(g, v)
			from = &s
			continue
		}
		from.dig(g, v)
	}
}

// axis is the direction of the trenches as laid.
func (p *plain) axis() geo.Vec {
	a, b := p.line(0)
	return b.Sub(a).Unit()
}

// spiral is a plain fit, and a search round where it has the box.
func spiral(s *site, g *game) {
	p := newPlain(s)
	p.search(g, p.box(), p.axis(), nil, nil)
}

// swung is the search round where the two ties of the sheet meet.
func swung(s *site, g *game) {
	p := newPlain(s)
	middle := p.box()
	if t := s.job.Sketch.Part("box").Ties; len(t) == 2 {
		_, off := geo.AlongAcross(p.marks[0], p.marks[1], middle)
		middle = swing(p.marks[0], p.marks[1], t[0].Distance.Metres, t[1].Distance.Metres, off > 0)
	}
	p.search(g, middle, p.axis(), nil, nil)
}
