package drawing

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"asfound/asbuilt"
	"asfound/survey/finding"
)

// Supposition is how badly a sheet was drawn: all of it, and the field as one
// block beyond that, as factors of the standard deviations of its trust, with
// its odds.
type Supposition struct{ All, Block, Odds float64 }

// Suppositions are a mixture over three scales each way, which stands in for
// the heavy tails of real drawings. Judgement, checked by simulation; no
// published source.
var Suppositions = func() (all []Supposition) {
	for _, a := range [...][2]float64{{1, 0.45}, {0.6, 0.25}, {1.65, 0.30}} {
		for _, b := range [...][2]float64{{1.05, 0.35}, {0.65, 0.50}, {2, 0.15}} {
			all = append(all, Supposition{a[0], b[0], a[1] * b[1]})
		}
	}
	return all
}()

// Usual is the index of the supposition to start from.
const Usual = 0

// Sheet is a drawing with its priors. It keeps what it has worked out, so that
// all fits share it: one goroutine at a time.
type Sheet struct {
	Drawing *Drawing
	tables  map[int]*Table
}

// NewSheet returns the sheet of a sketch that has a fault.
func NewSheet(s *asbuilt.Sketch, f Hypothesis) *Sheet {
	return &Sheet{Drawing: New(s, f), tables: map[int]*Table{}}
}

// Table holds the priors of the discrepancies at one scale, under every
// supposition of how badly the sheet was drawn.
type Table struct {
	unit        string // of the sheet, for the error
	widen       float64
	discrepancy *Discrepancy
	known       *mat.SymDense // covariance of what a finished job knew, in place of discrepancy; nil: nothing
	prior       []prior       // by supposition, once worked out
}

// At returns the priors at a scale in metres per drawing unit: what is
// proportional to length depends on it. Steps of a tenth are near enough, and
// make the answer independent of what was fitted before.
func (t *Sheet) At(scale float64) (*Table, error) {
	step := 0
	if l := 10 * math.Log(scale/t.Drawing.Scale); math.Abs(l) < 100 { // else no scale at all: as drawn
		step = int(math.Round(l))
	}
	if tb := t.tables[step]; tb != nil {
		return tb, nil
	}
	d := NewDiscrepancy(t.Drawing, t.Drawing.Scale*math.Exp(float64(step)/10))
	tb := &Table{unit: string(t.Drawing.Sketch.Unit), discrepancy: d, known: t.Drawing.known(), widen: max(t.Drawing.Fault.Widen, 1), prior: make([]prior, len(Suppositions))}
	if len(t.Drawing.Nodes) > 0 {
		if _, _, err := tb.Of(Usual); err != nil {
			return nil, err
		}
	}
	t.tables[step] = tb
	return tb, nil
}

// prior is the information of the discrepancies under a supposition, and the
// logarithm of the determinant of their covariance.
type prior struct {
	info   []float64
	logDet float64
}

// Of returns the prior under the supposition of an index: the information of
// the discrepancies, in 1/m², and the logarithm of the determinant of their
// covariance.
func (t *Table) Of(k int) (info []float64, logDet float64, err error) {
	if t.prior[k].info == nil {
		s := Suppositions[k]
		info, logDet, ok := []float64(nil), 0.0, false
		if t.known == nil {
			info, logDet, ok = t.discrepancy.Information(t.widen*s.All, s.Block)
		} else {
			info, logDet, ok = inverse(t.known)
		}
		if !ok {
			return nil, 0, finding.Refuse(finding.BadlyScaled.New(finding.Word("unit", t.unit)), nil)
		}
		t.prior[k] = prior{info, logDet}
	}
	return t.prior[k].info, t.prior[k].logDet, nil
}
