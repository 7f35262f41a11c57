package simulate

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

var trusts = []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}

// TestTry is a first look.
func TestTry(t *testing.T) {
	for _, trust := range trusts {
		for _, mix := range Mixes {
			for _, holes := range []int{0, 2, 5} {
				in, inBox, all, n := 0, 0, 0, 40
				var rad float64
				doubt := 0
				for seed := range n {
					s := Invent(Order{uint64(seed + 1), trust, mix, holes})
					f, err := survey.Solve(s.Job)
					require.NoError(t, err)
					if f.Doubtful != "" {
						doubt++
					}
					p := f.Posterior()
					for name, v := range s.Truth {
						if part := s.Job.Sketch.Part(name.Part); part.Kind == asbuilt.Landmark {
							continue
						}
						g, ok := p.Spot(name)
						require.True(t, ok)
						ok = s.inside(f, p, name, v, g)
						all++
						if ok {
							in++
						}
						if name.Part == "box" {
							rad += g.Radius95
							if ok {
								inBox++
							}
						}
					}
				}
				fmt.Printf("%-14s %-6s %d: all %.3f box %.3f radius %.2f doubt %d\n", trust, mix, holes, float64(in)/float64(all), float64(inBox)/float64(n), rad/float64(n), doubt)
			}
		}
	}
}

var _ = geo.Vec{}
