package rehearse

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/playout"
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
	hole   *encounter.Hole // that it takes, nil: none
	says   func(i int, rng *rand.Rand) []survey.Reading
	single bool // it bears on depths alone, and how much does not depend on what it says
}

// offerer tries readings out.
type offerer struct {
	*Rehearsal
	loc   *locate.Location
	site  *encounter.Site
	tool  *survey.Tool // that a hole is dug with
	draws *posterior.Draws
	ready *fit.Prepared
	spot  asbuilt.SpotName // of what is sought
	base  state
}

// state is how certain everything is.
type state struct{ radius, holes, depth float64 }

// offer works out what further readings would buy: each is invented as some of
// the draws have it, the job is fitted again with it, and the results are
// averaged: the preposterior analysis of Raiffa and Schlaifer (Applied
// Statistical Decision Theory, 1961).
func (r *Rehearsal) offer(ctx context.Context, loc *locate.Location, draws *posterior.Draws, s *encounter.Site) error {
	ready, err := fit.Prepare(loc.Job.Sketch)
	if err != nil {
		return err
	}
	o := &offerer{Rehearsal: r, loc: loc, site: s, tool: playout.Opener(s.Tools), draws: draws, ready: ready}
	o.spot = o.soughtSpot()
	if o.base, err = o.state(ctx, loc.Job); err != nil {
		return err
	}
	for _, i := range o.ideas() {
		offer, err := o.try(ctx, i)
		if err != nil {
			return err
		}
		r.Offers = append(r.Offers, offer)
	}
	return nil
}

// soughtSpot names the spot whose radius is reported: of a line, its far end.
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

// state fits a job and says how certain everything is. The holes of the plays
// are scaled by how much the search shrinks.
func (o *offerer) state(ctx context.Context, job *survey.Job) (s state, err error) {
	solved, err := o.ready.Refit(ctx, job)
	if err != nil {
		return s, err
	}
	loc, err := locate.Locate(ctx, job, solved)
	if err != nil {
		return s, err
	}
	if at := loc.Spot(o.spot.Part, o.spot.Spot); at != nil {
		s.radius = at.Landmarks95
		if at.Depth != nil {
			s.depth = at.Depth.Sigma
		}
	}
	d, err := loc.Posterior.Draws(ctx, 1000)
	if err != nil {
		return s, err
	}
	s.holes = o.search(d)
	return s, nil
}

// search returns how many holes a search of draws for what is sought takes.
func (o *offerer) search(d *posterior.Draws) (holes float64) {
	lead := o.site.Sought()[0]
	thing, ok := encounter.NewObject(o.loc.Job.Sketch.Part(lead.Part), lead.Spot, d)
	if !ok {
		return 0
	}
	for shift := range playout.Shifts { // so that the result does not depend on where the cells happen to lie
		cells := playout.NewCells(&thing, o.tool.Radius, shift, 0)
		weight := make([]float64, d.N)
		for i := range d.N {
			weight[cells.Cell(i, geo.Vec{})]++
		}
		holes += playout.CostToGo(playout.HolesToSearch(weight)) / playout.Shifts
	}
	return holes
}

// try averages what a reading may say.
func (o *offerer) try(ctx context.Context, i idea) (f Offer, err error) {
	before := o.Holes.Mean
	f = Offer{Kind: i.Kind, What: i.what, Radius: Change{Before: o.base.radius}, Holes: Change{Before: before}, Depth: Change{Before: o.base.depth}}
	n := outcomes
	if i.single {
		n = 1
	}
	if i.hole != nil {
		f.Minutes = i.hole.Minutes(i.hole.Stop)
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
			if s, err = o.state(ctx, &job); err != nil {
				return f, err
			}
			holes += before * s.holes / max(o.base.holes, 1e-9)
		}
		if i.single { // what it says bears on depth alone
			s.radius, holes = o.base.radius, before
		}
		if i.Kind == NextHole { // the plays dig it as planned
			holes = before
		}
		f.Radius.After += s.radius / float64(n)
		f.Holes.After += holes / float64(n)
		f.Depth.After += s.depth / float64(n)
	}
	return f, nil
}

// ideas lists the readings that are worth considering.
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
	if what, h, ok := o.onLateral(); ok {
		all = append(all, o.dig(OnLateral, what, h))
	}
	all = append(all, o.dig(NextHole, "the next hole of the plan", o.Plan.Script(o.site).Hole))
	return all
}

// onLateral returns a hole where a lateral is expected and one may dig.
func (o *offerer) onLateral() (what string, h encounter.Hole, ok bool) {
	for i := range o.loc.Corridors {
		c := &o.loc.Corridors[i]
		if c.Kind != asbuilt.Lateral || len(c.Line) < 2 || c.Part == o.spot.Part {
			continue
		}
		for _, u := range []float64{0.4, 0.6, 0.2, 0.8} {
			v := c.Line[0].Lerp(c.Line[len(c.Line)-1], u)
			if sigma, ok := o.site.Ground.Allowed(v, o.tool.Radius); ok {
				h = encounter.Hole{At: v, Radius: o.tool.Radius, Sigma: sigma, Tool: o.tool}
				h.Stop = o.site.Stop(&h, o.chances(&h))
				return "a hole where " + c.Part + " is expected", h, true
			}
		}
	}
	return "", h, false
}

// dig is the idea of a hole, which says what it meets in a draw.
func (o *offerer) dig(kind Kind, what string, h encounter.Hole) idea {
	o.site.Show(&h, 0)
	return idea{Kind: kind, what: what, hole: &h, says: func(i int, rng *rand.Rand) []survey.Reading {
		m := playout.Answer(o.site, i, &h, rng.Float64())
		if m == encounter.Sought {
			return nil
		}
		return append(o.taped("rehearsal-hole", h.At, i, rng), logged(m, max(0.1, h.Stop)))
	}}
}

// logged returns the reading of a hole to a depth in metres that met something.
func logged(m encounter.Outcome, depth float64) survey.Reading {
	r := survey.Reading{ID: "rehearsal-0", Kind: survey.Found, Point: "rehearsal-hole", Target: string(asbuilt.Lateral), Spot: asbuilt.On}
	switch m.Kind() {
	case encounter.Trench:
	case encounter.Start:
		r.Spot = asbuilt.Start
	case encounter.End:
		r.Spot = asbuilt.End
	case encounter.Header:
		r.Target = string(asbuilt.Header)
	default:
		return survey.Reading{ID: "rehearsal-0", Kind: survey.Empty, Point: "rehearsal-hole", Depth: &geo.Length{Metres: depth, Unit: geo.Metre}}
	}
	return r
}

// chances returns the chance of meeting each object of the site in a hole.
func (o *offerer) chances(h *encounter.Hole) []float64 {
	all, weight := make([]int32, o.site.N), make([]float64, o.site.N)
	for i := range all {
		all[i], weight[i] = int32(i), 1/float64(o.site.N)
	}
	return o.site.Alone(h, weight, all)
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
	one := 0.85 * phone / geo.Within95
	v = v.Add(geo.Vec{X: one * rng.NormFloat64(), Y: one * rng.NormFloat64()})
	return survey.Reading{ID: id, Kind: survey.GNSS, Point: name, Position: site.LonLat(v), Accuracy: phone}
}

// height returns the mean of the levels of the log, metres: the best guess of
// the next.
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

// loosest returns the two landmarks whose distance is least certain and has not
// been taped.
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
