package posterior

import (
	"fmt"
	"hash/fnv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/fit"
)

// Draws is a sample of what is believed, of equal weight: draw i is one way
// the whole site may lie, in the field frame relative to the landmarks.
type Draws struct {
	N     int
	Spots map[asbuilt.SpotName][]geo.Vec // N places of each spot: box and tank Center, line Start and End, landmark Center
	Lines map[string][][]geo.Vec         // N polylines of each lateral and header, by part id
	Holes map[string][]geo.Vec           // N places of each hole of the log, by point name

	Member []int       // of each draw: the explanation it belongs to; two draws of the same number read the log alike
	Shifts [][]float64 // of each shift of the evidence: N standard normal numbers before it, whatever it made of them after

	at    [][]geo.Vec // of each place: N places relative to the landmarks
	frame [][]geo.Vec // the same as positions in the frame, the error of the fixes included
}

// draws lays the population on the landmarks and sorts it by name.
func (s *population) draws() *Draws {
	m, n := s.m, len(s.each)
	d, points := m.drawing(), m.members[0].c.Network.Points
	anchors := fit.Pick(m.members[0].at, m.datum)
	places := len(d.Nodes) + len(points)
	out := &Draws{N: n, Spots: map[asbuilt.SpotName][]geo.Vec{}, Lines: map[string][][]geo.Vec{}, Holes: map[string][]geo.Vec{},
		Member: make([]int, n), Shifts: make([][]float64, s.shifts),
		at: make([][]geo.Vec, places), frame: make([][]geo.Vec, places)}
	for k := range places {
		out.at[k], out.frame[k] = make([]geo.Vec, n), make([]geo.Vec, n)
	}
	for i, one := range s.each {
		move := geo.Congruence(fit.Pick(one.at, m.datum), anchors, flat).Move
		for k, v := range one.at {
			out.frame[k][i], out.at[k][i] = v.Add(m.shift), move(v).Add(m.shift)
		}
		out.Member[i] = m.members[one.member].explanation
		for k, v := range one.shift {
			out.Shifts[k] = append(out.Shifts[k], v)
		}
	}
	for name, k := range d.Spots {
		out.Spots[name] = out.at[k]
	}
	for part, line := range d.Lines {
		all := make([][]geo.Vec, n)
		for i := range all {
			for _, k := range line {
				all[i] = append(all[i], out.at[k][i])
			}
		}
		out.Lines[part] = all
	}
	for k, pt := range points {
		out.Holes[pt.Name] = out.at[len(d.Nodes)+k]
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
func seed(f *fit.Fit) uint64 {
	h := fnv.New64a()
	log := f.Log()
	for i := range log.Readings {
		r := log.Readings[i]
		fmt.Fprintln(h, r.ID, r.Kind, r.Point, r.From, r.To, r.Target, r.Position, metresOf(r.Value), metresOf(r.Offset), metresOf(r.Depth))
	}
	for i := range log.Job.Sketch.Parts {
		fmt.Fprintln(h, log.Job.Sketch.Parts[i].ID)
	}
	return h.Sum64()
}

func metresOf(l *geo.Length) float64 {
	if l == nil {
		return 0
	}
	return l.Metres
}
