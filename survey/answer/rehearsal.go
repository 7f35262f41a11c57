package answer

// Rehearsal is the answer of the command rehearse: the dig played many times on
// what is believed.
type Rehearsal struct {
	// What is sought: a part's id or a kind of part.
	Seek string `json:"seek"`
	// 0: nothing could be rehearsed, and remark says why.
	Plays int `json:"plays"`
	// Number of holes after which a play is given up.
	MostDug int `json:"most_dug"`
	// Share of the plays in which what is sought was met.
	Found Number `json:"found"`
	// Until it was met.
	Holes Spread `json:"holes"`
	// Of digging until then.
	Minutes Spread `json:"minutes"`
	// Of the plays that ended with the first hole, the second and so on.
	Count []int `json:"count"`
	// What a further reading would buy.
	Readings []Offer `json:"readings"`
	// For the whole job.
	Cautions []string `json:"cautions"`
	// The same as data.
	Findings []Finding `json:"findings"`
	// Why nothing could be rehearsed, for people.
	Remark string `json:"remark,omitempty"`
	// Why the answer must not be trusted as it stands. Left out: nothing says so.
	Doubtful string `json:"doubtful,omitempty"`
}

// Spread is how a number is spread over the plays.
type Spread struct {
	Median Number `json:"median"`
	Mean   Number `json:"mean"`
	// Nine plays in ten stayed within it.
	P90 Number `json:"p90"`
}

// Offer is what one further reading would buy: each number before it, and what
// it is expected to be after it.
type Offer struct {
	// tape, satellite, level, lateral or next-hole.
	Kind string `json:"kind"`
	// The reading, for people.
	What string `json:"what"`
	// Of what is sought, relative to the landmarks, metres.
	RadiusBefore Metres `json:"radius95_before"`
	// Metres.
	RadiusAfter Metres `json:"radius95_after"`
	// To be expected until it is met.
	HolesBefore Number `json:"holes_before"`
	// The reading's own hole included.
	HolesAfter Number `json:"holes_after"`
	// Metres.
	DepthBefore Metres `json:"depth_sigma_before"`
	// Metres.
	DepthAfter Metres `json:"depth_sigma_after"`
	// That the reading's hole takes; 0: it needs none.
	Minutes Number `json:"minutes"`
}
