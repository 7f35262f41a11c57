package main

import (
	"fmt"
	"io"

	"asfound/survey"
	"asfound/survey/probe"
)

// usual are the cautions that stand under every answer about places.
func usual(j *survey.Job) []string {
	return []string{
		"A predicted position is no locate. Have utilities marked before any hole (in the US call 811); private lines, this system too, are usually not marked.",
		"Never enter a tank, box, pit or trench: septic air kills without warning.",
		fmt.Sprintf("Stay out of unprotected cuts. From %s deep the excavation rules ask for a way out.", geoDepth(j)),
		"Depths come from the record and the ground of today; treat each as able to be wrong.",
		"This is no boundary survey. Local code and licensed practice decide.",
	}
}

func sayCautions(w io.Writer, j *survey.Job) {
	fmt.Fprintf(w, "\nBefore anyone digs:\n")
	list(w, usual(j))
}

// sayPlanCautions prints the plan's own cautions, or the usual ones.
func sayPlanCautions(w io.Writer, j *survey.Job, p *probe.Plan) {
	if len(p.Cautions) == 0 {
		sayCautions(w, j)
		return
	}
	fmt.Fprintf(w, "\nBefore anyone digs:\n")
	list(w, p.Cautions)
}
