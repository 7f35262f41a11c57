package answer

// DigPlan is the answer of the command digplan. The first of its steps is the
// next to take; the others are for the case that those before them come up empty.
type DigPlan struct {
	// What is sought: a part's id or a kind of part.
	Seek string `json:"seek"`
	// Until what is sought is met, each hole chosen by what the earlier ones
	// showed; null: not known.
	ExpectedHoles *Number `json:"expected_holes" jsonschema:"nullable"`
	// That the next hole meets what is sought; 0 where there is none.
	ChanceNext Number     `json:"chance_next"`
	Holes      []Proposal `json:"holes"`
	// The first holes for every case. Left out: there is none, or none yet.
	Tree *TreeStep `json:"tree,omitempty"`
	// For the whole job.
	Cautions []string `json:"cautions"`
	// The same as data.
	Findings []Finding `json:"findings"`
	// A remark on the plan, for people.
	Remark string `json:"remark,omitempty"`
	// The same as data.
	Remarks []Finding `json:"remarks,omitempty"`
	// Why the plan must not be trusted as it stands. Left out: nothing says so.
	Doubtful string `json:"doubtful,omitempty"`
}

// Action is what a step of a plan does.
type Action string

// What a step of a plan does.
const (
	ActHole   Action = "hole"
	ActSlot   Action = "slot"   // dig a strip from the place of the step to another one
	ActRod    Action = "rod"    // make a grid of stabs with a probe rod, then a new plan
	ActFollow Action = "follow" // follow a pipe or trench from the hole that opened it to what is sought
	ActCable  Action = "cable"  // open a tank and push a cable from its outlet to what is sought
	ActSonde  Action = "sonde"  // the same with a camera and a sonde, which is located from above
)

// Proposal is one step of a plan: a hole, or what is worth doing before it.
type Proposal struct {
	// Of the hole; 0: what comes before the first.
	Rank   int    `json:"rank"`
	Action Action `json:"action"`
	Place
	// That it meets what is sought, all before it having come up empty.
	Chance Number `json:"chance"`
	// Ids of the parts that it may meet.
	Seeks []string `json:"seeks"`
	// The chance of each of them, all before it having come up empty.
	Meets map[string]Number `json:"meets,omitempty"`
	// Expected, metres below today's ground; 0 where stop_depth is.
	Depth Metres `json:"depth"`
	// Metres.
	DepthSigma Metres `json:"depth_sigma"`
	// What the depth is to: top, crown, invert or bottom.
	DepthTo string `json:"depth_to,omitempty"`
	// Id of the part that the depth is of.
	DepthOf string `json:"depth_of,omitempty"`
	// Call it empty here, metres below today's ground; 0: no depth is known.
	StopDepth Metres `json:"stop_depth"`
	// To dig with.
	Tool string `json:"tool,omitempty"`
	// That it takes if it meets nothing.
	Minutes Number `json:"minutes,omitempty"`
	Ties    []Tie  `json:"ties"`
	// On which side of the first two landmarks it lies, for people.
	Side string `json:"side,omitempty"`
	// Where a slot ends that begins here, or the base line of a grid of stabs. Left out:
	// it is neither.
	To *SlotEnd `json:"to,omitempty"`
	// Hole of the log that a line is followed from, or tank that something is pushed
	// from. Left out: neither, or it is the hole of the step.
	From string `json:"from,omitempty"`
	// Where that line leads if it is straight. Left out: none is followed.
	Toward *Place `json:"toward,omitempty"`
	// Of the line to what is sought, metres.
	Length Metres `json:"length,omitempty"`
	// How to follow it. Left out: none is followed.
	Way *Way `json:"way,omitempty"`
	// All of it in one sentence, for people. Left out: it is a hole or a slot.
	Says string `json:"says,omitempty"`
	// Holes that are then expected until what is sought lies open. Left out: nothing is
	// pushed.
	HolesAfter Number `json:"holes_after,omitempty"`
	// Of a rod, in the order in which they are made: along the base line, then along
	// each line to its right. Left out: it is no grid of stabs.
	Stabs []Place `json:"stabs,omitempty"`
	// How they are laid out. Left out: it is no grid of stabs.
	Grid *StabGrid `json:"grid,omitempty"`
	// What to watch for there, for people.
	Cautions []string `json:"cautions"`
	// The same as data.
	Findings []Finding `json:"findings"`
}

// StabGrid is how the stabs of a probe rod are laid out: lines parallel to a base line, the
// base line included, the others to its right.
type StabGrid struct {
	Lines int `json:"lines"`
	// Stabs in each line, its ends included.
	Each int `json:"each"`
	// From stab to stab, and from line to line, metres.
	Step Metres `json:"step"`
}

// Way is how a pipe or trench is followed from where it lies open to what is sought.
type Way struct {
	// header or trench.
	Met Met `json:"met"`
	// Id of the landmark to face, standing at the hole.
	Facing string `json:"facing"`
	// The way to go, degrees clockwise from there.
	Runs Number `json:"runs"`
	// Of the length to what is sought, metres.
	LengthSigma Metres `json:"length_sigma"`
}

// SlotEnd is the far end of a slot or a base line, and how it is set out.
type SlotEnd struct {
	Place
	// Of the slot or base line, metres.
	Length Metres `json:"length"`
	Ties   []Tie  `json:"ties"`
	// On which side of the first two landmarks it lies, for people.
	Side string `json:"side,omitempty"`
}

// Tie is a distance from a landmark, by which a place is set out.
type Tie struct {
	// Id of the landmark.
	From string `json:"from"`
	// Metres, level.
	Distance Metres `json:"distance"`
	// Metres.
	Sigma Metres `json:"sigma"`
}

// TreeStep is a hole of the tree and what to do after each thing that it may
// meet. The hole's chance is that of meeting what is sought once the dig has
// come there.
type TreeStep struct {
	// Of the card: 1, 2A, 3AB.
	Label string   `json:"label"`
	Hole  Proposal `json:"hole"`
	// The likeliest first.
	Branches []Branch `json:"branches"`
}

// Met is what a planned hole may meet.
type Met string

// What a planned hole may meet.
const (
	MetSought Met = "sought" // what is sought
	MetTrench Met = "trench" // a lateral between its ends
	MetStart  Met = "start"  // the near end of a lateral, where the header comes in
	MetEnd    Met = "end"    // the far end of a lateral
	MetHeader Met = "header" // a header or effluent pipe
	MetOther  Met = "other"  // another part: a box, tank or port that is not sought
	MetNone   Met = "empty"  // nothing down to the stop depth
)

// Branch is one thing that a hole may meet.
type Branch struct {
	Met Met `json:"met"`
	// The same for people.
	Says string `json:"says"`
	// Ids of the parts that it may be, the likeliest first.
	Parts []string `json:"parts,omitempty"`
	// Once the dig has come there.
	Chance Number `json:"chance"`
	// What to do, where there is no next hole; for people.
	Then string `json:"then,omitempty"`
	// A line to be followed, in place of a next hole.
	Follow *Proposal `json:"follow,omitempty"`
	Next   *TreeStep `json:"next,omitempty"`
}
