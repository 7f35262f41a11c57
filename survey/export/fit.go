package export

import (
	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/finding"
	"asfound/survey/fit"
)

// NewFitAnswer returns the answer of fit in a language.
func NewFitAnswer(f *fit.Fit, in language.Tag) answer.FitAnswer {
	out := answer.FitAnswer{Frame: newFrame(f.Frame, in), Fit: newFit(f, in), Residuals: []answer.Residual{}}
	for i := range f.Residuals {
		r := &f.Residuals[i]
		out.Residuals = append(out.Residuals, answer.Residual{
			Reading: r.Reading, What: r.What, Unit: unitOf(r),
			Observed: answer.Number(r.Observed), Fitted: answer.Number(r.Fitted), Residual: answer.Number(r.Observed - r.Fitted), Sigma: answer.Number(r.Sigma),
			W: answer.Number(r.Standardized), Redundancy: answer.Number(r.Redundancy), Detectable: answer.Optional(answer.Number(r.Detectable)),
		})
	}
	return out
}

func unitOf(r *fit.Residual) answer.ResidualUnit {
	if r.Degrees {
		return answer.InDegrees
	}
	return answer.InMetres
}

func newFit(f *fit.Fit, in language.Tag) answer.Fit {
	to := finding.Reader{Unit: f.Unit, Language: in}
	out := answer.Fit{
		Readings: f.Readings, Unknowns: f.Unknowns, Redundancy: answer.Number(f.Redundancy), VarianceFactor: answer.Number(f.VarianceFactor), GlobalP: answer.Number(f.GlobalP),
		Scale: answer.Number(f.Scale), ScaleSigma: answer.Number(f.ScaleSigma),
		Rotation: answer.Turn(f.Rotation.Bearing().Degrees()), RotationSigma: answer.Turn(f.RotationSigma.Degrees()), RotationKnown: f.RotationKnown,
		Mirrored: f.Mirrored, Suspects: []answer.Suspect{}, Warnings: finding.Sentences(f.Warnings, to), Findings: NewFindings(f.Warnings, to), Doubtful: finding.Says(f.Doubtful, to),
	}
	for _, s := range f.Suspects {
		x := answer.Suspect{Reading: s.Reading, Statistic: answer.Number(s.Statistic), Says: s.Blunder.Says(to), Blunder: newFinding(s.Blunder, to), Odds: answer.Number(s.Odds), Cause: answer.Number(s.Cause),
			Instead: s.Instead, Better: answer.Number(s.Better)}
		if s.Sought != "" {
			x.Without = &answer.Shift{Part: s.Sought, Moves: answer.Number(s.Moves), Toward: answer.Turn(s.Toward.Degrees())}
		}
		out.Suspects = append(out.Suspects, x)
	}
	if f.Doubtful != nil {
		out.Findings = append(out.Findings, newFinding(*f.Doubtful, to))
	}
	for _, s := range f.Sheet {
		out.Sheet = append(out.Sheet, answer.Fault{Fault: string(s.Fault), Odds: answer.Number(s.Odds), Says: s.Finding.Says(to), Settles: s.Finding.Settles(to)})
	}
	return out
}
