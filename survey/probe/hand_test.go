package probe_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/probe"
)

// withLines adds laterals of the given lines, in each draw as moved as the box is.
func withLines(loc *locate.Location, d *posterior.Draws, lines map[string][]geo.Vec) {
	d.Lines = map[string][][]geo.Vec{}
	for _, id := range []string{"L1", "L2"} {
		line := lines[id]
		if line == nil {
			continue
		}
		loc.Job.Sketch.Parts = append(loc.Job.Sketch.Parts, asbuilt.Part{ID: id, Kind: asbuilt.Lateral})
		for _, v := range d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}] {
			var moved []geo.Vec
			for _, w := range line {
				moved = append(moved, w.Add(v))
			}
			d.Lines[id] = append(d.Lines[id], moved)
		}
	}
}

// about returns the cautions of the first hole with a code.
func about(t *testing.T, loc *locate.Location, d *posterior.Draws, c finding.Code) []finding.Finding {
	t.Helper()
	plan, err := probe.Options{Greedy: true, Holes: 1, Levels: -1, Plays: -1}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.NotEmpty(t, plan.Holes)
	return finding.With(plan.Holes[0].Cautions, c)
}

func outline(id string, k asbuilt.Kind, at geo.Vec, side float64) locate.Outline {
	h := side / 2
	return locate.Outline{Part: id, Kind: k, Now: []geo.Outline{{Closed: true, Vertices: []geo.Vec{
		at.Add(geo.Vec{X: -h, Y: -h}), at.Add(geo.Vec{X: h, Y: -h}), at.Add(geo.Vec{X: h, Y: h}), at.Add(geo.Vec{X: -h, Y: h})}}}}
}

// What lies about a hole is said of what it is: a well within some metres, a
// driveway over it; a house across the way of one tape, and that tape alone. The
// box is at the origin, the landmarks 10 m west and east and 12 m north of it.
func TestWhatLiesAbout(t *testing.T) {
	box := cloud(300, geo.Vec{}, 0.05)
	loc, d := lot(box, outline("well", asbuilt.Well, geo.Vec{Y: -6}, 0.5), outline("tree", asbuilt.NoDig, geo.Vec{X: -8}, 1))
	assert.Equal(t, [][]string{{"well"}}, parts(about(t, loc, d, finding.NearWell)))
	assert.Empty(t, about(t, loc, d, finding.UnderDriveway))
	assert.Empty(t, about(t, loc, d, finding.TapeBlocked))
	assert.Empty(t, about(t, loc, d, finding.ClearanceNear))

	loc, d = lot(box, outline("well", asbuilt.Well, geo.Vec{Y: -30}, 0.5), outline("drive", asbuilt.Driveway, geo.Vec{}, 4), outline("house", asbuilt.Building, geo.Vec{X: 5, Y: 6}, 3))
	assert.Empty(t, about(t, loc, d, finding.NearWell))
	assert.Equal(t, [][]string{{"drive"}}, parts(about(t, loc, d, finding.UnderDriveway)))
	assert.Equal(t, [][]string{{"B"}}, parts(about(t, loc, d, finding.TapeBlocked)))

	loc, d = lot(box, outline("drive", asbuilt.Driveway, geo.Vec{X: 9}, 4), outline("tree", asbuilt.NoDig, geo.Vec{X: -2}, 1))
	assert.Empty(t, about(t, loc, d, finding.UnderDriveway))
	assert.Equal(t, [][]string{{"tree"}}, parts(about(t, loc, d, finding.ClearanceNear)))
}

// parts returns what findings are about.
func parts(all []finding.Finding) (ids [][]string) {
	for _, f := range all {
		ids = append(ids, f.Parts)
	}
	return ids
}

// The holes of a plan are numbered from 1; there is a tree unless none is asked
// for; and where empty holes have used up the belief, it says so.
func TestPlanAsAsked(t *testing.T) {
	loc, d := lot(cloud(400, geo.Vec{}, 1))
	plan, err := probe.Options{Holes: 4, Levels: -1, Plays: -1}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.Len(t, plan.Holes, 4)
	for i, h := range plan.Holes {
		assert.Equal(t, i+1, h.Rank)
	}
	assert.Nil(t, plan.Tree)
	assert.Zero(t, plan.ExpectedHoles)
	assert.Empty(t, finding.With(plan.Cautions, finding.BeliefUsedUp))

	loc.Promised = 0.96
	plan, err = probe.Options{Holes: 1, Levels: 1, Plays: 10}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.Len(t, plan.Holes, 1)
	require.NotNil(t, plan.Tree)
	assert.GreaterOrEqual(t, plan.ExpectedHoles, 1.0)
	assert.NotEmpty(t, finding.With(plan.Cautions, finding.BeliefUsedUp), "what is left is less than one in twenty")
	loc.Promised = 0.94
	plan, err = probe.Options{Holes: 1, Levels: -1, Plays: -1}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	assert.Empty(t, finding.With(plan.Cautions, finding.BeliefUsedUp))
}

