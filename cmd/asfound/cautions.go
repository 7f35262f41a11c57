package main

import (
	"fmt"
	"io"

	"asfound/asbuilt/practice"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/probe"
)

// sayCautions prints the cautions under every answer about places.
func sayCautions(w io.Writer, to finding.Reader, j *survey.Job) {
	saySafety(w, to, practice.Safety(j.Settings.EntryDepth))
}

// sayPlanCautions prints the plan's own cautions, or the usual ones.
func sayPlanCautions(w io.Writer, to finding.Reader, j *survey.Job, p *probe.Plan) {
	if len(p.Cautions) == 0 {
		sayCautions(w, to, j)
		return
	}
	saySafety(w, to, p.Cautions)
}

func saySafety(w io.Writer, to finding.Reader, all []finding.Finding) {
	fmt.Fprintf(w, "\nBefore anyone digs:\n")
	list(w, finding.Sentences(all, to))
}

// sayMind prints what to watch for at a hole, a line each.
func sayMind(w io.Writer, to finding.Reader, all []finding.Finding) {
	for _, says := range finding.Sentences(all, to) {
		fmt.Fprintf(w, "        ! %s\n", fold(says, 68, "          "))
	}
}
