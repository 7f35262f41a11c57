package practice

import "math"

// What is pushed through a pipe, and seen on the surface. Common practice, no
// published source.
const (
	StraySonde   = 0.02 // chance that it is put elsewhere: on a ghost beside it, or over another pipe
	StopsShort   = 0.15 // chance that a cable stops before it is where the crew takes it to be: roots, a bend, a broken pipe
	PipeRun      = 12.0 // metres: how long a pipe is that a cable is pushed through, at least
	LongestCable = 120  // metres: no crew pushes more; the longest push rods are about 100 m

	OpenTank  = 60.0 // minutes to find a tank by its record and open it
	PushCable = 15.0 // minutes to push a cable from its outlet
	PushSonde = 20.0 // minutes to push a camera and to locate its transmitter

	CableShare  = 0.07              // of its length: how far the straight way to the box is known from a cable
	CableInside = 0.45              // metres: and beside that, because it ends inside tank and box
	OutletTurn  = 6 * math.Pi / 180 // radians: how well the direction is read in which a pipe leaves a tank

	SignOut   = 0.4 // metres: a strip on the surface off the middle of its trench, standard deviation
	StraySign = 0.3 // chance that a strip is something else: a tree root, a utility, the edge of a fill
)

// SondeSigma returns the standard deviation, per axis and of its depth, with which a
// receiver above ground locates a transmitter so many metres down, metres. Common
// practice, no published source.
func SondeSigma(depth float64) float64 { return 0.05 + 0.10*depth }
