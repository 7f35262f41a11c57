package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// sayTree prints what to do after each thing that the next holes may meet, step
// by step: for a crew that takes paper and no phone.
func sayTree(w io.Writer, to finding.Reader, l *locate.Location, p *probe.Plan) {
	if p.Tree == nil {
		return
	}
	fmt.Fprintf(w, "\nAnd then, by what each hole meets (all of it on the cards of the dig plan):\n")
	steps := []*probe.Step{p.Tree}
	for i := 0; i < len(steps); i++ {
		for _, b := range steps[i].Branches {
			if b.Next != nil {
				steps = append(steps, b.Next)
			}
		}
	}
	var lists [][]finding.Finding
	for _, s := range steps {
		lists = append(lists, mind(&s.Hole))
	}
	common := finding.Shared(lists...)
	for _, s := range steps {
		sayStep(w, to, l, s, p.Seek, common)
	}
	if len(common) > 0 {
		fmt.Fprintln(w, "all of them:")
		sayMind(w, to, common)
	}
}

// sayStep prints one step: where it is dug, how deep, the cautions that not all
// steps have in common, and where each branch leads.
func sayStep(w io.Writer, to finding.Reader, l *locate.Location, s *probe.Step, seek string, common []finding.Finding) {
	u := l.Job.Settings.Unit
	h := &s.Hole
	where := taped(l, to, h.Ties[:min(2, len(h.Ties))], h.Side, false)
	if len(h.Ties) < 2 {
		where = "no two landmarks to tape from"
	}
	if h.Slot() {
		where = fmt.Sprintf("a slot %s long from there (%s) to %s", geo.FormatLength(h.To.Dist(h.At), u), where, taped(l, to, h.ToTies[:min(2, len(h.ToTies))], h.ToSide, false))
	}
	depth := "depth not known"
	if h.StopDepth > 0 {
		depth = fmt.Sprintf("expect %s, stop at %s", geo.FormatDepth(h.Depth.Mean, u), geo.FormatDepth(h.StopDepth, u))
	}
	fmt.Fprintf(w, "%-7s %s\n", s.Label, fold(where+"; "+depth, 70, "        "))
	sayMind(w, to, finding.Except(mind(h), slices.Concat(common, finding.With(h.Cautions, finding.SlotEnd))))
	for i := range s.Branches {
		b := &s.Branches[i]
		then := finding.Says(b.Then(), to)
		switch {
		case b.Next != nil:
			then = "go on to " + b.Next.Label + "."
		case b.Again():
			continue
		}
		met := b.Met.Finding(seek).Says(to)
		if len(b.Parts) > 0 && b.Met != probe.MetSought {
			met += ", maybe " + strings.Join(b.Parts[:min(3, len(b.Parts))], ", ")
		}
		fmt.Fprintf(w, "        - %s\n", fold(fmt.Sprintf("%s (%s): %s", met, survey.Percent(b.Chance), then), 68, "          "))
	}
	if rest, nothing := s.Replan(); rest > 0 {
		others := "Anything else"
		if nothing {
			others += ", or nothing"
		}
		fmt.Fprintf(w, "        - %s (%s): log it and make a new plan.\n", others, survey.Percent(rest))
	}
}
