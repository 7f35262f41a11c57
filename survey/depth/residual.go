package depth

import (
	"cmp"
	"math"
	"slices"

	"asfound/survey/finding"
)

// Residual is one observed depth or height after the adjustment, in metres.
type Residual struct {
	Reading, What    string
	Observed, Fitted float64
	Sigma            float64 // standard deviation of the observation
	Redundancy       float64 // 0: nothing checks it; 1: fully checked
	Standardized     float64 // Baarda's w; beyond ±3.29 once in a thousand
}

// Residuals returns what the likeliest belief makes of each reading and of each
// number of the record, in the order of the sketch, then of the ids of the log.
// A reading that it takes for a blunder is compared with all the others. The
// redundancy number is σ² (K⁻¹)ᵢᵢ, and w, the residual over its own standard
// deviation, equals the misfit to all other observations over the standard
// deviation of that. Sources: Baarda, A Testing Procedure for Use in Geodetic
// Networks (1968); Rasmussen & Williams, Gaussian Processes for Machine
// Learning, eqs. 5.10–5.12.
func (m *Model) Residuals() []Residual {
	if len(m.beliefs) == 0 || len(m.obs) == 0 {
		return nil
	}
	b := &m.beliefs[0]
	for i := range m.beliefs {
		if m.beliefs[i].weight > b.weight {
			b = &m.beliefs[i]
		}
	}
	var out []Residual
	inverse := b.inverse()
	for i, o := range m.obs {
		if o.id == "" {
			continue
		}
		r := Residual{Reading: o.id, What: o.what, Observed: o.value, Fitted: o.value - o.sigma*o.sigma*b.weights[i], Sigma: o.sigma,
			Redundancy: min(1, o.sigma*o.sigma*inverse[i]), Standardized: b.weights[i] / math.Sqrt(inverse[i])}
		if _, held := b.blunders[i]; held { // as if it were left out
			variance := max(0, 1/inverse[i]-b.obs[i].sigma*b.obs[i].sigma)
			if r.Fitted = b.obs[i].value - b.weights[i]/inverse[i]; b.blunders[i].out {
				r.Fitted, variance = b.predict(&o.quantity)
			}
			variance += o.sigma * o.sigma
			r.Redundancy, r.Standardized = o.sigma*o.sigma/variance, (o.value-r.Fitted)/math.Sqrt(variance)
		}
		out = append(out, r)
	}
	return out
}

// Suspect is a reading, or a number of the record, that does not fit the rest.
type Suspect struct {
	Residual
	Chance float64         // that it holds a blunder
	Cause  finding.Finding // the likeliest blunder; finding.DepthOff: not known
	Meant  float64         // what that would have been right, metres; 0: not known
}

const (
	suspectFrom = 0.3  // a blunder with less chance is not worth a second measurement
	suspectW    = 3.29 // once in a thousand where all is well (Baarda 1968)
)

// Suspects returns what is doubted, the likeliest blunder first.
func (m *Model) Suspects() (all []Suspect) {
	for _, r := range m.Residuals() {
		s := Suspect{Residual: r, Cause: finding.DepthOff.New()}
		most := 0.0
		for k := range m.beliefs {
			b := &m.beliefs[k]
			for i, blunder := range b.blunders {
				if m.obs[i].id != r.Reading {
					continue
				}
				if s.Chance += b.weight; b.weight > most {
					most, s.Cause, s.Meant = b.weight, blunder.cause, blunder.meant
				}
			}
		}
		if s.Chance >= suspectFrom || math.Abs(r.Standardized) > suspectW {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b Suspect) int {
		return cmp.Or(cmp.Compare(b.Chance, a.Chance), cmp.Compare(math.Abs(b.Standardized), math.Abs(a.Standardized)))
	})
	return all
}
