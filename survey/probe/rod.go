package probe

import (
	"cmp"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/encounter"
	"asfound/survey/finding"
	"asfound/survey/playout"
	"asfound/survey/setout"
)

// Rod is a grid of stabs of a probe rod, to be made before the next hole.
type Rod struct {
	Seek    string
	From    geo.Vec // where the base line begins, field frame: the first stab
	To      geo.Vec // where it ends
	Lines   int     // parallel to the base line, that one included; the others lie to the right of it
	Each    int     // stabs in each line, its ends included
	Step    float64 // metres from stab to stab, and from line to line
	Depth   float64 // metres: the rod goes no deeper
	Chance  float64 // that one of them feels what is sought
	Minutes float64 // that it is expected to take

	takes float64 // minutes that are then to be expected in all

	Ties, ToTies []SetOut // of both ends of the base line
	Side, ToSide setout.Side
	Cautions     []finding.Finding
}

// Stabs returns the places of the stabs in the order in which they are made: along
// the base line, then along each line to the right of it, all the same way.
func (r *Rod) Stabs() (at []geo.Vec) {
	along := r.To.Sub(r.From).Unit()
	for line := range r.Lines {
		for k := range r.Each {
			at = append(at, r.From.Add(along.Scale(r.Step*float64(k))).Add(along.Right().Scale(r.Step*float64(line))))
		}
	}
	return at
}

// Finding says how to make the stabs.
func (r *Rod) Finding() finding.Finding {
	if r.Lines == 1 {
		return finding.RodRow.New(finding.Number("stabs", float64(r.Each)), finding.Number("step", r.Step), finding.Number("depth", r.Depth),
			finding.Number("minutes", r.Minutes), finding.Number("chance", r.Chance), finding.Parts(r.Seek))
	}
	return finding.RodGrid.New(finding.Number("lines", float64(r.Lines)), finding.Number("each", float64(r.Each)), finding.Number("step", r.Step), finding.Number("depth", r.Depth),
		finding.Number("minutes", r.Minutes), finding.Number("chance", r.Chance), finding.Parts(r.Seek))
}

// rodGrids are the grids that are tried: lines, stabs in each, and the step. A box
// cannot lie between the stabs of a grid whose step is less than its side over the root
// of two, nor a trench between those of a line across it whose step is less than its
// width. Judgement: what slips through is then less than what a rod misses.
var rodGrids = [...]struct {
	lines, each int
	step        float64 // metres
}{{1, 10, 0.4}, {3, 5, 0.4}, {4, 5, 0.4}, {1, 6, 0.75}, {1, 10, 0.75}}

const (
	usualRod  = 1.0 // metres that a rod is pushed down where no depth is known
	rodDraws  = 160 // on which grids are compared
	rodPlaces = 8   // of what is sought about which they are laid
	rodFinals = 5   // that are judged on more draws
	rodTruths = 80  // draws that serve as truths
	rodLess   = 0.9 // of the minutes without: what stabs have to promise, since both are estimates
)

