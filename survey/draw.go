package survey

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"strings"

	"asfound/geo"
)

// Draws returns n ways the whole site may lie, each as likely as the others,
// relative to the landmarks. The seed comes from the readings, so that the same
// job gives the same draws.
func (f *Fit) Draws(p *Posterior, n int) *Draws {
	main := p.members[0]
	anchors := pick(main.at, p.datum)
	d := p.drawing()
	out := &Draws{N: n, Spots: map[SpotName][]geo.Vec{}, Lines: map[string][][]geo.Vec{}, Holes: map[string][]geo.Vec{}}
	r := rand.New(rand.NewPCG(f.seed(), 1))
	for i := range n {
		c := p.members[choose(p.members, (float64(i)+0.5)/float64(n))].c
		y := make([]float64, c.network.size)
		for k := range y {
			y[k] = r.NormFloat64()
		}
		c.solution.Factor.Backward(y)
		for k := range y {
			y[k] += c.solution.Y[k]
		}
		c.network.place(y)
		at := append([]geo.Vec(nil), c.network.at...)
		for k := range c.network.points {
			at = append(at, c.network.where(y, holePlace(k)))
		}
		_, move := rigid(pick(at, p.datum), anchors)
		for k, v := range at {
			at[k] = move(v).Add(p.shift)
		}
		for name, k := range d.spots {
			out.Spots[name] = append(out.Spots[name], at[k])
		}
		for part, line := range d.lines {
			out.Lines[part] = append(out.Lines[part], pick(at, line))
		}
		for k, pt := range c.network.points {
			out.Holes[pt.name] = append(out.Holes[pt.name], at[len(d.nodes)+k])
		}
	}
	return out
}

// choose returns the member at quantile u of the weights: systematic sampling,
// so that the shares are right to one draw.
func choose(m []member, u float64) int {
	for i := range m {
		if u -= m[i].weight; u < 0 {
			return i
		}
	}
	return len(m) - 1
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
		values, _ := f.odds(func(e explanation) string { return e.met[reading] })
		return values[0]
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
