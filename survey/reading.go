package survey

import (
	"time"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
)

// Kind is what sort of reading a row of the log is.
type Kind string

// The kinds of reading. What each uses of Reading is said at the fields.
const (
	GNSS      Kind = "gnss"      // Point, Position, Accuracy
	Tape      Kind = "tape"      // From, To, Value, Rise
	Baseline  Kind = "baseline"  // From, To, Point, Value (station), Offset
	Bearing   Kind = "bearing"   // From, To, Azimuth, North
	Cable     Kind = "cable"     // From, To, Value
	Found     Kind = "found"     // Point, Target, Spot, Depth, Feature, Runs, Facing, Flow
	Empty     Kind = "empty"     // Point, Depth, Stopped
	Followed  Kind = "followed"  // From, To, Target
	Sonde     Kind = "sonde"     // Point, Target, Depth
	Sign      Kind = "sign"      // From, To, Target
	Rod       Kind = "rod"       // Point, or From, To and Stabs; Depth, Target
	Level     Kind = "level"     // Point, Value
	Condition Kind = "condition" // Target: a part, a point of the log or WholeJob; Note
	Void      Kind = "void"      // Target: the id of the reading withdrawn
)

// AnyPipe is the target of a sonde in a pipe of which the crew cannot tell whether it
// is a header or a lateral.
const AnyPipe = "pipe"

// WholeJob is the target of a condition that is about no part and no point.
const WholeJob = "job"

// Stop is why an empty hole ended before it was deep enough.
type Stop string

// What ends a hole.
const (
	StopRock    Stop = "rock"
	StopRoot    Stop = "root"
	StopWater   Stop = "water"
	StopUtility Stop = "utility" // a line that is not of this system
	StopGaveUp  Stop = "gave-up"
)

// Stops lists what ends a hole.
var Stops = []Stop{StopRock, StopRoot, StopWater, StopUtility, StopGaveUp}

// Feature is what the depth of a hole was measured to.
type Feature string

// The features a depth may run to.
const (
	Crown  Feature = "crown"  // top of the pipe
	Top    Feature = "top"    // of chamber, gravel, lid or box
	Invert Feature = "invert" // inside bottom of the pipe
	Bottom Feature = "bottom" // of the trench, tank or box
)

// North is what a bearing was counted from.
type North string

// The norths of a bearing.
const (
	TrueNorth     North = "true"
	MagneticNorth North = "magnetic"
)

// What a rod met that is no part and no kind: Reading.Target of a rod.
const (
	RodNone    = "none"    // nothing down to Depth
	RodContact = "contact" // something hard, a stone not excluded
)

// Flow is which way water runs in a pipe that was seen in a hole.
type Flow string

// The ways that water may flow.
const (
	FlowAlong   Flow = "along"   // in the direction that Reading.Runs gives
	FlowAgainst Flow = "against" // the other way
)

// Reading is one row of the field log. Lengths that were not given are nil.
type Reading struct {
	ID   string // unique; "r" + row number where the log gives none
	File string // where it was read, for messages
	Row  int    // row in that file, the header row being 1
	Kind Kind

	Point, From, To string // names of landmarks, spots, holes or stakes
	Target          string // part id or kind (found, followed, sign; rod, where also RodNone or RodContact), spot, part id, kind or AnyPipe (sonde), reading id (void), part id, point or WholeJob (condition)

	Position geodesy.LonLat // gnss
	Accuracy float64        // gnss: metres, radius that holds the true position 95 % of the time; 0: not given
	SigmaENU [2]float64     // gnss: standard deviations east and north in metres where the receiver states them (NMEA GST), else zero

	Value   *geo.Length // tape, cable: distance; baseline: station; level: height
	Offset  *geo.Length // baseline: + to the right of From → To
	Rise    *geo.Length // tape: height of To above From
	Azimuth geo.Angle   // bearing
	North   North       // bearing

	Stabs int // rod: evenly along From → To, the ends included; 0: one, at Point

	Spot    asbuilt.Spot // found; empty: the default of the part's kind
	Depth   *geo.Length  // found, empty, sonde, rod: from the ground surface at the point
	Feature Feature      // found: what Depth runs to; empty: top
	Stopped Stop         // empty: why it went no deeper; empty: it went as deep as it was meant to

	Runs   *geo.Angle // found: direction in which the pipe or trench runs, clockwise from Facing as seen from the hole
	Facing string     // found: name of a landmark, hole or stake, or one of the norths
	Flow   Flow       // found: empty: not seen, and either way along the line may be meant

	Sigma  *geo.Length // overrides the default standard deviation; of a bearing, SigmaAngle
	SigmaA *geo.Angle  // bearing: overrides the default standard deviation
	Radius *geo.Length // of the hole

	Time     time.Time // zero: not given
	By, Note string
}
