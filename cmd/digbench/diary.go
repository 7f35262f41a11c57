package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"

	"asfound/asbuilt"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/probe"
)

// diary records a dig, hole by hole: where the box is believed to be, where it
// truly is, and what the hole met.
type diary struct {
	site     *site
	game     *game
	lines    []string
	expected float64 // holes that the first plan expects
	steps    []promise
}

// keep returns a note that writes into the diary.
func (d *diary) keep(f *fitted, loc *locate.Location, draws *posterior.Draws, plan *probe.Plan) {
	d.finish()
	if chance, ok := promised(plan); ok {
		whole, err := probe.Options{Holes: 1}.Plan(context.Background(), loc, draws) // as a crew gets it
		s := promise{chance: chance, follow: plan.Follow != nil, dug: len(d.game.holes)}
		if err == nil {
			s.expected = whole.ExpectedHoles
		}
		if len(d.steps) == 0 {
			d.expected = s.expected
		}
		d.steps = append(d.steps, s)
	}
	box := draws.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
	truth := toFrame(d.site, loc.Fit, loc.Posterior)(d.site.lot.box)
	s := loc.Spot("box", asbuilt.Center)
	near, spread := 0.0, 0.0
	for _, v := range box {
		if v.Dist(truth) < 0.5 {
			near += 1 / float64(len(box))
		}
		spread += v.Sub(s.At).Dot(v.Sub(s.At)) / float64(len(box))
	}
	line := fmt.Sprintf("hole %3d: box believed %.1f m off, ±%.1f m (rms); %.1f %% of the draws within 0.5 m of it", len(d.game.holes)+1, s.At.Dist(truth), math.Sqrt(spread), 100*near)
	if loc.Fit.Doubtful != nil {
		line += "; DOUBTFUL"
	}
	if len(plan.Holes) > 0 {
		line += fmt.Sprintf("; dug %.1f m from it, chance %.0f %%", plan.Holes[0].At.Dist(truth), 100*plan.Holes[0].Chance)
	} else {
		line += "; no hole: " + strings.Join(finding.Sentences(plan.Remark, finding.English(loc.Job.Settings.Unit)), " ")
	}
	d.lines = append(d.lines, line)
}

// finish adds what the last hole met.
func (d *diary) finish() {
	n := len(d.game.holes)
	if n == 0 || len(d.lines) == 0 {
		return
	}
	if k := len(d.steps); k > 0 {
		d.steps[k-1].kept = d.game.found
	}
	a := d.game.holes[n-1]
	met := "nothing"
	switch a.met {
	case asbuilt.Box:
		met = "the box"
	case asbuilt.Lateral:
		met = fmt.Sprintf("lateral %d (%s)", a.part+1, a.spot)
	case asbuilt.Header:
		met = fmt.Sprintf("header %d", a.part)
	}
	d.lines[len(d.lines)-1] += ": met " + met
}

// write writes the dig down, only the first and last holes of a long one.
func (d *diary) write(w io.Writer) {
	n := len(d.lines)
	fmt.Fprintf(w, "lot %d, %s, %s: %d holes, found %v, %d laterals\n", d.site.seed, d.site.trust, d.site.mix, len(d.game.holes), d.game.found, len(d.site.lot.laterals))
	for i, l := range d.lines {
		if n > 30 && i == 20 {
			fmt.Fprintf(w, "  … %d holes …\n", n-30)
		}
		if n <= 30 || i < 20 || i >= n-10 {
			fmt.Fprintln(w, " ", l)
		}
	}
}
