package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/posterior"
	"asfound/survey/probe"
)

// fitted is a player that logs every hole, fits again and digs where a plan
// says.
type fitted struct {
	site       *site
	game       *game
	job        survey.Job
	ready      *fit.Prepared
	rng        *rand.Rand // of the crew's tapes
	plan       func(context.Context, *locate.Location, *posterior.Draws) (*probe.Plan, error)
	stakes     int                                                            // that it has named
	directions bool                                                           // the crew logs which way a line runs
	note       func(*fitted, *locate.Location, *posterior.Draws, *probe.Plan) // nil: no record is kept
}

func newFitted(s *site, g *game) (*fitted, error) {
	f := &fitted{site: s, game: g, job: *s.job, rng: rand.New(rand.NewPCG(s.seed, 5))}
	f.job.Readings = append([]survey.Reading(nil), s.job.Readings...)
	f.plan = probe.Options{Holes: 1, Levels: -1, Plays: -1}.Plan
	var err error
	f.ready, err = fit.Prepare(s.job.Sketch)
	return f, err
}

// mostGrids is how many grids of stabs a crew makes before it gives the rod up.
const mostGrids = 60

// play digs until the box is met, the holes are used up, or the plan has no
// hole.
func (f *fitted) play() error {
	for !f.game.over() {
		loc, draws, err := f.locate()
		if err != nil {
			return err
		}
		plan, err := f.plan(context.Background(), loc, draws)
		if err != nil {
			return err
		}
		if f.note != nil {
			f.note(f, loc, draws, plan)
		}
		if plan.Follow != nil {
			if err := f.follow(loc, plan.Follow); err != nil {
				return err
			}
			continue
		}
		if plan.Push != nil {
			f.push(plan.Push)
			continue
		}
		if plan.Rod != nil && f.game.grids < mostGrids {
			if err := f.rods(loc, plan.Rod); err != nil {
				return err
			}
			continue
		}
		if len(plan.Holes) == 0 {
			return nil
		}
		h, ok := fromPlan(loc, &plan.Holes[0])
		if !ok {
			return fmt.Errorf("lot %d, %s, %s: hole %d has no two ties", f.site.seed, f.site.trust, f.site.mix, len(f.game.holes)+1)
		}
		f.log(f.game.dig(h), h)
	}
	return nil
}

// locate fits the log as it stands.
func (f *fitted) locate() (*locate.Location, *posterior.Draws, error) {
	loc, err := pipeline.Locate(context.Background(), &f.job, f.ready)
	if err != nil {
		return nil, nil, err
	}
	d, err := pipeline.Draws(context.Background(), loc)
	return loc, d, err
}

// fromPlan reads a proposal as a crew does: two tapes, a side, a depth.
func fromPlan(loc *locate.Location, p *probe.Proposal) (h hole, ok bool) {
	if len(p.Ties) < 2 {
		return h, false
	}
	var at [2]geo.Vec
	for i := range 2 {
		h.from[i] = int(p.Ties[i].From[0] - 'A')
		h.tape[i] = p.Ties[i].Distance
		at[i] = loc.Spot(p.Ties[i].From, asbuilt.Center).At
	}
	_, off := geo.AlongAcross(at[0], at[1], p.At)
	h.right, h.deep = off > 0, p.StopDepth
	return h, true
}

// log writes down what a hole met, and tapes it from three landmarks: the two
// it was set out from and the nearest other.
func (f *fitted) log(a answer, h hole) {
	name := fmt.Sprintf("P%d", len(f.game.holes))
	r := survey.Reading{Kind: survey.Empty, Point: name, Depth: &geo.Length{Metres: h.deep, Unit: geo.Metre}}
	if a.met != "" {
		r = survey.Reading{Kind: survey.Found, Point: name, Target: string(a.met), Spot: a.spot, Feature: survey.Top,
			Depth: &geo.Length{Metres: max(0.01, a.top+0.03*f.rng.NormFloat64()), Unit: geo.Metre}}
		if a.met == asbuilt.Header {
			r.Feature = survey.Crown
		}
		if f.directions && a.runs != (geo.Vec{}) {
			f.direct(&r, a)
		}
	}
	log(&f.job, r)
	f.tapes(name, a.at, h)
}

// tapes tapes a place from three landmarks: the two it was set out from and the
// nearest other.
func (f *fitted) tapes(name string, at geo.Vec, h hole) {
	third := slices.DeleteFunc(f.nearest(at), func(i int) bool { return i == h.from[0] || i == h.from[1] })[0]
	for _, i := range []int{h.from[0], h.from[1], third} {
		tape(f.rng, &f.job, mark(i), name, f.site.lot.corners[i], at)
	}
}

// nearest returns the corners of the house, the nearest to a place first.
func (f *fitted) nearest(v geo.Vec) []int {
	order, corners := []int{0, 1, 2, 3}, f.site.lot.corners
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(corners[i].Dist(v), corners[k].Dist(v)) })
	return order
}

// direct writes down which way a line runs, as a crew reads it off the face of a
// clock whose 12 is the nearest corner of the house: to the half hour, some degrees
// off, and once in twenty counted the wrong way round. Of a pipe it sees the slope.
func (f *fitted) direct(r *survey.Reading, a answer) {
	to := f.nearest(a.at)[0]
	angle := geo.Bearing(geo.Vec{}, a.runs).Degrees() - geo.Bearing(a.at, f.site.lot.corners[to]).Degrees() + 4*f.rng.NormFloat64()
	if f.rng.Float64() < 0.05 {
		angle = -angle
	}
	clock := geo.Degrees(math.Mod(math.Round(angle/15)*15+720, 360))
	r.Runs, r.Facing = &clock, mark(to)
	if a.met == asbuilt.Header {
		r.Flow = survey.FlowAlong
	}
}

// byChance plans by chance alone: the likeliest place first, whatever a hole
// elsewhere might show.
var byChance = probe.Options{Greedy: true, Holes: 1, Levels: -1, Plays: -1}.Plan
