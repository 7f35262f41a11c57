package probe

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/locate"
)

// flattest is the least sine of the angle at which two tapes may cross: below
// 5° they set nothing out.
const flattest = 0.087

// tapeReach is the distance in metres beyond which a tape is a nuisance: 100 ft.
const tapeReach = 30.48

func tieSigma(d float64) float64 { return math.Hypot(0.03, 0.002*d) }

// ties returns two landmarks that set a hole out best, and a third where there
// is one: those whose tapes cross squarest and are shortest.
func ties(loc *locate.Location, at geo.Vec) (out []locate.Spot, crossing geo.Angle) {
	all := marks(loc)
	best, bi, bj := 0.0, -1, -1
	for i := range all {
		for j := range i {
			a, b := all[i].At.Sub(at), all[j].At.Sub(at)
			da, db := a.Norm(), b.Norm()
			if da < 0.5 || db < 0.5 {
				continue
			}
			sin := math.Abs(a.Cross(b)) / (da * db)
			score := sin / math.Hypot(tieSigma(da), tieSigma(db))
			if max(da, db) > tapeReach {
				score /= 3
			}
			if score > best && sin > flattest {
				best, bi, bj = score, i, j
				crossing = geo.Radians(math.Asin(min(1, sin)))
			}
		}
	}
	if bi < 0 {
		return nil, geo.Angle{}
	}
	out = []locate.Spot{all[bj], all[bi]}
	slices.SortFunc(out, func(a, b locate.Spot) int { return cmp.Compare(a.Part, b.Part) })
	var third *locate.Spot
	for i := range all {
		if i != bi && i != bj && all[i].At.Dist(at) > 0.5 && (third == nil || all[i].At.Dist(at) < third.At.Dist(at)) {
			third = &all[i]
		}
	}
	if third != nil {
		out = append(out, *third)
	}
	return out, crossing
}

// step is what a tape distance is rounded to where it is given out, metres.
func step(u geo.Unit) float64 {
	if u == geo.Metre {
		return 0.01
	}
	return 0.0254
}

// fixSigma is the standard deviation in metres per axis of a place set out by
// a phone's satellite fix: 4.9 m at 95 % under open sky (GPS.gov, from memory).
const fixSigma = 2.0

// spread returns the standard deviation in metres of a landmark, relative to
// the others, along the tape from it to v. A tape from a landmark that is
// itself placed only by satellite puts a hole no better than that.
func spread(mark locate.Spot, v geo.Vec) float64 {
	const k95 = 2.4477468306808166 // √χ²(0.95; 2), of the ellipse
	e := mark.FromLandmarks
	s, c := math.Sincos(geo.Bearing(mark.At, v).Radians() - e.Bearing.Radians())
	return math.Hypot(e.SemiMajor*c, e.SemiMinor*s) / k95
}

// setOut returns where the first two ties of a hole at v, rounded as they are
// given out, put it, and the standard deviation of that in its worst direction.
func (p *planner) setOut(v geo.Vec) (at geo.Vec, sigma float64) {
	marks, crossing := ties(p.loc, v)
	if len(marks) < 2 {
		return v, fixSigma
	}
	a, b := marks[0].At, marks[1].At
	s := step(p.loc.Job.Settings.Unit)
	ra, rb := math.Round(a.Dist(v)/s)*s, math.Round(b.Dist(v)/s)*s
	d := a.Dist(b)
	e := b.Sub(a).Unit()
	x := (d*d + ra*ra - rb*rb) / (2 * d)
	h := math.Sqrt(math.Max(0, ra*ra-x*x))
	if v.Sub(a).Dot(e.Right()) < 0 {
		h = -h
	}
	at = a.Add(e.Scale(x)).Add(e.Right().Scale(h))
	sa, sb := math.Hypot(tieSigma(ra), spread(marks[0], at)), math.Hypot(tieSigma(rb), spread(marks[1], at))
	return at, math.Hypot(swing(sa, sb, math.Sin(crossing.Radians())), digOff)
}

// swing returns the standard deviation, in its worst direction, of a place set
// out by two tapes with standard deviations sa and sb that cross at an angle
// of the given sine: the root of the larger eigenvalue of the covariance, whose
// trace is (sa² + sb²)/sin² and whose determinant sa² sb²/sin² (Ghilani &
// Wolf, Adjustment Computations: propagation and error ellipses).
func swing(sa, sb, sine float64) float64 {
	q := sine * sine
	trace, det := (sa*sa+sb*sb)/q, sa*sa*sb*sb/q
	return math.Sqrt(trace/2 + math.Sqrt(max(0, trace*trace/4-det)))
}

// propose fills in a hole at a place.
func (p *planner) propose(at geo.Vec) (h Proposal) {
	h.At = at
	marks, crossing := ties(p.loc, at)
	for _, m := range marks {
		d := m.At.Dist(at)
		h.Ties = append(h.Ties, SetOut{m.Part, d, tieSigma(d)})
	}
	if len(marks) >= 2 {
		_, offset := geo.AlongAcross(marks[0].At, marks[1].At, at)
		side := "right"
		if offset < 0 {
			side = "left"
		}
		h.Side = fmt.Sprintf("%s of the line from %s to %s", side, marks[0].Part, marks[1].Part)
	}
	p.depths(&h)
	p.seeks(&h)
	p.cautions(&h, crossing)
	return h
}

