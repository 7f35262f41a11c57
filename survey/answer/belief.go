package answer

// Belief is the answer of the stage belief: all that a plan view shows.
type Belief struct {
	Title  string `json:"title"`
	Permit string `json:"permit"`
	// That people read lengths in.
	Unit Unit `json:"unit"`
	// What the job seeks: a part's id or a kind of part.
	Seek  string `json:"seek"`
	Frame Frame  `json:"frame"`
	// Of the frame; null: no tie to the earth.
	Origin *LonLat `json:"origin" jsonschema:"nullable"`

	Fit       BeliefFit        `json:"fit"`
	Spots     []Spot           `json:"spots"`
	Corridors []BeliefCorridor `json:"corridors"`
	Outlines  []BeliefOutline  `json:"outlines"`
	Holes     []BeliefHole     `json:"holes"`
	// Ground added since the record, metres; null: the readings do not say.
	Fill *Metres `json:"fill" jsonschema:"nullable"`

	// Null: nothing says where what is sought lies.
	Sought *Sought `json:"sought" jsonschema:"nullable"`
	// The radius of what is sought as holes came in, where the request asks for it.
	History []HistoryStep `json:"history,omitempty"`
	// False: there is more of the history to ask for.
	Whole bool `json:"whole"`
	// Where the request asks for it.
	Plan *DigPlan `json:"plan,omitempty"`

	// Depths and heights that do not fit the others.
	Levels []Level `json:"levels"`
	// Rows that could not be read and were left out.
	Problems []Problem `json:"problems"`
	// What looks like a mistake in the log, for people.
	Cautions []string `json:"cautions"`
	// The same as data.
	Findings []Finding `json:"findings"`
}

// BeliefFit says how drawing and field agree, reading by reading.
type BeliefFit struct {
	Fit
	Residuals []BeliefResidual `json:"residuals"`
}

// BeliefResidual is one observed number after the fit, with the kind of its
// reading.
type BeliefResidual struct {
	Residual
	// Of the reading; empty: it is written on the sketch.
	Kind string `json:"kind"`
}

// BeliefCorridor is the strip that holds a whole lateral or header with 95 %,
// relative to the landmarks, its line as vertices.
type BeliefCorridor struct {
	Corridor
	// The expected centre line, in flow order.
	Line []Vertex `json:"line"`
}

// BeliefOutline is a part's geometry, with how well its place is known.
type BeliefOutline struct {
	Outline
	// Standard deviation of its place relative to the landmarks along the worse
	// axis, metres.
	Sigma Metres `json:"sigma"`
}

// Result is what came of a hole.
type Result string

// The results of a hole.
const (
	Found  Result = "found"
	Empty  Result = "empty"
	NotDug Result = "none" // set out, and not dug yet
)

// BeliefHole is a hole of the log, or a place that was set out and not dug yet.
type BeliefHole struct {
	ID string `json:"id"`
	// Metres in the field frame.
	East Metres `json:"east"`
	// Metres in the field frame.
	North Metres `json:"north"`
	// Holds it with 95 %, relative to the landmarks, metres.
	Radius95 Metres `json:"radius95"`
	// Of the hole, metres; 0: not dug.
	Radius Metres `json:"radius"`
	Result Result `json:"result"`
	// What it met: a part or a kind of part.
	Target string `json:"target,omitempty"`
	// Of the part that it met.
	Spot string `json:"spot,omitempty"`
	// At which it was found, or down to which it is empty, metres below today's
	// ground; null: not given.
	Depth *Metres `json:"depth" jsonschema:"nullable"`
	// What the depth is to: top, crown, invert or bottom.
	DepthTo string `json:"depth_to,omitempty"`
	// Ids of the readings about it.
	Readings []string `json:"readings"`
}

// Level is a depth or a height that does not fit the others.
type Level struct {
	// Id of the reading.
	Reading string `json:"reading"`
	// What was observed, for people.
	What string `json:"what"`
	// Metres.
	Observed Metres `json:"observed"`
	// Metres.
	Fitted Metres `json:"fitted"`
	// The residual over its own standard deviation (Baarda's w).
	W Number `json:"w"`
	// Probability that the reading holds a blunder.
	Odds Number `json:"odds"`
	// What may have gone wrong, for people.
	Says string `json:"says"`
	// The same as data.
	Blunder Finding `json:"blunder"`
}

// Sought is what is known of what the job seeks. Of several that would do (any
// lateral, any of the drop boxes; either end of a line) it is the one that is
// known best: the one to go for.
type Sought struct {
	// Id of the part.
	Part string `json:"part"`
	Kind string `json:"kind"`
	// center, start or end.
	Spot  string `json:"spot"`
	State State  `json:"state"`
	Place
	// Holds it with 95 %, relative to the landmarks, metres.
	Radius95 Metres `json:"radius95"`
	// Metres below today's ground; null: not known.
	Depth *Metres `json:"depth" jsonschema:"nullable"`
	// Metres; null where depth is.
	DepthSigma *Metres `json:"depth_sigma" jsonschema:"nullable"`
	// What the depth is to: top, crown, invert or bottom.
	DepthTo string `json:"depth_to,omitempty"`
}

// HistoryStep is what was known of what is sought once a hole had been dug.
type HistoryStep struct {
	// Name of the hole; empty: before the first.
	After string `json:"after"`
	// What it met: a part or a kind of part.
	Met string `json:"met,omitempty"`
	// Relative to the landmarks, metres.
	Radius95 Metres `json:"radius95"`
}

// Preview is the answer of the stage preview: a first look at what is sought.
// It assumes that what was last believed about the sheet and the readings still
// holds: that the sheet is mirrored, say, or that a reading holds a blunder. So
// it may differ from the belief that follows, and must be shown as a preview.
type Preview struct {
	// Null: nothing says where what is sought lies.
	Sought *Sought `json:"sought" jsonschema:"nullable"`
	// False: this is the belief itself, which was already known.
	Rough bool `json:"rough"`
}

// Without is the answer of the stage without: what would be believed without
// some readings.
type Without struct {
	// Null: nothing says where what is sought lies.
	Sought *Sought   `json:"sought" jsonschema:"nullable"`
	Fit    BeliefFit `json:"fit"`
}

// Plan is the answer of the stage plan.
type Plan struct {
	DigPlan
	// False: only its first holes; ask again for the rest.
	Whole bool `json:"whole"`
	// Rows that could not be read and were left out.
	Problems []Problem `json:"problems"`
}

// Paper is the answer of the stage paper: a file.
type Paper struct {
	Name string `json:"name"`
	// Media type.
	Type  string `json:"type"`
	Bytes []byte `json:"base64"`
}

// Length is the answer of the stage length: a length that was understood.
type Length struct {
	Metres float64 `json:"metres"`
	// In the unit asked for, as answers print it.
	Shown string `json:"shown"`
}
