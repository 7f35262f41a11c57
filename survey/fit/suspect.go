package fit

import (
	"cmp"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

const (
	anyWrong = 0.5  // probability from which some reading is called wrong
	alsoIs   = 0.15 // and from which, in that case, each wrong reading is named
)

// suspect names the readings that are probably wrong and the blunder that would
// explain each best. written is the fit of all readings as they were written.
func (p *problem) suspect(f *Fit, written *Component) {
	var none float64 // weight of no reading being wrong
	wrong := map[string]float64{}
	causes := map[string]map[string]float64{} // weight of each cause by its key
	blunderOf := map[string]map[string]*observe.Blunder{}
	for i := range f.components {
		c := &f.components[i]
		if len(c.Explanation.Blunders) == 0 {
			none += c.Weight
		}
		for id, s := range c.Explanation.Blunders {
			wrong[id] += c.Weight
			if causes[id] == nil {
				causes[id], blunderOf[id] = map[string]float64{}, map[string]*observe.Blunder{}
			}
			key := s.Cause.Key()
			causes[id][key] += c.Weight
			blunderOf[id][key] = s
		}
	}
	if 1-none < anyWrong {
		return
	}
	for _, id := range slices.Sorted(keys(wrong)) {
		if wrong[id] < alsoIs {
			continue
		}
		f.Suspects = append(f.Suspects, p.suspicion(f, written, id, wrong[id], causes[id], blunderOf[id]))
	}
	slices.SortStableFunc(f.Suspects, func(a, b Suspect) int { return cmp.Compare(b.Odds, a.Odds) })
	if f.GlobalP < 1e-4 && f.components[0].fits(1e-3) {
		f.doubt(finding.OneDoesNotFit.New(finding.Readings(f.Suspects[0].Reading)))
	}
}

// suspicion sums up the evidence against one reading; weight is that of each
// cause by its key.
func (p *problem) suspicion(f *Fit, written *Component, id string, odds float64, weight map[string]float64, blunderOf map[string]*observe.Blunder) Suspect {
	best := heaviestFirst(weight)[0]
	s := Suspect{Reading: id, Odds: odds, Cause: weight[best] / odds, Blunder: blunderOf[best].Cause, Instead: blunderOf[best].Instead,
		Better: odds / math.Max(1-odds, 1e-6)}
	for _, r := range f.Residuals {
		if r.Reading == id && math.Abs(r.Standardized) > math.Abs(s.Statistic) {
			s.Statistic = r.Standardized
		}
	}
	if s.Blunder.Code == "" {
		s.Blunder = offBy(f, id)
	}
	p.without(f, written, id, &s)
	return s
}

// offBy says by how much a reading disagrees with the other readings.
func offBy(f *Fit, id string) finding.Finding {
	var worst Residual
	for _, r := range f.Residuals {
		if r.Reading == id && math.Abs(r.Standardized) >= math.Abs(worst.Standardized) {
			worst = r
		}
	}
	off := (worst.Observed - worst.Fitted) / math.Max(worst.Redundancy, 1e-6) // against the rest alone
	switch {
	case worst.Degrees:
		return finding.OffTurned.New(finding.Number("off", off))
	case off < 0:
		return finding.OffShort.New(finding.Number("off", -off))
	}
	return finding.OffLong.New(finding.Number("off", off))
}

// without fills in where what is sought lies when a reading is left out.
func (p *problem) without(f *Fit, written *Component, id string, s *Suspect) {
	d := written.Network.Drawing
	k := -1
	for i := range p.sketch.Parts {
		part := &p.sketch.Parts[i]
		if seek := f.log.Job.Settings.Seek; part.ID != seek && string(part.Kind) != seek {
			continue
		}
		for _, spot := range []asbuilt.Spot{asbuilt.Center, asbuilt.Start} {
			if n, ok := d.Spots[asbuilt.SpotName{Part: part.ID, Spot: spot}]; ok && k < 0 {
				k, s.Sought = n, part.ID
			}
		}
	}
	if k < 0 {
		return
	}
	c, _, err := p.solve(written.Explanation.blundered(observe.Gross(id)), written.Solution.Y)
	if err != nil {
		return
	}
	datum := f.log.Datum(d)
	with, left := written.Places(), c.Places()
	v := geo.Rigid(Pick(left, datum), Pick(with, datum)).Move(left[k]).Sub(with[k])
	s.Moves, s.Toward = v.Norm(), geo.Bearing(geo.Vec{}, v)
}

// Pick returns the places of some nodes.
func Pick(at []geo.Vec, nodes []int) (some []geo.Vec) {
	for _, k := range nodes {
		some = append(some, at[k])
	}
	return some
}