// What a hole may meet besides what is sought is listed if it well may, more than
// one time in twenty; and what is sought stands first, though a lateral is likelier.
func TestWhatAHoleMayMeet(t *testing.T) {
	for _, tt := range []struct {
		draws int // of 400, in which L1 passes under the box
		want  []string
	}{{8, []string{"box"}}, {120, []string{"box", "L1"}}, {400, []string{"box", "L1"}}} {
		var box []geo.Vec
		for i := range 400 {
			box = append(box, geo.Vec{X: 0.01 * float64(i%7), Y: 0.01 * float64(i%5)})
		}
		loc, d := lot(box)
		withLines(loc, d, map[string][]geo.Vec{"L1": {{X: -6, Y: 0.1}, {X: 6, Y: 0.1}}})
		for i := range 400 {
			if i >= tt.draws {
				d.Lines["L1"][i] = []geo.Vec{{X: -6, Y: 30}, {X: 6, Y: 30}}
			}
		}
		plan, err := probe.Options{Greedy: true, Holes: 1, Levels: -1, Plays: -1}.Plan(t.Context(), loc, d)
		require.NoError(t, err)
		require.NotEmpty(t, plan.Holes)
		h := plan.Holes[0]
		assert.Equal(t, tt.want, h.Seeks, "%d draws", tt.draws)
		assert.Len(t, h.Meets, len(tt.want))
		assert.InDelta(t, h.Chance, h.Meets["box"], 1e-9)
		if len(tt.want) > 1 {
			assert.LessOrEqual(t, h.Meets["L1"], float64(tt.draws)/400)
			assert.Greater(t, h.Meets["L1"], 0.05)
		}
	}
}

// A branch of a tree names the parts that it may be: L1, which begins beside the
// box, where a start is met; L2, which ends beside it, where a far end is. (Other
// laterals that the hole may meet elsewhere are named too.)
func TestBranchesNameTheirParts(t *testing.T) {
	loc, d := lot(cloud(600, geo.Vec{}, 0.6))
	withLines(loc, d, map[string][]geo.Vec{"L1": {{X: 0.6}, {X: 9}}, "L2": {{X: -9}, {X: -0.6}}})
	plan, err := probe.Options{Holes: 1, Levels: 2, Plays: -1}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.NotNil(t, plan.Tree)
	seen := map[probe.Met]bool{}
	var walk func(s *probe.Step)
	walk = func(s *probe.Step) {
		for _, b := range s.Branches {
			switch {
			case b.Chance < 0.05:
			case b.Met == probe.MetStart:
				assert.Contains(t, b.Parts, "L1", "%s", s.Label)
				seen[b.Met] = true
			case b.Met == probe.MetEnd:
				assert.Contains(t, b.Parts, "L2", "%s", s.Label)
				seen[b.Met] = true
			case b.Met == probe.MetSought:
				assert.Equal(t, []string{"box"}, b.Parts, "%s", s.Label)
			case b.Met == probe.MetNone:
				assert.Empty(t, b.Parts, "%s", s.Label)
			}
			if b.Next != nil {
				walk(b.Next)
			}
		}
	}
	walk(plan.Tree)
	assert.Len(t, seen, 2, "both an end and a start are met")
}

// Of two laterals L1 is sought. A hole on a line, which one it does not say, is
// taken for L1 where it lies on that in nearly every draw.
func TestMetByWhereItLies(t *testing.T) {
	for _, tt := range []struct {
		y   float64
		met bool
	}{{0, true}, {-5, false}} {
		loc, d := lot(cloud(300, geo.Vec{}, 0.1))
		withLines(loc, d, map[string][]geo.Vec{"L1": {{X: 1}, {X: 9}}, "L2": {{X: 1, Y: -5}, {X: 9, Y: -5}}})
		loc.Job.Settings.Seek = "L1"
		d.Holes = map[string][]geo.Vec{"H1": nil}
		for range d.N {
			d.Holes["H1"] = append(d.Holes["H1"], geo.Vec{X: 5, Y: tt.y})
		}
		loc.Holes = []locate.Hole{{Name: "H1", Met: "L1", At: geo.Vec{X: 5, Y: tt.y}, Radius: 0.15}}
		plan, err := probe.Options{Greedy: true, Holes: 1, Levels: -1, Plays: -1}.Plan(t.Context(), loc, d)
		require.NoError(t, err)
		assert.Equal(t, tt.met, len(plan.Holes) == 0, "a hole at y = %v", tt.y)
	}
}
