package simulate

import "asfound/asbuilt"

// Mix is what a crew measures with.
type Mix string

// The mixes of readings.
const (
	Tapes   Mix = "tapes"   // every hole by two or three tapes from the house; no north, no satellite
	Fixes   Mix = "fixes"   // landmarks and holes by a phone's satellite fixes
	Both    Mix = "both"    // landmarks by fixes, holes by tapes, written ties to the box
	Offsets Mix = "offsets" // every hole by its station along and offset from a wall; no north, no satellite
	Compass Mix = "compass" // landmarks by fixes, every hole by a tape and a bearing from a corner and a tape from another
	Braced  Mix = "braced"  // every hole and the house itself by tapes from and between all four corners
)

// Mixes lists the mixes of jobs as they usually come.
var Mixes = []Mix{Tapes, Fixes, Both, Offsets}

// Order is what site to invent, and what is wrong with it. The zero value of
// every member after Holes is a clean job.
type Order struct {
	Seed  uint64
	Trust asbuilt.Trust
	Mix   Mix
	Holes int // that met a lateral somewhere, or an end

	Depths  bool    // holes have depths, every other one a level shot as well
	Unknown int     // how many of Holes are logged as having met some lateral
	Empty   int     // further holes that met nothing
	Blunder Blunder // in one reading
	Wrong   Wrong   // what is wrong with the sheet as a whole
	Up      bool    // the sheet has a north arrow
}

// Blunder is a mistake of a crew in one reading.
type Blunder string

// The blunders that can be ordered.
const (
	Foot       Blunder = "a foot"     // a tape 1 ft long or short
	TenFeet    Blunder = "ten feet"   // a tape 10 ft long or short
	Tenths     Blunder = "tenths"     // 12' 6" written as 12.6, or 12.6 as 12' 6"
	Transposed Blunder = "transposed" // 36.2 written as 63.2
	Corner     Blunder = "corner"     // taped from the neighbouring corner
	Slope      Blunder = "slope"      // taped along a slope of 25 to 45 %
	Swapped    Blunder = "left-right" // an offset logged on the wrong side
	Neighbour  Blunder = "trench"     // a hole assigned to the neighbouring trench
	Magnetic   Blunder = "magnetic"   // a magnetic bearing logged as true
)

// Declination is by how many degrees magnetic north lies east of true north
// where lots are invented.
const Declination = 15

// Blunders lists the blunders, each with a mix of readings that could show it.
var Blunders = []struct {
	Blunder Blunder
	Mix     Mix
}{
	{Foot, Braced}, {TenFeet, Braced}, {Tenths, Braced}, {Transposed, Braced}, {Corner, Braced}, {Slope, Braced},
	{Swapped, Offsets}, {Neighbour, Braced}, {Magnetic, Compass},
}

// Wrong is what is wrong with a sheet as a whole.
type Wrong string

// The wrong sheets that can be ordered.
const (
	Mirrored     Wrong = "mirrored"       // drawn from the other side of the paper
	Quarter      Wrong = "quarter turn"   // its north arrow is 90 degrees off
	Half         Wrong = "half turn"      // its north arrow is 180 degrees off
	WrongScale   Wrong = "scale note"     // its scale note is off by a factor of 2
	WrongUnit    Wrong = "unit"           // drawn in metres where it says feet
	WrongWall    Wrong = "wall"           // tank and field drawn off a neighbouring wall
	WrongCorners Wrong = "corners"        // the corners of the house are named from the neighbouring one
	Other        Wrong = "another design" // of another house and field
)

// Wrongs lists the wrong sheets, each with a mix of readings that could show
// it: tapes alone cannot tell a site from its mirror image, nor which way it
// faces.
var Wrongs = []struct {
	Wrong Wrong
	Mix   Mix
}{
	{Mirrored, Both}, {Quarter, Both}, {Half, Both}, {WrongScale, Braced}, {WrongUnit, Braced}, {WrongWall, Braced}, {WrongCorners, Braced}, {Other, Braced},
}
