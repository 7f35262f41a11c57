package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/testdata/sites"
)

// located is the part of the JSON of locate that is tested here.
type located struct {
	Frame struct {
		Kind   string
		Origin *struct{ Lon, Lat float64 }
	}
	Fit struct {
		Readings, Unknowns, Redundancy *float64
		Mirrored                       *bool
		Scale, Rotation                *float64
		ScaleSigma                     *float64 `json:"scale_sigma"`
		RotationSigma                  *float64 `json:"rotation_sigma"`
		VarianceFactor                 *float64 `json:"variance_factor"`
		Suspects                       []struct{ Reading, Says string }
	}
	Spots []struct {
		Part, Kind, Spot, State string
		East, North             float64
		Lon, Lat                *float64
		SemiMajor               float64 `json:"semi_major"`
		SemiMinor               float64 `json:"semi_minor"`
		Bearing, Radius95       float64
		FromLandmarks           *struct{ Radius95 float64 } `json:"from_landmarks"`
		Depth                   *float64
		DepthSigma              *float64 `json:"depth_sigma"`
	}
}

// truth is the truth of an invented site.
type truth struct {
	Places map[string][2]float64
	Fill   float64
}

// ask runs asfound on a copy of the invented sites and decodes its answer.
func ask(t *testing.T, into any, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	code := Run(context.Background(), args, strings.NewReader(""), &out, &errs)
	require.Contains(t, []int{Done, Doubtful}, code, errs.String())
	require.NoError(t, json.Unmarshal(out.Bytes(), into))
}

// TestSitesAreFound holds the answer for every invented site to what is true
// of it: the box lies within its 95 % circle, and no more spots lie outside
// theirs than chance allows at one in twenty.
func TestSitesAreFound(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, sites.Folders))
	t.Chdir(dir)
	for _, site := range []string{"demo", "metric-gnss", "two-tapes", "day-before"} {
		t.Run(site, func(t *testing.T) {
			var is truth
			text, err := os.ReadFile(site + "/truth.json")
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(text, &is))
			var l located
			ask(t, &l, "locate", site, "--format", "json")
			move := align(&l, is)
			out, all := 0, 0
			for _, s := range l.Spots {
				name := s.Part
				if s.Spot != "center" {
					name += "." + s.Spot
				}
				p, known := is.Places[name]
				if !known || s.Kind == "landmark" {
					continue
				}
				all++
				within := s.Radius95
				if s.FromLandmarks != nil { // the smaller claim, where there is one
					within = s.FromLandmarks.Radius95
				}
				miss := move(geo.Vec{X: p[0], Y: p[1]}).Dist(geo.Vec{X: s.East, Y: s.North})
				if miss > within {
					out++
					t.Logf("%s lies %.2f m from where it is expected, outside of %.2f m", name, miss, within)
				}
				if name == "box" {
					assert.LessOrEqual(t, miss, within, "the box")
					t.Logf("box: off by %.2f m, within %.2f m claimed", miss, within)
				}
			}
			assert.GreaterOrEqual(t, all, 8, "spots that are known")
			assert.LessOrEqual(t, out, 2, "of %d spots", all)
		})
	}
}

// align returns the motion that lays the true landmarks on those of the answer
// as well as a turn and a shift can: the truth has a frame of its own.
func align(l *located, is truth) func(geo.Vec) geo.Vec {
	var from, to []geo.Vec
	var f, g geo.Vec
	for _, s := range l.Spots {
		if p, ok := is.Places[s.Part]; ok && s.Kind == "landmark" {
			from, to = append(from, geo.Vec{X: p[0], Y: p[1]}), append(to, geo.Vec{X: s.East, Y: s.North})
		}
	}
	for i := range from {
		f, g = f.Add(from[i].Scale(1/float64(len(from)))), g.Add(to[i].Scale(1/float64(len(from))))
	}
	var dot, cross float64
	for i := range from {
		a, b := from[i].Sub(f), to[i].Sub(g)
		dot, cross = dot+a.Dot(b), cross+a.Cross(b)
	}
	turn := geo.Radians(math.Atan2(cross, dot))
	return func(v geo.Vec) geo.Vec { return v.Sub(f).Rotate(turn).Add(g) }
}
