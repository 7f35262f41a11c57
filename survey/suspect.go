package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
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
	causes := map[string]map[string]float64{} // weight of each cause by its words
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
			causes[id][s.says] += c.weight
			slipOf[id][s.says] = s
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
		f.Doubtful = fmt.Sprintf("%s does not fit the rest: void it, or log it anew; everything else fits", f.Suspects[0].Reading)
	}
}

// suspicion sums up what is held against one reading, says being the weight of
// each cause by its words.
func (p *Prepared) suspicion(f *Fit, written *component, id string, odds float64, says map[string]float64, slipOf map[string]*slip) Suspect {
	words := slices.Sorted(keys(says))
	best := words[0]
	for _, text := range words {
		if says[text] > says[best] {
			best = text
		}
	}
	s := Suspect{Reading: id, Odds: odds, Cause: says[best] / odds, Says: best, Instead: slipOf[best].instead,
		Better: odds / math.Max(1-odds, 1e-6)}
	for _, r := range f.Residuals {
		if r.Reading == id && math.Abs(r.Standardized) > math.Abs(s.Statistic) {
			s.Statistic = r.Standardized
		}
	}
	if best == "" {
		s.Says = offBy(f, id)
	}
	p.without(f, written, id, &s)
	return s
}

// offBy says in words how far a reading lies off what the rest says.
func offBy(f *Fit, id string) string {
	var worst Residual
	for _, r := range f.Residuals {
		if r.Reading == id && math.Abs(r.Standardized) >= math.Abs(worst.Standardized) {
			worst = r
		}
	}
	off := (worst.Observed - worst.Fitted) / math.Max(worst.Redundancy, 1e-6) // against the rest alone
	if worst.Degrees {
		return fmt.Sprintf("reads %.1f° off what the rest says: measure it again", off)
	}
	word := "long"
	if off < 0 {
		word = "short"
	}
	shown := fmt.Sprintf("%.2f m", math.Abs(off))
	if f.book.job.Settings.Unit == geo.Foot {
		shown = fmt.Sprintf("%.2f ft", math.Abs(off)/foot)
	}
	return fmt.Sprintf("reads %s %s against the rest: measure it again", shown, word)
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
	move := geo.Rigid(pick(left, datum), pick(with, datum)).Move
	v := move(left[k]).Sub(with[k])
	s.Moves, s.Toward = v.Norm(), geo.Bearing(geo.Vec{}, v)
}
