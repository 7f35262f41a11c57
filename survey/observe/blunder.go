package observe

import (
	"fmt"
	"math"

	"asfound/geo"
	"asfound/survey/finding"
)

// Blunder is one mistake that a reading may hold.
type Blunder struct {
	Reading string // id of the reading, or of what is written on the sheet
	Odds    float64
	Cause   finding.Finding               // how it is reported; without a code: the cause of the error is not known
	Instead string                        // what would have been right, as a row would have it; empty: not known
	Out     bool                          // an error of any size: the reading is left out
	Volume  float64                       // logarithm of what such an error is spread over
	Met     string                        // a hole met this part instead
	Change  func(Observation) Observation // makes what was observed right, nil: nothing
}

// The odds of blunders before any evidence: once in so many readings.
// Judgement, checked by simulation; no published source.
const (
	oddsOne       = 0.008 // a foot or a metre cut off or added, each way
	oddsTen       = 0.003
	oddsTapes     = 0.001 // a whole tape length
	oddsTenths    = 0.008 // inches written as tenths, or tenths as inches
	oddsDigits    = 0.004 // neighbouring digits swapped, all pairs of a number together
	oddsUnit      = 0.001 // metres for feet
	oddsBackwards = 0.006 // a line or a bearing from its other end
	oddsGross     = 0.004 // an error of any size
)

// Gross returns the blunder that a reading holds an error of any size.
func Gross(id string) *Blunder { return &Blunder{Reading: id, Odds: oddsGross, Out: true} }

// grossLength is the range in metres in which an error of any size is taken to
// be uniform: as wide as what is known of a hole before any reading, so that
// the only reading that places a hole is not suspected. A bearing's is the full
// circle.
var grossLength = PointSigma * math.Sqrt(2*math.Pi)

// logRange returns the logarithm of the range that an error of any size of rows
// is spread over.
func logRange(rows []Row) (sum float64) {
	for i := range rows {
		switch {
		case rows[i].OneSided:
		case rows[i].Angle:
			sum += math.Log(2 * math.Pi)
		default:
			sum += math.Log(grossLength)
		}
	}
	return sum
}

// Blunders lists what may be wrong with one reading, all being its
// observations; an error of any size comes last.
func Blunders(c *Case, all []Observation) []*Blunder {
	first := all[0]
	list := first.Blunders(c)
	cause, odds := first.Gross()
	list = append(list, &Blunder{Odds: odds, Cause: cause, Out: true, Volume: logRange(RowsOf(all))})
	for _, b := range list {
		b.Reading = first.ID()
	}
	return list
}

// changing returns a Change of one type of observation; it leaves others alone.
func changing[T any, P interface {
	*T
	Observation
}](change func(o P)) func(Observation) Observation {
	return func(o Observation) Observation {
		p, ok := o.(P)
		if !ok {
			return o
		}
		n := *p
		change(&n)
		return P(&n)
	}
}

const foot = 0.3048

// shift is a blunder that adds a fixed amount to what should have been read.
type shift struct {
	metres, odds float64
	cause        finding.Finding
}

var (
	feetShifts = []shift{
		{+foot, oddsOne, finding.FootLong.New()},
		{-foot, oddsOne, finding.FootShort.New()},
		{+10 * foot, oddsTen, finding.TenLong.New(finding.Word("amount", "10 ft"))},
		{-10 * foot, oddsTen, finding.TenShort.New(finding.Word("amount", "10 ft"))},
		{-50 * foot, oddsTapes, finding.TapeShort.New(finding.Word("amount", "50 ft"))},
		{-100 * foot, oddsTapes, finding.TapeShort.New(finding.Word("amount", "100 ft"))},
	}
	metreShifts = []shift{
		{+1, oddsOne, finding.MetreLong.New()},
		{-1, oddsOne, finding.MetreShort.New()},
		{+10, oddsTen, finding.TenLong.New(finding.Word("amount", "10 m"))},
		{-10, oddsTen, finding.TenShort.New(finding.Word("amount", "10 m"))},
		{-30, oddsTapes, finding.TapeShort.New(finding.Word("amount", "30 m"))},
	}
)

// lengthBlunders lists what may be wrong with the figures of a length, change
// making what applies a correction to it in an observation.
func lengthBlunders(l geo.Length, usual geo.Unit, change func(correct func(metres float64) float64) func(Observation) Observation) (all []*Blunder) {
	to := func(metres, odds float64, cause finding.Finding, instead string) {
		if metres <= 0 || math.Abs(metres-l.Metres) < 0.02 {
			return
		}
		moved := metres - math.Abs(l.Metres)
		all = append(all, &Blunder{Odds: odds, Cause: cause, Instead: instead,
			Change: change(func(v float64) float64 { return math.Copysign(math.Abs(v)+moved, v) })})
	}
	unit := l.Unit
	if unit == "" {
		unit = usual
	}
	size := math.Abs(l.Metres)
	shifts := feetShifts
	if unit == geo.Metre || unit == geo.Centimetre || unit == geo.Millimetre {
		shifts = metreShifts
	}
	for _, s := range shifts {
		to(size-s.metres, s.odds, s.cause, geo.FormatLength(size-s.metres, unit))
	}
	for _, w := range geo.TenthsForInches(l.Written, unit) {
		to(math.Abs(w.Metres), oddsTenths, finding.InchesTenths.New(finding.Word("amount", w.Written)), w.Written)
	}
	changed := geo.DigitsSwapped(l.Written, unit)
	for _, w := range changed {
		to(math.Abs(w.Metres), oddsDigits/float64(len(changed)), finding.DigitsChanged.New(finding.Word("amount", w.Written)), w.Written)
	}
	if unit == geo.Foot || unit == geo.SurveyFoot {
		to(size/foot, oddsUnit, finding.InMetres.New(), fmt.Sprintf("%.2f m", size/foot))
	}
	if unit == geo.Metre {
		to(size*foot, oddsUnit, finding.InFeet.New(), fmt.Sprintf("%.2f ft", size))
	}
	return all
}
