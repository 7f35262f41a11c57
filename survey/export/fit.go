package export

import "asfound/survey/fit"

// Fit says how drawing and field agree.
type Fit struct {
	Readings       int       `json:"readings"` // observed numbers of the log and the sheet
	Unknowns       int       `json:"unknowns"`
	Redundancy     Number    `json:"redundancy"`
	VarianceFactor Number    `json:"variance_factor"` // 1 is expected
	GlobalP        Number    `json:"global_p"`        // chance of a worse misfit if all is as supposed
	Scale          Number    `json:"scale"`           // ground metres per drawing unit
	ScaleSigma     Number    `json:"scale_sigma"`
	Rotation       Turn      `json:"rotation"` // true bearing of the drawing's +y axis
	RotationSigma  Turn      `json:"rotation_sigma"`
	RotationKnown  bool      `json:"rotation_known"` // false: nothing tells north, and rotation is in the local frame
	Mirrored       bool      `json:"mirrored"`
	Sheet          []Fault   `json:"sheet,omitempty"` // what may be wrong with the whole sheet, the likeliest first
	Suspects       []Suspect `json:"suspects"`
	Warnings       []string  `json:"warnings"`           // what must be known before the answer is used
	Doubtful       string    `json:"doubtful,omitempty"` // why the answer must not be trusted as it stands
}

// Suspect is a reading that does not fit, and the slip that explains it best.
type Suspect struct {
	Reading   string `json:"reading"`
	Statistic Number `json:"statistic"` // Baarda's w
	Says      string `json:"says"`
	Odds      Number `json:"odds"`              // probability that the reading is wrong
	Cause     Number `json:"cause"`             // probability, if it is, of what Says names
	Instead   string `json:"instead,omitempty"` // what the row would have said then
	Better    Number `json:"better"`            // how many times likelier everything is if it is wrong

	Without *Without `json:"without,omitempty"`
}

// Without is where what is sought lies if a reading is left out.
type Without struct {
	Part   string `json:"part"`
	Moves  Number `json:"moves"`  // metres
	Toward Turn   `json:"toward"` // direction in the frame, clockwise from its north
}

// Fault is what may be wrong with a whole sheet.
type Fault struct {
	Fault   string `json:"fault"`
	Odds    Number `json:"odds"` // probability
	Says    string `json:"says"`
	Settles string `json:"settles"` // what would settle it
}

// Residual is one observed number after the fit, in Unit.
type Residual struct {
	Reading    string  `json:"reading"`
	What       string  `json:"what"`
	Unit       string  `json:"unit"` // m or deg
	Observed   Number  `json:"observed"`
	Fitted     Number  `json:"fitted"`
	Residual   Number  `json:"residual"` // observed less fitted
	Sigma      Number  `json:"sigma"`
	W          Number  `json:"w"` // residual over its own standard deviation
	Redundancy Number  `json:"redundancy"`
	Detectable *Number `json:"detectable,omitempty"` // smallest blunder noticed with 80 %; left out: a blunder of any size would pass
}

// FitAnswer is the answer of fit.
type FitAnswer struct {
	Frame     Frame      `json:"frame"`
	Fit       Fit        `json:"fit"`
	Residuals []Residual `json:"residuals"`
}

// NewFitAnswer returns the answer of fit.
func NewFitAnswer(f *fit.Fit) FitAnswer {
	out := FitAnswer{newFrame(f.Frame), newFit(f), []Residual{}}
	for i := range f.Residuals {
		r := &f.Residuals[i]
		out.Residuals = append(out.Residuals, Residual{
			r.Reading, r.What, unitOf(r), Number(r.Observed), Number(r.Fitted), Number(r.Observed - r.Fitted),
			Number(r.Sigma), Number(r.Standardized), Number(r.Redundancy), optional(Number(r.Detectable)),
		})
	}
	return out
}

func unitOf(r *fit.Residual) string {
	if r.Degrees {
		return "deg"
	}
	return "m"
}

func newFit(f *fit.Fit) Fit {
	out := Fit{
		Readings: f.Readings, Unknowns: f.Unknowns, Redundancy: Number(f.Redundancy), VarianceFactor: Number(f.VarianceFactor), GlobalP: Number(f.GlobalP),
		Scale: Number(f.Scale), ScaleSigma: Number(f.ScaleSigma),
		Rotation: Turn(f.Rotation.Bearing().Degrees()), RotationSigma: Turn(f.RotationSigma.Degrees()), RotationKnown: f.RotationKnown,
		Mirrored: f.Mirrored, Suspects: []Suspect{}, Warnings: append([]string{}, f.Warnings...), Doubtful: f.Doubtful,
	}
	for _, s := range f.Suspects {
		x := Suspect{s.Reading, Number(s.Statistic), s.Says, Number(s.Odds), Number(s.Cause), s.Instead, Number(s.Better), nil}
		if s.Sought != "" {
			x.Without = &Without{s.Sought, Number(s.Moves), Turn(s.Toward.Degrees())}
		}
		out.Suspects = append(out.Suspects, x)
	}
	for _, s := range f.Sheet {
		out.Sheet = append(out.Sheet, Fault{string(s.Fault), Number(s.Odds), s.Says, s.Settles})
	}
	return out
}
