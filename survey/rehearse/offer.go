package rehearse

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/setout"
)

// Offer is what one further reading would buy.
type Offer struct {
	Kind    Kind
	What    string  // the reading, in words
	Radius  Change  // of the 95 % radius of what is sought, from the landmarks, metres
	Holes   Change  // expected until it is met, that of the reading included; the plan's next hole is in both
	Depth   Change  // standard deviation of its depth, metres
	Minutes float64 // that the hole of the reading takes, 0: it needs none
}

// Change is a number before a reading, and what it is expected to be after it.
type Change struct{ Before, After float64 }

// Kind is a kind of reading that is offered.
type Kind string

// The kinds of reading that are offered.
const (
	Tape      Kind = "tape"      // between two landmarks
	Satellite Kind = "satellite" // fixes of two landmarks
	Level     Kind = "level"     // of the ground over what is sought
	OnLateral Kind = "lateral"   // a hole on a lateral
	NextHole  Kind = "next-hole" // the next hole of the plan
)

// outcomes is how many things that a reading may say are tried out, each as
// likely as the others.
const outcomes = 6

// phone is the 95 % radius in metres of a phone's fix under open sky (GPS.gov,
// from memory).
const phone = 4.9

// idea is a reading that could be taken.
type idea struct {
	Kind
	what   string
	hole   *geo.Vec // where it takes a hole to be dug, nil: none
	says   func(i int, rng *rand.Rand) []survey.Reading
	single bool // it bears on depths alone, and how much does not hang on what it says
}

// offerer tries readings out.
type offerer struct {
	*player
	draws *posterior.Draws
	ready *fit.Prepared
	spot  asbuilt.SpotName // of what is sought
	base  state
}

// state is how sure everything is.
type state struct{ radius, holes, depth float64 }

// offer works out what further readings would buy: each is invented as some of
// the draws have it, the job is fitted anew with it, and what comes out is
// averaged: the preposterior analysis of Raiffa and Schlaifer (Applied
// Statistical Decision Theory, 1961).
func (p *player) offer(draws *posterior.Draws) error {
	ready, err := fit.Prepare(p.loc.Job.Sketch)
	if err != nil {
		return err
	}
	o := &offerer{player: p, draws: draws, ready: ready}
	o.spot = o.soughtSpot()
	if o.base, err = o.state(p.loc.Job); err != nil {
		return err
	}
	for _, i := range o.ideas() {
		offer, err := o.try(i)
		if err != nil {
			return err
		}
		p.rehearsal.Offers = append(p.rehearsal.Offers, offer)
	}
	return nil
}

// soughtSpot names the spot whose radius is told: of a line, its far end.
func (o *offerer) soughtSpot() asbuilt.SpotName {
	for _, s := range o.loc.Spots {
		name := asbuilt.SpotName{Part: s.Part, Spot: s.Spot}
		seek := o.loc.Job.Settings.Seek
		if s.Part+"."+string(s.Spot) == seek {
			return name
		}
		if (s.Part == seek || string(s.Kind) == seek) && s.Spot != asbuilt.Start {
			return name
		}
	}
	return asbuilt.SpotName{}
}

// state fits a job and says how sure everything is. Holes are in proportion to
// what the plays took, by how the search for them shrinks.
func (o *offerer) state(job *survey.Job) (s state, err error) {
	solved, err := o.ready.Refit(job)
	if err != nil {
		return s, err
	}
	loc, err := locate.Locate(job, solved)
	if err != nil {
		return s, err
	}
	if at := loc.Spot(o.spot.Part, o.spot.Spot); at != nil {
		s.radius = at.Landmarks95
		if at.Depth != nil {
			s.depth = at.Depth.Sigma
		}
	}
	d := loc.Posterior.Draws(1000)
	g := *o.ground
	g.things = nil
	for i := range job.Sketch.Parts {
		if p := &job.Sketch.Parts[i]; p.ID == o.spot.Part {
			spot := asbuilt.Spot("")
			if p.Shapes[0].Form == asbuilt.Line && o.things[0].lines == nil {
				spot = o.spot.Spot
			}
			if t, ok := g.thing(p, spot, d); ok {
				g.things = append(g.things, t)
			}
		}
	}
	if len(g.things) == 0 {
		return s, nil
	}
	b, w := make(belief, d.N), make([]float64, d.N)
	for i := range b {
		b[i], w[i] = particle{draw: i, weight: 1 / float64(d.N)}, 1/float64(d.N)
	}
	for _, phase := range [...]geo.Vec{{}, {X: 0.5}, {Y: 0.5}, {X: 0.5, Y: 0.5}} { // lest where the squares happen to lie decides
		s.holes += toGo(g.cells(b, phase).search(w)) / 4
	}
	return s, nil
}

