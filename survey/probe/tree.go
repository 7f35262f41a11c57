package probe

import (
	"cmp"
	"slices"
	"strconv"

	"asfound/survey/encounter"
	"asfound/survey/finding"
)

const (
	leastDraws  = 60   // effective draws that a branch is planned on; judgement
	leastChance = 0.02 // of a branch that is planned; judgement
)

// grow returns the tree of a plan from its first hole on.
func (b *belief) grow(c choice, o Options) *Step {
	return b.step(c, "", 1, 1, o)
}

// step returns the step of a hole on a level, counted from 1, of a tree that is
// reached with the given chance.
func (b *belief) step(c choice, path string, level int, chance float64, o Options) *Step {
	s := &Step{Label: strconv.Itoa(level) + path, Hole: b.propose(c)}
	s.Hole.Rank = level
	most := o.Levels
	if most == 0 {
		most = levels
	}
	var t tally
	b.try(&c.hole, b.support(1), &t, 0)
	var chances [len(mets)]float64 // a pipe running any way
	for m, p := range t.chance {
		chances[encounter.Outcome(m).Kind()] += p
	}
	met := make([]int, 0, len(mets))
	for m, p := range chances {
		if p > 0.001 {
			met = append(met, m)
		}
	}
	slices.SortStableFunc(met, func(x, y int) int { return cmp.Compare(chances[y], chances[x]) })
	b.Ground.Dug = append(b.Ground.Dug, c.At)
	letter := 'A'
	for _, m := range met {
		br := Branch{Met: mets[m], Chance: chances[m], Parts: b.mayBe(&c.hole, m)}
		if m == sought {
			s.Branches = append(s.Branches, br)
			continue
		}
		if level < most && chance*br.Chance >= leastChance {
			if next := b.after(&c.hole, m); next.effective() >= leastDraws {
				n, ok := next.best(o.Greedy, brief)
				if !b.rest() {
					return s
				}
				if ok && !o.Greedy {
					br.Follow = next.followNew(&c.hole, encounter.Outcome(m), n)
				}
				if ok && br.Follow == nil {
					br.Next = next.step(n, path+string(letter), level+1, chance*br.Chance, o)
					letter++
					if b.leave {
						return s
					}
				}
			}
		}
		s.Branches = append(s.Branches, br)
	}
	b.Ground.Dug = b.Ground.Dug[:len(b.Ground.Dug)-1]
	return s
}

// mayBe returns the parts that an outcome of a hole may be, the likeliest
// first, those of less than 2 % left out.
func (b *belief) mayBe(h *hole, met int) (parts []string) {
	if met == none {
		return nil
	}
	type part struct {
		name string
		p    float64
	}
	var all []part
	p := b.chances(h, b.support(1))
	for n := range b.Objects {
		o := &b.Objects[n]
		m := int(o.Outcome(""))
		if m == trench && (met == start || met == end) {
			m = met
		}
		if m == met && p[n] > 0.02 && !o.Joins {
			all = append(all, part{o.Report, p[n]})
		}
	}
	slices.SortStableFunc(all, func(x, y part) int { return cmp.Compare(y.p, x.p) })
	for _, x := range all {
		parts = append(parts, x.name)
	}
	return parts
}

// Finding returns what was met, seek being what is sought.
func (m Met) Finding(seek string) finding.Finding {
	switch m {
	case MetSought:
		return finding.MetSought.New(finding.Parts(seek))
	case MetTrench:
		return finding.MetTrench.New()
	case MetStart:
		return finding.MetStart.New()
	case MetEnd:
		return finding.MetEnd.New()
	case MetHeader:
		return finding.MetHeader.New()
	case MetOther:
		return finding.MetOther.New()
	}
	return finding.MetNothing.New()
}

// Then returns what to do after a branch that no step follows, nil where one
// does.
func (b *Branch) Then() *finding.Finding {
	then := finding.PlanAgain.New()
	switch {
	case b.Next != nil:
		return nil
	case b.Follow != nil:
		then = b.Follow.Finding()
	case b.Met == MetSought:
		then = finding.Done.New()
	}
	return &then
}
