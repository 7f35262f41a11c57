package depth

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/survey"
)

// scenes are the grounds that the intervals are held against, and one log with
// a wrong depth.
var scenes = []struct {
	kind scene
	typo bool
}{{usual, false}, {bare, false}, {even, false}, {oneSided, false}, {wedge, false}, {terraces, false}, {hillside, false}, {usual, true}}

// digUpTo logs a hole on a random lateral in the first part of it.
func (s *site) digUpTo(rng *rand.Rand, far float64, shot bool) {
	id := fmt.Sprintf("L%d", 1+rng.IntN(len(s.lines)))
	u := far * rng.Float64()
	s.found(id, u, s.depth(id, u)+0.02*rng.NormFloat64(), survey.Crown)
	if shot {
		v := s.spot(id, u)
		s.level(v, s.old(v)+s.fill(v)+0.02*rng.NormFloat64())
	}
}

// blunder makes one depth of the log wrong: inches written as feet, feet as
// metres, metres as feet, or two digits swapped.
func (s *site) blunder(rng *rand.Rand) {
	var all []*survey.Reading
	for i := range s.job.Readings {
		if r := &s.job.Readings[i]; r.Kind == survey.Found && r.Depth.Metres > 0.1 { // a crew writes no depth below nothing
			all = append(all, r)
		}
	}
	if len(all) == 0 {
		return
	}
	l := all[rng.IntN(len(all))].Depth
	const foot = 0.3048
	var written string
	switch rng.IntN(4) {
	case 0:
		written = fmt.Sprintf("%.0f ft", l.Metres/0.0254)
	case 1:
		written = fmt.Sprintf("%.1f m", l.Metres/foot)
	case 2:
		written = fmt.Sprintf("%.2f ft", l.Metres)
	default:
		w := fmt.Appendf(nil, "%.1f ft", l.Metres/foot)
		w[0], w[2] = w[2], w[0]
		written = string(w)
	}
	n, err := geo.ParseLength(written, geo.Foot)
	if err != nil {
		panic(err)
	}
	*l = n
}

// sceneTally is how the answers of one scene hold.
type sceneTally struct{ laterals, box, ends tally }

func (c *sceneTally) String() string {
	one := func(t *tally) string {
		return fmt.Sprintf("%5.1f %% %4.2f m", 100*t.rate(), t.sigma/float64(t.n))
	}
	return one(&c.laterals) + "  " + one(&c.box) + "  " + one(&c.ends)
}

func playScene(t *testing.T, kind scene, typo bool, holes int, far float64, sites int) *sceneTally {
	rng := rand.New(rand.NewPCG(29, uint64(holes)))
	var c sceneTally
	for i := range sites {
		s := siteOf(rng, kind)
		for range holes {
			s.digUpTo(rng, far, i%2 == 0)
		}
		if typo {
			s.blunder(rng)
		}
		m, err := Solve(t.Context(), s.job, s)
		require.NoError(t, err)
		for n := range len(s.lines) {
			id := fmt.Sprintf("L%d", n+1)
			for _, u := range []float64{rng.Float64(), 1} {
				d, ok := m.At(id, s.spot(id, u), survey.Crown)
				require.True(t, ok)
				if u == 1 {
					c.ends.add(d, s.depth(id, u))
				} else {
					c.laterals.add(d, s.depth(id, u))
				}
			}
		}
		d, _ := m.At("box", s.spots["box"], "")
		c.box.add(d, s.depth("box", 0))
	}
	return &c
}

// TestScenes holds the 95 % intervals of laterals, box and far ends against each
// ground, with holes in the first third of the trenches only, and anywhere. Nobody
// can know of a bank beyond the holes: there the intervals are kept so wide that
// they hold nearly as often as elsewhere, and where there is none more often.
//
// With fill on one side 93 % and more are wanted. Over 2000 sites the box reaches 95
// to 97 % and the far ends 93 to 95 %; the laterals fall short, with 92 to 93 %. With
// rough fill alone, as the model was before, the worst were 84, 63 and 81 %. The
// bounds on the mean standard deviation keep wide intervals from passing for good
// ones.
func TestScenes(t *testing.T) {
	for _, far := range []float64{0.35, 1} {
		for _, holes := range []int{3, 6} {
			for _, sc := range scenes {
				sites, least, leastLaterals := 200, 0.94, 0.94
				if sc.kind == oneSided {
					sites, least, leastLaterals = 1000, 0.92, 0.91
				}
				c := playScene(t, sc.kind, sc.typo, holes, far, sites)
				name := string(sc.kind)
				if sc.typo {
					name = "one wrong depth"
				}
				for _, a := range []struct {
					of          string
					held        *tally
					least, most float64 // share within, metres of mean standard deviation
				}{{"laterals", &c.laterals, leastLaterals, 0.21}, {"box", &c.box, least, 0.24}, {"far ends", &c.ends, least, 0.31}} {
					assert.Greater(t, a.held.rate(), a.least, "%s: %s, %d holes within %g", name, a.of, holes, far)
					assert.Less(t, a.held.sigma/float64(a.held.n), a.most, "%s: %s, %d holes within %g", name, a.of, holes, far)
				}
				t.Logf("%d holes within %3.0f %%  %-20s %v", holes, 100*far, name, c)
			}
		}
	}
}
