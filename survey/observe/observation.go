package observe

import (
	"math"

	"asfound/survey/adjust"
	"asfound/survey/finding"
)

// Observation is what one reading, or one thing that is written on the sheet,
// says of the unknowns.
type Observation interface {
	// ID is that of the reading, or of what is written.
	ID() string
	// Reading is the index into Log.Readings, −1: written on the sheet.
	Reading() int
	// What says what was observed, for people.
	What() string
	// Touches appends the places that it depends on.
	Touches(to []Place) []Place
	// Rows appends a Row for each row that Observe ends.
	Rows(to []Row) []Row
	// Observe adds its rows to s, linearised where at has everything.
	Observe(at *Placed, s *adjust.Rows)
	// Blunders lists what may be wrong with it, but for an error of any size.
	Blunders(c *Case) []*Blunder
	// Gross says what an error of any size would mean, and its odds.
	Gross() (cause finding.Finding, odds float64)
}

// Row is one row of an observation: one number that was observed, or a limit.
type Row struct {
	Of       Observation
	Part     string  // which of its numbers: ", east"; empty where it has one
	Value    float64 // as observed, metres or radians
	Sigma    float64 // standard deviation of it
	OneSided bool    // it only keeps something within bounds, and is no density of anything observed
	Usual    bool    // it is the usual value for such a reading, not what was read
	Angle    bool    // the numbers are radians
	Second   bool    // it is the other coordinate of the point that the row before is of
	Absolute bool    // it says where on the earth, not relative to something
}

// RowsOf returns the rows of observations, in their order.
func RowsOf(all []Observation) []Row {
	rows := make([]Row, 0, len(all)+len(all)/2)
	for _, o := range all {
		from := len(rows)
		rows = o.Rows(rows)
		for i := from; i < len(rows); i++ {
			rows[i].Of = o
		}
	}
	return rows
}

// Densities calls yield for the index of each row that is a density of
// something observed: no limit, and none of a reading that touches nothing now.
func Densities(rows []Row, now *adjust.Rows) func(yield func(int) bool) {
	return func(yield func(int) bool) {
		for i := range rows {
			if index, _ := now.Row(i); len(index) > 0 && !rows[i].OneSided && !yield(i) {
				return
			}
		}
	}
}

// LogSigma returns what turns the misfit of rows into a density: the sum of
// ln σ + ½ ln 2π, σ being the standard deviation of a row. Explanations that
// weight the same reading differently, or leave one out, differ in it.
func LogSigma(rows []Row) (sum float64) {
	half := math.Log(2*math.Pi) / 2
	of := 0.0 // of one number, or of both coordinates of a point: the order decides the last digit
	for i := range rows {
		if !rows[i].OneSided {
			of += math.Log(rows[i].Sigma) + half
		}
		if i+1 == len(rows) || !rows[i+1].Second {
			sum, of = sum+of, 0
		}
	}
	return sum
}

// source is whose an observation is.
type source struct {
	reading int
	id      string
}

// ID implements Observation.
func (s *source) ID() string { return s.id }

// Reading implements Observation.
func (s *source) Reading() int { return s.reading }

// Gross implements Observation for observations without a finding of their own.
func (*source) Gross() (cause finding.Finding, odds float64) { return finding.Finding{}, oddsGross }

// pair is an observation between two places.
type pair struct{ p, q Place }

// Touches implements Observation.
func (e *pair) Touches(to []Place) []Place { return append(to, e.p, e.q) }
