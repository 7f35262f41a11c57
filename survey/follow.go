package survey

import (
	"math"

	"asfound/asbuilt/practice"
)

// Following is what it takes a crew to follow a pipe or trench that lies open.
type Following struct {
	Pipe, Trench float64 // minutes a metre
	Loses        float64 // chance that it is lost on practice.LosesOver metres; 1: the crew follows nothing
}

// Following returns the job's, or what is usual where it does not say.
func (s Settings) Following() Following {
	if s.Follow != nil {
		return *s.Follow
	}
	return Following{Pipe: practice.FollowPipe, Trench: practice.FollowTrench, Loses: practice.LosesLine}
}

// Minutes returns how long it takes to follow a trench for so many metres and then
// a pipe.
func (f Following) Minutes(trench, pipe float64) float64 { return trench*f.Trench + pipe*f.Pipe }

// Keeps returns the chance that a line is not lost over a length in metres: each
// metre is as likely to lose it as another.
func (f Following) Keeps(length float64) float64 {
	return math.Pow(1-f.Loses, length/practice.LosesOver)
}
