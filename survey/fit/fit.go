package fit

import (
	"math"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

// Residual is one observed number after the fit.
type Residual struct {
	Reading      string  // id; "sketch:L2.length" or "sketch:box.tie.A" for what is written on the sheet
	What         string  // "tape A → H1", for people
	Observed     float64 // metres, or degrees for a bearing
	Fitted       float64
	Sigma        float64
	Standardized float64 // Baarda's w: residual over its own standard deviation; 0 where nothing checks it
	Redundancy   float64 // 0: nothing checks this reading; 1: fully checked
	Detectable   float64 // smallest blunder that would be noticed with 80 %, in the unit of Observed; +Inf where nothing checks it
	Degrees      bool    // the numbers are degrees
}

// Suspect is a reading that does not fit, and the blunder that explains it best.
type Suspect struct {
	Reading   string
	Statistic float64         // Baarda's w of the reading as it was written
	Blunder   finding.Finding // that explains it best: foot-long, other-corner, …
	Odds      float64         // probability that the reading is wrong
	Cause     float64         // probability, if it is, of that blunder
	Instead   string          // what the row would have said then; empty: not known
	Better    float64         // how many times likelier everything is if it is wrong than if it is right

	// What is sought lies elsewhere without the reading: so many metres, in
	// that direction of the frame.
	Sought string // part id
	Moves  float64
	Toward geo.Angle
}

// SheetFault is what may be wrong with the whole sheet.
type SheetFault struct {
	Fault   drawing.Fault
	Odds    float64         // probability
	Finding finding.Finding // what it is, and what would settle it
}

// Fit is the outcome of the adjustment.
type Fit struct {
	Frame survey.Frame
	Unit  geo.Unit // in which people read the job

	Readings       int     // observed numbers of the log and the sheet
	Unknowns       int     // unknowns estimated
	Redundancy     float64 // sum of the redundancy numbers
	VarianceFactor float64 // 2Φ over the number of observations; 1 is expected
	GlobalP        float64 // probability of a worse misfit than this if the model is right
	Iterations     int

	Scale, ScaleSigma       float64   // ground metres per drawing unit
	Rotation, RotationSigma geo.Angle // true bearing of the drawing's +Y axis
	RotationKnown           bool      // false where north is not known: Rotation is then in the local frame
	Mirrored                bool

	Residuals []Residual
	Suspects  []Suspect
	Sheet     []SheetFault      // what may be wrong with the whole sheet, the likeliest first; a sound sheet is not listed
	Warnings  []finding.Finding // what must be known before the answer is used: sides not decided, mirror not decided
	Doubtful  *finding.Finding  // not nil: the answer must not be trusted as it stands, and why

	log             *observe.Log
	components      []Component // the heaviest first
	withoutLineHits []Component // the same without the holes that the belief weighs as evidence, none where there are none
}

// Log returns the readings that were fitted.
func (f *Fit) Log() *observe.Log { return f.log }

// Components returns the explanations of the fit, the heaviest first.
func (f *Fit) Components() []Component { return f.components }

// WithoutLineHits returns the explanations of a fit without the holes that met a
// line between its ends, which the belief weighs as evidence; nil where there
// are none.
func (f *Fit) WithoutLineHits() []Component { return f.withoutLineHits }

// LogEvidence returns the natural logarithm of how likely the readings are by
// everything that the fit holds possible, all of it weighed by its odds (MacKay,
// Information Theory, ch. 28). It compares sheets and priors on the same readings;
// by itself it means nothing.
func (f *Fit) LogEvidence() float64 {
	return f.components[0].logWeight - math.Log(f.components[0].Weight)
}

// HasReadings reports whether any reading of the log takes part in the fit:
// what is written on the sheet is record, not reading.
func (f *Fit) HasReadings() bool {
	for _, r := range f.Residuals {
		if !observe.Written(r.Reading) {
			return true
		}
	}
	return false
}
