package learn

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/fit"
)

// The standard deviations of the logarithm of a factor: of all sheets of a trust
// about the usual, and of a drafter's or a decade's about those. Judgement.
const (
	trustSpread = 0.4
	groupSpread = 0.3
)

// fewest is how many jobs a group must have to be used. Judgement: fewer cannot be
// cross-validated.
const fewest = 3

// Case is what one finished job says of its sheet.
type Case struct {
	Trust      asbuilt.Trust
	By, Decade string // of its sheet; empty: not said
	evidence   axes   // logarithm
}

// NewCase fits a job under every factor of the grid. It is an error where the job
// cannot be fitted, ErrKnown where its sketch is not a sheet, and that of ctx where it
// is done.
func NewCase(ctx context.Context, job *survey.Job) (*Case, error) {
	if job.Sketch.Known != nil {
		return nil, ErrKnown
	}
	c := &Case{Trust: job.Sketch.Trust, By: strings.Join(strings.Fields(job.Sketch.By), " "), Decade: job.Sketch.Decade()}
	for cell := range c.evidence {
		sketch, j := *job.Sketch, *job
		sketch.Learned = &asbuilt.Learned{Factors: factorsAt(cell)}
		j.Sketch = &sketch
		f, err := fit.Solve(ctx, &j)
		if err != nil {
			return nil, err
		}
		c.evidence[cell] = f.LogEvidence()
	}
	return c, nil
}

// Drafting returns what cases say of how far sheets err: of each trust, and of each
// drafter and decade within it. Where ctx is done it stops with its error.
func Drafting(ctx context.Context, cases []*Case) (*survey.Drafting, error) {
	d := &survey.Drafting{}
	for _, trust := range []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale} {
		all := slices.DeleteFunc(slices.Clone(cases), func(c *Case) bool { return c.Trust != trust })
		if len(all) < fewest {
			continue
		}
		d.Groups = append(d.Groups, survey.DraftingGroup{Trust: trust, Gain: gain(ctx, all, all), Learned: asbuilt.Learned{Factors: ofTrust(all), Jobs: len(all)}})
		for _, like := range groups(all) {
			g := survey.DraftingGroup{Trust: trust, Gain: gain(ctx, all, like.cases), Learned: asbuilt.Learned{Factors: ofGroup(all, like.cases), Jobs: len(like.cases), By: like.by, Decade: like.decade}}
			d.Groups = append(d.Groups, g)
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	return d, nil
}

// group is the cases of one drafter or decade.
type group struct {
	by, decade string
	cases      []*Case
}

// groups returns the drafters and the decades with enough cases, in order; where all
// cases are of one, it is no group of its own.
func groups(all []*Case) (list []group) {
	gather := func(key func(*Case) (name string, g group)) {
		byKey := map[string]*group{}
		for _, c := range all {
			name, g := key(c)
			if name == "" {
				continue
			}
			if byKey[name] == nil {
				byKey[name] = &g
			}
			byKey[name].cases = append(byKey[name].cases, c)
		}
		for _, g := range byKey {
			if len(g.cases) >= fewest && len(g.cases) < len(all) {
				list = append(list, *g)
			}
		}
	}
	gather(func(c *Case) (string, group) { return strings.ToLower(c.By), group{by: c.By} })
	gather(func(c *Case) (string, group) { return c.Decade, group{decade: c.Decade} })
	slices.SortFunc(list, func(a, b group) int {
		return cmp.Or(cmp.Compare(a.decade, b.decade), cmp.Compare(strings.ToLower(a.by), strings.ToLower(b.by)))
	})
	return list
}

// ofTrust returns the factors of all cases of a trust.
func ofTrust(cases []*Case) asbuilt.Factors {
	return weigh(cases, asbuilt.Factors{Scale: 1, Field: 1, Detail: 1}, trustSpread)
}

// ofGroup returns the factors of some of the cases of a trust.
func ofGroup(all, some []*Case) asbuilt.Factors { return weigh(some, ofTrust(all), groupSpread) }

// gain returns the logarithm of how much likelier the readings of each of some cases
// are by what the other cases say than without that, summed: for all cases of a trust
// without it is the usual, for a group it is what all other cases of the trust say. Its
// own standard error is taken off, so that luck alone is not used (the one standard
// error rule; Hastie, Tibshirani & Friedman, The Elements of Statistical Learning,
// section 7.10). It is worth nothing where ctx is done.
func gain(ctx context.Context, all, some []*Case) float64 {
	sum, square, n := 0.0, 0.0, float64(len(some))
	without := func(list []*Case, c *Case) []*Case {
		return slices.DeleteFunc(slices.Clone(list), func(o *Case) bool { return o == c })
	}
	for _, c := range some {
		if ctx.Err() != nil {
			return 0
		}
		base, learned := asbuilt.Factors{Scale: 1, Field: 1, Detail: 1}, asbuilt.Factors{}
		others := without(all, c)
		if len(some) == len(all) {
			learned = ofTrust(others)
		} else {
			base, learned = ofTrust(others), ofGroup(others, without(some, c))
		}
		one := c.evidence.between(learned) - c.evidence.between(base)
		sum, square = sum+one, square+one*one
	}
	return sum - math.Sqrt(max(0, square-sum*sum/n)*n/max(1, n-1))
}

// weigh returns the root mean square of each factor by cases and a prior about a
// centre. The prior is lognormal with the mean square of the centre, on the grid too.
func weigh(cases []*Case, centre asbuilt.Factors, spread float64) asbuilt.Factors {
	var none, all axes
	for _, c := range cases {
		for cell, v := range c.evidence {
			all[cell] += v
		}
	}
	was, is := meanSquares(&none, centre, spread), meanSquares(&all, centre, spread)
	return asbuilt.Factors{
		Scale:  centre.Scale * math.Sqrt(is[0]/was[0]),
		Field:  centre.Field * math.Sqrt(is[1]/was[1]),
		Detail: centre.Detail * math.Sqrt(is[2]/was[2]),
	}
}

// meanSquares returns the mean square of each factor by the logarithm of how likely
// the readings are, and a prior.
func meanSquares(likely *axes, centre asbuilt.Factors, spread float64) (mean [3]float64) {
	middle := logs(centre)
	top, sum := slices.Max(likely[:]), 0.0
	likely.finely(func(u [3]float64, v float64) {
		for i := range u {
			z := (logAt(u[i]) - middle[i] + spread*spread) / spread
			v -= z * z / 2
		}
		w := math.Exp(v - top)
		sum += w
		for i := range u {
			mean[i] += w * math.Exp(2*logAt(u[i]))
		}
	})
	for i := range mean {
		mean[i] /= sum
	}
	return mean
}