// depths fills in the expected depth of what is sought, and where to stop.
func (p *planner) depths(h *Proposal) {
	name, near := "", math.Inf(1)
	for k := range p.sought {
		t := &p.sought[k]
		d := 0.0
		for i := range min(p.draws.N, 200) {
			d += t.distance(i, h.At)
		}
		if d < near {
			name, near = t.name, d
		}
	}
	d, ok := p.loc.DepthAt(name, h.At)
	if !ok { // a port or the like: nothing is known of its depth
		return
	}
	h.Depth = d
	h.StopDepth = stopDepth(d)
	if limit := p.loc.Job.Settings.Hole.DepthLimit; limit > 0 && h.StopDepth > limit {
		h.StopDepth = limit
		h.Cautions = append(h.Cautions, fmt.Sprintf("The crew's depth limit of %s may come before the %s: an empty hole says less.",
			geo.FormatDepth(limit, p.loc.Job.Settings.Unit), name))
	}
}

// stopDepth returns where a hole for something of depth d is called empty,
// whole centimetres in metres, the crew's limit aside.
func stopDepth(d locate.Depth) float64 {
	return math.Ceil(100*(max(0, d.Mean)+stopSigmas*d.Sigma)) / 100
}

// seeks lists what the hole may meet: what is sought first, then other parts
// with more than 5 %, each the likeliest first.
func (p *planner) seeks(h *Proposal) {
	type chance struct {
		name   string
		sought bool
		p      float64
	}
	var all []chance
	note := func(t target, sought bool) {
		if q := p.chance(h.At, []target{t}); q > 0.05 || sought && q > 0 {
			all = append(all, chance{t.report, sought, q})
		}
	}
	for _, t := range p.sought {
		note(t, true)
	}
	for i := range p.loc.Job.Sketch.Parts {
		part := &p.loc.Job.Sketch.Parts[i]
		if t, ok := p.target(part, ""); ok && !slices.ContainsFunc(p.sought, func(s target) bool { return s.name == part.ID }) {
			note(t, false)
		}
	}
	slices.SortStableFunc(all, func(a, b chance) int {
		if a.sought != b.sought {
			if a.sought {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.p, a.p)
	})
	for _, c := range all {
		h.Seeks = append(h.Seeks, c.name)
	}
}

// cautions adds what to mind at a hole.
func (p *planner) cautions(h *Proposal, crossing geo.Angle) {
	say := func(format string, args ...any) { h.Cautions = append(h.Cautions, fmt.Sprintf(format, args...)) }
	unit := p.loc.Job.Settings.Unit
	deep := math.Max(h.StopDepth, h.Depth.Mean)
	switch {
	case deep >= 1.524:
		say("May go past 5 ft: nobody in the cut without protection against cave-in (29 CFR 1926.652).")
	case deep >= p.loc.Job.Settings.EntryDepth:
		say("May go past %s: a way out within 25 ft, nobody in an unprotected cut (29 CFR 1926.651).", geo.FormatDepth(p.loc.Job.Settings.EntryDepth, unit))
	}
	for i := range p.keepOut {
		k := &p.keepOut[i]
		if d := k.distance(h.At) - k.margin; k.hard && d < 2 {
			say("The clearance of %s is within %s: dig by hand.", k.part, geo.FormatLength(math.Max(d, 0.01), unit))
		}
	}
	for i := range p.loc.Outlines {
		o := &p.loc.Outlines[i]
		for _, s := range o.Now {
			outline := geo.Outline{Vertices: s.Vertices, Closed: s.Form == asbuilt.Polygon}
			switch d := outline.Distance(h.At); {
			case o.Kind == asbuilt.Driveway && d == 0:
				say("Under the driveway %s.", o.Part)
			case o.Kind == asbuilt.Well && d < 10:
				say("Near the well %s: keep its ground clean.", o.Part)
			}
		}
	}
	switch {
	case len(h.Ties) < 2:
		say("There are not two landmarks to set this hole out from by tape.")
	case crossing.Degrees() < 30:
		say("The tapes cross at %.0f°: a small error in one moves the hole much; use the third tape.", crossing.Degrees())
	}
	if h.Side != "" {
		say("It lies %s.", h.Side)
	}
}

// cautions returns those of the whole job.
func cautions(loc *locate.Location) []string {
	all := []string{
		"Have utilities located and marked before any hole or rod: in the US call 811, elsewhere the local one-call service. Private lines, this system too, are usually not marked. Dig by hand near a mark.",
		"Never enter a tank, box, pit or trench to look or fetch: septic air kills without warning, and smell stops warning first.",
		"Old tanks, lids and cesspools can collapse: keep people and machines off until found and checked; fence open holes.",
		"Sewage carries disease: gloves and eye protection, wash, no flames at openings.",
		"Places and depths are estimates, not a survey; each depth may be wrong by more than its interval. Local code and licensed practice decide.",
	}
	if loc.Fit != nil && loc.Fit.Doubtful != "" {
		all = append([]string{"Do not dig by this plan as it stands: " + loc.Fit.Doubtful + "."}, all...)
	}
	return all
}
