package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/setout"
)

func (s *session) digplan() *cli.Command {
	formats := []string{"text", "json", "geojson", "csv"}
	return &cli.Command{
		Name:      "digplan",
		Usage:     "say which hole to dig next, and which after that if it is empty",
		UsageText: "asfound digplan [flags] JOB",
		Description: `Prints the next hole: its tapes from landmarks, how likely it meets what is
sought, how deep to expect it, and the depth at which to call the hole empty.
The holes after it are for the case that those before them came up empty. Log
each hole and plan again: the plan improves with every hole. No hole is proposed
within the clearance of a utility or a no-dig area of the sketch; what is not on
the sketch is not known. Writes digplan.pdf, plan.geojson and holes.csv to the
folder --out; with another format than text only where --out is given.

  asfound digplan lot7
  asfound digplan lot7 --seek tank
  asfound digplan lot7 --format json`,
		Flags: []cli.Flag{formatFlag(formats...), seekFlag(), unitFlag(), languageFlag(), outFlag()},
		Action: s.asking(formats, func(ctx context.Context, q *question) error {
			w, to, loc := &q.answer.text, q.to, q.location
			plan, err := planHoles(ctx, loc, q.progress)
			if err != nil {
				return err
			}
			q.progress.step("drawing")
			if q.answer.files != nil {
				addPlan(q.answer.files, to, loc, plan)
			}
			switch q.format {
			case "json":
				return export.DigplanJSON(w, loc, plan, to.Language)
			case "geojson":
				return export.PlanGeoJSON(w, loc, plan)
			case "csv":
				return export.HolesCSV(w, loc, plan)
			}
			sayPlan(w, to, loc, plan)
			return nil
		}),
	}
}

// sayPlan prints where to dig, for a crew lead.
func sayPlan(w io.Writer, to finding.Reader, l *locate.Location, p *probe.Plan) {
	fmt.Fprintf(w, "%s\n\n", heading(l.Job))
	sayHoles(w, to, l, p, len(p.Holes))
	sayTree(w, to, l, p)
	saySuspects(w, to, l.Fit)
	sayDepthSuspects(w, to, l)
	sayPlanCautions(w, to, l.Job, p)
}

// sayHoles prints the holes alone, no more than most of them.
func sayHoles(w io.Writer, to finding.Reader, l *locate.Location, p *probe.Plan, most int) {
	switch {
	case len(p.Holes) == 0:
		fmt.Fprintf(w, "No hole is proposed for %s.\n", p.Seek)
	case p.Follow != nil:
		fmt.Fprintf(w, "To meet %s: %s if the %s is followed first; expect %.1f holes in all.\n\n", p.Seek, survey.Percent(p.Follow.Chance), p.Follow.Line(), p.ExpectedHoles)
	case p.Push != nil:
		fmt.Fprintf(w, "To meet %s: %s that a %s from the %s gets there; expect %.1f holes in all.\n\n", p.Seek, survey.Percent(p.Push.Chance), p.Push.What(), p.Push.From, p.ExpectedHoles)
	case p.ExpectedHoles > float64(len(p.Holes)):
		fmt.Fprintf(w, "To meet %s: %s with the next hole; these holes may not do.\n\n", p.Seek, survey.Percent(p.ChanceNext))
	default:
		fmt.Fprintf(w, "To meet %s: %s with the next hole; expect %.1f holes in all.\n\n", p.Seek, survey.Percent(p.ChanceNext), p.ExpectedHoles)
	}
	common := shared(p.Holes)
	if p.Follow != nil {
		fmt.Fprintln(w, fold(p.Follow.Finding().Says(to), 78, ""))
		sayMind(w, to, finding.Except(p.Follow.Cautions, common))
		fmt.Fprintln(w)
	}
	if p.Push != nil {
		fmt.Fprintln(w, fold(p.Push.Finding().Says(to), 78, ""))
		sayMind(w, to, finding.Except(p.Push.Cautions, common))
		fmt.Fprintln(w)
	}
	if p.Rod != nil {
		fmt.Fprintln(w, fold(p.Rod.Finding().Says(to), 78, ""))
		sayMind(w, to, finding.Except(p.Rod.Cautions, common))
		fmt.Fprintln(w)
	}
	for i, h := range p.Holes {
		if i == most {
			fmt.Fprintf(w, "and %d more, on the dig plan\n", len(p.Holes)-most)
			break
		}
		sayHole(w, to, l, h, common)
	}
	if len(common) > 0 && len(p.Holes) > 1 {
		fmt.Fprintln(w, "all of them:")
	}
	sayMind(w, to, common)
	if len(p.Remark) > 0 {
		fmt.Fprintln(w, fold(strings.Join(finding.Sentences(p.Remark, to), " "), 78, ""))
	}
}

// shared returns the cautions that every hole has.
func shared(holes []probe.Proposal) []finding.Finding {
	var lists [][]finding.Finding
	for i := range holes {
		lists = append(lists, mind(&holes[i]))
	}
	return finding.Shared(lists...)
}

// sayHole prints one hole, without the cautions that all have in common.
// Landmarks are described with the next hole only.
func sayHole(w io.Writer, to finding.Reader, l *locate.Location, h probe.Proposal, common []finding.Finding) {
	u := l.Job.Settings.Unit
	name := "NEXT   "
	if h.Rank > 1 {
		name = fmt.Sprintf("then %-2d", h.Rank)
	}
	fmt.Fprintf(w, "%s %s\n", name, fold(taped(l, to, h.Ties, h.Side, h.Rank == 1), 70, "        "))
	chance := "chance " + survey.Percent(h.Chance)
	if h.Chance < 0.01 {
		chance = "dug for information"
	}
	if f, ok := h.MayMeet(); ok {
		chance += "; " + f.Says(to)
	}
	fmt.Fprintf(w, "        %s\n", chance)
	fmt.Fprintf(w, "        expect it %s deep%s; call it empty at %s\n",
		geo.FormatDepth(h.Depth.Mean, u), h.Depth.Off(u, ", give or take "), geo.FormatDepth(h.StopDepth, u))
	sayMind(w, to, finding.Except(mind(&h), common))
}

// mind returns the cautions of a hole except its side, which is printed with
// the tapes.
func mind(h *probe.Proposal) []finding.Finding {
	return finding.Without(h.Cautions, finding.OnSide)
}

// taped says which tapes set out a place, and on which side it lies.
func taped(l *locate.Location, to finding.Reader, ties []probe.SetOut, side setout.Side, named bool) string {
	var all []string
	for _, t := range ties {
		from := t.From
		if named {
			from = landmarkName(l.Job.Sketch, t.From)
		}
		all = append(all, geo.FormatLength(t.Distance, l.Job.Settings.Unit)+" from "+from)
	}
	where := and(all)
	if side.Known() {
		where += "; " + side.Says(finding.English(geo.Metre))
	}
	return where
}
