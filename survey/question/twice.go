package question

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// Twice returns the finds that disagree: one box, tank or port, met by two holes that
// lie farther apart than it is large.
func Twice(l *locate.Location) (all []finding.Finding) {
	a := asked{l: l}
	live := l.Job.Live()
	var finds []find
	for i := range live {
		if a.single(&live[i]) == nil {
			continue
		}
		if p, ok := a.taped(live[i].Point, live); ok {
			for _, f := range finds {
				all = append(all, a.apart(f, find{&live[i], p})...)
			}
			finds = append(finds, find{&live[i], p})
		}
	}
	return all
}

// taped returns where a hole lies by its own tapes, where there are two of them: the
// fit doubts one of them rather than have one box in two places.
func (a *asked) taped(name string, rows []survey.Reading) (p at, ok bool) {
	if p, ok = a.place(name); !ok {
		return p, false
	}
	if rings := a.rings(name, rows); len(rings) > 1 {
		wide := math.Hypot(rings[0].wide(), rings[1].wide())
		return at{name, nearest(crossings(rings[0], rings[1]), p.where), wide}, true
	}
	return p, true
}

// nearest returns the place that is nearest to another.
func nearest(places []geo.Vec, to geo.Vec) geo.Vec {
	best := places[0]
	for _, v := range places {
		if v.Dist(to) < best.Dist(to) {
			best = v
		}
	}
	return best
}

// find is a hole that met something.
type find struct {
	*survey.Reading
	at at
}

// again asks about a part that a new hole met and another hole has met elsewhere.
func (a *asked) again(name string, places []geo.Vec, rows []survey.Reading) {
	live := a.l.Job.Live()
	for i := range rows {
		if rows[i].Point != name {
			continue
		}
		for j := range live {
			p, ok := a.place(live[j].Point)
			if !ok {
				continue
			}
			for _, f := range a.apart(find{&live[j], p}, find{&rows[i], at{name, nearest(places, p.where), 0}}) {
				a.add(f)
			}
		}
	}
}

// apart returns that two finds are of one part and too far apart for it.
func (a *asked) apart(f, g find) []finding.Finding {
	part := a.single(f.Reading)
	if part == nil || part != a.single(g.Reading) || f.Point == g.Point {
		return nil
	}
	d := f.at.where.Dist(g.at.where)
	if d <= a.across(part)+a.l.Job.HoleRadius(f.Reading)+a.l.Job.HoleRadius(g.Reading)+surely*math.Hypot(f.at.sigma, g.at.sigma)+slack {
		return nil
	}
	return []finding.Finding{finding.FoundTwice.New(finding.Parts(part.ID), finding.Readings(f.ID, g.ID),
		finding.Word("hole", f.Point), finding.Word("hole2", g.Point), finding.Number("away", d))}
}

// single returns the box, tank or port that a hole met, nil where it met none or the
// log does not say which.
func (a *asked) single(r *survey.Reading) (part *asbuilt.Part) {
	if r.Kind != survey.Found {
		return nil
	}
	for i := range a.l.Job.Sketch.Parts {
		p := &a.l.Job.Sketch.Parts[i]
		if p.Kind != asbuilt.Box && p.Kind != asbuilt.Tank && p.Kind != asbuilt.Port || p.ID != r.Target && string(p.Kind) != r.Target {
			continue
		}
		if part != nil {
			return nil
		}
		part = p
	}
	return part
}

// across returns the greatest length of a part in plan, metres.
func (a *asked) across(part *asbuilt.Part) (most float64) {
	if part.Kind == asbuilt.Box {
		most = practice.BoxSide(part) * math.Sqrt2
	}
	for i := range a.l.Outlines {
		if o := &a.l.Outlines[i]; o.Part == part.ID {
			for _, s := range o.Now {
				for _, v := range s.Vertices {
					for _, w := range s.Vertices {
						most = max(most, v.Dist(w))
					}
				}
			}
		}
	}
	return most
}
