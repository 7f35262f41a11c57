package practice

import "math"

// The chance that a hole which is deep enough reveals what it is over. Common
// practice, no published source. A chance is never 1, so that one missed trench
// does not rule the truth out.
const (
	NoticesBox    = 0.98 // of a box or a tank
	NoticesTrench = 0.97 // of a trench, an end of one, or a port
	NoticesPipe   = 0.80 // of a pipe without a trench
)

// How far a probe rod can be relied on. Common practice, no published source. Ground
// differs and so do crews, so both rates are uncertain themselves: the standard
// deviations of the logit of the one and of the logarithm of the other let the stabs
// of a job and its holes show how they are there.
const (
	RodHits         = 0.85 // chance that a stab over a part, and deep enough, feels it
	RodStones       = 0.02 // chance that a stab elsewhere feels something hard
	RodHitsSpread   = 0.5
	RodStonesSpread = 1.2
	RodMislogged    = 0.01 // chance that a row of stabs is wrong as a whole: the wrong line, the wrong result
)

// How far things may be off, to either side, metres. Common practice, no
// published source.
const (
	EdgeOut   = 0.08 // the edge of a hole or of a part
	BottomOut = 0.08 // the bottom of a hole, or the top of a part
	HeaderOut = 0.25 // a header from where it is drawn, between its ends
)

// How often what a hole shows is misleading. Common practice, no published source.
const (
	StrayHit      = 0.02 // chance that a line met is none of those drawn, or not where its kind is said to be
	UnstatedDepth = 0.5  // chance that a hole went deep enough whose depth was not written
)

// How a line runs where it is seen, against the straight way between the places
// drawn of it: standard deviations, radians. Common practice, no published source.
const (
	TrenchBend = 2 * math.Pi / 180
	HeaderBend = 10 * math.Pi / 180
)

// Misdirected is the chance that the direction of a line was counted from another
// point, or the wrong way round, or is that of another pipe. Common practice, no
// published source.
const Misdirected = 0.05

// Misfollowed is the chance that what was followed from one hole to another is not
// one line: the crew lost it, as under roots or where another crosses, and picked up
// another beside it. One that knows that it lost the line logs nothing. Common
// practice, no published source.
const Misfollowed = 0.05

// Dimensions of what is met, metres. Common practice, no published source.
const (
	EndReach  = 0.5  // a hole this near to an end that is sought has found it
	PortReach = 0.1  // half of the cover of a port
	RodHole   = 0.02 // radius of the hole that a rod makes
	DigOff    = 0.05 // standard deviation of where a hole is opened, beside its ties
	SameHole  = 0.25 // a place nearer than this to an old hole is that hole
)

// How far a hole stays clear of things, metres from its edge. Local law and the
// utility owner decide.
const (
	ToleranceZone     = 0.6096 // from a utility without a clearance: 24 in, a common tolerance zone of one-call laws, of which others have 18 in (Northwest Gas Association; City of East Grand Forks MN: 2 ft; both read at second hand)
	WellClearance     = 1.0    // from a well. Common practice, no published source
	BoundaryClearance = 0.3    // from the boundary of the lot. Common practice, no published source
)

// What digging takes, in addition to the table of tools. Common practice, no
// published source.
const (
	MetDepth      = 0.8  // of its stop depth: how deep a hole is dug that meets something
	RepairMinutes = 20.0 // to repair a line that a machine has cut
	FollowPipe    = 5.0  // minutes to follow a metre of pipe, opening the ground along it here and there
	FollowTrench  = 3.0  // minutes to follow a metre of trench, which a rod feels
	ThroughPipe   = 1.5  // metres of pipe between the near end of a trench and the box
	LosesLine     = 0.15 // chance that a line which is followed is lost on LosesOver
	LosesOver     = 5.0  // metres
)
