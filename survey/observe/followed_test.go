package observe_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/observe"
)

// What a tired person writes wrong about a line that was followed.
func TestFollowedThatCannotBe(t *testing.T) {
	for _, tt := range []struct{ from, to, target, want string }{
		{"H1", "H0", "lateral", ""},
		{"H1", "H0", "L2", ""},
		{"H1", "H0", "header", ""}, // which the sketch does not have
		{"H1", "H0", "box", "target: found \"box\"; want a part of the sketch (L1, L2) or a kind (lateral, header)"},
		{"H1", "H0", "l2", "did you mean L2?"},
		{"H1", "H0", "L1.start", "want a part of the sketch (L1, L2)"},
		{"H1", "H1", "L1", "another point than from"},
		{"A", "H0", "L1", "a hole or a stake of the log; A is a landmark of the sketch"},
		{"H1", "box", "L1", "a hole or a stake of the log; box is a box of the sketch"},
		{"H1", "L2", "L1", "L2 is a lateral, which is no single point"},
		{"H1", "h0", "L1", "a hole or a stake that a row of the log places, such as a tape; did you mean H0?"},
		{"H1", "H2", "L1", "a row of the log places"}, // it was dug, and nobody says where
	} {
		t.Run(tt.from+" to "+tt.to+", "+tt.target, func(t *testing.T) {
			j := directed()
			j.Readings = append(j.Readings, survey.Reading{ID: "h2", Kind: survey.Found, Point: "H2", Target: "L1"},
				survey.Reading{ID: "y", Kind: survey.Followed, From: tt.from, To: tt.to, Target: tt.target})
			problems := observe.Check(j)
			if tt.want == "" {
				assert.Empty(t, problems)
				return
			}
			assert.Len(t, problems, 1)
			assert.Contains(t, problems.Error(), tt.want)
		})
	}
	j := directed()
	j.Sketch.Parts = j.Sketch.Parts[:2]
	j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: "T", Kind: asbuilt.Tank})
	j.Settings.Seek = "T"
	j.Readings = append(j.Readings, survey.Reading{ID: "y", Kind: survey.Followed, From: "H1", To: "H0", Target: "header"})
	assert.Contains(t, observe.Check(j).Error(), "target", "without a box there need not be a pipe")
}

// Who withdraws a tape makes no other row wrong.
func TestFollowedOutlivesATape(t *testing.T) {
	j := directed()
	j.Readings = append(j.Readings, survey.Reading{ID: "y", Kind: survey.Followed, From: "H1", To: "H0", Target: "L1"},
		survey.Reading{ID: "v", Kind: survey.Void, Target: "t3"})
	assert.Empty(t, observe.Check(j))
}

// Along a line: from hole to hole as far as rows of that kind of line go, in either
// direction.
func TestAlong(t *testing.T) {
	j := directed()
	met := survey.Reading{ID: "y", Kind: survey.Found, Point: "P", Target: "L1"}
	add := func(from, to, target string) {
		j.Readings = append(j.Readings, survey.Reading{ID: from + to, Kind: survey.Followed, From: from, To: to, Target: target})
	}
	add("Q", "P", "lateral")
	add("Q", "R", "L1")
	add("S", "T", "L1")
	add("P", "U", "header")
	assert.ElementsMatch(t, []string{"P", "Q", "R"}, observe.NewLog(j).Along(&met))
	assert.Equal(t, "P", observe.NewLog(j).Along(&met)[0])
}
