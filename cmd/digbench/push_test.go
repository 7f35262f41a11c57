package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/probe"
)

// What is pushed is what the crew says it is: a cable a little longer than its pipe, a
// sonde a little beside the box; one in seven stops on the way, which a camera shows.
func TestPushIsTrue(t *testing.T) {
	short := 0
	const lots = 200
	for seed := range uint64(lots) {
		s := invent(seed, asbuilt.Roughly, tapes)
		for _, action := range []string{survey.PushCable, survey.PushSonde} {
			g := newGame(s)
			f, err := newFitted(s, g)
			require.NoError(t, err)
			f.push(&probe.Push{Action: action, From: "tank"})
			require.Len(t, g.holes, 1, "the tank is opened")
			far := g.holes[0].at.Dist(s.lot.box)
			assert.InDelta(t, outletFrom, g.holes[0].at.Dist(s.lot.tank), 1e-9)
			r := f.job.Readings[len(f.job.Readings)-1]
			switch r.Kind {
			case survey.Cable:
				assert.Less(t, r.Value.Metres, (far-inletBefore)*(1+slack))
				if r.Value.Metres < far-inletBefore {
					short++
				}
			case survey.Sonde:
				assert.InDelta(t, g.lot.cover[2]+2*pipeReach, r.Depth.Metres, 0.5*(g.lot.cover[2]+2*pipeReach))
				assert.Contains(t, []string{"box", survey.AnyPipe}, r.Target)
			default:
				t.Fatal(r.Kind)
			}
		}
	}
	assert.InDelta(t, stopsShort, float64(short)/lots, 0.08, "three standard errors")
}
