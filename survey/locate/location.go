package locate

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/belief"
	"asfound/survey/depth"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/posterior"
)

// State says what a location rests on.
type State string

// The states of a part.
const (
	Seen     State = "seen"     // a hole met it there, or it can be seen on the ground
	Inferred State = "inferred" // supported by readings, through the fit
	Recorded State = "recorded" // the sketch alone says so
)

// Depth is an expected depth below today's ground surface, in metres, and its
// standard deviation.
type Depth = depth.Depth

// Lobe is a connected piece of where a spot may lie, with its share.
type Lobe = belief.Lobe

// Spot is the location of one spot of a part.
type Spot struct {
	Part  string
	Kind  asbuilt.Kind
	Spot  asbuilt.Spot
	State State

	At geo.Vec // field frame, metres

	// Ellipse and Radius95 hold the true place with 95 % as a position in the
	// frame: on the earth where the frame is geodetic, relative to the
	// landmarks where it is local.
	Ellipse  geo.Ellipse
	Radius95 float64

	// FromLandmarks and Landmarks95 hold it with 95 % relative to the
	// landmarks, which is what a crew that sets out by tape needs. The same as
	// above where the frame is local.
	FromLandmarks geo.Ellipse
	Landmarks95   float64

	// Where one ellipse describes the belief badly: the regions of highest
	// density relative to the landmarks, and the pieces they fall into where
	// there are two or more. Else empty.
	Half, Most geo.Region // hold 50 % and 95 %
	Lobes      []Lobe     // of Most, the heaviest first

	Depth *Depth  // nil for landmarks
	Old   geo.Vec // where the old sketch, laid on the landmarks, has it
}

// Corridor is the strip that holds a whole lateral or header with 95 %.
type Corridor struct {
	Part  string
	Kind  asbuilt.Kind
	State State
	Line  []geo.Vec // the expected centre line, in flow order
	Half  []float64 // half-width in metres at each vertex, the trench's own half-width included
	Width float64   // of the trench or pipe, metres
	Depth []Depth   // at each vertex
}

// Outline is a part's geometry as now believed and as the old sketch, laid on
// the landmarks, has it.
type Outline struct {
	Part      string
	Kind      asbuilt.Kind
	Name      string
	State     State
	Now, Old  []geo.Outline // field frame; a piece for each shape of the part
	Clearance float64       // metres, of a utility or no-dig
	Sigma     float64       // standard deviation of its place relative to the landmarks, metres, the larger axis
}

// Hole is a hole of the log.
type Hole struct {
	Name    string
	At      geo.Vec
	Ellipse geo.Ellipse // 95 %, relative to the landmarks
	Radius  float64     // of the hole, metres
	Met     string      // part id or kind; empty: nothing was met
	Spot    asbuilt.Spot
	Depth   *float64 // metres, nil: not given
	Feature survey.Feature
	Stopped survey.Stop // why an empty hole ended before it was deep enough
}

// Location is where everything of a job lies.
type Location struct {
	Job   *survey.Job
	Fit   *fit.Fit
	Frame survey.Frame

	Spots     []Spot
	Corridors []Corridor
	Outlines  []Outline // every part of the sketch, in its order
	Holes     []Hole
	Fill      *float64 // metres of ground added since the record, nil: the readings do not say

	Promised float64           // chance that the holes should have met what is sought by now, each as the belief before it had it; 0 once it is met
	Excluded float64           // share of what was believed before that the holes which met nothing ruled out
	Learnt   []finding.Finding // what they changed in the statements of the fit

	DepthSuspects []depth.Suspect // depths and levels that do not fit the others, the likeliest blunder first

	Posterior *posterior.Posterior // what the location was worked out from
	depths    *depth.Model
	belief    *belief.Belief
}

// Spot returns the location of a spot, or nil.
func (l *Location) Spot(part string, spot asbuilt.Spot) *Spot {
	for i := range l.Spots {
		if l.Spots[i].Part == part && l.Spots[i].Spot == spot {
			return &l.Spots[i]
		}
	}
	return nil
}
