package question

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// How far off an entry may be before it is asked about. A question costs one tap,
// a wrong entry a hole: judgement, no published source.
const (
	surely  = 4.0  // standard deviations
	slack   = 0.15 // metres: half a foot is not asked about
	beyond  = 1.25 // of the lot's extent: a longer tape leaves the lot
	strayed = 6.0  // metres from the hole proposed, where nothing is believed to lie
	astray  = 10.5 // metres from it, wherever that is
	same    = 0.3  // metres between a new point and a known one: perhaps the same thing
	around  = 2.0  // metres about where something is believed to lie with 95 %
)

// at is a place that is known, and the standard deviation of each coordinate.
type at struct {
	name  string
	where geo.Vec
	sigma float64 // metres
}

// per95 is the radius that holds 95 % of a circular normal distribution, in
// standard deviations: √(−2 ln 0.05).
const per95 = 2.4477

// place returns a landmark, a part by its centre, a hole or a stake.
func (a *asked) place(name string) (p at, ok bool) {
	if s := a.l.Spot(name, asbuilt.Center); s != nil {
		return at{name, s.At, s.Landmarks95 / per95}, true
	}
	if r, ok := a.l.Posterior.Point(name); ok {
		return at{name, r.At, r.Landmarks95 / per95}, true
	}
	return p, false
}

// extent returns the greatest distance between two things of the sketch.
func extent(l *locate.Location) (most float64) {
	var all []geo.Vec
	for i := range l.Outlines {
		for _, o := range l.Outlines[i].Now {
			all = append(all, o.Vertices...)
		}
	}
	for i := range l.Spots {
		all = append(all, l.Spots[i].At)
	}
	for i, p := range all {
		for _, q := range all[:i] {
			most = max(most, p.Dist(q))
		}
	}
	return most
}

// level returns the level part of a tape, metres.
func level(r *survey.Reading) float64 {
	if r.Rise == nil {
		return r.Value.Metres
	}
	return math.Sqrt(max(0, r.Value.Metres*r.Value.Metres-r.Rise.Metres*r.Rise.Metres))
}

// tape asks about a tape that is longer than the lot, or that does not fit what is
// believed of its two ends.
func (a *asked) tape(r *survey.Reading) {
	if r.Kind != survey.Tape || r.Value == nil {
		return
	}
	if r.Value.Metres > beyond*a.lot {
		a.add(finding.TapeBeyondLot.New(finding.Parts(r.From, r.To), finding.Number("read", r.Value.Metres), finding.Number("lot", a.lot)))
		return
	}
	p, ok := a.place(r.From)
	q, ok2 := a.place(r.To)
	if !ok || !ok2 {
		return
	}
	far := p.where.Dist(q.where)
	if off := math.Abs(level(r) - far); off <= a.allowed(level(r), p, q) {
		return
	}
	near := func(l geo.Length) bool { return math.Abs(l.Metres-far) <= a.allowed(l.Metres, p, q) }
	if meant := a.meant(r.Value, near); meant != "" {
		a.add(finding.TapeOffMeant.New(finding.Parts(r.From, r.To), finding.Number("read", r.Value.Metres), finding.Number("fitted", far), finding.Word("amount", meant)))
		return
	}
	a.add(finding.TapeOff.New(finding.Parts(r.From, r.To), finding.Number("read", r.Value.Metres), finding.Number("fitted", far)))
}

// allowed returns by how much a tape may differ from what is believed, metres.
func (a *asked) allowed(read float64, p, q at) float64 {
	return surely*math.Hypot(setout.TapeSigma(read), math.Hypot(p.sigma, q.sigma)) + slack
}

// meant returns what a length may have been meant as, where that would fit.
func (a *asked) meant(l *geo.Length, fits func(geo.Length) bool) string {
	unit := l.Unit
	if unit == "" {
		unit = a.l.Job.Settings.Unit
	}
	all := geo.OtherUnits(wholeFeet(l.Written), unit)
	all = append(all, geo.DigitsSwapped(l.Written, unit)...)
	all = append(all, geo.TenthsForInches(l.Written, unit)...)
	for _, w := range all {
		if fits(w) {
			return w.Written
		}
	}
	return ""
}

// ring is a tape to a point that is asked about, from a known place.
type ring struct {
	at
	long float64 // metres, level
}

// wide returns the standard deviation of where the tape ends, metres.
func (r ring) wide() float64 { return math.Hypot(setout.TapeSigma(r.long), r.sigma) }

