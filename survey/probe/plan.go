// Package probe plans the digging: which hole comes next, how to set it out
// with two tapes, how deep to go, and when to stop.
package probe

import (
	"asfound/geo"
	"asfound/survey/locate"
)

// SetOut is a tape distance from a landmark to a proposed hole, in metres, and
// its standard deviation.
type SetOut struct {
	From            string
	Distance, Sigma float64
}

// Proposal is one hole of a plan.
type Proposal struct {
	Rank      int
	At        geo.Vec  // field frame
	Chance    float64  // that it meets the sought part, all holes before it having come up empty
	Seeks     []string // parts it may meet, the likeliest first
	Depth     locate.Depth
	StopDepth float64 // metres: call the hole empty here
	Ties      []SetOut
	Side      string // on which side of its landmarks the hole lies, in words
	Cautions  []string
}

// Plan is the order in which to dig.
type Plan struct {
	Seek          string
	ExpectedHoles float64 // until the sought part is met, following the plan
	ChanceNext    float64
	Holes         []Proposal
	Cautions      []string // for the whole job
	Remark        string   // what to think of when the plan is exhausted or could not be made
}
