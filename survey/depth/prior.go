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
	smoothReach = 10.0 // metres over which the smooth part of the fill changes: to one side, or in two steps

	// Fill since the record, the mean of a field. Nobody spreads less than
	// nothing, so the Gaussian stands for something one-sided: with its smooth
	// part, one place in three has more than a foot (0.3 m), one in twelve more
	// than two, one in a hundred more than three. Below zero it stands for ground
	// that was lost, and for records that counted from a stripped surface.
	fillMean  = 0.20
	fillSigma = 0.11

	// A recorded cover is one number for a trench, taken at one place, rounded,
	// by one person in one way: an error common to the record, an error of each
	// trench, and the difference between the place and the trench.
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
	steppedMean  = -0.20 // the same, each lateral following its own ground: below the box
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
// of its relief about a plane and of the rough part of the fill, the distance over
// which both change, and the standard deviation of the smooth part of the fill:
// fill that looks even where it was dug into may end beyond.
type ground struct{ relief, spread, reach, smooth float64 }

// structure says whether the laterals of a distribution box lie level with one
// another (0) or each follows its own ground (1). Those of drop boxes always do
// the latter.
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
