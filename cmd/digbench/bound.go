package main

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/pipeline"
	"asfound/survey/posterior"
)

// cellSide is the side in metres of a cell of possible places of the box that
// one hole searches: a hole of 0.15 m radius meets a box of 0.6 m from anywhere
// within an area of B² + 4Br + πr² = 0.79 m².
const cellSide = 0.88

// cells returns the shares of places in cells of cellSide, the largest first,
// and the rank of the cell that v lies in, from 1; one more than there are
// cells where it lies in none.
func cells(places []geo.Vec, v geo.Vec) (shares []float64, rank int) {
	name := func(v geo.Vec) [2]int {
		return [2]int{int(math.Floor(v.X / cellSide)), int(math.Floor(v.Y / cellSide))}
	}
	count := map[[2]int]float64{}
	for _, w := range places {
		count[name(w)] += 1 / float64(len(places))
	}
	order := slices.SortedFunc(maps.Keys(count), func(a, b [2]int) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	rank = len(order) + 1
	for i, c := range order {
		shares = append(shares, count[c])
		if c == name(v) {
			rank = i + 1
		}
	}
	return shares, rank
}

// atLeast returns a lower bound on the mean number of holes of any plan on this
// belief, however it adapts: a hole has three answers besides the box, so at
// most 3^(n−1) of the branches of a plan end with the box at the n-th hole. It
// is loose: it assumes that every hole splits the belief in three.
func atLeast(shares []float64) (mean float64) {
	holes, room, left := 1.0, 1, 1
	for _, p := range shares {
		if left == 0 {
			holes++
			room *= 3
			left = room
		}
		left--
		mean += p * holes
	}
	return mean
}

// known is the site with both ends of every lateral exposed and taped, at no
// cost: what is left then is how badly the box was drawn among the laterals,
// which only a hole on the box itself shows.
func known(s *site) *survey.Job {
	job := *s.job
	job.Readings = append([]survey.Reading(nil), s.job.Readings...)
	r := rand.New(rand.NewPCG(s.seed, 6))
	for k, line := range s.lot.laterals {
		for i, v := range []geo.Vec{line[0], line[len(line)-1]} {
			name := fmt.Sprintf("P%d%c", k+1, 'a'+i)
			log(&job, survey.Reading{Kind: survey.Found, Point: name, Target: fmt.Sprintf("L%d", k+1), Spot: [2]asbuilt.Spot{asbuilt.Start, asbuilt.End}[i]})
			for c := range 3 {
				tape(r, &job, mark(c), name, s.lot.corners[c], v)
			}
		}
	}
	return &job
}

// bounds returns the least mean number of holes on the belief before the first
// hole, and in how many holes the box is met by searching the likeliest cells
// first once every lateral is known.
func bounds(s *site) (least float64, floor int, err error) {
	for i, job := range []*survey.Job{s.job, known(s)} {
		solved, err := fit.Solve(context.Background(), job)
		if err != nil {
			return 0, 0, err
		}
		post := posterior.Of(solved)
		draws, err := post.Draws(context.Background(), 4*pipeline.Ways)
		if err != nil {
			return 0, 0, err
		}
		box := draws.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
		shares, rank := cells(box, toFrame(s, solved, post)(s.lot.box))
		if i == 0 {
			least = atLeast(shares)
		}
		floor = min(rank, most)
	}
	return least, floor, nil
}

// toFrame returns the motion that brings the truth into the frame of a fit:
// the turn and shift that lay the landmarks best on those of the fit.
func toFrame(s *site, solved *fit.Fit, post *posterior.Posterior) func(geo.Vec) geo.Vec {
	var to [4]geo.Vec
	for i := range to {
		to[i], _ = post.Expected(asbuilt.SpotName{Part: mark(i), Spot: asbuilt.Center})
	}
	return geo.Rigid(s.lot.corners[:], to[:]).Move
}