// try averages what a reading may say.
func (o *offerer) try(i idea) (f Offer, err error) {
	before := o.rehearsal.Holes.Mean
	f = Offer{Kind: i.Kind, What: i.what, Radius: Change{Before: o.base.radius}, Holes: Change{Before: before}, Depth: Change{Before: o.base.depth}}
	n := outcomes
	if i.single {
		n = 1
	}
	if i.hole != nil {
		f.Minutes = o.tool.Minutes(o.stop)
	}
	for k := range n {
		rng := rand.New(rand.NewPCG(uint64(k), 3))
		draw := (2*k + 1) * o.draws.N / (2 * n)
		job := *o.loc.Job
		readings := i.says(draw, rng)
		job.Readings = slices.Concat(job.Readings, readings)
		holes, s := 0.0, state{radius: o.tool.Radius}
		if i.hole != nil {
			holes = 1
		}
		if readings != nil { // else it has met what is sought
			if s, err = o.state(&job); err != nil {
				return f, err
			}
			holes += before * s.holes / max(o.base.holes, 1e-9)
		}
		if i.single { // what it says bears on depth alone
			s.radius, holes = o.base.radius, before
		}
		if i.Kind == NextHole { // the plays dig it as it is
			holes = before
		}
		f.Radius.After += s.radius / float64(n)
		f.Holes.After += holes / float64(n)
		f.Depth.After += s.depth / float64(n)
	}
	return f, nil
}

// ideas lists the readings that are worth a thought.
func (o *offerer) ideas() (all []idea) {
	if a, b, ok := o.loosest(); ok {
		all = append(all, idea{Kind: Tape, what: fmt.Sprintf("a tape from landmark %s to landmark %s", a, b), says: func(i int, rng *rand.Rand) []survey.Reading {
			return []survey.Reading{o.tape("rehearsal-1", a, b, o.mark(a, i), o.mark(b, i), rng)}
		}})
	}
	if a, b, ok := o.farthest(); ok {
		all = append(all, idea{Kind: Satellite, what: fmt.Sprintf("a phone's satellite fix of landmark %s and one of landmark %s", a, b), says: func(i int, rng *rand.Rand) []survey.Reading {
			return []survey.Reading{o.fix("rehearsal-1", a, o.mark(a, i), rng), o.fix("rehearsal-2", b, o.mark(b, i), rng)}
		}})
	}
	if s := o.loc.Spot(o.spot.Part, o.spot.Spot); s != nil && s.Depth != nil {
		all = append(all, idea{Kind: Level, what: "a level of the ground over the " + o.spot.Part, single: true, says: func(i int, rng *rand.Rand) []survey.Reading {
			rows := o.taped("rehearsal-stake", s.At, i, rng)
			return append(rows, survey.Reading{ID: "rehearsal-0", Kind: survey.Level, Point: "rehearsal-stake", Value: &geo.Length{Metres: o.height(), Unit: geo.Metre}})
		}})
	}
	for i := range o.loc.Corridors {
		c := &o.loc.Corridors[i]
		if c.Kind == asbuilt.Lateral && len(c.Line) > 1 && c.Part != o.spot.Part {
			v := c.Line[0].Lerp(c.Line[len(c.Line)-1], 0.4)
			all = append(all, o.dig(OnLateral, "a hole where "+c.Part+" is expected", v))
			break
		}
	}
	if h := o.rehearsal.Plan.Holes; len(h) > 0 {
		all = append(all, o.dig(NextHole, "the next hole of the plan", h[0].At))
	}
	return all
}

// dig is the idea of a hole at v.
func (o *offerer) dig(kind Kind, what string, v geo.Vec) idea {
	targets := map[int]string{trench: "lateral", start: "lateral", end: "lateral", header: "header"}
	spots := map[int]asbuilt.Spot{trench: asbuilt.On, start: asbuilt.Start, end: asbuilt.End, header: asbuilt.On}
	return idea{Kind: kind, what: what, hole: &v, says: func(i int, rng *rand.Rand) []survey.Reading {
		c, u, met := o.chances(i, v, o.tool.Radius), rng.Float64(), none
		for m := range answers {
			if u -= c[m]; u < 0 {
				met = m
				break
			}
		}
		if met == sought {
			return nil
		}
		r := survey.Reading{ID: "rehearsal-0", Kind: survey.Empty, Point: "rehearsal-hole", Depth: &geo.Length{Metres: max(0.1, o.stop), Unit: geo.Metre}}
		if target, ok := targets[met]; ok {
			r = survey.Reading{ID: "rehearsal-0", Kind: survey.Found, Point: "rehearsal-hole", Target: target, Spot: spots[met]}
		}
		return append(o.taped("rehearsal-hole", v, i, rng), r)
	}}
}

