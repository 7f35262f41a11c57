package main

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
)

// A pipe that is followed toward the box leads to it but for the share of the lines
// that is lost; away from it, to the near end of a trench. A trench is lost as often,
// and so is the pipe beyond its near end: 0.85² come to the box.
func TestFollowAsItLies(t *testing.T) {
	const digs = 400
	s := invent(3, asbuilt.Roughly, tapes)
	l := &s.lot
	middle := func(line []geo.Vec) geo.Vec { return line[0].Lerp(line[1], 0.5) }
	for _, tt := range []struct {
		name   string
		from   answer
		toward geo.Vec
		met    asbuilt.Kind
		share  float64
	}{
		{"a header to the box", answer{at: middle(l.headers[1]), met: asbuilt.Header, part: 1, runs: course(l.headers[1], middle(l.headers[1]))}, l.headers[1][0].Sub(l.headers[1][1]), asbuilt.Box, 0.85},
		{"the pipe from the tank to the box", answer{at: middle(l.headers[0]), met: asbuilt.Header, part: 0, runs: course(l.headers[0], middle(l.headers[0]))}, l.headers[0][1].Sub(l.headers[0][0]), asbuilt.Box, 0.85},
		{"a trench to the box", answer{at: l.laterals[0][3], met: asbuilt.Lateral, part: 0, runs: course(l.laterals[0], l.laterals[0][3])}, l.laterals[0][0].Sub(l.laterals[0][3]), asbuilt.Box, 0.85 * 0.85},
		{"a trench the wrong way", answer{at: l.laterals[0][3], met: asbuilt.Lateral, part: 0, runs: course(l.laterals[0], l.laterals[0][3])}, l.laterals[0][6].Sub(l.laterals[0][3]), asbuilt.Box, 0},
	} {
		g := newGame(s)
		met := 0
		for range digs {
			if g.follow(tt.from, tt.toward).met == tt.met {
				met++
			}
		}
		assert.InDelta(t, tt.share, float64(met)/digs, 0.09, tt.name)
	}
}
