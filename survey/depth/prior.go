package depth

// What is believed of heights before any reading, in metres or fall per length,
// where practice has no number. All of it is judgement, no published source;
// the simulations of the tests hold the intervals that follow from it to their
// 95 %.
const (
	// Of the ground. Lots slope more, but trenches are laid where they slope
	// little.
	slopeSigma  = 0.05 // fall per length of the ground as a plane, each way
	reliefReach = 8.0  // metres over which relief and fill change
	swellReach  = 10.0 // metres over which fill changes smoothly: a field is filled to one side, or in two steps

	// Fill since the record, the mean of a field. Nobody spreads less than
	// nothing, so the Gaussian stands for something one-sided: with what it
	// swells, at a place one lot in three with more than a foot (0.3 m), one in
	// twelve with more than two, one in a hundred with more than three. Below zero
	// it stands for ground that was lost, and for records that counted from a
	// stripped surface.
	fillMean  = 0.20
	fillSigma = 0.11

	// A recorded cover is one number for a trench, taken at one place, rounded,
	// by one person in one manner: what all of a record share, what a trench
	// has of its own, and how the place differs from the trench.
	recordSigma = 0.08
	trenchSigma = 0.06
	placeSigma  = 0.06
	endsSigma   = 0.10 // of all starts, and of all ends: the ground falls along trenches that keep their level

	// Where no cover is recorded, trenches of one field are dug alike.
	alikeSigma  = 0.12 // of a trench about the field's usual cover
	unlikeSigma = 0.20 // of a header about it
	usualSigma  = 0.12 // of the usual cover where other trenches have theirs recorded

	// Of pipes.
	unevenSigma  = 0.015 // a laid pipe about its grade
	writtenGrade = 0.001 // fall per length: a grade that is written
	levelSigma   = 0.02  // start of a lateral about box and header fall, laterals level
	steppedMean  = -0.20 // the same, each lateral as deep as its own ground asks: below the box
	steppedSigma = 0.40
	tankSigma    = 0.10 // outlet of a tank about box and header fall
	inletAbove   = 0.03 // inlet of a box above its outlets: 1 in at least (Ramsey MN 8.30)
	headerSigma  = 0.03 // a header about the line between its ends
	systemMean   = -0.8 // invert of a box about the ground's plane, before anything of its cover
	systemSigma  = 3.0

	// Of readings.
	crownSigma  = 0.02 // a depth taped to what can be seen
	softSigma   = 0.04 // a depth taped to gravel or soil
	shotSigma   = 0.02 // a level shot on sod
	invertSigma = 0.03 // an invert as written
	datumSigma  = 10   // a datum about the mean of the heights above it: not known
	leastSigma  = 0.001
)

// ground is how uneven the ground is taken to be: standard deviations in metres
// of its relief about a plane and of the fill about its mean, the distance over
// which both change, and how the fill swells: the standard deviation in metres
// of a part of it that is smooth. Fill that looks even where it was dug into may
// end beyond.
type ground struct{ relief, spread, reach, swell float64 }

// structure says whether the laterals of a distribution box lie level with one
// another (0) or each lies as deep as its own ground asks (1). Those of drop
// boxes always do the latter.
type structure int

const (
	level structure = iota
	stepped
)

// suppositions are the beliefs that the readings weigh, with their weight
// before any.
var suppositions = []struct {
	weight float64
	structure
	ground
}{
	{0.58, level, ground{0.06, 0.02, reliefReach, 0.28}},
	{0.17, level, ground{0.12, 0.27, reliefReach, 0}},
	{0.19, stepped, ground{0.06, 0.02, reliefReach, 0.28}},
	{0.06, stepped, ground{0.12, 0.27, reliefReach, 0}},
}