// points returns the points that rows name, each once.
func points(rows []survey.Reading) (names []string) {
	for i := range rows {
		for _, n := range []string{rows[i].Point, rows[i].From, rows[i].To} {
			if n != "" && !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}

// crossing asks about the tapes to a new point: whether they meet, and where that
// is.
func (a *asked) crossing(name string, e Entry) {
	if a.knows(name) {
		return
	}
	rings := a.rings(name, e.Rows)
	if len(rings) < 2 || !a.meet(rings) {
		return
	}
	places := crossings(rings[0], rings[1])
	for _, third := range rings[2:] {
		off := func(v geo.Vec) float64 { return math.Abs(v.Dist(third.where) - third.long) }
		best := slices.MinFunc(places, func(v, w geo.Vec) int { return int(math.Copysign(1, off(v)-off(w))) })
		// The crossing of two tapes is known less well than either: twice, at 30°.
		if off(best) > surely*math.Hypot(third.wide(), 2*math.Hypot(rings[0].wide(), rings[1].wide()))+slack {
			a.add(finding.TapesDisagree.New(finding.Parts(rings[0].name, rings[1].name, third.name), finding.Number("read", third.long), finding.Number("fitted", best.Dist(third.where)),
				finding.Word("third", third.name)))
			return
		}
		places = []geo.Vec{best}
	}
	a.proposed(places, e.Proposed)
	a.beside(name, places, e.Rows)
	a.metThere(name, places, e.Rows)
	a.again(name, places, e.Rows)
}

// beside asks about a new point that is no hole and lies where a landmark or another
// point does.
func (a *asked) beside(name string, places []geo.Vec, rows []survey.Reading) {
	if slices.ContainsFunc(rows, func(r survey.Reading) bool {
		return r.Point == name && (r.Kind == survey.Found || r.Kind == survey.Empty)
	}) {
		return
	}
	known := a.l.Posterior.Points()
	for i := range a.l.Spots {
		if s := &a.l.Spots[i]; s.Kind == asbuilt.Landmark {
			known = append(known, s.Part)
		}
	}
	for _, k := range known {
		p, ok := a.place(k)
		if !ok {
			continue
		}
		if d := nearest(places, p.where).Dist(p.where); d < same {
			a.add(finding.PointClose.New(finding.Word("name", name), finding.Word("known", k), finding.Number("away", d)))
			return
		}
	}
}

// rings returns the tapes to a point from places that are known.
func (a *asked) rings(name string, rows []survey.Reading) (rings []ring) {
	for i := range rows {
		r := &rows[i]
		if r.Kind != survey.Tape || r.Value == nil || r.From != name && r.To != name {
			continue
		}
		other := r.From
		if other == name {
			other = r.To
		}
		if p, ok := a.place(other); ok {
			rings = append(rings, ring{p, level(r)})
		}
	}
	return rings
}

// meet reports whether every two tapes meet, and asks about the first that do not.
func (a *asked) meet(rings []ring) bool {
	for i := range rings {
		for j := range i {
			p, q := rings[j], rings[i]
			d := p.where.Dist(q.where)
			allowed := surely*math.Hypot(p.wide(), q.wide()) + slack
			if short := d - p.long - q.long; short > allowed {
				a.add(finding.TapesShort.New(finding.Parts(p.name, q.name), finding.Number("gap", short)))
				return false
			}
			if p.long < q.long {
				p, q = q, p
			}
			if long := p.long - q.long - d; long > allowed {
				a.add(finding.TapesLong.New(finding.Parts(p.name, q.name), finding.Number("gap", long)))
				return false
			}
		}
	}
	return true
}

// crossings returns where two tapes meet: on either side of the line between their
// places, or, where they do not quite, on it.
func crossings(p, q ring) []geo.Vec {
	along := q.where.Sub(p.where)
	d := along.Norm()
	if d == 0 {
		return []geo.Vec{p.where}
	}
	x := (p.long*p.long - q.long*q.long + d*d) / (2 * d)
	y := math.Sqrt(max(0, p.long*p.long-x*x))
	u := along.Scale(1 / d)
	v := geo.Vec{X: -u.Y, Y: u.X}
	foot := p.where.Add(u.Scale(x))
	return []geo.Vec{foot.Add(v.Scale(y)), foot.Sub(v.Scale(y))}
}

// proposed asks about a hole that lies far from where one was proposed.
func (a *asked) proposed(places, proposed []geo.Vec) {
	if len(proposed) == 0 {
		return
	}
	least, lies := math.Inf(1), places[0]
	for _, v := range places {
		for _, p := range proposed {
			if d := v.Dist(p); d < least {
				least, lies = d, v
			}
		}
	}
	buried := func(part string, kind asbuilt.Kind) bool { return kind != asbuilt.Landmark }
	if least > astray || least > strayed && a.outside(lies, buried) > around {
		a.add(finding.FarFromProposed.New(finding.Number("away", least)))
	}
}

// metThere asks about a part that was met far from where it is believed to lie.
func (a *asked) metThere(name string, places []geo.Vec, rows []survey.Reading) {
	for i := range rows {
		r := &rows[i]
		if r.Kind != survey.Found || r.Point != name {
			continue
		}
		least := math.Inf(1)
		for _, v := range places {
			least = min(least, a.outside(v, func(part string, kind asbuilt.Kind) bool { return part == r.Target || string(kind) == r.Target }))
		}
		if least > around && !math.IsInf(least, 1) {
			a.add(finding.MetElsewhere.New(finding.Parts(r.Target), finding.Number("away", least)))
		}
	}
}

// outside returns how far a place lies, in metres, beyond the regions that hold some
// parts with 95 %; 0 within one, infinite where there is none.
func (a *asked) outside(v geo.Vec, which func(part string, kind asbuilt.Kind) bool) float64 {
	least := math.Inf(1)
	for i := range a.l.Spots {
		if s := &a.l.Spots[i]; which(s.Part, s.Kind) {
			least = min(least, s.At.Dist(v)-s.Landmarks95)
		}
	}
	for i := range a.l.Corridors {
		c := &a.l.Corridors[i]
		for k := 1; k < len(c.Line) && which(c.Part, c.Kind); k++ {
			least = min(least, toSegment(v, c.Line[k-1], c.Line[k])-max(c.Half[k-1], c.Half[k]))
		}
	}
	return max(0, least)
}

// toSegment returns the distance in metres from a place to a segment.
func toSegment(v, p, q geo.Vec) float64 {
	along := q.Sub(p)
	t := 0.0
	if n := along.Dot(along); n > 0 {
		t = min(1, max(0, v.Sub(p).Dot(along)/n))
	}
	return v.Dist(p.Add(along.Scale(t)))
}
