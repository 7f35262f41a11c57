package survey

import (
	"fmt"
	"hash/fnv"
	"strings"

	"asfound/geo"
)

// Draws returns n ways the whole site may lie, each as likely as the others,
// relative to the landmarks, the evidence that p has learnt included. The seed
// comes from the readings, so that the same job gives the same draws.
func (f *Fit) Draws(p *Posterior, n int) *Draws {
	if p.draws != nil && p.draws.N == n {
		return p.draws
	}
	d, _ := p.draw(n, p.evidence)
	return d
}

// draw returns n draws after evidence, and what the evidence did.
func (p *Posterior) draw(n int, e Evidence) (*Draws, Learned) {
	s := newPopulation(p, n, e)
	learned := s.learn(e)
	return s.draws(), learned
}

// draws lays the population on the landmarks and sorts it by name.
func (s *population) draws() *Draws {
	p, n := s.p, len(s.each)
	d, points := p.drawing(), p.members[0].c.network.points
	anchors := pick(p.members[0].at, p.datum)
	places := len(d.nodes) + len(points)
	out := &Draws{N: n, Spots: map[SpotName][]geo.Vec{}, Lines: map[string][][]geo.Vec{}, Holes: map[string][]geo.Vec{},
		Member: make([]int, n), Shifts: make([][]float64, s.shifts),
		at: make([][]geo.Vec, places), frame: make([][]geo.Vec, places)}
	for k := range places {
		out.at[k], out.frame[k] = make([]geo.Vec, n), make([]geo.Vec, n)
	}
	for i, one := range s.each {
		move := geo.Congruence(pick(one.at, p.datum), anchors, flat).Move
		for k, v := range one.at {
			out.frame[k][i], out.at[k][i] = v.Add(p.shift), move(v).Add(p.shift)
		}
		out.Member[i] = p.members[one.member].explanation
		for k, v := range one.shift {
			out.Shifts[k] = append(out.Shifts[k], v)
		}
	}
	for name, k := range d.spots {
		out.Spots[name] = out.at[k]
	}
	for part, line := range d.lines {
		all := make([][]geo.Vec, n)
		for i := range all {
			for _, k := range line {
				all[i] = append(all[i], out.at[k][i])
			}
		}
		out.Lines[part] = all
	}
	for k, pt := range points {
		out.Holes[pt.name] = out.at[len(d.nodes)+k]
	}
	return out
}

// choose returns the index at quantile u of weights that sum to 1: systematic
// sampling, so that the shares are right to one draw.
func choose(weights []float64, u float64) int {
	for i, w := range weights {
		if u -= w; u < 0 {
			return i
		}
	}
	return len(weights) - 1
}

// seed returns a number that stands for the content of the job.
func (f *Fit) seed() uint64 {
	h := fnv.New64a()
	for i := range f.book.readings {
		r := f.book.readings[i]
		fmt.Fprintln(h, r.ID, r.Kind, r.Point, r.From, r.To, r.Target, r.Position, metresOf(r.Value), metresOf(r.Offset), metresOf(r.Depth))
	}
	for i := range f.book.job.Sketch.Parts {
		fmt.Fprintln(h, f.book.job.Sketch.Parts[i].ID)
	}
	return h.Sum64()
}

// Met returns the part that the hole of a found reading most likely met.
func (f *Fit) Met(reading string) string {
	for i := range f.book.readings {
		r := &f.book.readings[i]
		if r.ID != reading || r.Kind != Found {
			continue
		}
		if f.book.job.Sketch.Part(r.Target) != nil {
			return r.Target
		}
		return likeliest(f.MetOdds(reading))
	}
	return ""
}

// Told reports whether any reading of the log takes part in the fit: what is
// written on the sheet is record, not reading.
func (f *Fit) Told() bool {
	for _, r := range f.Residuals {
		if !strings.HasPrefix(r.Reading, writtenPrefix) {
			return true
		}
	}
	return false
}

func metresOf(l *geo.Length) float64 {
	if l == nil {
		return 0
	}
	return l.Metres
}