// rod returns the grid of stabs that leaves the least expected minutes, where that is
// less than a hole leaves; nil where none does, or the crew has no rod.
func (b *belief) rod(instead choice) *Rod {
	if _, ok := playout.Goal(b.Site, 0); !ok || b.Rod == nil || b.Objects[0].Spot != "" {
		return nil
	}
	type grid struct {
		Rod
		stabs encounter.Stabs
		score float64
	}
	without := min(instead.score, instead.plain)
	var all []grid
	coarse := b.support(max(1, len(b.all)/rodDraws))
	for _, r := range b.rodTries() {
		if b.stopped() {
			return nil
		}
		if stabs, ok := b.stabs(&r); ok {
			all = append(all, grid{r, stabs, b.judgeRod(&stabs, coarse, 0, rodTruths, without)})
		}
	}
	slices.SortFunc(all, func(x, y grid) int {
		return cmp.Or(cmp.Compare(x.score, y.score), cmp.Compare(x.From.X, y.From.X), cmp.Compare(x.From.Y, y.From.Y), cmp.Compare(x.To.X, y.To.X), cmp.Compare(x.To.Y, y.To.Y), cmp.Compare(x.Lines, y.Lines))
	})
	all = all[:min(rodFinals, len(all))]
	fine := b.support(max(1, len(b.all)/few))
	for i := range all {
		if b.stopped() {
			return nil
		}
		all[i].score = b.judgeRod(&all[i].stabs, fine, 0, rodTruths, without)
	}
	if len(all) == 0 {
		return nil
	}
	// Of many the best is too good to be true: it is judged once more by other truths.
	slices.SortStableFunc(all, func(x, y grid) int { return cmp.Compare(x.score, y.score) })
	if all[0].score >= without {
		return nil
	}
	score := b.judgeRod(&all[0].stabs, fine, 1, 2*rodTruths, without)
	if score >= rodLess*without {
		return nil
	}
	best := &all[0]
	best.takes = score
	best.Minutes = best.stabs.Minutes()
	sum := 0.0
	for _, i := range fine {
		sum += b.weight[i]
		best.Chance += b.weight[i] * b.Over(int(i), &best.stabs)
	}
	best.Chance /= sum
	b.setOutRod(&best.Rod)
	return &best.Rod
}

// rodTries returns grids about the places where what is sought most likely is, along
// and across the trenches.
func (b *belief) rodTries() (all []Rod) {
	var places []geo.Vec
	b.likely(rodPlaces, func(v geo.Vec) { places = append(places, v) })
	for k, i := range b.sample(rodPlaces) {
		v, ok := playout.Goal(b.Site, i)
		if along := b.trenches(i); ok && v.Finite() && along != (geo.Vec{}) {
			at := []geo.Vec{v}
			if k < len(places) {
				at = append(at, places[k])
			}
			for _, v := range at {
				for _, u := range []geo.Vec{along, along.Right()} {
					for _, g := range rodGrids {
						half := u.Scale(g.step * float64(g.each-1) / 2)
						mid := v.Sub(u.Right().Scale(g.step * float64(g.lines-1) / 2))
						from := round(mid.Sub(half))
						all = append(all, Rod{Seek: b.seek, From: from, To: from.Add(half.Scale(2)), Lines: g.lines, Each: g.each, Step: g.step})
					}
				}
			}
		}
	}
	return all
}

// trenches returns the unit vector along the trenches in a draw.
func (b *belief) trenches(i int) geo.Vec {
	for n := range b.Objects {
		if u, ok := b.Objects[n].Along(i); ok && b.Objects[n].Kind == asbuilt.Lateral {
			return u
		}
	}
	return geo.Vec{X: 1}
}

// stabs returns the stabs of a grid, ok where all of them may be made: a rod can
// pierce what a hole would uncover, so that it keeps the clearances of a hole.
func (b *belief) stabs(r *Rod) (t encounter.Stabs, ok bool) {
	t = encounter.Stabs{At: r.Stabs(), Tool: b.Rod}
	at := slices.Clone(t.At)
	for _, v := range []geo.Vec{r.From, r.To} {
		sigma := b.Ground.Sigma(v)
		if math.IsNaN(sigma) {
			return t, false
		}
		t.Sigma = max(t.Sigma, sigma)
		at = append(at, b.Ground.SetOut(v).Others...) // where its tapes, as they are rounded, may put it
	}
	for _, v := range at {
		if !b.Ground.Clear(v, practice.RodHole, t.Sigma) {
			return t, false
		}
	}
	stop := usualRod
	if d, ok := b.DepthAt(0, geo.Mean(t.At)); ok {
		stop = encounter.StopDepth(d)
	}
	t.Stop = b.Limited(stop, b.Rod)
	r.Depth = t.Stop
	b.Ready(&t, 0)
	return t, true
}