// taped returns the tapes that locate a point of the log at v in draw i.
func (o *offerer) taped(point string, v geo.Vec, i int, rng *rand.Rand) (rows []survey.Reading) {
	f, _ := setout.New(o.loc).Fix(v)
	for k, t := range f.Ties {
		rows = append(rows, o.tape(fmt.Sprintf("rehearsal-%d", k+1), t.From, point, o.mark(t.From, i), v, rng))
	}
	return rows
}

func (o *offerer) tape(id, from, to string, a, b geo.Vec, rng *rand.Rand) survey.Reading {
	d := a.Dist(b)
	d = max(0.01, d+setout.TapeSigma(d)*rng.NormFloat64())
	return survey.Reading{ID: id, Kind: survey.Tape, From: from, To: to, Value: &geo.Length{Metres: d, Unit: geo.Metre}}
}

// fix returns a satellite fix of a landmark. Where the frame is not tied to the
// earth it is laid at the lot's position or, failing that, at 0, 0: only how
// the fixes lie to one another counts.
func (o *offerer) fix(id, name string, v geo.Vec, rng *rand.Rand) survey.Reading {
	site := o.loc.Frame.Site
	if site == nil {
		var p geodesy.LonLat
		if s := o.loc.Job.Settings.Site; s != nil {
			p = s.Position
		}
		site = geodesy.NewSite(p, 0)
	}
	one := 0.85 * phone / 2.4477
	v = v.Add(geo.Vec{X: one * rng.NormFloat64(), Y: one * rng.NormFloat64()})
	return survey.Reading{ID: id, Kind: survey.GNSS, Point: name, Position: site.LonLat(v), Accuracy: phone}
}

// height returns the mean of the levels of the log, metres: as good a guess as
// any of the next.
func (o *offerer) height() (mean float64) {
	n := 0.0
	for _, r := range o.loc.Job.Live() {
		if r.Kind == survey.Level && r.Value != nil {
			mean, n = mean+r.Value.Metres, n+1
		}
	}
	return mean / max(1, n)
}

// mark returns where a landmark lies in draw i, or is expected where there are
// no draws of it.
func (o *offerer) mark(name string, i int) geo.Vec {
	if v := o.draws.Spots[asbuilt.SpotName{Part: name, Spot: asbuilt.Center}]; i < len(v) {
		return v[i]
	}
	if s := o.loc.Spot(name, asbuilt.Center); s != nil {
		return s.At
	}
	return geo.Vec{}
}

// pairs calls f with every two landmarks.
func (o *offerer) pairs(f func(a, b string)) {
	var names []string
	for _, s := range o.loc.Spots {
		if s.Kind == asbuilt.Landmark && len(o.draws.Spots[asbuilt.SpotName{Part: s.Part, Spot: asbuilt.Center}]) == o.draws.N {
			names = append(names, s.Part)
		}
	}
	for k, b := range names {
		for _, a := range names[:k] {
			f(a, b)
		}
	}
}

// loosest returns the two landmarks whose distance is least sure, and not yet
// taped.
func (o *offerer) loosest() (a, b string, ok bool) {
	taped := map[[2]string]bool{}
	for _, r := range o.loc.Job.Live() {
		if r.Kind == survey.Tape {
			taped[[2]string{r.From, r.To}], taped[[2]string{r.To, r.From}] = true, true
		}
	}
	most := 0.0
	o.pairs(func(x, y string) {
		mean, square, n := 0.0, 0.0, float64(o.draws.N)
		for i := range o.draws.N {
			d := o.mark(x, i).Dist(o.mark(y, i))
			mean, square = mean+d/n, square+d*d/n
		}
		if v := square - mean*mean; v > most && !taped[[2]string{x, y}] {
			most, a, b, ok = v, x, y, true
		}
	})
	return a, b, ok
}

// farthest returns the two landmarks farthest apart.
func (o *offerer) farthest() (a, b string, ok bool) {
	most := 0.0
	o.pairs(func(x, y string) {
		if d := o.mark(x, 0).Dist(o.mark(y, 0)); d > most && !math.IsNaN(d) {
			most, a, b, ok = d, x, y, true
		}
	})
	return a, b, ok
}
