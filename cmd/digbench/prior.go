package main

import (
	"context"
	"fmt"
	"io"
	"math"

	"asfound/asbuilt"
	"asfound/survey/fit"
	"asfound/survey/posterior"
)

// farther is how many times as far off the fields of a second set of lots are put,
// which no sheet admits.
const farther = 3

// priors writes, for every cell, how good the belief about the box is before the
// first hole: the mean logarithm of the density at the true place (larger is better),
// how often its 95 % region holds that, and how wide it is.
func priors(o options, w io.Writer) error {
	fmt.Fprintln(w, "| drawing, readings (lots) | log density of the true box | within its 95 % region | standard deviation, m | log density, fields three times as far off |")
	fmt.Fprintln(w, "|---|---|---|---|---|")
	for _, trust := range o.trusts {
		for _, m := range o.mixes {
			usual, err := scored(o, trust, m, 1)
			if err != nil {
				return err
			}
			far, err := scored(o, trust, m, farther)
			if err != nil {
				return err
			}
			fmt.Fprintf(w, "| %s, %s (%d) | %.3f | %.3f | %.2f | %.3f |\n", trust, m, o.lots, usual.density, usual.inside, usual.sigma, far.density)
		}
	}
	return nil
}

// score is the mean over lots of what priors writes.
type score struct{ density, inside, sigma float64 }

// scored scores the lots of a cell, the fields so many times as far off as usual.
func scored(o options, trust asbuilt.Trust, m mix, factor float64) (mean score, err error) {
	h := hands[trust]
	h.shift, h.drift, h.turn, h.size = factor*h.shift, factor*h.drift, factor*h.turn, factor*h.size
	for k := range o.lots {
		s := inventBy(o.first+uint64(k), trust, m, h)
		f, err := fit.Solve(context.Background(), s.job)
		if err != nil {
			return mean, err
		}
		p := posterior.Of(f)
		box, ok := p.Spot(asbuilt.SpotName{Part: "box", Spot: asbuilt.Center})
		if !ok {
			return mean, fmt.Errorf("lot %d has no box", s.seed)
		}
		truth := toFrame(s, f, p)(s.lot.box)
		n := float64(o.lots)
		density, _ := box.LogDensityFromLandmarks(truth)
		mean.density += density / n
		if box.ContentFromLandmarks(truth) <= 0.95 {
			mean.inside += 1 / n
		}
		mean.sigma += math.Sqrt((box.Relative.XX+box.Relative.YY)/2) / n
	}
	return mean, nil
}
