package drawing

import (
	"slices"

	"asfound/asbuilt"
)

const (
	usualLateral = 18.3 // metres, 60 ft: common practice, no published source
	usualLot     = 40.0 // metres across house and field: common practice, no published source
	KnownScale   = 1e-5 // standard deviation of the logarithm of scale and stretch of a corrected as-built: its covariance has them
	usualSpacing = 2.5  // metres, 8 ft on centre: common practice, no published source
)

// priorScale returns the ground metres of one drawing unit before any reading,
// and the standard deviation of its logarithm.
func priorScale(s *asbuilt.Sketch) (scale, sd float64) {
	sd = DraftingOf(s).Scale
	if s.Known != nil { // its covariance has it
		sd = KnownScale
	}
	if m, ok := s.MetresPerUnit(); ok && m > 0 {
		return m, sd
	}
	// The sheet has no scale: what is written on it gives one, else the usual
	// length of a lateral does.
	var ratios, drawn []float64
	for i := range s.Parts {
		p := &s.Parts[i]
		if len(p.Shapes) == 0 || p.Shapes[0].Form != asbuilt.Line {
			continue
		}
		v := p.Shapes[0].Vertices
		length := 0.0
		for i := 1; i < len(v); i++ {
			length += v[i-1].Dist(v[i])
		}
		if length <= 0 {
			continue
		}
		if p.Length != nil && p.Length.Metres > 0 {
			ratios = append(ratios, p.Length.Metres/length)
		}
		if p.Kind == asbuilt.Lateral {
			drawn = append(drawn, length)
		}
	}
	ratios = append(ratios, tieRatios(s)...)
	switch {
	case len(ratios) > 0:
		return Median(ratios), max(sd, 0.35)
	case len(drawn) > 0:
		return usualLateral / Median(drawn), 0.5
	}
	var lo, hi asbuilt.Position
	first := true
	for i := range s.Parts {
		for _, sh := range s.Parts[i].Shapes {
			for _, v := range sh.Vertices {
				if first {
					lo, hi, first = v, v, false
				}
				lo, hi = asbuilt.Position{X: min(lo.X, v.X), Y: min(lo.Y, v.Y)}, asbuilt.Position{X: max(hi.X, v.X), Y: max(hi.Y, v.Y)}
			}
		}
	}
	if w := hi.Dist(lo); w > 0 {
		return usualLot / w, 1
	}
	return 1, 1
}

// tieRatios returns written over drawn distance of every tie of the sheet.
func tieRatios(s *asbuilt.Sketch) (ratios []float64) {
	for i := range s.Parts {
		p := &s.Parts[i]
		for _, t := range p.Ties {
			l := s.Part(t.From)
			if l == nil {
				continue
			}
			a, ok := l.Point(asbuilt.Center)
			b, ok2 := p.Point(t.At)
			if w := a.Dist(b); ok && ok2 && w > 0 && t.Distance.Metres > 0 {
				ratios = append(ratios, t.Distance.Metres/w)
			}
		}
	}
	return ratios
}

// Median returns the middle of some numbers, which must not be none.
func Median(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}
