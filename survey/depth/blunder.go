package depth

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"

	"asfound/geo"
	"asfound/survey/finding"
)

// blunder is one mistake that a reading may hold.
type blunder struct {
	odds  float64         // before any evidence
	cause finding.Finding // how it is reported
	meant float64         // what would have been right, metres
	scale float64         // metres meant per metre written
	out   bool            // an error of any size: the reading is left out
	dense float64         // density of an error of the size found, per metre; of out only
}

// The odds of blunders before any evidence: once in so many depths. Judgement,
// checked by simulation; no published source.
const (
	oddsUnits  = 0.003 // each other unit
	oddsTenths = 0.006 // inches written as tenths, or tenths as inches
	oddsDigits = 0.004 // neighbouring digits swapped, all pairs of a number together
	oddsGross  = 0.004 // an error of any size
	grossRange = 1.0   // metres: half of such errors are smaller

	mostBlunders = 2    // in one log: more than that is something else
	worthTrying  = 0.01 // odds against the likeliest belief below which a blunder is not worked out
	mostBeliefs  = 12   // with a blunder more, kept in each round
	vast         = 1e6  // metres: the standard deviation of a reading that is left out
)

// blundersOf lists what may be wrong with a depth as it was written.
func blundersOf(l *geo.Length, usual geo.Unit) (all []blunder) {
	unit := cmp.Or(l.Unit, usual)
	put := func(w geo.Length, odds, scale float64, cause finding.Finding) {
		if w.Metres > 0 && math.Abs(w.Metres-l.Metres) > 0.02 {
			all = append(all, blunder{odds: odds, cause: cause, meant: w.Metres, scale: scale})
		}
	}
	per, _ := unit.Metres()
	for _, w := range geo.OtherUnits(l.Written, unit) {
		other, _ := w.Unit.Metres()
		put(w, oddsUnits, other/per, finding.UnitMixed.New(finding.Word("amount", w.Written)))
	}
	for _, w := range geo.TenthsForInches(l.Written, unit) {
		put(w, oddsTenths, 1, finding.InchesTenths.New(finding.Word("amount", w.Written)))
	}
	changed := geo.DigitsSwapped(l.Written, unit)
	for _, w := range changed {
		put(w, oddsDigits/float64(len(changed)), 1, finding.DigitsChanged.New(finding.Word("amount", w.Written)))
	}
	return all
}

// gross returns the density of an error of any size, per metre: even within the
// range, beyond it as one over the square.
func gross(off float64) float64 {
	r := min(1, grossRange/math.Abs(off))
	return r * r / (4 * grossRange)
}

// blunders lists what may be wrong with an observation.
func (m *Model) blunders(i int) []blunder {
	whatever := blunder{odds: oddsGross, cause: finding.DepthOff.New(), out: true}
	if l := m.obs[i].written; l != nil {
		return append(blundersOf(l, m.job.Settings.Unit), whatever)
	}
	return []blunder{whatever}
}

// candidate is a belief with one more blunder, not worked out yet.
type candidate struct {
	from    *belief
	at      int // the observation
	blunder blunder
	total   float64 // logarithm of its weight, as the other readings predict this one
}

// branch adds the beliefs that a reading holds a blunder, and then that a second
// one does too, where they are likely.
func (m *Model) branch(ctx context.Context) error {
	from := m.beliefs
	for range mostBlunders {
		best := math.Inf(-1)
		for i := range m.beliefs {
			best = max(best, m.beliefs[i].total())
		}
		var all []candidate
		for i := range from {
			if err := ctx.Err(); err != nil {
				return err
			}
			all = append(all, m.candidates(&from[i])...)
		}
		for i := range all {
			best = max(best, all[i].total)
		}
		all = slices.DeleteFunc(all, func(c candidate) bool { return !(c.total > best+math.Log(worthTrying)) })
		slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(b.total, a.total) })
		var next []belief
		for _, c := range all[:min(len(all), mostBeliefs)] {
			b, err := m.blundered(ctx, c)
			if err != nil {
				return err
			}
			if !listed(next, &b) {
				next = append(next, b)
			}
		}
		if m.beliefs = append(m.beliefs, next...); len(next) == 0 {
			break
		}
		from = next
	}
	return nil
}

