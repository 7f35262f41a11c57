package answer

// Fit says how drawing and field agree.
type Fit struct {
	// Observed numbers of the log and the sheet.
	Readings int `json:"readings"`
	Unknowns int `json:"unknowns"`
	// Of all readings together.
	Redundancy Number `json:"redundancy"`
	// 1 is expected.
	VarianceFactor Number `json:"variance_factor"`
	// Chance of a worse misfit if the model is right.
	GlobalP Number `json:"global_p"`
	// Ground metres per drawing unit.
	Scale Number `json:"scale"`
	// Standard deviation of the scale.
	ScaleSigma Number `json:"scale_sigma"`
	// True bearing of the drawing's +y axis, degrees.
	Rotation Turn `json:"rotation"`
	// Standard deviation of the rotation, degrees.
	RotationSigma Turn `json:"rotation_sigma"`
	// False: north is not known, and rotation is in the local frame.
	RotationKnown bool `json:"rotation_known"`
	// The sheet was drawn from the other side of the paper.
	Mirrored bool `json:"mirrored"`
	// What may be wrong with the whole sheet, the likeliest first. Left out:
	// nothing of any weight.
	Sheet    []Fault   `json:"sheet,omitempty"`
	Suspects []Suspect `json:"suspects"`
	// What must be known before the answer is used.
	Warnings []string `json:"warnings"`
	// Why the answer must not be trusted as it stands. Left out: nothing says so.
	Doubtful string `json:"doubtful,omitempty"`
	// The warnings as data, and last what is doubtful.
	Findings []Finding `json:"findings"`
}

// Suspect is a reading that does not fit, and the blunder that explains it best.
type Suspect struct {
	// Id of the reading.
	Reading string `json:"reading"`
	// Baarda's w.
	Statistic Number `json:"statistic"`
	// What may have gone wrong, for people.
	Says string `json:"says"`
	// The same as data.
	Blunder Finding `json:"blunder"`
	// Probability that the reading is wrong.
	Odds Number `json:"odds"`
	// Probability, if it is wrong, of what says names.
	Cause Number `json:"cause"`
	// What the row would have said then.
	Instead string `json:"instead,omitempty"`
	// How many times likelier everything is if it is wrong.
	Better Number `json:"better"`
	// Where what is sought lies if the reading is left out.
	Without *Shift `json:"without,omitempty"`
}

// Shift is how far a part moves if a reading is left out.
type Shift struct {
	// Id of the part.
	Part string `json:"part"`
	// Metres.
	Moves Number `json:"moves"`
	// Direction in the frame, degrees clockwise from its north.
	Toward Turn `json:"toward"`
}

// Fault is what may be wrong with a whole sheet.
type Fault struct {
	Fault string `json:"fault"`
	// Probability.
	Odds Number `json:"odds"`
	// The fault, for people.
	Says string `json:"says"`
	// What would settle it, for people.
	Settles string `json:"settles"`
}

// ResidualUnit is the unit of an observed number.
type ResidualUnit string

// The units of observed numbers.
const (
	InMetres  ResidualUnit = "m"
	InDegrees ResidualUnit = "deg"
)

// Residual is one observed number after the fit, in its unit.
type Residual struct {
	// Id of the reading, or what it is on the sketch.
	Reading string `json:"reading"`
	// What was observed, for people.
	What     string       `json:"what"`
	Unit     ResidualUnit `json:"unit"`
	Observed Number       `json:"observed"`
	Fitted   Number       `json:"fitted"`
	// Observed less fitted.
	Residual Number `json:"residual"`
	// Standard deviation of the observation.
	Sigma Number `json:"sigma"`
	// The residual over its own standard deviation (Baarda's w).
	W Number `json:"w"`
	// Redundancy number: how well the other readings check this one, 0 to 1.
	Redundancy Number `json:"redundancy"`
	// The smallest blunder noticed with 80 %. Left out: one of any size would
	// pass.
	Detectable *Number `json:"detectable,omitempty"`
}

// FitAnswer is the answer of the command fit.
type FitAnswer struct {
	Frame     Frame      `json:"frame"`
	Fit       Fit        `json:"fit"`
	Residuals []Residual `json:"residuals"`
}
