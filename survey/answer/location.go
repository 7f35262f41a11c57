package answer

// State says what a location rests on.
type State string

// The states of a part.
const (
	Seen     State = "seen"     // a hole met it there, or it can be seen on the ground
	Inferred State = "inferred" // readings bear on it through the fit
	Recorded State = "recorded" // the sketch alone says so
)

// Spot is where one spot of a part lies. Its region is that of a position in
// the frame: on the earth where the frame is geodetic.
type Spot struct {
	// Id of the part.
	Part string `json:"part"`
	// Of the part, as in the sketch.
	Kind string `json:"kind"`
	// center, start or end.
	Spot  string `json:"spot"`
	State State  `json:"state"`
	Place
	Region
	// Relative to the landmarks, as a crew with tapes finds it.
	FromLandmarks Region `json:"from_landmarks"`
	// Where it may lie in two places or more, the likeliest first. Left out: one
	// region says it.
	Lobes []Lobe `json:"lobes,omitempty"`
	// Where the old sketch, laid on the landmarks, has it.
	Old Place `json:"old"`
	// Metres below today's ground; null for a landmark, and where nothing is
	// known.
	Depth *Metres `json:"depth" jsonschema:"nullable"`
	// Metres; null where depth is.
	DepthSigma *Metres `json:"depth_sigma" jsonschema:"nullable"`
	// What the depth is to: top, crown, invert or bottom.
	DepthTo string `json:"depth_to,omitempty"`
}

// Lobe is one of several separate places where a spot may lie, relative to the
// landmarks.
type Lobe struct {
	// Probability that it lies here. Those of all lobes make about 0.95.
	Share Number `json:"share"`
	// Of the middle, metres in the field frame.
	East Metres `json:"east"`
	// Of the middle, metres in the field frame.
	North Metres `json:"north"`
	// Holds 95 % of this lobe, metres.
	Radius95 Metres `json:"radius95"`
	// Round the lobe, not closed.
	Outline []Vertex `json:"outline"`
}

// Corridor is the strip that holds a whole lateral or header with 95 %,
// relative to the landmarks.
type Corridor struct {
	// Id of the part.
	Part  string `json:"part"`
	Kind  string `json:"kind"`
	State State  `json:"state"`
	// The expected centre line, in flow order.
	Line []Place `json:"line"`
	// Half-width at each vertex, the trench's own included, metres.
	Half []Metres `json:"half"`
	// Of the trench or pipe, metres.
	Width Metres `json:"width"`
	// At each vertex, metres below today's ground.
	Depth []Metres `json:"depth"`
}

// Outline is a part's geometry as now believed and as the old sketch, laid on
// the landmarks, has it.
type Outline struct {
	// Id of the part.
	Part  string  `json:"part"`
	Kind  string  `json:"kind"`
	Name  string  `json:"name,omitempty"`
	State State   `json:"state"`
	Now   []Shape `json:"now"`
	Old   []Shape `json:"old"`
	// Metres to keep away from it when digging, of a utility or no-dig area.
	Clearance Metres `json:"clearance,omitempty"`
}

// Form is the form of a shape.
type Form string

// The forms of a shape.
const (
	Point   Form = "Point"
	Line    Form = "LineString"
	Polygon Form = "Polygon" // not closed
)

// Shape is one piece of an outline.
type Shape struct {
	Form     Form     `json:"form"`
	Vertices []Vertex `json:"vertices"`
}

// Hole is a hole of the log. Its ellipse holds it with 95 %, relative to the
// landmarks.
type Hole struct {
	Name string `json:"name"`
	Place
	// Metres.
	SemiMajor Metres `json:"semi_major"`
	// Metres.
	SemiMinor Metres `json:"semi_minor"`
	// Of the semi-major axis, degrees clockwise from the frame's north.
	Bearing Turn `json:"bearing"`
	// Of the hole, metres.
	Radius Metres `json:"radius"`
	// What it met: a part or a kind of part. Left out: nothing.
	Met string `json:"met,omitempty"`
	// Of the part that it met.
	Spot string `json:"spot,omitempty"`
	// At which it was found, metres below today's ground. Left out: not measured.
	Depth *Metres `json:"depth,omitempty"`
	// What the depth is to: top, crown, invert or bottom.
	DepthTo string `json:"depth_to,omitempty"`
	// Why an empty hole ended before it was deep enough: rock, root, water, utility
	// (a line that is not of this system) or gave-up. Left out: it did not.
	Stopped string `json:"stopped,omitempty"`
}

// Location is the answer of the command locate.
type Location struct {
	// What the job seeks: a part's id or a kind of part.
	Seek      string     `json:"seek"`
	Frame     Frame      `json:"frame"`
	Fit       Fit        `json:"fit"`
	Spots     []Spot     `json:"spots"`
	Corridors []Corridor `json:"corridors"`
	Outlines  []Outline  `json:"outlines"`
	Holes     []Hole     `json:"holes"`
	// Ground added since the record, metres. Left out: the readings do not say.
	Fill *Metres `json:"fill,omitempty"`
	// What the holes that met nothing changed, for people.
	Learnt []string `json:"learnt,omitempty"`
	// Depths and heights that do not fit the others, the likeliest to be wrong
	// first.
	Levels []Level `json:"levels"`
}