// candidates lists what may be wrong with each reading of a belief, and how well
// all the others predict what would then be right (leave-one-out formulas:
// Rasmussen & Williams, eqs. 5.10–5.12).
func (m *Model) candidates(b *belief) (all []candidate) {
	if len(b.obs) == m.rows {
		return nil
	}
	inverse := b.inverse()
	for i := m.rows; i < len(b.obs); i++ {
		if _, held := b.blunders[i]; held {
			continue
		}
		variance := 1 / inverse[i]
		expected := b.obs[i].value - b.weights[i]*variance
		off := func(v float64) float64 { return 0.5 * (v - expected) * (v - expected) / variance }
		if off(b.obs[i].value) < 0.5 { // within a standard deviation of what the rest says
			continue
		}
		for _, s := range m.blunders(i) {
			c := candidate{b, i, s, b.total() + math.Log(s.odds) + off(b.obs[i].value)}
			if s.out {
				c.blunder.dense = gross(b.obs[i].value - expected)
				c.total += 0.5*math.Log(2*math.Pi*variance) + math.Log(c.blunder.dense)
			} else {
				c.total += math.Log(s.scale) - off(s.meant)
			}
			all = append(all, c)
		}
	}
	return all
}

// blundered works a candidate out.
func (m *Model) blundered(ctx context.Context, c candidate) (belief, error) {
	b := belief{weight: c.from.weight, structure: c.from.structure, ground: c.from.ground, mean: c.from.mean, prior: c.from.prior,
		blunders: maps.Clone(c.from.blunders)}
	if b.blunders == nil {
		b.blunders = map[int]blunder{}
	}
	b.blunders[c.at] = c.blunder
	obs := slices.Clone(m.obs)
	for _, i := range slices.Sorted(maps.Keys(b.blunders)) {
		s := b.blunders[i]
		b.odds += math.Log(s.odds)
		if s.out { // it keeps its row, but says no more than was expected of it
			obs[i].value, obs[i].sigma = b.expect(&obs[i].quantity), vast
			b.odds += math.Log(vast) + 0.5*math.Log(2*math.Pi) + math.Log(s.dense)
		} else {
			obs[i].value = s.meant
			b.odds += math.Log(s.scale)
		}
	}
	return b, m.work(ctx, &b, obs)
}

// listed reports whether the same blunders were worked out under the same
// supposition.
func listed(all []belief, b *belief) bool {
	return slices.ContainsFunc(all, func(a belief) bool {
		return a.structure == b.structure && a.ground == b.ground && maps.EqualFunc(a.blunders, b.blunders, func(s, t blunder) bool {
			return s.out == t.out && s.meant == t.meant && s.cause.Code == t.cause.Code
		})
	})
}

// total returns the logarithm of the weight of a belief, but for a constant.
func (b *belief) total() float64 { return math.Log(b.weight) + b.evidence + b.odds }

// inverse returns the diagonal of K⁻¹: the squares of the rows of U⁻¹.
func (b *belief) inverse() []float64 {
	n := len(b.obs)
	u := blas64.Triangular{N: n, Stride: n, Uplo: b.root.Uplo, Diag: b.root.Diag, Data: make([]float64, n*n)}
	for i := range n {
		copy(u.Data[i*n+i:(i+1)*n], b.root.Data[i*b.root.Stride+i:i*b.root.Stride+n])
	}
	lapack64.Trtri(u)
	diagonal := make([]float64, n)
	for i := range n {
		row := u.Data[i*n+i : (i+1)*n]
		diagonal[i] = floats.Dot(row, row)
	}
	return diagonal
}
