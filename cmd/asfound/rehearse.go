package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/plot"
	"asfound/survey/rehearse"
)

func (s *session) rehearse() *cli.Command {
	formats := []string{"text", "json"}
	return &cli.Command{
		Name:      "rehearse",
		Usage:     "simulate the dig on what is believed, and say how many holes to expect",
		UsageText: "asfound rehearse [flags] JOB",
		Description: `Plays the dig --plays times. Each time one of the ways in which everything may
lie is taken as the truth, and holes are dug by the plan until what is sought
is met. Prints how many holes and minutes that takes, and what a further
reading would buy: a tape, satellite fixes, a level, a hole. The same job gives
the same answer. The plays assume that the belief is right: a wrong landmark or
a sketch of something else is not taken into account. Writes rehearsal.svg and
rehearsal.pdf to the folder --out; with another format than text only where
--out is given.

  asfound rehearse lot7
  asfound rehearse lot7 --seek L3.end
  asfound rehearse lot7 --format json | jq .holes`,
		Flags: []cli.Flag{formatFlag(formats...), seekFlag(), unitFlag(), languageFlag(),
			&cli.IntFlag{Name: "plays", Value: 1000, Usage: "how often to play, 1 to 100000"}, outFlag()},
		Action: func(c *cli.Context) error {
			plays := c.Int("plays")
			if plays < 1 || plays > 100000 {
				return &usageError{fmt.Sprintf("--plays %d; want 1 to 100000", plays), ""}
			}
			return s.asking(formats, func(ctx context.Context, q *question) error { return q.rehearse(ctx, plays) })(c)
		},
	}
}

// rehearse fills in the answer of rehearse.
func (q *question) rehearse(ctx context.Context, plays int) error {
	w, to, loc := &q.answer.text, q.to, q.location
	plan, err := planHoles(ctx, loc, q.progress)
	if err != nil {
		return err
	}
	q.progress.step("rehearsing the dig")
	r, err := pipeline.Rehearse(ctx, loc, plan, rehearse.Options{Plays: plays, Progress: q.progress.share})
	if err != nil {
		return err
	}
	if q.answer.files != nil {
		addRehearsal(q.answer.files, loc, r)
	}
	if q.format == "json" {
		return export.RehearsalJSON(w, loc, r, to.Language)
	}
	sayRehearsal(w, to, loc, r)
	sayPlanCautions(w, to, loc.Job, plan)
	return nil
}

// addRehearsal adds the files that rehearse writes.
func addRehearsal(o *outbox, l *locate.Location, r *rehearse.Rehearsal) {
	d, err := plot.Rehearsal(l, r, plot.MapOptions{Date: time.Now()})
	if err != nil {
		o.fail("rehearsal", err)
		return
	}
	o.add("rehearsal.svg", d.Pages[0].WriteSVG)
	o.add("rehearsal.pdf", d.WritePDF)
}

// sayRehearsal prints what to expect of a dig.
func sayRehearsal(w io.Writer, to finding.Reader, l *locate.Location, r *rehearse.Rehearsal) {
	fmt.Fprintf(w, "%s\n\n", heading(l.Job))
	if r.Plays == 0 {
		fmt.Fprintln(w, fold(strings.Join(finding.Sentences(r.Remark, to), " "), 78, ""))
		return
	}
	fmt.Fprintf(w, "To meet %s, in %s on what is believed now:\n\n", r.Seek, count(r.Plays, "play", "plays"))
	table(w, [][]string{
		{"", "half within", "mean", "nine in ten within"},
		{"holes", fmt.Sprintf("%.0f", r.Holes.Median), fmt.Sprintf("%.1f", r.Holes.Mean), fmt.Sprintf("%.0f", r.Holes.P90)},
		{"minutes of digging", fmt.Sprintf("%.0f", r.Minutes.Median), fmt.Sprintf("%.0f", r.Minutes.Mean), fmt.Sprintf("%.0f", r.Minutes.P90)},
	})
	fmt.Fprintln(w)
	sayCount(w, r)
	if r.Found < 1 {
		fmt.Fprintf(w, "Not met within %d holes: %s of the plays.\n", rehearse.Most, survey.Percent(1-r.Found))
	}
	u := l.Job.Settings.Unit
	rows := [][]string{{"within, 95 %", "holes to go", "depth, 95 %", "with a further reading"}}
	for _, o := range r.Offers {
		rows = append(rows, []string{
			geo.FormatLength(o.Radius.Before, u) + " → " + geo.FormatLength(o.Radius.After, u),
			fmt.Sprintf("%.1f → %.1f", o.Holes.Before, o.Holes.After),
			"± " + geo.FormatDepth(geo.Between95*o.Depth.Before, u) + " → " + geo.FormatDepth(geo.Between95*o.Depth.After, u),
			o.What})
	}
	if len(r.Offers) > 0 {
		fmt.Fprintln(w)
		table(w, rows)
		fmt.Fprintln(w, fold("The hole of a reading counts among the holes to go. Each figure is a mean over what the reading may say; a tenth of a hole means nothing.", 78, ""))
	}
}

// sayCount draws how many plays ended with which hole, as far as there are
// many.
func sayCount(w io.Writer, r *rehearse.Rehearsal) {
	const most, width = 15, 40
	top := 1
	for _, n := range r.Count {
		top = max(top, n)
	}
	later := 0
	for k, n := range r.Count {
		if k >= most {
			later += n
			continue
		}
		fmt.Fprintf(w, "%4d  %s %s\n", k+1, strings.Repeat("#", (n*width+top-1)/top), survey.Percent(float64(n)/float64(r.Plays)))
	}
	if later > 0 {
		fmt.Fprintf(w, "later %s %s\n", strings.Repeat("#", (later*width+top-1)/top), survey.Percent(float64(later)/float64(r.Plays)))
	}
}
