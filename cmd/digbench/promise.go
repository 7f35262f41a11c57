package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

	"asfound/survey/probe"
)

// promise is what a plan said of its next step, and what came of it.
type promise struct {
	chance   float64 // that the step exposes the box, as it said
	kept     bool    // it did
	follow   bool    // it follows a line
	expected float64 // holes from then on, as it said; 0: it did not
	dug      int     // holes before it
}

// promised returns what a plan says of its next step: the line that is followed
// first, else its hole. ok is false where it has none.
func promised(p *probe.Plan) (chance float64, ok bool) {
	switch {
	case p.Follow != nil:
		return p.Follow.Chance, true
	case len(p.Holes) > 0:
		return p.Holes[0].Chance, true
	}
	return 0, false
}

// promises is what the plans of a cell said, and what came of it.
type promises struct {
	steps      []promise
	first, all bias
}

// bias is how many holes plans said, and how many the digs took.
type bias struct {
	said, took float64
	n          int
}

func (b *bias) add(said float64, took int) {
	b.said, b.took, b.n = b.said+said, b.took+float64(took), b.n+1
}

// says returns the mean of what was said and of what was taken.
func (b *bias) says() string {
	if b.n == 0 {
		return "–"
	}
	return fmt.Sprintf("%.1f / %.1f", b.said/float64(b.n), b.took/float64(b.n))
}

// add takes in a dig of so many holes.
func (p *promises) add(steps []promise, holes int) {
	for i, s := range steps {
		p.steps = append(p.steps, s)
		if s.expected > 0 {
			p.all.add(s.expected, holes-s.dug)
			if i == 0 {
				p.first.add(s.expected, holes)
			}
		}
	}
}

// bins is in how many groups of the same number of steps the chances are compared.
const bins = 5

// row writes, as a row of a Markdown table, the mean chance that was said in each
// bin, the share of the steps that kept it and its standard error; the Brier score
// (Brier, Monthly Weather Review 78, 1950: the mean square of chance less outcome,
// less is better) beside that of one constant chance for all; and the holes.
func (p *promises) row(w io.Writer, name string) {
	if len(p.steps) == 0 {
		return
	}
	fmt.Fprintf(w, "| %s (%d) |", name, len(p.steps))
	all := slices.SortedStableFunc(slices.Values(p.steps), func(a, b promise) int { return cmp.Compare(a.chance, b.chance) })
	for b := range bins {
		said, met := 0.0, 0.0
		some := all[len(all)*b/bins : len(all)*(b+1)/bins]
		n := max(1, float64(len(some)))
		for _, s := range some {
			said += s.chance / n
			met += outcomeOf(s) / n
		}
		fmt.Fprintf(w, " %.2f / %.2f ± %.2f |", said, met, math.Sqrt(max(met*(1-met), 1/(4*n))/n))
	}
	brier, constant := p.brier()
	fmt.Fprintf(w, " %.3f / %.3f | %s | %s |\n", brier, constant, p.first.says(), p.all.says())
}

func outcomeOf(s promise) float64 {
	if s.kept {
		return 1
	}
	return 0
}

// brier returns the Brier score of the chances that were said, and that of their
// outcomes' own mean said every time.
func (p *promises) brier() (said, constant float64) {
	n, mean := float64(len(p.steps)), 0.0
	for _, s := range p.steps {
		mean += outcomeOf(s) / n
		said += (s.chance - outcomeOf(s)) * (s.chance - outcomeOf(s)) / n
	}
	return said, mean * (1 - mean)
}

// truths writes the table of what plans said.
func truths(w io.Writer, cells []*cell) {
	fmt.Fprint(w, "Chance that the next step exposes the box, said / met ± standard error, in fifths of the steps; Brier score / of a constant; holes said / taken, at the start and after each hole.\n\n")
	fmt.Fprint(w, "| drawing, readings (steps) | least likely | | | | likeliest | Brier | at the start | at every step |\n|---|---|---|---|---|---|---|---|---|\n")
	for _, c := range cells {
		name := fmt.Sprintf("%s, %s", c.trust, c.mix)
		c.said.row(w, name)
		c.said.only(false).row(w, name+": holes")
		c.said.only(true).row(w, name+": lines followed")
	}
}

// only returns the steps that follow a line, or those that dig.
func (p *promises) only(follow bool) *promises {
	return &promises{steps: slices.DeleteFunc(slices.Clone(p.steps), func(s promise) bool { return s.follow != follow })}
}
