package survey

import (
	"math"

	"asfound/asbuilt"
	"asfound/survey/adjust"
	"asfound/survey/finding"
)

// ErrNothing says that a sketch has nothing to fit.
var ErrNothing error = finding.Refuse(finding.NothingToFit.New(), nil)

// Prepared is a sketch made ready to be fitted again and again, as holes come in.
type Prepared struct {
	sketch *asbuilt.Sketch
	faults []fault
	sheets map[fault]*sheet
	solver adjust.Solver
}

// Prepare makes a sketch ready. It is an error for the sketch to hold nothing
// that can be located.
func Prepare(s *asbuilt.Sketch) (*Prepared, error) {
	p := &Prepared{sketch: s, faults: faults(s), sheets: map[fault]*sheet{}}
	t, err := p.sheet(p.faults[0])
	if err != nil {
		return nil, err
	}
	if len(t.drawing.nodes) == 0 {
		return nil, ErrNothing
	}
	return p, nil
}

// sheet returns the sheet with a fault.
func (p *Prepared) sheet(f fault) (*sheet, error) {
	t := p.sheets[f]
	if t == nil {
		t = &sheet{drawing: newDrawing(p.sketch, f), tables: map[int]*table{}}
		p.sheets[f] = t
	}
	_, err := t.at(t.drawing.scale)
	return t, err
}

// sheet is a drawing with its priors worked out once for all fits.
type sheet struct {
	drawing *drawing
	tables  map[int]*table
}

// table holds the priors of the discrepancies at one scale, under every
// supposition of how badly the sheet was drawn.
type table struct {
	unit        string // of the sheet, for the error
	loose       float64
	discrepancy *discrepancy
	prior       []prior // by supposition, once worked out
}

// at returns the priors at a scale in metres per drawing unit: what is
// proportional to length depends on it. Steps of a tenth are near enough, and
// make the answer independent of what was fitted before.
func (t *sheet) at(scale float64) (*table, error) {
	step := 0
	if l := 10 * math.Log(scale/t.drawing.scale); math.Abs(l) < 100 { // else no scale at all: as drawn
		step = int(math.Round(l))
	}
	if tb := t.tables[step]; tb != nil {
		return tb, nil
	}
	d := newDiscrepancy(t.drawing, t.drawing.scale*math.Exp(float64(step)/10))
	tb := &table{unit: string(t.drawing.sketch.Unit), discrepancy: d, loose: max(t.drawing.fault.loose, 1), prior: make([]prior, len(suppositions))}
	if len(t.drawing.nodes) > 0 {
		if _, _, err := tb.of(usual); err != nil {
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

// of returns the prior under the supposition of an index.
func (t *table) of(k int) (info []float64, logDet float64, err error) {
	if t.prior[k].info == nil {
		s := suppositions[k]
		info, logDet, ok := t.discrepancy.information(t.loose*s.all, s.block)
		if !ok {
			return nil, 0, finding.Refuse(finding.BadlyScaled.New(finding.Word("unit", string(t.unit))), nil)
		}
		t.prior[k] = prior{info, logDet}
	}
	return t.prior[k].info, t.prior[k].logDet, nil
}