// judgeRod returns the minutes that are to be expected if the stabs are made before
// anything else. Some of the draws serve as truths: what the stabs feel there weighs
// the other draws, and where what is sought then comes in a search of the likeliest
// cells first is how many holes that takes: so many truths, from the given one on. Where the crew would expect more of that
// than of what it would do without a rod, it does that.
func (b *belief) judgeRod(t *encounter.Stabs, subset []int32, first, truths int, without float64) float64 {
	n := len(t.At)
	chance := make([][]float64, len(subset))
	for k, i := range subset {
		chance[k] = make([]float64, n)
		b.Feel(int(i), geo.Vec{}, t, chance[k])
	}
	felt, logs := make([]bool, n), make([]float64, len(subset))
	var cells []float64
	sum, minutes := 0.0, 0.0
	for k := first; k < len(subset); k += max(1, len(subset)/truths) {
		if b.stopped() {
			return math.Inf(1)
		}
		truth := subset[k]
		for j := range felt {
			_, u := math.Modf(0.6180339887*float64(k) + 0.7548776662*float64(j) + 0.5698402910*float64(k*j))
			felt[j] = u < chance[k][j]
		}
		most := math.Inf(-1)
		for j := range subset {
			logs[j] = encounter.Likely(chance[j], felt)
			if j != k {
				most = max(most, logs[j])
			}
		}
		holes, search := 0.0, 0.0
		for _, g := range b.grids {
			cells = slices.Grow(cells[:0], g.cells)[:g.cells]
			clear(cells)
			for j, i := range subset {
				if j != k {
					cells[g.cell[i]] += b.weight[i] * math.Exp(logs[j]-most)
				}
			}
			here := cells[g.cell[truth]]
			for _, w := range cells {
				if w > here || w > 0 && w == here {
					holes += 1 / float64(len(b.grids))
				}
			}
			if here == 0 { // the cell is one more
				holes += 1 / float64(len(b.grids))
			}
			search += playout.HolesToSearch(cells) / float64(len(b.grids))
		}
		w := b.weight[truth]
		sum += w
		if dig := b.mean * playout.CostToGo(search); dig < without {
			minutes += w * b.mean * playout.CostToGo(holes)
		} else {
			minutes += w * without
		}
	}
	if sum == 0 {
		return math.Inf(1)
	}
	return t.Minutes() + minutes/sum
}

// setOutRod fills in how a grid is set out, and what to watch for.
func (b *belief) setOutRod(r *Rod) {
	if f, ok := b.marks.Fix(r.From); ok {
		r.Ties, r.Side = f.Ties, f.Side
	}
	if f, ok := b.marks.Fix(r.To); ok {
		r.ToTies, r.ToSide = f.Ties, f.Side
	}
	mind := func(c finding.Finding) { r.Cautions = append(r.Cautions, c) }
	if len(r.Ties) < 2 || len(r.ToTies) < 2 {
		mind(finding.FewLandmarks.New())
	} else {
		mind(finding.RodFrom.New(finding.Parts(r.Ties[0].From, r.Ties[1].From), finding.Number("first", r.Ties[0].Distance), finding.Number("second", r.Ties[1].Distance), finding.About(r.Side.Finding())))
		mind(finding.RodTo.New(finding.Number("long", r.To.Dist(r.From)), finding.Parts(r.ToTies[0].From, r.ToTies[1].From),
			finding.Number("first", r.ToTies[0].Distance), finding.Number("second", r.ToTies[1].Distance), finding.About(r.ToSide.Finding())))
	}
	mind(finding.RodPierces.New())
	for i := range b.Ground.Outs {
		k := &b.Ground.Outs[i]
		if k.Kind != asbuilt.Utility && k.Kind != asbuilt.NoDig {
			continue
		}
		near := math.Inf(1)
		for _, v := range r.Stabs() {
			near = min(near, k.Distance(v)-k.Margin)
		}
		if near < nearClearance {
			mind(finding.ClearanceNear.New(finding.Parts(k.Part), finding.Number("distance", max(near, 0.01))))
		}
	}
}
