package depth

import (
	"math"

	"gonum.org/v1/gonum/floats"
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
// number of the record, in the order of the sketch, then of the ids of the log. The
// redundancy number is σ² (K⁻¹)ᵢᵢ, and w, the residual over its own standard
// deviation, equals the misfit to all other observations over the standard
// deviation of that. Sources: Baarda, A Testing Procedure for Use in Geodetic
// Networks (1968); Rasmussen & Williams, Gaussian Processes for Machine
// Learning, eqs. 5.10–5.12.
func (m *Model) Residuals() []Residual {
	if len(m.beliefs) == 0 {
		return nil
	}
	b := &m.beliefs[0]
	for i := range m.beliefs {
		if m.beliefs[i].weight > b.weight {
			b = &m.beliefs[i]
		}
	}
	var out []Residual
	row := make([]float64, len(m.obs))
	for i, o := range m.obs {
		if o.id == "" {
			continue
		}
		clear(row)
		row[i] = 1
		b.whiten(row)
		inverse := floats.Dot(row, row) // (K⁻¹)ᵢᵢ
		out = append(out, Residual{Reading: o.id, What: o.what, Observed: o.value,
			Fitted: o.value - o.sigma*o.sigma*b.weights[i], Sigma: o.sigma,
			Redundancy: min(1, o.sigma*o.sigma*inverse), Standardized: b.weights[i] / math.Sqrt(inverse)})
	}
	return out
}
