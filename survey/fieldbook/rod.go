package fieldbook

import (
	"strconv"

	"asfound/survey"
)

// mostStabs is how many stabs one row may have: more than that on one line is a
// typing error. Judgement.
const mostStabs = 100

// stabs reads how many stabs a row of a rod has along a line, and checks that it has
// either a line or one point.
func (d *row) stabs(r *survey.Reading) {
	if r.Point != "" {
		for _, c := range []string{"from", "to", "value"} {
			if d.get(c) != "" {
				d.addf(c, show(d.get(c)), "nothing here: a rod has one stab at point, or value stabs along the line from, to")
			}
		}
		return
	}
	if r.From == "" && r.To == "" {
		d.addf("point", "nothing", "the point of a single stab, or from, to and value of a line of stabs")
		return
	}
	for _, c := range []string{"from", "to"} {
		if d.get(c) == "" {
			d.addf(c, "nothing", "both ends of a line of stabs, from and to")
		}
	}
	n, err := strconv.Atoi(d.get("value"))
	if err != nil || n < 2 || n > mostStabs {
		found := "nothing"
		if s := d.get("value"); s != "" {
			found = show(s)
		}
		d.addf("value", found, "how many stabs there are along the line, its ends included: 2 to %d", mostStabs)
		return
	}
	r.Stabs = n
}
