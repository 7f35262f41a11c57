// Package probe plans the digging: which hole comes next, how to set it out
// with two tapes, how deep to go, what to do after each thing that it may
// meet, and when to stop.
package probe

import (
	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// SetOut is a tape distance from a landmark to a proposed hole, in metres, and
// its standard deviation.
type SetOut = setout.Tie

// Proposal is one hole of a plan.
type Proposal struct {
	Rank      int
	At        geo.Vec            // field frame
	To        geo.Vec            // the far end of a slot; At for a hole
	Chance    float64            // that it meets the sought part, all holes before it having come up empty
	Seeks     []string           // parts it may meet: what is sought, then the likeliest first
	Meets     map[string]float64 // the chance of each of them, all holes before it having come up empty
	Part      string             // that Depth is of: the likeliest to be met
	Depth     locate.Depth
	StopDepth float64 // metres: call the hole empty here
	Radius    float64 // metres
	Tool      string  // that it is dug with
	Minutes   float64 // that it is expected to take
	Ties      []SetOut
	Side      setout.Side // of its first two landmarks
	ToTies    []SetOut
	ToSide    setout.Side // both of the far end of a slot
	Cautions  []finding.Finding
}

// MayMeet says what the hole may meet, each with its chance; ok is false where it may
// meet nothing.
func (h *Proposal) MayMeet() (f finding.Finding, ok bool) {
	return finding.MayMeet.New(finding.Odds(h.Seeks, h.Meets)), len(h.Seeks) > 0
}

// Slot reports whether the proposal is a slot, from At to To, and not a hole.
func (h *Proposal) Slot() bool { return h.To != h.At }

// Met is what a hole may meet.
type Met string

// What a hole may meet. A crew cannot tell which of several trenches it is.
const (
	MetSought Met = "sought" // what is sought
	MetTrench Met = "trench" // a lateral between its ends
	MetStart  Met = "start"  // the near end of a lateral, where the header comes in
	MetEnd    Met = "end"    // the far end of a lateral
	MetHeader Met = "header" // a header or effluent pipe
	MetOther  Met = "other"  // another part: a box, tank or port that is not sought
	MetNone   Met = "empty"  // nothing down to the stop depth
)

// Step is a hole of a plan and what to do after each thing that it may meet.
type Step struct {
	Label    string // 1; 2A; 3AB: the number of the hole, and the branches that lead to it
	Hole     Proposal
	Branches []Branch // the likeliest first
}

// Replan returns the chance of the branches after which the crew makes a new
// plan, and whether an empty hole is among them, as it is unless it leads to a
// step.
func (s *Step) Replan() (chance float64, nothing bool) {
	nothing = true
	for _, b := range s.Branches {
		if b.Again() {
			chance += b.Chance
		}
		nothing = nothing && !(b.Met == MetNone && b.Next != nil)
	}
	return chance, nothing
}

// Branch is one thing that the hole of a step may meet.
type Branch struct {
	Met    Met
	Parts  []string // that it may be, the likeliest first; none where nothing was met
	Chance float64  // of it, once the plan has come to this step
	Follow *Follow  // what is done next; nil: no line is worth following
	Next   *Step    // nil: the dig is done where what is sought was met, else a new plan is made
}

// Again reports whether a new plan is to be made after the branch.
func (b *Branch) Again() bool { return b.Next == nil && b.Follow == nil && b.Met != MetSought }

// Plan is the order in which to dig.
type Plan struct {
	Seek          string
	ExpectedHoles float64 // until the sought part is met: the mean over plays of the plan, see survey/playout; 0: not yet known
	ChanceNext    float64
	Follow        *Follow           // what to do before any hole; nil: no line is worth following
	Push          *Push             // what to push before any hole, in place of following a line; nil: nothing is worth it
	Rod           *Rod              // stabs to be made before any hole; nil: none are worth it, or the crew has no rod
	Holes         []Proposal        // the next hole, and those after it in case each before it comes up empty
	Tree          *Step             // the first holes for every case, nil where no hole is proposed
	Cautions      []finding.Finding // for the whole job
	Remark        []finding.Finding // what to consider when the plan is exhausted or could not be made
}

// Options is how to plan. The zero value is the plan that a crew is given.
type Options struct {
	Greedy bool // the likeliest place first, whatever a hole elsewhere might show: the benchmark for the planner
	Holes  int  // the most holes in Plan.Holes, 0: eight
	Levels int  // of the tree, 0: three, below 0: no tree
	Plays  int  // in which the plan is played out for Plan.ExpectedHoles, 0: 150, below 0: it is not
}
