package drawing

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"asfound/asbuilt"
	"asfound/survey/finding"
)

// Supposition is how badly a sheet was drawn, as factors of the standard
// deviations of its trust, with its odds: Sheet of what lies about the house,
// its square root of what lies within the field, Block of the field as one
// against the house. House corners that fit well say that the hand was good, and
// nothing of where the field was put.
type Supposition struct{ Sheet, Block, Odds float64 }

// The heavy tails of real drawings. Judgement, checked by simulation; no
// published source.
const (
	sheetSpread  = 0.4  // standard deviation of the logarithm of Sheet
	blockDegrees = 4.0  // degrees of freedom of Student's t of the field's shift, turn and size
	blockUsual   = 0.85 // Block in the usual case: its square is inverse-gamma, of blockDegrees/2 and blockDegrees·blockUsual²/2
)

// Suppositions are a mixture that stands in for a lognormal Sheet and an
// inverse-gamma square of Block, which makes the field's shift, turn and size
// multivariate Student's t. Sheet by the three points of Gauss and Hermite
// (Abramowitz & Stegun, table 25.10); Block by four values, each with the
// probability of what lies nearer to it than to another, by ratio.
var Suppositions = func() (all []Supposition) {
	far := math.Exp(math.Sqrt(3) * sheetSpread)
	sheets := [...][2]float64{{1, 2. / 3}, {1 / far, 1. / 6}, {far, 1. / 6}}
	blocks := [...]float64{1, 0.55, 2, 4}
	chi := distuv.ChiSquared{K: blockDegrees}
	below := func(b float64) float64 { return chi.Survival(blockDegrees / (b * b)) }
	odds := [...]float64{ // in the order of blocks
		below(math.Sqrt(1*2)) - below(math.Sqrt(0.55*1)), below(math.Sqrt(0.55 * 1)),
		below(math.Sqrt(2*4)) - below(math.Sqrt(1*2)), 1 - below(math.Sqrt(2*4)),
	}
	for _, a := range sheets {
		for k, b := range blocks {
			all = append(all, Supposition{Sheet: a[0], Block: blockUsual * b, Odds: a[1] * odds[k]})
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
		covariance := t.known
		if covariance == nil {
			covariance = t.discrepancy.Covariance(Suppositions[k], t.widen)
		}
		info, logDet, ok := Inverse(covariance)
		if !ok {
			return nil, 0, finding.Refuse(finding.BadlyScaled.New(finding.Word("unit", t.unit)), nil)
		}
		t.prior[k] = prior{info, logDet}
	}
	return t.prior[k].info, t.prior[k].logDet, nil
}
