package main

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/urfave/cli/v2"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/fit"
)

func (s *session) fit() *cli.Command {
	formats := []string{"text", "json", "csv"}
	return &cli.Command{
		Name:      "fit",
		Usage:     "lay the drawing on the field and say how each reading agrees",
		UsageText: "asfound fit [flags] JOB",
		Description: `Fits sketch and readings in one adjustment and prints the scale and rotation of
the drawing, the test of the whole, and each reading with its residual: what was
observed less what fits best. "w" is the residual over its own standard
deviation; beyond 3 a reading needs looking at. "checked" says how far the other
readings check this one: where it is 0 % a blunder of any size would pass.

  asfound fit lot7
  asfound fit lot7 --unit m
  asfound fit lot7 --format csv > residuals.csv`,
		Flags: []cli.Flag{formatFlag(formats...), unitFlag(), languageFlag()},
		Action: func(c *cli.Context) error {
			format, err := formatOf(c, formats...)
			if err != nil {
				return err
			}
			job, err := s.open(c)
			if err != nil {
				return err
			}
			to, err := readerOf(c, job)
			if err != nil {
				return err
			}
			solved, err := fit.Solve(c.Context, job)
			if err != nil {
				return err
			}
			a := &answer{format: format, fit: solved, to: to}
			switch format {
			case "json":
				err = export.FitJSON(&a.text, solved, to.Language)
			case "csv":
				err = export.ResidualsCSV(&a.text, solved)
			default:
				sayFit(&a.text, to, job, solved)
			}
			if err != nil {
				return err
			}
			return s.deliver(c, a)
		},
	}
}

// sayFit prints how drawing and field agree, for a crew lead.
func sayFit(w io.Writer, to finding.Reader, job *survey.Job, solved *fit.Fit) {
	fmt.Fprintf(w, "%s\n\n", heading(job))
	if len(job.Live()) == 0 {
		fmt.Fprintf(w, "No readings yet: this is the sheet alone, as far as it may be believed.\n\n")
	}
	sayScale(w, job, solved)
	switch {
	case !solved.RotationKnown:
		fmt.Fprintf(w, "north     not known: neither sheet nor readings say it\n")
	default:
		fmt.Fprintf(w, "up        the top of the sheet points to %.0f° from true north (± %.0f°, 95 %%)\n",
			solved.Rotation.Bearing().Degrees(), geo.Between95*solved.RotationSigma.Degrees())
	}
	if solved.Mirrored {
		fmt.Fprintf(w, "mirrored  the sheet was drawn from the other side\n")
	}
	fmt.Fprintf(w, "frame     %s\n", solved.Frame.Note(to))
	fmt.Fprintf(w, "test      %s, %.1f of them checked by others; misfit %.2f where 1 is expected: %s\n\n",
		count(solved.Readings, "observed number", "observed numbers"), solved.Redundancy, solved.VarianceFactor, verdict(solved))
	sayResiduals(w, job, solved)
	saySuspects(w, to, solved)
}

// verdict says what the global test means.
func verdict(solved *fit.Fit) string {
	switch {
	case solved.GlobalP < 0.01:
		return "drawing and readings contradict one another"
	case solved.GlobalP < 0.05:
		return "drawing and readings agree poorly"
	}
	return "drawing and readings agree"
}

// sayScale prints the scale of the sheet, compared with what it claims.
func sayScale(w io.Writer, job *survey.Job, solved *fit.Fit) {
	claimed, known := job.Sketch.MetresPerUnit()
	if !known || claimed <= 0 {
		fmt.Fprintf(w, "scale     one drawing unit is %s ± %s (95 %%) on the ground\n",
			fine(solved.Scale, job.Settings.Unit), fine(geo.Between95*solved.ScaleSigma, job.Settings.Unit))
		return
	}
	k := solved.Scale / claimed
	how := "as it claims"
	switch {
	case k-1 > 0.005:
		how = fmt.Sprintf("%.0f %% too small", 100*(1-1/k))
	case 1-k > 0.005:
		how = fmt.Sprintf("%.0f %% too large", 100*(1/k-1))
	}
	fmt.Fprintf(w, "scale     the sheet is drawn %s (1 drawn is %.3f ± %.3f on the ground, 95 %%)\n", how, k, geo.Between95*solved.ScaleSigma/claimed)
}

// fine writes a short length with four digits, in m or ft.
func fine(m float64, u geo.Unit) string {
	per, ok := u.Metres()
	if !ok {
		per, u = 1, geo.Metre
	}
	return strconv.FormatFloat(m/per, 'g', 3, 64) + " " + string(u)
}

// sayResiduals prints the readings as a table.
func sayResiduals(w io.Writer, job *survey.Job, solved *fit.Fit) {
	if len(solved.Residuals) == 0 {
		return
	}
	u := job.Settings.Unit
	rows := [][]string{{"reading", "what", "observed", "residual", "w", "checked", "a blunder would pass under"}}
	for _, r := range solved.Residuals {
		amount := func(v float64) string { return geo.FormatLength(v, u) }
		if r.Degrees {
			amount = func(v float64) string { return fmt.Sprintf("%.1f°", v) }
		}
		row := []string{r.Reading, r.What, amount(r.Observed), amount(r.Observed - r.Fitted), fmt.Sprintf("%.1f", r.Standardized),
			survey.Percent(r.Redundancy), amount(r.Detectable)}
		if math.IsInf(r.Detectable, 0) || r.Redundancy <= 0 {
			row[4], row[6] = "-", "any size: nothing checks this reading"
		}
		rows = append(rows, row)
	}
	table(w, rows)
}

// saySuspects prints what does not fit, and what must be known.
func saySuspects(w io.Writer, to finding.Reader, solved *fit.Fit) {
	if len(solved.Suspects) > 0 {
		fmt.Fprintf(w, "\nThese readings do not fit; measure again before you trust the answer:\n")
		for _, x := range solved.Suspects {
			list(w, []string{fmt.Sprintf("%s%s %s", x.Reading, what(solved, x.Reading), x.Blunder.Says(to))})
			fmt.Fprintf(w, "    %s\n", suspicion(x, to.Unit))
		}
		fmt.Fprintf(w, "  Until you void it or log it again, the answer allows for both: that it is right, and that it is wrong.\n")
	}
	if len(solved.Warnings) > 0 {
		fmt.Fprintf(w, "\nKnow this:\n")
		list(w, finding.Sentences(solved.Warnings, to))
	}
}

// suspicion says how likely a reading is to be wrong, what would have been
// right, and how it affects the answer.
func suspicion(x fit.Suspect, u geo.Unit) string {
	says := fmt.Sprintf("wrong with %s (w %.1f)", survey.Percent(x.Odds), x.Statistic)
	if x.Instead != "" {
		says += fmt.Sprintf("; %s would fit (%s of that)", x.Instead, survey.Percent(x.Cause))
	}
	if x.Sought != "" {
		says += fmt.Sprintf("; left out, the %s moves %s", x.Sought, geo.FormatLength(x.Moves, u))
	}
	return says
}

// what says what a reading is about, in brackets.
func what(solved *fit.Fit, reading string) string {
	for _, r := range solved.Residuals {
		if r.Reading == reading {
			return " (" + r.What + ")"
		}
	}
	return ""
}
