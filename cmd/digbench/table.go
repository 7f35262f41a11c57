package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"asfound/asbuilt"
)

// tally is how many holes a player dug on the lots of a cell, most where the
// box was not found.
type tally struct {
	holes   []int
	minutes []float64 // of the digs that count them
	found   int
}

func (t *tally) add(holes int, found bool, minutes float64) {
	if minutes > 0 {
		t.minutes = append(t.minutes, minutes)
	}
	if !found {
		holes = most
	} else {
		t.found++
	}
	t.holes = append(t.holes, holes)
}

// at returns the quantile q of the holes: the least number within which that
// share of the digs ended.
func (t *tally) at(q float64) int {
	h := slices.Sorted(slices.Values(t.holes))
	return h[min(len(h)-1, int(q*float64(len(h))))]
}

func (t *tally) mean() (m float64) {
	for _, h := range t.holes {
		m += float64(h) / float64(len(t.holes))
	}
	return m
}

func (t *tally) String() string {
	if len(t.holes) == 0 {
		return "–"
	}
	s := fmt.Sprintf("%d / %.1f / %d", t.at(0.5), t.mean(), t.at(0.9))
	if t.found < len(t.holes) {
		s += fmt.Sprintf(" (%.0f %%)", 100*float64(t.found)/float64(len(t.holes)))
	}
	if n := len(t.minutes); n > 0 {
		sum := 0.0
		for _, m := range t.minutes {
			sum += m
		}
		s += fmt.Sprintf("; %.0f / %.0f min", sum/float64(n), slices.Sorted(slices.Values(t.minutes))[min(n-1, 9*n/10)])
	}
	return s
}

// cell is one drawing quality and one mix of readings.
type cell struct {
	trust    asbuilt.Trust
	mix      mix
	lots     int
	tally    map[string]*tally
	least    float64 // mean over the lots
	expected float64 // the same
	worst    []*diary
	said     promises
	failed   []error
}

// head begins a Markdown table of median, mean and 90th percentile of the
// holes, the share of lots on which the box was found where that is not all of
// them, and mean and 90th percentile of the minutes.
func head(w io.Writer, players []string) {
	fmt.Fprintf(w, "| drawing, readings (lots) | %s |\n", strings.Join(players, " | "))
	fmt.Fprintf(w, "|---|%s\n", strings.Repeat("---|", len(players)))
}

// row writes a cell as a row of it.
func (c *cell) row(w io.Writer, players []string) {
	fmt.Fprintf(w, "| %s, %s (%d) |", c.trust, c.mix, c.lots)
	for _, p := range players {
		switch t := c.tally[p]; {
		case p == least:
			fmt.Fprintf(w, " %.1f |", c.least)
		case p == expected:
			fmt.Fprintf(w, " %.1f |", c.expected)
		case t == nil:
			fmt.Fprint(w, " – |")
		default:
			fmt.Fprintf(w, " %s |", t)
		}
	}
	fmt.Fprintln(w)
}

// ratios writes what the targets are in: the planner's median and 90th
// percentile over those of the plain fit with spiral, and its mean over that
// of greedy.
func ratios(w io.Writer, cells []*cell) {
	fmt.Fprintf(w, "| drawing, readings | median / spiral | 90th percentile / spiral | mean / greedy |\n|---|---|---|---|\n")
	for _, c := range cells {
		p, s, g := c.tally["planner"], c.tally["spiral"], c.tally["greedy"]
		if p == nil {
			continue
		}
		fmt.Fprintf(w, "| %s, %s |", c.trust, c.mix)
		if s != nil {
			fmt.Fprintf(w, " %.2f | %.2f |", float64(p.at(0.5))/float64(s.at(0.5)), float64(p.at(0.9))/float64(s.at(0.9)))
		} else {
			fmt.Fprint(w, " – | – |")
		}
		if g != nil {
			fmt.Fprintf(w, " %.2f |\n", p.mean()/g.mean())
		} else {
			fmt.Fprintln(w, " – |")
		}
	}
}
