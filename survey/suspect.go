package survey

import (
	"cmp"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
)

const (
	anyWrong = 0.5  // from here on some reading is called wrong
	alsoIs   = 0.15 // and then each that is wrong with this probability is named
)

// suspect names the readings that are probably wrong and the slip that would
// explain each best. written is the fit of all readings as they were written.
func (p *Prepared) suspect(f *Fit, written *component) {
	var none float64 // weight of no reading being wrong
	wrong := map[string]float64{}
	causes := map[string]map[string]float64{} // weight of each cause by its key
	slipOf := map[string]map[string]*slip{}
	for i := range f.components {
		c := &f.components[i]
		if len(c.explanation.slips) == 0 {
			none += c.weight
		}
		for id, s := range c.explanation.slips {
			wrong[id] += c.weight
			if causes[id] == nil {
				causes[id], slipOf[id] = map[string]float64{}, map[string]*slip{}
			}
			key := s.cause.Key()
			causes[id][key] += c.weight
			slipOf[id][key] = s
		}
	}
	if 1-none < anyWrong {
		return
	}
	for _, id := range slices.Sorted(keys(wrong)) {
		if wrong[id] < alsoIs {
			continue
		}
		f.Suspects = append(f.Suspects, p.suspicion(f, written, id, wrong[id], causes[id], slipOf[id]))
	}
	slices.SortStableFunc(f.Suspects, func(a, b Suspect) int { return cmp.Compare(b.Odds, a.Odds) })
	if f.GlobalP < 1e-4 && f.components[0].fits(1e-3) {
		f.doubt(finding.OneDoesNotFit.New(finding.Readings(f.Suspects[0].Reading)))
	}
}

// suspicion sums up what is held against one reading, weight being that of
// each cause by its key.
func (p *Prepared) suspicion(f *Fit, written *component, id string, odds float64, weight map[string]float64, slipOf map[string]*slip) Suspect {
	best := heaviestFirst(weight)[0]
	s := Suspect{Reading: id, Odds: odds, Cause: weight[best] / odds, Blunder: slipOf[best].cause, Instead: slipOf[best].instead,
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

// offBy says how far a reading lies off what the other readings say.
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
func (p *Prepared) without(f *Fit, written *component, id string, s *Suspect) {
	d := written.network.drawing
	k := -1
	for i := range p.sketch.Parts {
		part := &p.sketch.Parts[i]
		if seek := f.book.job.Settings.Seek; part.ID != seek && string(part.Kind) != seek {
			continue
		}
		for _, spot := range []asbuilt.Spot{asbuilt.Center, asbuilt.Start} {
			if n, ok := d.spots[SpotName{part.ID, spot}]; ok && k < 0 {
				k, s.Sought = n, part.ID
			}
		}
	}
	if k < 0 {
		return
	}
	out := &slip{reading: id, odds: oddsGross, out: true}
	c, _, err := p.solve(f.book, written.explanation.slipped(out), written.solution.Y)
	if err != nil {
		return
	}
	datum := f.book.datum(d)
	with, left := written.places(), c.places()
	move := rigid(pick(left, datum), pick(with, datum)).move
	v := move(left[k]).Sub(with[k])
	s.Moves, s.Toward = v.Norm(), geo.Bearing(geo.Vec{}, v)
}
